"""Parts of every awkward kind, for the tests of templates and pages."""

from collections.abc import Mapping
from fractions import Fraction

from patternpress.assembly.blank import (
    Angled,
    Arched,
    CurveThrough,
    GrooveRun,
    Hollow,
    Hollowed,
    LineTo,
    Path,
    Round,
    RoundHole,
    ShapeSpec,
    Slot,
    Window,
)
from patternpress.assembly.shape import Axis, Face, MarkLine, MarkPoint, Point, View
from patternpress.assembly.trim import trim
from patternpress.assembly.turning import mirrored_shape
from patternpress.drawing.levels import levels_of
from patternpress.drawing.part import Hand, Levels, Manner, TemplatePart
from patternpress.measure.pieces import Figure, Stack, Text

F = Fraction
LEFT, RIGHT, BOTTOM, TOP = Face.LEFT, Face.RIGHT, Face.BOTTOM, Face.TOP
FRONT, BACK = Face.FRONT, Face.BACK


def at(x: object, y: object) -> Point:
    return Point(F(str(x)), F(str(y)))


def mm(value: object) -> str:
    return f"{float(F(str(value))):g}"


def inch(value: object) -> tuple[Text | Stack, ...]:
    """The nearest 64th."""
    sixty_fourths = round(F(str(value)) / F("25.4") * 64)
    whole, rest = divmod(sixty_fourths, 64)
    part = F(rest, 64)
    pieces: list[Text | Stack] = [Text(str(whole))] if whole else []
    if part:
        pieces.append(Stack(part.numerator, part.denominator))
    return tuple(pieces)


def dual(value: object, before: str = "") -> Figure:
    return Figure((Text(f"{before}{mm(value)}\u00a0mm ("), *inch(value), Text("\u00a0in)")))


def size(*values: object) -> Figure:
    pieces: list[Text | Stack] = [Text(" × ".join(mm(v) for v in values) + "\u00a0mm")]
    return Figure(tuple(pieces))


def part(
    letter: str,
    name: str,
    wide: object,
    high: object,
    *,
    thick: object = 3,
    quantity: int = 1,
    view: View = View.FRONT,
    stock: str = "3 mm walnut sheet",
    grain: Axis | None = Axis.X,
    hand: Hand | None = None,
    twins: int = 0,
    notes: tuple[str, ...] = (),
    callouts: Mapping[str, Figure] | None = None,
    manner: Manner = Manner.USUAL,
    **how: object,
) -> TemplatePart:
    spec = ShapeSpec(view, F(str(wide)), F(str(high)), **how)  # type: ignore[arg-type]
    shape = trim(spec)
    twin = levels_of(mirrored_shape(shape), dual) if hand else Levels()
    return TemplatePart(
        letter,
        name,
        quantity,
        shape,
        size(wide, high, thick),
        dual(wide),
        dual(high),
        stock,
        grain,
        hand,
        twins,
        notes,
        callouts or {},
        levels_of(shape, dual),
        twin,
        manner,
        show=dual,
    )


SIDE = part(
    "A",
    "Side",
    44,
    90,
    view=View.RIGHT,
    grain=Axis.Y,
    hand=Hand.LEFT,
    twins=1,
    corners={(FRONT, TOP): Round(F(14))},
    edges={BOTTOM: Hollowed(F(5), F(10), F(34))},
    grooves=(
        GrooveRun("shelf groove", Axis.X, F(40), F(3), F(1), start=F(4)),
        GrooveRun("back groove", Axis.Y, F(40), F(2), F(1), far=True),
    ),
    holes=(RoundHole("peg", at(12, 64), F(3)), RoundHole("peg 2", at(30, 64), F(3))),
    callouts={"peg": dual(3, "Ø "), "peg 2": dual(3, "Ø ")},
)
SHELF = part(
    "B",
    "Shelf",
    70,
    41,
    view=View.ABOVE,
    quantity=2,
    notes=("cut after measuring",),
    marks=(MarkLine("edge of the rail", at(0, 36), at(70, 36)), MarkPoint("pin", at(35, 10))),
)
HEADBOARD = part(
    "C",
    "Headboard",
    120,
    70,
    edges={TOP: Arched(F(18), F(20), F(100))},
    corners={(LEFT, TOP): Hollow(F(6)), (RIGHT, TOP): Hollow(F(6))},
    holes=(
        Window("light", at(60, 45), F(24), F(16), F(4)),
        Slot("hand slot", at(60, 14), F(30), F(6), Axis.X),
    ),
    callouts={"light": Figure((Text("window 24 × 16"),))},
)
BRACKET = part(
    "D",
    "Bracket",
    40,
    56,
    view=View.RIGHT,
    quantity=4,
    grain=Axis.Y,
    path=Path(
        at(0, 56),
        (
            LineTo(at(0, 48)),
            CurveThrough(
                (at(10, 40), at(14, 26), at(28, 18), at(36, 6), at(36, 0)), F(-60), F(-90)
            ),
            LineTo(at(40, 0)),
            LineTo(at(40, 56)),
        ),
    ),
)
DRAWER_PART = part("E", "Drawer back", 6, 4, thick=1, quantity=3, stock="1 mm birch ply")
STRIP = part("F", "Rail", 60, 3, quantity=4, stock="3 mm walnut strip")
UPRIGHT = part("G", "Post", 5, 88, grain=Axis.Y, quantity=4, stock="5 mm walnut strip")
LONG = part("H", "Long rail", 200, 8, quantity=2, holes=(RoundHole("peg", at(10, 4), F(2)),))
DISC = part(
    "J",
    "Table top",
    100,
    100,
    view=View.ABOVE,
    grain=Axis.X,
    corners={(x, y): Round(F(50)) for x in (LEFT, RIGHT) for y in (FRONT, BACK)},
)
RAMP = part(
    "K",
    "Ramp cheek",
    60,
    30,
    view=View.RIGHT,
    hand=Hand.RIGHT,
    twins=1,
    angled={TOP: Angled(F(20), BACK)},
)
HUGE = part("L", "Back panel", 300, 380, grain=Axis.Y, stock="2 mm birch ply", thick=2)
ALL = (SIDE, SHELF, HEADBOARD, BRACKET, DRAWER_PART, STRIP, UPRIGHT, LONG, DISC, RAMP, HUGE)

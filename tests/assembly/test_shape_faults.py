"""Shapes that no saw could cut: each fault is found, named, and says by how much."""

from fractions import Fraction

import pytest

from patternpress.assembly.blank import (
    Angled,
    Arched,
    ArcOfRadius,
    ArcThrough,
    CurveThrough,
    CutOff,
    GrooveRun,
    Hollow,
    Hollowed,
    LineTo,
    Notch,
    Path,
    Round,
    RoundHole,
    ShapeSpec,
    Slot,
    Window,
)
from patternpress.assembly.shape import (
    Axis,
    Face,
    MarkLine,
    MarkPoint,
    Point,
    ShapeError,
    View,
)
from patternpress.assembly.soundness import wood_left
from patternpress.assembly.trim import faults, trim

F = Fraction
LEFT, RIGHT, BOTTOM, TOP = Face.LEFT, Face.RIGHT, Face.BOTTOM, Face.TOP


def at(x: object, y: object) -> Point:
    return Point(F(str(x)), F(str(y)))


def blank(**how: object) -> ShapeSpec:
    return ShapeSpec(View.FRONT, F(80), F(50), **how)  # type: ignore[arg-type]


def peg(x: object, y: object, diameter: object = 4, name: str = "peg") -> RoundHole:
    return RoundHole(name, at(x, y), F(str(diameter)))


# One row a fault: what was asked, the code, one fact.
WRONG = [
    (
        {"corners": {(LEFT, TOP): Round(F(30)), (LEFT, BOTTOM): Hollow(F(25))}},
        "corners-overlap",
        ("over", F(5)),
    ),
    ({"corners": {(LEFT, TOP): CutOff(F(81), F(5))}}, "corners-overlap", ("over", F(1))),
    (
        {"corners": {(LEFT, TOP): Round(F(45))}, "edges": {TOP: Arched(F(6))}},
        "corners-overlap",
        ("over", F(5)),
    ),
    (
        {"corners": {(LEFT, TOP): Notch(F(5), F(5))}, "edges": {TOP: Arched(F(6))}},
        "corner-on-curve",
        ("corner", "top left"),
    ),
    (
        {"corners": {(LEFT, TOP): Notch(F(5), F(5))}, "angled": {LEFT: Angled(F(9), TOP)}},
        "notch-not-square",
        None,
    ),
    ({"corners": {(Face.FRONT, TOP): Round(F(5))}}, "face-not-here", ("face", "front")),
    (
        {"edges": {TOP: Arched(F(5))}, "angled": {TOP: Angled(F(5), LEFT)}},
        "angled-and-curved",
        ("face", "top"),
    ),
    ({"angled": {TOP: Angled(F(90), LEFT)}}, "angle-too-steep", ("degrees", F(90))),
    ({"angled": {TOP: Angled(F(9), TOP)}}, "longest-not-beside", ("longest", "top")),
    (
        {"angled": {RIGHT: Angled(F(45), TOP), LEFT: Angled(F(45), TOP)}},
        "angles-meet",
        None,
    ),
    ({"edges": {TOP: Hollowed(F(41))}}, "curve-too-deep", ("most", F(40))),
    ({"edges": {TOP: Hollowed(F(4), F(60), F(81))}}, "curve-outside-edge", ("stop", F(81))),
    ({"edges": {TOP: Hollowed(F(20)), BOTTOM: Hollowed(F(35))}}, "crosses-itself", ("x", None)),
    ({"holes": (peg(90, 20),)}, "hole-outside", ("hole", "peg")),
    ({"holes": (peg("79.5", 20),)}, "hole-breaks-edge", ("over", F("1.5"))),
    ({"holes": (peg(78, 20),)}, "hole-breaks-edge", ("over", F(0))),
    ({"holes": (peg(20, 20), peg(23, 20, 4, "pin"))}, "holes-meet", ("other", "pin")),
    ({"holes": (peg(20, 20, 20), peg(20, 20, 4, "pin"))}, "holes-meet", ("other", "pin")),
    ({"holes": (peg(20, 20, 0),)}, "hole-without-size", ("size", F(0))),
    (
        {"holes": (Slot("slot", at(20, 20), F(3), F(4), Axis.X),)},
        "slot-wider-than-long",
        ("over", F(1)),
    ),
    (
        {"holes": (Window("light", at(20, 20), F(9), F(8), F(5)),)},
        "window-corners-overlap",
        ("over", F(2)),
    ),
    (
        {"grooves": (GrooveRun("shelf", Axis.X, F(49), F(3), F(1)),)},
        "groove-outside",
        ("over", F(2)),
    ),
    ({"grooves": (GrooveRun("shelf", Axis.X, F(9), F(0), F(1)),)}, "groove-without-size", None),
    ({"marks": (MarkPoint("pin", at(81, 3)),)}, "mark-outside", ("over", F(1))),
    ({"marks": (MarkLine("sill", at(0, 3), at(80, 52)),)}, "mark-outside", ("over", F(2))),
]


@pytest.mark.parametrize(("how", "code", "fact"), WRONG, ids=[row[1] for row in WRONG])
def test_the_fault_is_named_and_measured(
    how: dict[str, object], code: str, fact: tuple[str, object] | None
) -> None:
    found = faults(blank(**how))
    assert [error.code for error in found] == [code]
    if fact is not None:
        name, value = fact
        assert name in found[0].facts
        assert value is None or found[0].facts[name] == value
    with pytest.raises(ShapeError):
        trim(blank(**how))


BAD_PATHS = [
    (Path(at(0, 0), ()), "path-too-short"),
    (Path(at(0, 0), (LineTo(at(0, 0)),)), "step-goes-nowhere"),
    (Path(at(0, 0), (CurveThrough((at(5, 5), at(5, 5))),)), "step-goes-nowhere"),
    (Path(at(0, 0), (LineTo(at(20, 0)), ArcOfRadius(at(0, 0), F(9), True))), "radius-too-small"),
    (Path(at(0, 0), (ArcThrough(at(5, 5), at(9, 9)),)), "arc-points-in-line"),
    (Path(at(0, 0), (LineTo(at(9, 9)),)), "no-area"),
    (
        Path(at(0, 0), (LineTo(at(20, 20)), LineTo(at(20, 0)), LineTo(at(5, 18)))),
        "crosses-itself",
    ),
    # A spike: out and back along the same line.
    (
        Path(at(0, 0), (LineTo(at(20, 0)), LineTo(at(20, 9)), LineTo(at(20, 5)), LineTo(at(0, 5)))),
        "crosses-itself",
    ),
    (Path(at(0, 0), (LineTo(at(81, 0)), LineTo(at(20, 40)))), "outside-blank"),
]


@pytest.mark.parametrize(("path", "code"), BAD_PATHS, ids=[code for _, code in BAD_PATHS])
def test_paths_that_close_no_part(path: Path, code: str) -> None:
    assert [error.code for error in faults(blank(path=path))] == [code]


@pytest.mark.parametrize(("beyond", "codes"), [("0.01", []), ("0.02", ["outside-blank"])])
def test_no_saw_follows_a_hair_beyond_the_blank(beyond: str, codes: list[str]) -> None:
    """An arc whose ends and radius are each rounded to inches leaves its blank by less."""
    path = Path(at(0, 0), (LineTo(at(80 + F(beyond), 0)), LineTo(at(20, 40))))
    assert [error.code for error in faults(blank(path=path))] == codes


def test_a_radius_too_small_says_which_would_do() -> None:
    path = Path(at(0, 0), (LineTo(at(20, 0)), ArcOfRadius(at(0, 0), F(9), True)))
    (error,) = faults(blank(path=path))
    assert error.facts == {"radius": F(9), "least": F(10)}
    mended = Path(at(0, 0), (LineTo(at(20, 0)), ArcOfRadius(at(0, 0), F(10), False)))
    assert [error.code for error in faults(blank(path=mended))] == ["outside-blank"]


def test_path_and_corners_together_are_refused() -> None:
    how = {
        "path": Path(at(0, 0), (LineTo(at(9, 0)), LineTo(at(9, 9)))),
        "edges": {TOP: Arched(F(1))},
    }
    assert [error.code for error in faults(blank(**how))] == ["path-and-corners"]
    assert [e.code for e in faults(ShapeSpec(View.FRONT, F(0), F(5)))] == ["blank-without-size"]


def test_all_faults_come_in_one_pass() -> None:
    how = {"holes": (peg(90, 20), peg(20, 20, 0, "pin"), peg(1, 1, 4, "nail"))}
    assert [e.facts["hole"] for e in faults(blank(**how))] == ["pin", "peg", "nail"]


def test_sound_shapes_have_no_faults() -> None:
    sound = blank(
        corners={(LEFT, TOP): Round(F(25)), (LEFT, BOTTOM): Round(F(25))},
        edges={RIGHT: Hollowed(F(10))},
        holes=(peg(25, 25, 49), peg(60, 25)),
        marks=(MarkLine("sill", at(0, 0), at(80, 50)),),
    )
    assert faults(sound) == ()


def test_wood_left_beside_a_hole() -> None:
    shape = trim(blank(holes=(peg(25, 25, 49), peg(60, 25, 4, "pin"))))
    assert wood_left(shape) == {"peg": F("0.5"), "pin": F(18)}

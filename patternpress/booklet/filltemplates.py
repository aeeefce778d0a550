"""Fill the pages of templates, and the page before printing.

In: a `Model` and its `Wording`.  Out: the drawn pages as content, and words on how to print them
and how to use them.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction

from markupsafe import Markup

from patternpress.assembly.body import SIDE_AXIS
from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.hands import shown_shape, work_of_hand
from patternpress.assembly.leaning import Ways, ways_of
from patternpress.assembly.marked import hole_axis
from patternpress.assembly.model import Model
from patternpress.assembly.mouths import far_mouths
from patternpress.assembly.shape import Shape
from patternpress.assembly.sizes import AXES
from patternpress.assembly.specs import NEAR_FACE, PAGE_AXES
from patternpress.assembly.turning import mirrored_shape
from patternpress.booklet import content as c
from patternpress.booklet.fillbits import sawn_holes
from patternpress.booklet.fillcutting import end_notes
from patternpress.booklet.holewords import between_ends, lean_words
from patternpress.booklet.plain import upper
from patternpress.booklet.sidewords import holes_named
from patternpress.booklet.slopewords import slope_notes
from patternpress.booklet.wording import Wording
from patternpress.design.phrases import OPPOSITE
from patternpress.drawing.bars import lying_bar, upright_bar
from patternpress.drawing.fromparts import template_parts
from patternpress.drawing.ink import Tagged
from patternpress.drawing.kept import Kept, once
from patternpress.drawing.numbers import number
from patternpress.drawing.part import Drilled, TemplatePart, Treated, in_millimetres
from patternpress.drawing.sheets import TemplatePage, sheets
from patternpress.drawing.style import WORDS, DrawingStyle
from patternpress.drawing.svg import svg_page
from patternpress.drawing.tags import bar
from patternpress.drawing.treated import treated
from patternpress.measure.figures import Figure, plain, show_angle
from patternpress.measure.pieces import joined
from patternpress.measure.printers import Correction
from patternpress.measure.quantity import Kind, Quantity

BAR_ROOM = 110.0  # mm
TEMPLATE_AREA = (Fraction(190), Fraction(236))


def template_style(wording: Wording) -> DrawingStyle:
    """The style of templates, with their words in the edition's language."""
    texts = wording.phrases.texts
    words = {key: texts[f"sheet_{key.replace(' ', '_')}"] for key in WORDS}
    return DrawingStyle(words=words, locale=wording.model.edition.display.locale)


def printing(
    wording: Wording, pages: tuple[TemplatePage, ...], kept: Kept | None = None
) -> c.Printing:
    """What to print first, how to check it, and how to use what comes out.

    `kept` holds bars that are drawn already.
    """
    style, title = template_style(wording), wording.say("bar_title").unescape()
    length = wording.say("bar_length")
    drawn = once(kept, "bars", (style, title), lambda: _bars(style, title))
    bars = tuple(c.Bar(length, Markup(picture), upright) for upright, picture in drawn)
    notes = tuple(printing_notes(pages, wording)) if pages else ()
    return c.Printing(papers=wording.say("papers_any"), bars=bars, notes=notes)


def _bars(style: DrawingStyle, title: str) -> tuple[tuple[bool, str], ...]:
    """The bars to measure, each with whether it stands upright."""
    found = []
    for upright, block in ((False, lying_bar(style)), (True, upright_bar(style))):
        # The last figures stand past the end of the bar.
        size = (block.width, BAR_ROOM) if upright else (BAR_ROOM, block.height)
        tagged = Tagged(block.ink, bar("up" if upright else "across"))
        found.append((upright, svg_page(size, [tagged], title, style.typeface)))
    return tuple(found)


def template_pages(
    model: Model,
    wording: Wording,
    correction: Correction | None = None,
    kept: Kept | None = None,
) -> tuple[TemplatePage, ...]:
    """The pages of templates as drawn, stretched for one printer where there is a correction.

    `kept` holds those of the same parts that were drawn before.
    """
    leans = ways_of(model.worked, model.assembly)
    far = far_mouths(model.worked, model.assembly)

    def notes(part: CutPart, twin: bool) -> tuple[str, ...]:
        leaning = _leaning(part, leans, twin, wording)
        behind = _bored_from_behind(part, far, wording)
        said = (
            *end_notes(part, wording, twin=twin),
            *leaning,
            *behind,
            *template_notes(part, wording, twin=twin),
        )
        return tuple(str(each.striptags()) for each in said)

    style = template_style(wording)
    angles = {key: _angle(ways, wording) for key, ways in leans.items()}
    found = template_parts(model.worked, model.edition, notes, style.say("deep"), angles)
    sawn = set(sawn_holes(wording))
    parts = tuple(replace(part, drills=_drills(part, sawn, wording)) for part in found)
    if not parts:
        return ()
    # How a part shows further lengths follows from the edition's display alone.
    said = [replace(part, show=in_millimetres) for part in parts]
    content = (said, model.edition.display, style, correction)
    return once(kept, "sheets", content, lambda: sheets(parts, TEMPLATE_AREA, style, correction))


def _leaning(
    part: CutPart, leans: Mapping[tuple[str, str], Ways], twin: bool, wording: Wording
) -> Iterator[Markup]:
    """Which way holes lean whose angle stands beside them.

    On a twin left and right change places, but not where it is seen from its other side.
    """
    shape, like = wording.model.worked.shapes.get(part.name), dict[Ways, list[str]]()
    for hole in part.part.holes:
        ways = leans.get((part.name, hole.name.value), ())
        if twin and shape is not None and mirrored_shape(shape).view is shape.view:
            across = AXES.index(PAGE_AXES[shape.view][0])
            ways = tuple((a, OPPOSITE[s] if SIDE_AXIS[s] == across else s) for a, s in ways)
        if ways:
            like.setdefault(ways, []).append(hole.name.value)
    angles = [plain(_angle(ways, wording)) for ways in like]
    for (ways, names), angle in zip(like.items(), angles, strict=True):
        if len(ways) == 1 and angles.count(angle) == 1:
            side = wording.say(f"side_{ways[0][1]}")
            yield wording.say("template_leans_to", angle=angle, side=side)
        else:
            said = {"holes": holes_named(names, wording), "ways": lean_words(ways, wording)}
            yield wording.say("template_leans", **said)


def _bored_from_behind(
    part: CutPart, far: Mapping[tuple[str, str], str], wording: Wording
) -> Iterator[Markup]:
    """Which holes lean from the face that the sheet does not show."""
    names = [each.name.value for each in part.part.holes if (part.name, each.name.value) in far]
    if names:
        yield wording.say("template_bored_from_behind", holes=holes_named(names, wording))


def _angle(ways: Ways, wording: Wording) -> Figure:
    """How far a hole is off square, as it stands beside it."""
    display = wording.model.edition.display
    first, *more = (show_angle(Quantity(each, Kind.ANGLE), display) for each, _ in ways)
    return joined(first, *(joined(" + ", each) for each in more))


def _drills(
    part: TemplatePart, sawn: Collection[tuple[str, str]], wording: Wording
) -> tuple[Drilled, ...]:
    """The drills of a part's bored holes, with the decimal sign and units of the language."""
    return tuple(
        replace(each, metric=wording.local(each.metric), inch=wording.local(each.inch))
        for each in part.drills
        if not each.holes or any((part.name, hole) not in sawn for hole in each.holes)
    )


def templates(pages: tuple[TemplatePage, ...], wording: Wording) -> tuple[c.TemplatePage, ...]:
    """The pages of templates as content."""
    total = len(pages)
    return tuple(
        c.TemplatePage(
            heading=wording.say("templates_page", number=number, total=total),
            picture=sheet_markup(page),
            letters=", ".join(page.letters),
        )
        for number, page in enumerate(pages, 1)
    )


def sheet_markup(page: TemplatePage) -> Markup:
    """The drawings of one page as markup: each by itself, so that each is tagged by itself."""
    width, height = (float(each) for each in TEMPLATE_AREA)
    drawn = [
        figure.svg.replace(
            "<svg ",
            f'<svg style="position:absolute;left:{number(figure.left)}mm;'
            f'top:{number(figure.top)}mm" ',
            1,
        )
        for figure in page.figures
    ]
    style = f"position:relative;width:{width:g}mm;height:{height:g}mm"
    return Markup(f'<div style="{style}">') + Markup("").join(map(Markup, drawn)) + Markup("</div>")


def printing_notes(pages: Sequence[TemplatePage], wording: Wording) -> Iterator[Markup]:
    """How templates are used, which sheets may be traced, and what to do if the bars are off."""
    yield wording.say("template_use")
    yield wording.say("template_peel")
    yield wording.say("template_side")
    if any(page.sheet for page in pages):
        yield wording.say("template_joined")
    reduced = [number for number, page in enumerate(pages, 1) if page.scale != 1]
    full = [number for number, page in enumerate(pages, 1) if page.scale == 1]
    if not reduced:
        yield wording.say("template_all_full")
    elif full:
        yield wording.say("template_full", full=_ranges(full))
    if reduced:
        yield wording.say("template_reduced", reduced=_ranges(reduced))
    yield wording.say("template_off")


def _ranges(numbers: Sequence[int]) -> str:
    """Numbers in order as 1–4, 7."""
    runs: list[list[int]] = []
    for each in numbers:
        if runs and runs[-1][-1] == each - 1:
            runs[-1].append(each)
        else:
            runs.append([each])
    return ", ".join(f"{run[0]}–{run[-1]}" if len(run) > 1 else str(run[0]) for run in runs)


def template_notes(part: CutPart, wording: Wording, *, twin: bool = False) -> Iterator[Markup]:
    """What a template says further: which face shows, what is done to edges and faces, and which
    of its marks and treatments only some of its pieces have.
    """
    worked = wording.model.worked
    plain = worked.shapes.get(part.name)
    if plain is None:
        return
    shape = shown_shape(part, plain, worked)
    yield from _best_face(part, shape, wording)
    yield from _slot_ends(part, wording)
    if shape.far_edges:
        yield wording.say("template_both_faces")
        yield from slope_notes(part, plain, wording, twin=twin)
    done: dict[str, list[Markup]] = {}
    work = work_of_hand(part, plain, worked, twin=twin)
    for each in treated(work, shape):
        where = _where(each, wording)
        if each.pieces:
            pieces = _pieces(each.pieces, part, wording)
            where = wording.say("template_only", where=where, pieces=pieces)
        done.setdefault(each.verb, []).append(where)
    for verb, places in done.items():
        where = wording.listed(list(dict.fromkeys(places)))
        yield wording.say(f"template_{verb.replace(' ', '_')}", where=where)
    drawn = {mark.name for mark in shape.marks}
    for some in work:
        if not some.verb and some.pieces and some.target.feature in drawn:
            pieces = _pieces(some.pieces, part, wording)
            mark = upper(wording.name(some.target.feature))
            yield wording.say("template_mark_only", mark=mark, pieces=pieces)


def _best_face(part: CutPart, shape: Shape, wording: Wording) -> Iterator[Markup]:
    best = part.part.best_face.value[0] if part.part.best_face else ""
    axis = {"left": "right", "back": "front", "bottom": "top"}
    near = NEAR_FACE[shape.view]
    if best and axis.get(best, best) == axis.get(near, near):
        key = "template_best_near" if best == near else "template_best_far"
        yield wording.say("template_best", face=wording.say(key))


def _slot_ends(part: CutPart, wording: Wording) -> Iterator[Markup]:
    for hole in part.part.holes:
        if hole.slot is not None and hole_axis(hole, part) == AXES.index(part.thin):
            said = {"hole": wording.name(hole.name.value), "far": between_ends(hole, wording)}
            yield upper(wording.say("template_ends", **said))


def _pieces(names: Collection[str], part: CutPart, wording: Wording) -> Markup:
    return wording.listed(wording.name(each) for each in part.pieces if each in names)


def _where(each: Treated, wording: Wording) -> Markup:
    target = each.target
    if target.kind in ("hole", "groove"):
        return wording.name(target.feature)
    if target.feature:
        return wording.say(f"feature_{target.feature}")
    if not target.sides:
        return wording.say("template_whole")
    side = Markup(" ").join(wording.say(f"side_{each}") for each in target.sides)
    return wording.say("edge_alone", side=side) if len(target.sides) > 1 else side

"""The cutting layouts, as content.

In: a `Wording`.  Out: for each stock what to buy, a picture of each board and its cuts in order,
and what to mind at the blade.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

from markupsafe import Markup, escape

from patternpress.assembly.broadface import NEAR_FACE
from patternpress.assembly.hands import shown_shape
from patternpress.booklet import contentlayouts as c
from patternpress.booklet.cutsettings import setting_of
from patternpress.booklet.looks import flat_look
from patternpress.booklet.outlinewords import still_to_cut
from patternpress.booklet.stockwords import stock_size
from patternpress.booklet.wording import NOTHING, Wording
from patternpress.cutting.boardink import BoardPicture, size_of, sold_size
from patternpress.cutting.boardpicture import BOARD_WORDS, board_picture
from patternpress.cutting.contours import faces_up
from patternpress.cutting.jobs import NARROW, SHORT, Item, Job, Sheet
from patternpress.cutting.laid import extent_of, worth_keeping
from patternpress.cutting.layouts import LaidBoard, Layout
from patternpress.cutting.packing.records import KNIFE
from patternpress.cutting.slicing import ALONG, Area, Cut
from patternpress.drawing.kept import Kept, once
from patternpress.measure.figures import show_size
from patternpress.measure.pieces import markup
from patternpress.measure.quantity import Kind, Quantity

MOST_OFFCUTS = 3  # of a board that are told, the largest


def laid_stocks(
    layouts: Sequence[Layout], wording: Wording, kept: Kept | None = None, *, drawn: bool = True
) -> tuple[c.LaidStock, ...]:
    """The pages of each layout; not `drawn`: without pictures, and no word of what is in them.

    `kept` holds boards that are drawn already.
    """
    return tuple(_stock(layout, wording, kept, drawn) for layout in layouts)


def quantity_words(layout: Layout, wording: Wording) -> Markup:
    """How much to buy: so many sheets or lengths, by size where there are several sizes."""
    bought = layout.to_buy
    key = "sheets" if layout.job.flat else "strips"
    total = sum(count for _, count in bought)
    if layout.misfits:
        return NOTHING
    if len({sheet for sheet in layout.job.sheets if sheet.count is None}) < 2:
        return wording.counted(key, total, count=total)
    told = [
        wording.say("lay_board", count=count, size=_sheet(sheet, wording))
        for sheet, count in bought
    ]
    return Markup(", ").join(told)


def _stock(layout: Layout, wording: Wording, kept: Kept | None, drawn: bool) -> c.LaidStock:
    stock = layout.job.stock
    size = stock_size(stock, wording)
    pictures = [_picture(b, layout.job, wording, kept) if drawn else None for b in layout.boards]
    boards = [
        _board(board, layout, wording, picture)
        for board, picture in zip(layout.boards, pictures, strict=True)
    ]
    words = [each for each in _words(layout, wording, drawn) if each]
    key = "lay_scale" if layout.job.flat else "lay_scale_length"
    scales = {each.scale for each in boards if each.scale}
    if len(scales) == 1:
        words += [wording.say(key, scale=scale) for scale in scales]
    elif scales:
        boards = [_scaled(each, wording) for each in boards]
    return c.LaidStock(
        wording.say("stock_heading", name=wording.name(stock.name.value), size=size),
        tuple(words),
        tuple(boards),
    )


def _scaled(board: c.LaidBoard, wording: Wording) -> c.LaidBoard:
    """A board that is drawn at another scale than the next one, which its heading tells."""
    heading = wording.say("lay_board_scale", board=board.heading, scale=board.scale)
    return replace(board, heading=heading)


def _words(layout: Layout, wording: Wording, drawn: bool) -> Iterator[Markup]:
    job = layout.job
    told = [_counted("lay_buy", sheet, count, wording) for sheet, count in layout.to_buy]
    hand: Counter[Sheet] = Counter()
    for board in layout.boards:
        if board.sheet.count is not None:
            hand[board.sheet] += board.copies
    told += [_counted("lay_hand", sheet, count, wording) for sheet, count in hand.items()]
    told += _proved(layout, wording)
    if job.stock.glued > 1:
        told.append(wording.say("lay_glued", count=job.stock.glued))
    yield Markup(" ").join(told)
    allowed = []
    if job.kerf:
        allowed.append(wording.say("lay_kerf", kerf=wording.mm(job.kerf)))
    if job.trim:
        key = "lay_trim" if job.flat else "lay_trim_ends"
        allowed.append(
            wording.say(key, trim=wording.mm(job.trim), drawn=_drawn("broken_line", wording, drawn))
        )
    if job.left_on:
        key = "lay_left_on" if job.flat else "lay_left_on_length"
        allowed.append(wording.say(key, more=wording.mm(job.left_on)))
    allowed += _left_for_fitting(layout, wording)
    yield Markup(" ").join(allowed)
    for item in layout.misfits:
        need = _size(item.along + 2 * job.trim, item.across + (2 * job.trim if job.flat else 0),
                     wording)  # fmt: skip
        yield wording.say("lay_misfit", letters=item.letter, size=need)


def _left_for_fitting(layout: Layout, wording: Wording) -> Iterator[Markup]:
    """What is left on the sizes that are measured first, and on whose; besides that for sanding."""
    key = "lay_fitting_more" if layout.job.left_on else "lay_fitting"
    items = [item for item in layout.job.items if any(item.fitting)]
    for more in sorted({each for item in items for each in item.fitting if each}):
        where = []
        for size, wanted in (("length", (1, 0)), ("width", (0, 1)), ("both", (1, 1))):
            found = [i for i in items if tuple(each == more for each in i.fitting) == wanted]
            letters = wording.listed(Markup(escape(each.letter)) for each in found)
            where += [wording.say(f"lay_{size}_of", letters=letters)] if found else []
        yield wording.say(key, more=wording.mm(more), where=Markup("; ").join(where))


def _proved(layout: Layout, wording: Wording) -> Iterator[Markup]:
    """Whether fewer would do; that none is fewer than one is no news."""
    if layout.proved and layout.to_buy:
        if sum(count for _, count in layout.to_buy) > 1:
            yield wording.say("lay_proved")
    elif layout.least:
        yield wording.say("lay_not_proved", bound=layout.least * layout.job.stock.glued)


def _counted(key: str, sheet: Sheet, count: int, wording: Wording) -> Markup:
    if sheet.about:
        return wording.say("lay_about", count=count, size=_sheet(sheet, wording))
    return wording.counted(key, count, count=count, size=_sheet(sheet, wording))


def _size(along: Fraction, across: Fraction, wording: Wording) -> Markup:
    return Markup(markup(size_of(along, across, wording.model.edition.display)))


def _sheet(sheet: Sheet, wording: Wording) -> Markup:
    return Markup(markup(sold_size(sheet, wording.model.edition.display)))


def _defect(area: Area, wording: Wording) -> Markup:
    """A defect: its size, and where its middle is on the board as it is drawn."""
    sizes = [area.across, area.along] if area.across else [area.along]
    shown = show_size([Quantity(e, Kind.LENGTH) for e in sizes], wording.model.edition.display)
    return wording.say(
        "lay_defect" if area.across else "lay_defect_length",
        size=Markup(markup(shown)),
        x=wording.mm(area.x + area.along / 2),
        y=wording.mm(area.y + area.across / 2),
    )


def _drawn(key: str, wording: Wording, drawn: bool) -> Markup:
    """How something is drawn in the picture, if there is one."""
    return wording.say(f"lay_{key}") if drawn else NOTHING


def _picture(board: LaidBoard, job: Job, wording: Wording, kept: Kept | None) -> BoardPicture:
    texts, edition = wording.phrases.texts, wording.model.edition
    says = {key: str(texts[f"board_{key}"]) for key in BOARD_WORDS}
    content = (board, job, edition.display, flat_look(edition), says)
    return once(kept, "board", content, lambda: board_picture(*content))


def _board(
    board: LaidBoard, layout: Layout, wording: Wording, picture: BoardPicture | None
) -> c.LaidBoard:
    job, drawn = layout.job, picture is not None
    svg = NOTHING
    small: tuple[tuple[str, int], ...] = ()
    shortened, scale = False, ""
    details: tuple[c.LaidDetail, ...] = ()
    if picture is not None:
        svg, small = Markup(picture.svg), picture.unlettered
        shortened, scale = picture.shortened, wording.local(picture.scale)
        details = tuple(
            c.LaidDetail(
                Markup(each.svg),
                wording.say("lay_detail", letter=letter, scale=wording.local(each.scale)),
            )
            for letter, each in picture.details
        )
    return c.LaidBoard(
        _heading(board, layout, wording),
        svg,
        tuple(_cut(cut, board, job, wording) for cut in board.cuts),
        tuple(_notes(board, small, layout, (wording, drawn))),
        tuple(_pieces(board, job, wording)),
        scale,
        shortened,
        details,
    )


def _pieces(board: LaidBoard, job: Job, wording: Wording) -> Iterator[Markup]:
    for number, count in sorted(Counter(spot.item for spot in board.spots).items()):
        item = job.items[number]
        size = _size(item.along, item.across, wording)
        name = wording.name(item.part.name)
        yield wording.say("lay_piece", count=count, letter=item.letter, name=name, size=size)


def _heading(board: LaidBoard, layout: Layout, wording: Wording) -> Markup:
    size = _sheet(board.sheet, wording)
    if board.sheet.count is not None:
        key = "lay_board_used" if board.sheet.used else "lay_board_hand"
        return wording.say(key, size=size)
    if len(layout.boards) == 1 and board.copies == 1:
        return NOTHING
    return wording.say("lay_board", count=board.copies, size=size)


def _cut(cut: Cut, board: LaidBoard, job: Job, wording: Wording) -> Markup:
    if not job.flat:
        key = "lay_length"
    elif any(item.part.grain for item in job.items):
        key = "rip" if cut.runs == ALONG else "crosscut"  # what these are called at a saw
        key = f"lay_knife_{key}" if job.tool == KNIFE else f"lay_{key}"
    else:
        key = "lay_along" if cut.runs == ALONG else "lay_across"
    setting = setting_of(cut, board, job, wording.model.edition.display)
    said = wording.say(key, setting=wording.size(setting))
    if len(cut.lines) > 1:
        said = wording.say("lay_times", cut=said, count=len(cut.lines))
    if cut.frees:
        letters = _letters(Counter(job.items[n].letter for n in cut.frees), wording)
        said = wording.say("lay_gives", cut=said, letters=letters)
    return said


def _letters(counted: Counter[str], wording: Wording) -> Markup:
    several = [
        wording.say("lay_many", count=count, letter=letter) if count > 1 else Markup(escape(letter))
        for letter, count in counted.items()
    ]
    return Markup(", ").join(several)


def _held(board: LaidBoard, job: Job, wanted: Callable[[Item], bool]) -> Counter[str]:
    """How many pieces of the wanted sorts lie on a board, by letter."""
    items = (job.items[spot.item] for spot in board.spots)
    return Counter(item.letter for item in items if wanted(item))


def _notes(
    board: LaidBoard,
    small: Sequence[tuple[str, int]],
    layout: Layout,
    told: tuple[Wording, bool],
) -> Iterator[Markup]:
    job, apart = layout.job, layout.apart
    wording, drawn = told
    if small:
        yield wording.say("lay_small", letters=_letters(Counter(dict(small)), wording))
    fitted = _held(board, job, lambda item: item.fitted)
    if fitted:
        how = _drawn("black_corners", wording, drawn)
        yield wording.say("lay_fitted", letters=_letters(fitted, wording), drawn=how)
    same = _held(board, job, lambda item: bool(item.board))
    if same:
        yield wording.say("lay_apart" if apart else "lay_same", letters=_letters(same, wording))
    if board.sheet.defects:
        sizes = [_defect(each, wording) for each in board.sheet.defects]
        how = _drawn("hatched", wording, drawn)
        yield wording.say("lay_defects", sizes=Markup(", ").join(sizes), drawn=how)
    yield from _faces_up(board, job, wording)
    over = sorted(worth_keeping(board, job), key=extent_of, reverse=True)[:MOST_OFFCUTS]
    if over and not drawn:  # a picture tells them in their places
        sizes = [_size(each.along, each.across, wording) for each in over]
        yield wording.say("lay_left", sizes=Markup(", ").join(sizes))
    if not board.cuts and len(board.spots) > 1:
        said = job.stock.cut_with
        tool = wording.name(said.value) if said else wording.say("lay_round_tool")
        shapes = "lay_shapes" if drawn else "lay_shapes_undrawn"
        yield wording.say(shapes if board.by_shape else "lay_round", tool=tool)
    if job.tool != KNIFE:
        yield from _safety(board, job, wording)
    if not board.by_shape:  # else the outlines are traced on the board itself
        yield from still_to_cut([job.items[spot.item].part for spot in board.spots], wording)


def _faces_up(board: LaidBoard, job: Job, wording: Wording) -> Iterator[Markup]:
    """Which pieces lie with their show face up, and whose template shows the other one."""
    worked = wording.model.worked
    best = _held(board, job, lambda item: bool(faces_up(item.part)))
    if best:
        yield wording.say("lay_best", letters=_letters(best, wording))

    def behind(item: Item) -> bool:
        shape, best = worked.shapes.get(item.part.name), faces_up(item.part)
        if not best or shape is None or item.part.name not in worked.templates:
            return False
        return NEAR_FACE[shown_shape(item.part, shape, worked).view] != best

    turned = _held(board, job, behind)
    if turned and not board.by_shape:  # else what is up is traced from the picture
        yield wording.say("lay_best_far", letters=_letters(turned, wording))


def _safety(board: LaidBoard, job: Job, wording: Wording) -> Iterator[Markup]:
    """Short pieces and narrow strips want care at a saw."""
    short = Counter(
        job.items[spot.item].letter for spot in board.spots if max(spot.along, spot.across) < SHORT
    )
    if short:
        yield wording.say("lay_short", letters=_letters(short, wording))
    narrow = sorted({c.setting for c in board.cuts if c.runs == ALONG and c.setting < NARROW})
    if narrow and job.flat:
        sizes = Markup(", ").join(wording.mm(each) for each in narrow)
        yield wording.say("lay_narrow", sizes=sizes)

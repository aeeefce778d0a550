"""The bench plan as a picture and as plain text.

In: a `Plan`, the titles of its steps and a style.  Out: bar charts, one line a step: black bars
where the hands work, hatched bars where something dries.  Sittings stand side by side, each with
its own hours; what is longer than an evening breaks off at the gaps.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from functools import partial
from types import MappingProxyType

from patternpress.assembly.plan import Plan, Sitting
from patternpress.drawing.ink import shifted
from patternpress.drawing.lettering import figure_width, words
from patternpress.drawing.planbars import BESIDE, FOOT, HEAD, bands, bars, hours, key, name
from patternpress.drawing.planrows import Row, rows
from patternpress.drawing.plantime import GAP, TimeScale, time_scale
from patternpress.drawing.style import DrawingStyle
from patternpress.drawing.svg import svg_page

WIDTH = 176.0  # mm
MOST_SITTINGS = 4  # in one picture
HOURS_ONLY = Fraction(240)  # minutes; longer pauses are told in whole hours
_AIR = 1.0  # mm after what is told in a gap
_FEW = 3  # sittings in a picture leave more room for titles
_NAMES = (66.0, 52.0)  # mm for number and title: with few sittings, with more if no line is saved
_LEAST = 0.06  # mm for a minute: hours 3.6 mm apart have room for their figures

# English.  Other languages hand in a mapping with the same keys.
PLAN_WORDS: Mapping[str, str] = MappingProxyType(
    {
        "sitting": "Sitting {number}",
        "day": "day {day}",
        "hours": "hours into the sitting",
        "h": "{hours} h",
        "min": "{minutes} min",
        "h min": "{hours} h {minutes} min",
        "hands": "at the bench",
        "waiting": "drying",
        "estimated": "estimated",
        "again": "{title}, the rest of it",
        "then": "then {time} to dry",
        "total": "{time} at the bench",
        "until": "nothing to do for {time}",
        "title": "Bench plan, sittings {first} to {last}. {works}.",
        "title one": "Bench plan, sitting {first}. {works}.",
        "title cut": "{start} cutting out",
        "title work": "{start} step {number}",
        "title again": "{start} step {number} again",
        "title sitting": "Sitting {number}: {works}",
    }
)


def clock(minutes: Fraction, say: Mapping[str, str] = PLAN_WORDS) -> str:
    """A time such as 45 min, 2 h or 1 h 20 min, to the nearest minute."""
    hours, rest = divmod(round(minutes), 60)
    if not hours:
        return say["min"].format(minutes=rest)
    return say["h min" if rest else "h"].format(hours=hours, minutes=rest)


def plan_charts(
    plan: Plan,
    style: DrawingStyle,
    titles: Mapping[int, str] | None = None,
    say: Mapping[str, str] = PLAN_WORDS,
) -> tuple[str, ...]:
    """The plan as SVG pictures of at most 176 mm width, few sittings in each.

    `titles` are the words for step numbers, where they differ from the plan's own.
    """
    titles = titles or {}
    count = -(-len(plan.sittings) // MOST_SITTINGS)
    size = -(-len(plan.sittings) // count) if count else 1
    parts = [plan.sittings[at : at + size] for at in range(0, len(plan.sittings), size)]
    label = style.set_in(style.label, 600)
    heads = [say["sitting"].format(number=each.number) for each in plan.sittings]
    least = max((figure_width(words(head), label) for head in heads), default=0.0) + 1.0
    gap = _gap(plan, say, style)
    laid: list[list[tuple[TimeScale, tuple[Row, ...]]]] = []
    for names in _NAMES[size > _FEW :: -1]:
        lay = partial(time_scale, left=names, right=WIDTH - 1.0, least=least, gap=gap)
        minute = min((lay(part).minute for part in parts), default=0.0)
        shown = [lay(part, most=minute) for part in parts]
        if not laid or (minute >= _LEAST and all(each.right <= WIDTH - 1.0 for each in shown)):
            scaled = [(each, rows(plan, each, titles, names, style)) for each in shown]
            laid.append([(each, drawn) for each, found in scaled for drawn in found])
    lowest = min(laid, key=_height)
    return tuple(_chart(drawn, scale, say, style) for scale, drawn in lowest)


def _height(laid: Sequence[tuple[TimeScale, tuple[Row, ...]]]) -> float:
    """How high the rows of some pictures are together, mm."""
    return sum(-drawn[-1].bottom for _, drawn in laid if drawn)


def _gap(plan: Plan, say: Mapping[str, str], style: DrawingStyle) -> float:
    """How wide the gaps are, so that what is told in them has room, mm."""
    ends = {each.number: each.ends for each in plan.sittings}
    drying = [
        work.dry - work.ends
        for step in plan.steps
        for work in step.works
        if work.dry > max(ends[work.sitting], work.ends)
    ]
    label = style.set_in(style.label)
    beside = [BESIDE + figure_width(words(_roughly(each, say)), label) for each in drying]
    under = [
        figure_width(words(_roughly(each.pause, say)), label)
        for each in plan.sittings
        if each.pause
    ]
    return max([GAP, *(width + _AIR for width in (*beside, *under))])


def plan_text(
    plan: Plan, titles: Mapping[int, str] | None = None, say: Mapping[str, str] = PLAN_WORDS
) -> str:
    """The same in plain text: sitting by sitting, each line with its time in the sitting."""
    lines: list[str] = []
    for sitting in plan.sittings:
        head = say["sitting"].format(number=sitting.number)
        total = say["total"].format(time=clock(sitting.hands_on, say))
        lines.append(f"{head}, {say['day'].format(day=sitting.day)}, {total}")
        lines += _text_rows(plan, sitting, titles or {}, say)
        if sitting.pause:
            lines.append("  " + say["until"].format(time=clock(sitting.pause, say)))
        lines.append("")
    return "\n".join(lines)


def _text_rows(
    plan: Plan, sitting: Sitting, titles: Mapping[int, str], say: Mapping[str, str]
) -> Iterator[str]:
    works = [(w, step) for step in plan.steps for w in step.works if w.sitting == sitting.number]
    for work, step in sorted(works, key=lambda each: each[0].starts):
        start, end = (_hour(each - sitting.starts) for each in (work.starts, work.ends))
        wait = work.dry - work.ends
        after = ", " + say["then"].format(time=clock(wait, say)) if wait else ""
        guess = f" ({say['estimated']})" if step.estimated else ""
        title = titles.get(step.number, step.title)
        if work != step.works[0]:
            title = say["again"].format(title=title)
        lead = f"{step.number:>3}" if step.number else "   "
        yield f"  {start}–{end} {lead} {title}{guess}{after}"


def _hour(minutes: Fraction) -> str:
    hours, rest = divmod(round(minutes), 60)
    return f"{hours}:{rest:02d}"


# ------------------------------------------------------------------ the picture


def _chart(
    drawn: tuple[Row, ...], scale: TimeScale, say: Mapping[str, str], style: DrawingStyle
) -> str:
    foot = drawn[-1].bottom if drawn else 0.0
    ink = [
        *bands(scale, foot, _heads(scale, say), style),
        *(ink for row in drawn for ink in name(row, scale, style)),
        *(ink for row in drawn for ink in bars(row, scale, partial(_roughly, say=say), style)),
        *hours(scale, foot, _pauses(scale, say), say["hours"], style),
        *key((say["hands"], say["waiting"]), style),
    ]
    height = HEAD - foot + FOOT
    moved = shifted(ink, 0.0, height - HEAD)
    return svg_page((WIDTH, height), [moved], _title(drawn, scale, say), style.typeface)


def _heads(scale: TimeScale, say: Mapping[str, str]) -> tuple[tuple[str, str], ...]:
    sittings = [panel.sitting for panel in scale.panels]
    return tuple(
        (say["sitting"].format(number=each.number), say["day"].format(day=each.day))
        for each in sittings
    )


def _pauses(scale: TimeScale, say: Mapping[str, str]) -> tuple[str, ...]:
    """What is said at each gap: its length, in whole hours where it is long."""
    pauses = [scale.pause(index) for index in range(len(scale.panels))]
    return tuple(_roughly(pause, say) if pause else "" for pause in pauses)


def _roughly(minutes: Fraction, say: Mapping[str, str]) -> str:
    long = minutes >= HOURS_ONLY
    return clock(Fraction(round(minutes / 60) * 60) if long else minutes, say)


def _title(drawn: tuple[Row, ...], scale: TimeScale, say: Mapping[str, str]) -> str:
    """The picture in words: what is begun when, sitting by sitting."""
    parts = []
    for panel in scale.panels:
        sitting = panel.sitting
        works = [
            (work.starts, row.step.number, work != row.step.works[0])
            for row in drawn
            for work in row.step.works
            if work.sitting == sitting.number
        ]
        told = [
            say[_told(number, again)].format(start=_hour(starts - sitting.starts), number=number)
            for starts, number, again in sorted(works)
        ]
        parts.append(say["title sitting"].format(number=sitting.number, works=", ".join(told)))
    first, last = scale.panels[0].sitting.number, scale.panels[-1].sitting.number
    whole = "title one" if first == last else "title"
    return say[whole].format(first=first, last=last, works=". ".join(parts))


def _told(number: int, again: bool) -> str:
    if not number:
        return "title cut"
    return "title again" if again else "title work"

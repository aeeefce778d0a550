"""The parts of a booklet, and how a theme binds them.

In: a `Content`, a `Theme` and the fixed words.  Out: the parts that have something to say, in runs:
the parts of one run follow each other down the same pages, and each run starts a new page.  From
the same list come the lines of the contents and what the running head says on each page.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from markupsafe import Markup

from patternpress.booklet.content import Content, Finishing, Making, Plan
from patternpress.booklet.contentneeds import Needs
from patternpress.booklet.crossrefs import step_anchor, template_anchor
from patternpress.booklet.feet import HeadMark, HeadWords
from patternpress.booklet.phrases import Phrases
from patternpress.booklet.themes import Theme, ThemeError
from patternpress.booklet.typeset import typeset_text

MOST_STEPS_LISTED = 30  # in the contents


@dataclass(frozen=True)
class Part:
    """A part as the theme knows it: its template is `<key>.html`, its title the words `key`."""

    key: str
    present: Callable[[Content], bool]
    in_contents: bool = True


PARTS = (
    Part("cover", lambda content: True, in_contents=False),
    Part("contents", lambda content: bool(content.steps), in_contents=False),
    Part("make", lambda content: content.making != Making()),
    Part("finishing", lambda content: content.finishing != Finishing()),
    Part("print", lambda content: bool(content.templates or content.printing.bars)),
    Part("cautions", lambda content: bool(content.cautions)),
    Part("needs", lambda content: content.needs != Needs()),
    Part("cutting", lambda content: bool(content.cutting)),
    Part("layouts", lambda content: bool(content.layouts)),
    Part("labels", lambda content: bool(content.labels)),
    Part("templates", lambda content: bool(content.templates)),
    Part("plan", lambda content: content.plan != Plan()),
    Part("steps", lambda content: bool(content.steps)),
    Part("imprint", lambda content: True),
)


@dataclass(frozen=True)
class Entry:
    """One line of the contents: the anchor it points to, its words, and the lines under it.

    `number`: that of a step, which stands in a column of its own.
    """

    anchor: str
    title: str
    under: tuple[Entry, ...] = ()
    number: str = ""


def runs_of(content: Content, theme: Theme) -> tuple[tuple[Part, ...], ...]:
    """Return the parts that have something to say, a tuple for each run, in the theme's order.

    A theme without `runs` starts each part on a new page.  Raises ThemeError if the theme leaves
    a part out, names one twice, or names one that there is not.
    """
    known = {part.key: part for part in PARTS}
    runs = theme.runs or tuple((key,) for key in known)
    named = [key for run in runs for key in run]
    if sorted(named) != sorted(known):
        raise ThemeError(
            f"“runs” of the theme “{theme.name}” must name each part once.",
            f"The parts are: {', '.join(known)}.",
        )
    present = (tuple(known[key] for key in run if known[key].present(content)) for run in runs)
    return tuple(run for run in present if run)


def entries_of(
    runs: tuple[tuple[Part, ...], ...], content: Content, phrases: Phrases
) -> tuple[Entry, ...]:
    """Return the lines of the contents, with the steps under theirs."""
    return tuple(
        Entry(part.key, str(phrases.say(part.key)), _under(part, content))
        for run in runs
        for part in run
        if part.in_contents
    )


def _under(part: Part, content: Content) -> tuple[Entry, ...]:
    """A buyer looks for a step by its number; too many to list are told by their stages."""
    if part.key != "steps":
        return ()
    steps = content.every_step
    if len(steps) <= MOST_STEPS_LISTED:
        return tuple(Entry(step_anchor(s.number), s.title, number=s.number) for s in steps)
    groups = enumerate(content.steps, start=1)
    return tuple(Entry(f"stage-{n}", group.heading) for n, group in groups if group.heading)


def head_marks(
    runs: tuple[tuple[Part, ...], ...], content: Content, phrases: Phrases
) -> tuple[HeadMark, ...]:
    """Return what the running head may name, in the order of the pages."""
    marks: list[HeadMark] = []
    for part in (part for run in runs for part in run):
        title = "" if part.key == "cover" else str(phrases.say(part.key))
        marks.append(HeadMark(part.key, title, minor=not part.in_contents))
        if part.key == "steps":
            steps = content.every_step
            marks += [HeadMark(step_anchor(s.number), "", step=s.number) for s in steps]
    return tuple(marks)


def head_words(phrases: Phrases) -> HeadWords:
    """Return the words of the running head, with places for its figures."""
    one, two = {"number": "{number}"}, {"first": "{first}", "last": "{last}"}
    say = phrases.say
    return HeadWords(
        str(say("head_step", **one)),
        str(say("head_two", **two)),
        str(say("head_steps", **two)),
        str(say("head_on", **one)),
    )


def link_words(
    runs: tuple[tuple[Part, ...], ...], content: Content, phrases: Phrases
) -> dict[str, str]:
    """Return what a link to each place is described by, for a screen reader."""
    words: dict[str, str] = {}
    for part in (part for run in runs for part in run):
        words[part.key] = content.cover.title if part.key == "cover" else phrases.say(part.key)
        for entry in _under(part, content):
            words[entry.anchor] = f"{entry.number} {Markup.escape(entry.title).striptags()}".strip()
    words.update(_sheets_and_cards(content, phrases))
    return {anchor: typeset_text(str(said)) for anchor, said in words.items()}


def _sheets_and_cards(content: Content, phrases: Phrases) -> Iterator[tuple[str, str]]:
    for number, sheet in enumerate(content.templates, 1):
        title = Markup.escape(sheet.heading).striptags()
        yield template_anchor(number), f"{phrases.say('templates')}: {title}"
    for step in content.every_step:
        for card in step.measure:
            title = Markup.escape(card.heading).striptags()
            yield card.anchor, f"{phrases.say('measure')}: {title}"

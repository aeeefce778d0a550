"""References from one place of the booklet to another, with the page that each is on.

In: the `Content` of an edition.  Out: the same with a `Reference` wherever a buyer would leaf: from
the cutting list to a part's template or measure card, from a step to the templates and cards of its
pieces, from a caution in front to where it stands again.  Page numbers are places for now;
the press fills them in when it has counted the pages.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from markupsafe import Markup, escape

from patternpress.assembly.cutparts import by_letter
from patternpress.booklet.content import (
    Caution,
    CautionGroup,
    Content,
    CutGroup,
    CutRow,
    Step,
    StepGroup,
)
from patternpress.booklet.contentcards import MeasureCard, Reference
from patternpress.booklet.phrases import Phrases
from patternpress.booklet.prepress import page_of

_LETTERED = re.compile(r"\(([A-Z]+)\)")  # as in “shelf (D)”


@dataclass(frozen=True)
class _Places:
    """Where things are: letter -> anchor of its (first) template; letter -> its card and step."""

    templates: Mapping[str, str]
    cards: Mapping[str, tuple[str, str]]
    phrases: Phrases

    def refer(self, key: str, anchor: str, **values: object) -> Reference:
        """Words about a place, with its page."""
        return Reference(anchor, self.phrases.say(key, page=Markup(page_of(anchor)), **values))

    def listed(self, letters: Sequence[str]) -> Markup:
        """Letters with commas and a last “and”."""
        return self.phrases.listed([Markup(escape(letter)) for letter in letters])


def step_anchor(number: str) -> str:
    """Return the name of the place where a step stands."""
    return f"step-{number.replace(' ', '-')}"


def template_anchor(number: int) -> str:
    """Return the name of the place of a sheet of templates, counted from 1."""
    return f"template-{number}"


def referred(content: Content, phrases: Phrases) -> Content:
    """Return the content with its references.  Raises PhraseError as `Phrases.say` does."""
    groups = tuple(_anchored(group) for group in content.steps)
    every = [step for group in groups for step in group.steps]
    cards = {
        letter: (card.anchor, step.number)
        for step in reversed(every)
        for card in step.measure
        for letter in _letters(card.letters)
    }
    sheets = {
        letter: template_anchor(number)
        for number, sheet in reversed([*enumerate(content.templates, 1)])
        for letter in _letters(sheet.letters)
    }
    places = _Places(sheets, cards, phrases)
    seen = dict(_needed(every, places))
    return replace(
        content,
        cutting=tuple(_listed(group, places) for group in content.cutting),
        cautions=tuple(_warned(group, content, places) for group in content.cautions),
        steps=tuple(
            replace(g, steps=tuple(replace(s, see=seen[s.number]) for s in g.steps)) for g in groups
        ),
    )


def _letters(listed: str) -> list[str]:
    return [each for each in Markup(listed).striptags().split(", ") if each]


def _anchored(group: StepGroup) -> StepGroup:
    """Give each measure card a name, from its step and its place there."""

    def named(step: Step) -> Step:
        cards = (
            replace(card, anchor=f"card-{step.number.replace(' ', '-')}-{n}")
            for n, card in enumerate(step.measure, 1)
        )
        return replace(step, measure=tuple[MeasureCard, ...](cards))

    return replace(group, steps=tuple(named(step) for step in group.steps))


def _listed(group: CutGroup, places: _Places) -> CutGroup:
    return replace(
        group, rows=tuple(replace(row, see=tuple(_of_row(row, places))) for row in group.rows)
    )


def _of_row(row: CutRow, places: _Places) -> Iterator[Reference]:
    """A fitted part's card goes before its template: that is only a plan until it is measured."""
    if row.letter in places.cards:
        anchor, step = places.cards[row.letter]
        yield places.refer("ref_card", anchor, step=step)
    if row.letter in places.templates:
        yield places.refer("ref_template", places.templates[row.letter])


def _warned(group: CautionGroup, content: Content, places: _Places) -> CautionGroup:
    return replace(
        group,
        cautions=tuple(
            replace(each, see=tuple(_again(each, content, places))) for each in group.cautions
        ),
    )


def _again(caution: Caution, content: Content, places: _Places) -> Iterator[Reference]:
    """Where a caution stands again: at the cutting list, and at which steps."""
    cutting = _among(caution, content.cutting_cautions)
    numbers = [s.number for s in content.every_step if _among(caution, s.cautions)]
    if cutting:
        yield places.refer("ref_again_cutting_too" if numbers else "ref_again_cutting", "cutting")
    if numbers:
        key = ("ref_too" if cutting else "ref_again") + ("_steps" if len(numbers) > 1 else "")
        listed = places.phrases.listed(_spans(numbers, places.phrases))
        yield places.refer(key, step_anchor(numbers[0]), step=numbers[0], steps=listed)


def _among(caution: Caution, cautions: Sequence[Caution]) -> bool:
    """Whether what a caution speaks of is spoken of by others too."""
    return any(caution.kind == each.kind != "" for each in cautions)


def _spans(numbers: Sequence[str], phrases: Phrases) -> Iterator[Markup]:
    """Numbers of steps in order, three or more that follow each other as “2 to 6”."""
    after: list[list[str]] = []
    for number in numbers:
        if after and number == str(int(after[-1][-1]) + 1):
            after[-1].append(number)
        else:
            after.append([number])
    for run in after:
        if len(run) > 2:
            yield phrases.say("ref_span", first=run[0], last=run[-1])
        else:
            yield from (Markup(escape(number)) for number in run)


def _needed(steps: Sequence[Step], places: _Places) -> Iterator[tuple[str, tuple[Reference, ...]]]:
    """Name templates and cards at the first step that speaks of their pieces."""
    met: set[str] = set()
    for step in steps:
        here = list(dict.fromkeys(_spoken(step)))
        fresh = [letter for letter in here if letter not in met]
        met.update(here)
        own = {letter for card in step.measure for letter in _letters(card.letters)}
        carded = [e for e in _brought(step) if e not in own and e in places.cards]
        drawn = [letter for letter in fresh if letter in places.templates]
        found = [
            places.refer("ref_templates", anchor, letters=places.listed(letters))
            for anchor, letters in _by_place(drawn, places.templates)
        ]
        at = {letter: anchor for letter, (anchor, _) in places.cards.items()}
        numbers = dict(places.cards.values())
        found += [
            places.refer("ref_cards", anchor, letters=places.listed(letters), step=numbers[anchor])
            for anchor, letters in _by_place(carded, at)
        ]
        yield step.number, tuple(found)


def _spoken(step: Step) -> Iterator[str]:
    """The letters of the pieces that a step brings or speaks of, in order."""
    yield from _brought(step)
    for words in (*step.actions, *step.after):
        yield from _LETTERED.findall(Markup(words).striptags())


def _brought(step: Step) -> list[str]:
    return [each.letter for each in step.brought if each.letter]


def _by_place(
    letters: Sequence[str], anchors: Mapping[str, str]
) -> Iterator[tuple[str, list[str]]]:
    """Put letters together that lead to one place."""
    for anchor in dict.fromkeys(anchors[letter] for letter in letters):
        yield (
            anchor,
            sorted(
                (letter for letter in letters if anchors[letter] == anchor),
                key=by_letter,
            ),
        )

"""Words that not every buyer knows, explained where the booklet first uses them.

In: a `Content` and its `Wording`.  Out: the same, with `Term`s at the cutting list, the layouts and
each step.  A word of the author's own (`terms`) goes before ours of the same form; ours stand in
`words/en/meanings.yaml` and the catalogues.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, fields, is_dataclass, replace

from markupsafe import Markup, escape

from patternpress.booklet.content import Content, Step, StepGroup, Term
from patternpress.booklet.plain import upper
from patternpress.booklet.wording import Wording

_OURS = re.compile(r"word_(\w+)_means")


@dataclass(frozen=True)
class _Known:
    """A term and the pattern of the forms in which it is found."""

    term: Term
    forms: frozenset[str]

    def stands_in(self, text: str) -> bool:
        """Whether a text has the word in one of its forms, as a whole word."""
        any_of = "|".join(re.escape(form) for form in sorted(self.forms, key=len, reverse=True))
        return re.search(rf"(?<!\w)(?:{any_of})(?!\w)", text) is not None


def explained(content: Content, wording: Wording) -> Content:
    """The content with each word explained at the first place of the work that uses it."""
    left = list(_known(wording))
    cutting = (wording.say("cutting_lead"), content.cutting) if content.cutting else ()
    layouts = (wording.say("layouts_lead"), content.layouts) if content.layouts else ()
    first, second = _first_in(cutting, left), _first_in(layouts, left)
    steps = tuple(_group(group, left) for group in content.steps)
    return replace(content, cutting_terms=first, layout_terms=second, steps=steps)


def _group(group: StepGroup, left: list[_Known]) -> StepGroup:
    def told(step: Step) -> Step:
        return replace(step, terms=_first_in(step, left))

    return replace(group, steps=tuple(told(step) for step in group.steps))


def _first_in(thing: object, left: list[_Known]) -> tuple[Term, ...]:
    """The terms that stand in what is printed of a thing, taken off those that are left."""
    text = " \n".join(_texts(thing)).casefold()
    found = [each for each in left if each.stands_in(text)]
    left[:] = [each for each in left if each not in found]
    return tuple(each.term for each in found)


def _texts(thing: object) -> Iterator[str]:
    """Every text in a record as it is read: no pictures, spaces all alike."""
    if isinstance(thing, str):
        if "<svg" not in thing:
            yield " ".join(str(Markup(escape(thing)).striptags()).split())
    elif isinstance(thing, tuple):
        for each in thing:
            yield from _texts(each)
    elif is_dataclass(thing):
        for field in fields(thing):
            yield from _texts(getattr(thing, field.name))


def _known(wording: Wording) -> Iterator[_Known]:
    """All terms: the author's, then ours that share no form with one of them."""
    own = tuple(_own(wording))
    yield from own
    taken = frozenset[str]().union(*(each.forms for each in own))
    for key in wording.phrases.texts:
        ours = _OURS.fullmatch(key)
        if ours is None:
            continue
        words = wording.listed_in(f"word_{ours[1]}")
        forms = frozenset(word.casefold() for word in words)
        if not forms & taken:
            yield _Known(Term(upper(Markup(escape(words[0]))), wording.say(key)), forms)


def _own(wording: Wording) -> Iterator[_Known]:
    """The author's words, by what they are called in the edition's language."""
    for said in wording.model.worked.book.terms:
        name = said.name.value
        words = (name, wording.calls.one(name), wording.calls.several(name))
        forms = {*words, *(each.value for each in said.also)}
        meaning = wording.prose(said.means)
        term = Term(upper(wording.name(name)), meaning)
        yield _Known(term, frozenset(form.casefold() for form in forms))

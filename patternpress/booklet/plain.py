"""Plain writing: short sentences, first letters, lists cut to length.

In: markup.  Out: markup.  A sentence of instruction has at most 20 words (common practice in
plain writing, no standard asks for it).
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence

from markupsafe import Markup

from patternpress.assembly.checks.prose import MOST_WORDS
from patternpress.booklet.wording import Wording
from patternpress.measure.pieces import NARROW_NO_BREAK, NO_BREAK

_MARKS = re.compile(r"(?:<[^<>]*>)*")


def _marks(words: Markup) -> int:
    """How many signs of markup stand before the first letter."""
    found = _MARKS.match(words)
    return found.end() if found else 0


def key_of(words: str) -> str:
    """Words as the end of a key of the fixed words."""
    return words.replace(" ", "_")


def lower(sentence: Markup, wording: Wording) -> Markup:
    """A sentence after a colon: in some languages it keeps its capital."""
    if wording.phrases.texts["after_colon"] == "capital":
        return sentence
    at = _marks(sentence)
    return Markup(sentence[:at] + sentence[at : at + 1].lower() + sentence[at + 1 :])


def capital(words: Markup) -> Markup:
    """Words as a sentence of their own: a capital first, a full stop last."""
    if not words:
        return Markup()
    text = upper(words)
    return text if text.striptags().endswith((".", "!", "?")) else text + "."


def upper(words: Markup) -> Markup:
    """Words with a capital first; what marks them may stand before."""
    at = _marks(words)
    return Markup(words[:at] + words[at : at + 1].upper() + words[at + 1 :])


def words_in(sentence: Markup) -> int:
    """How many words a sentence has, a figure with its unit for one, brackets left out."""
    text = re.sub(r"\([^()]*\)", "", sentence.striptags())
    text = re.sub(f"[{NO_BREAK}{NARROW_NO_BREAK}]", "", text)
    return sum(any(letter.isalnum() for letter in word) for word in text.split())


def short(
    things: Sequence[Markup],
    made: Callable[[Markup], Markup],
    wording: Wording,
    then: Callable[[Markup], Markup] | None = None,
) -> Iterator[Markup]:
    """One sentence of all things, or several with as many each as a short sentence holds.

    `then` makes the sentences after the first, where they are to be told in other words.
    """
    taken: list[Markup] = []
    for thing in things:
        longer = [*taken, thing]
        if taken and words_in(made(wording.listed(longer))) > MOST_WORDS:
            yield made(wording.listed(taken))
            made = then or made
            longer = [thing]
        taken = longer
    yield made(wording.listed(taken))

"""Plain writing: short sentences, first letters, lists cut to length.

In: markup.  Out: markup.  A sentence of instruction has at most 20 words (common practice in
plain writing, no standard asks for it).
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence

from markupsafe import Markup

from patternpress.booklet.wording import Wording
from patternpress.measure.pieces import NARROW_NO_BREAK, NO_BREAK

MOST_WORDS = 20


def key_of(words: str) -> str:
    """Words as the end of a key of the fixed words."""
    return words.replace(" ", "_")


def lower(sentence: Markup) -> Markup:
    """A sentence in the middle of another."""
    return Markup(sentence[:1].lower() + sentence[1:])


def words_in(sentence: Markup) -> int:
    """How many words a sentence has, a figure with its unit for one, brackets left out."""
    text = re.sub(r"\([^()]*\)", "", sentence.striptags())
    text = re.sub(f"[{NO_BREAK}{NARROW_NO_BREAK}]", "", text)
    return sum(any(letter.isalnum() for letter in word) for word in text.split())


def short(
    things: Sequence[Markup], made: Callable[[Markup], Markup], wording: Wording
) -> Iterator[Markup]:
    """One sentence of all things, or several with as many each as a short sentence holds."""
    taken: list[Markup] = []
    for thing in things:
        longer = [*taken, thing]
        if taken and words_in(made(wording.listed(longer))) > MOST_WORDS:
            yield made(wording.listed(taken))
            longer = [thing]
        taken = longer
    yield made(wording.listed(taken))

"""Where words may break at the end of a line, where the engine's own lists have it wrong.

In: the hyphenation lists of pyphen, which the engine asks.  Out: nothing; the lists are mended in
place, once.  A list of Liang's kind may be added to: a pattern with an even figure forbids a break.
"""

from __future__ import annotations

from functools import cache

import pyphen

# By language: letters, and a figure before each of them, an even one where no word may break there.
# The German list breaks “Rü-ck-wand”: none breaks before “ck” now (“De-ckel” could, but is easier
# to read whole), nor, as before, in it.
# A drawer's parts break between their words, “Schubladen-front”: “Schubla-denfront” was misread.
_PATTERNS = {"de": {"ck": (8, 2), ".schubladen": (0, 0, 0, 0, 0, 8, 8, 8, 8, 8, 8, 9)}}


def mend_lists_for(html: str) -> None:
    """Mend the lists of the languages that a document says it is, or holds words of."""
    for language in _PATTERNS:
        if f'lang="{language}' in html:
            _mend(language)


@cache
def _mend(language: str) -> None:
    """Forbid the breaks that no printer of a language (`de`) would set.

    A list is loaded for this where nothing else asks for it, which takes most of a second.
    """
    known = pyphen.Pyphen(lang=language).hd
    known.patterns.update(
        {letters: (0, figures) for letters, figures in _PATTERNS[language].items()}
    )
    known.cache.clear()

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
_PATTERNS = {"de": {"ck": (8, 2)}}


@cache
def mend_lists() -> None:
    """Forbid the breaks that no printer of the language would set."""
    for language, patterns in _PATTERNS.items():
        known = pyphen.Pyphen(lang=language).hd
        known.patterns.update({letters: (0, figures) for letters, figures in patterns.items()})
        known.cache.clear()

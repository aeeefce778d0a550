"""Words for an opening between two holes that stand in line with it."""

from __future__ import annotations

from patternpress.drawing.callouts import Callout, inside
from patternpress.drawing.features import Feature
from patternpress.drawing.ink import Extent, Stroke, Words, extent
from patternpress.drawing.lettering import words
from patternpress.drawing.room import Surface
from patternpress.drawing.style import DrawingStyle

BOARD = ((0.0, 0.0), (100.0, 0.0), (100.0, 120.0), (0.0, 120.0))
SLOT = Extent(45.0, 76.0, 55.0, 94.0)
# Screw holes above and below it, with their crosses; the words are too long to stand beside it.
HOLES = (Extent(47.5, 97.5, 52.5, 102.5), Extent(47.5, 67.5, 52.5, 72.5))
SAID = "head slot 10 × 18 mm, 9 mm deep"


def test_words_for_an_opening_reach_past_the_holes_that_stand_in_line_with_it() -> None:
    """They stood off the sheet, without a leader: none to the middle of the slot was clear."""
    slot = Feature("head slot", (), (50.0, 85.0), blocked=(SLOT,))
    surface = Surface(BOARD, (SLOT, *HOLES))
    found = inside(Callout(words(SAID), slot), surface, DrawingStyle())
    assert found is not None
    (text, *line), _ = found
    assert isinstance(text, Words)
    assert not any(extent([text]).meets(box) for box in (SLOT, *HOLES))
    box = extent([each for each in line if isinstance(each, Stroke)])
    ends = [(end, side) for end in (box.left, box.right) for side in (SLOT.left, SLOT.right)]
    assert min(abs(end - side) for end, side in ends) < 0.2  # a line is some tenths wide
    assert not any(box.meets(hole) for hole in HOLES)

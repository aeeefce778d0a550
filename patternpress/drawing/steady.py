"""One scale for the steps of a work, as long as that costs none of them much.

In: the choices of the views, in the order of the steps, and the room of a picture.  Out: for
each step the scale that its picture should have, if its letters find room.

A reader takes a thing that is drawn larger for a larger thing; so the scale changes where a
picture would not fit, or could be more than two steps of the series larger.
"""

from __future__ import annotations

from collections.abc import Sequence

from patternpress.drawing.details import has_detail
from patternpress.drawing.framing import AIR, Room, scale_steps
from patternpress.drawing.insets import NESTED, largest_beside
from patternpress.drawing.views import Choice

HELD = 10 ** (2 / 20) + 1e-9  # so many times larger a picture could be and keep the scale before


def steady_scales(choices: Sequence[Choice], room: Room) -> tuple[float, ...]:
    """Return a scale for each step; one for a run of steps of a work that lies the same way."""
    found: list[float] = []
    before: dict[tuple[str, str], float] = {}
    for choice in choices:
        work = (choice.scene.work, choice.lies)
        most = _most(choice, room)
        held = before.get(work, most)
        before[work] = held if held <= most <= HELD * held else most
        found.append(before[work])
    return tuple(found)


def _most(choice: Choice, room: Room) -> float:
    """Return about the largest scale of the series at which a step's picture fits its room."""
    low_x, low_y, high_x, high_y = choice.drawn.bounds
    limit = min((room[0] - AIR) / (high_x - low_x), (room[1] - AIR) / (high_y - low_y))
    # A window that may reach into a corner of the picture seldom finds one that is free.
    beside = largest_beside(choice.drawn.bounds, room) / NESTED
    return next(scale_steps(min(limit, beside) if has_detail(choice) else limit))

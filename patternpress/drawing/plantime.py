"""Where a moment of the plan lies on the paper.

In: the sittings of a plan and a width.  Out: `TimeScale`: sittings side by side, all on one
scale, with a narrow gap after each in which the long waits are squeezed together.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from patternpress.assembly.plan import Sitting

GAP = 12.0  # mm, the least
LARGEST = 1.2  # mm for a minute: a plan of one short sitting need not fill the page


@dataclass(frozen=True, slots=True)
class Panel:
    """A sitting on the paper, mm: its band, and where its last work ends inside it."""

    sitting: Sitting
    left: float
    right: float
    worked: float


@dataclass(frozen=True)
class TimeScale:
    """A picture's panels from left to right; `minute` is the length of one minute, mm."""

    panels: tuple[Panel, ...]
    minute: float
    right: float

    def across(self, moment: Fraction) -> float:
        """The place of a moment, mm from the left; what lies outside is put at the edge."""
        for index, panel in enumerate(self.panels):
            starts, ends = panel.sitting.starts, panel.sitting.ends
            if moment <= ends:
                return panel.left + max(float(moment - starts), 0.0) * self.minute
            after, edge = self._after(index)
            if after is None or moment < after:
                share = min(float((moment - ends) / max(self.pause(index), Fraction(1))), 1.0)
                return panel.worked + share * (edge - panel.worked)
        return self.right

    def _after(self, index: int) -> tuple[Fraction | None, float]:
        """When the next sitting starts, and where the gap ends."""
        if index + 1 < len(self.panels):
            return self.panels[index + 1].sitting.starts, self.panels[index + 1].left
        return None, self.right

    def pause(self, index: int) -> Fraction:
        """The minutes that the gap after a panel stands for."""
        after, _ = self._after(index)
        sitting = self.panels[index].sitting
        return after - sitting.ends if after is not None else sitting.pause


def time_scale(
    sittings: Sequence[Sitting],
    left: float,
    right: float,
    least: float,
    *,
    gap: float = GAP,
    most: float = LARGEST,
) -> TimeScale:
    """Lay sittings out from `left` to `right`, each band at least `least` mm wide, `gap` after it.

    `most` is the largest length of a minute, mm.
    """
    room = right - left - gap * len(sittings)
    lengths = [float(each.ends - each.starts) for each in sittings]
    minute = min(most, _minute(lengths, room, least))
    panels = []
    at = left
    for sitting, length in zip(sittings, lengths, strict=True):
        end = at + max(length * minute, least)
        panels.append(Panel(sitting, at, end, at + length * minute))
        at = end + gap
    return TimeScale(tuple(panels), minute, at)


def _minute(lengths: Sequence[float], room: float, least: float) -> float:
    """The length of a minute when bands that would be too narrow are widened first."""
    long = sorted(lengths, reverse=True)
    while long:
        minute = max((room - least * (len(lengths) - len(long))) / sum(long), 0.0)
        if minute * long[-1] >= least or len(long) == 1:
            return minute
        long.pop()
    return 0.0

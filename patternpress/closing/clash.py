"""Why figures cannot add up.

In: a task that has no answer.  Out: the smallest set of demands that clash: leave any one of
them out, and the others can be met (a deletion filter).
"""

from __future__ import annotations

from patternpress.closing.choosing import feasible
from patternpress.closing.demands import Demand
from patternpress.closing.draft import Task


def clash(task: Task) -> tuple[Demand, ...]:
    """Demands of a task that cannot be met together, none of them needless."""
    left = [each for each in task.demands if not each.soft]
    half = len(left) // 2
    while half:  # first in large helpings, then one by one
        start = 0
        while start < len(left):
            rest = left[:start] + left[start + half :]
            if len(rest) < len(left) and not feasible(task, rest):
                left = rest
            else:
                start += half
        half //= 2
    return tuple(left)

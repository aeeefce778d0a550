"""How long pictures take: boxes without number, no design.

Run by itself (`python -m tests.drawing.picture_times`) it prints a table; a benchmark calls
`picture_times`.
"""

import time
from collections.abc import Callable, Sequence
from functools import partial

from patternpress.drawing.hidden import visible_lines
from patternpress.drawing.visibility import facet_visibility
from tests.drawing.solid_scenes import ISO, Scene, scattered

COUNTS = (20, 60, 120, 300)


def best_of(
    runs: int, work: Callable[[], object], clock: Callable[[], float] = time.perf_counter
) -> float:
    """The least of several times, in seconds: what else the machine did only adds to it."""
    times = []
    for _ in range(runs):
        start = clock()
        work()
        times.append(clock() - start)
    return min(times)


def picture_times(
    counts: Sequence[int] = COUNTS, runs: int = 3, clock: Callable[[], float] = time.perf_counter
) -> dict[str, dict[int, float]]:
    """Seconds for the lines and for the visible areas of scenes of so many boxes."""
    found: dict[str, dict[int, float]] = {"lines": {}, "areas": {}}
    for count in counts:
        scene: Scene = scattered(count)
        found["lines"][count] = best_of(runs, partial(visible_lines, scene, ISO), clock)
        found["areas"][count] = best_of(runs, partial(facet_visibility, scene, ISO), clock)
    return found


if __name__ == "__main__":
    for what, times in picture_times().items():
        print(what, *(f"{count}: {1000 * seconds:.1f} ms" for count, seconds in times.items()))

"""How fast the visible lines of a scene are found, as ratios to Open CASCADE's algorithm.

Run by `make bench-lines`, which makes the engine a virtual environment of its own; its package is
a dependency of nothing.  Both get the same solids, ready made, and give segments.
"""

from __future__ import annotations

from functools import partial

from patternpress.drawing.hidden import visible_lines
from tests.bench_rows import Row, best, show
from tests.drawing.make_hlr_scenes import occ_solid, segments_of
from tests.drawing.solid_scenes import ISO, scattered

COUNTS = (20, 60, 120)  # boxes


def rows() -> list[Row]:
    """The time for our lines of each scene, to the engine's, its extraction included."""
    found = []
    for count in COUNTS:
        scene = scattered(count)
        shapes = [occ_solid(solid) for _, solid in scene]
        taken = best(
            {
                "ours": partial(visible_lines, scene, ISO),
                "other": partial(segments_of, shapes, ISO),
            }
        )
        ratio = taken["ours"] / taken["other"]
        found.append(Row(f"lines of {count} boxes, to Open CASCADE", ratio, goal=1))
    return found


if __name__ == "__main__":
    for row in rows():
        show(row)

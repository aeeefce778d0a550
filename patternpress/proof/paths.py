"""The operators that build, paint and clip paths (ISO 32000-1, 8.5).

In: a `Run` and the operands.  Out: lines written into the run, points already in mm of the sheet.
"""

from __future__ import annotations

from typing import Any

from patternpress.proof.marks import Box, Line, Track
from patternpress.proof.state import EVERYWHERE, Run, Work, put


def _move(run: Run, given: Any) -> None:
    _finish(run, False)
    run.points = [put(run.state.matrix, float(given[0]), float(given[1]))]


def _line(run: Run, given: Any) -> None:
    run.points.append(put(run.state.matrix, float(given[0]), float(given[1])))
    run.kinds.append("l")


def _curve(run: Run, given: Any) -> None:
    x1, y1, x2, y2, x, y = map(float, given)
    run.points += [put(run.state.matrix, *each) for each in ((x1, y1), (x2, y2), (x, y))]
    run.kinds.append("c")


def _curve_from_here(run: Run, given: Any) -> None:
    x2, y2, x, y = map(float, given)
    run.points += [
        run.points[-1],
        put(run.state.matrix, x2, y2),
        put(run.state.matrix, x, y),
    ]
    run.kinds.append("c")


def _curve_to_here(run: Run, given: Any) -> None:
    x1, y1, x, y = map(float, given)
    end = put(run.state.matrix, x, y)
    run.points += [put(run.state.matrix, x1, y1), end, end]
    run.kinds.append("c")


def _close(run: Run, _: Any) -> None:
    _finish(run, True)


def _rectangle(run: Run, given: Any) -> None:
    x, y, w, h = map(float, given)
    _finish(run, False)
    corners = ((x, y), (x + w, y), (x + w, y + h), (x, y + h))
    run.points = [put(run.state.matrix, *each) for each in corners]
    run.kinds = ["l"] * 3
    _finish(run, True)


def _finish(run: Run, closed: bool) -> None:
    if run.kinds:
        run.tracks.append(Track(tuple(run.points), "".join(run.kinds), closed))
    run.points = run.points[:1] if closed else []
    run.kinds = []


def _painter(stroke: bool, fill: bool, close: bool = False) -> Work:
    def paint(run: Run, _: Any) -> None:
        _finish(run, close)
        if run.tracks and not run.state.hidden and (stroke or fill):
            a, b, c, d, *_ = run.state.matrix
            scale = abs(a * d - b * c) ** 0.5
            width = run.state.width * scale if stroke else 0.0
            dash = run.state.dash * scale if stroke else 0.0
            clip = None if run.state.clip == EVERYWHERE else run.state.clip
            white = run.state.white_fill if fill else run.state.white_line
            line = Line(tuple(run.tracks), width, dash > 0, fill, run.tags, clip, white, dash)
            run.lines.append(line)
        _end_path(run)

    return paint


def _clip(run: Run, _: Any) -> None:
    run.clipping = True


def _no_paint(run: Run, _: Any) -> None:
    _finish(run, False)
    _end_path(run)


def _end_path(run: Run) -> None:
    if run.clipping and run.tracks:
        run.state.clip = _within(run.state.clip, run.tracks)
    run.tracks, run.points, run.kinds, run.clipping = [], [], [], False


def _within(clip: Box, tracks: list[Track]) -> Box:
    points = [point for track in tracks for point in track.points]
    across, up = [x for x, _ in points], [y for _, y in points]
    return (
        max(clip[0], min(across)),
        max(clip[1], min(up)),
        min(clip[2], max(across)),
        min(clip[3], max(up)),
    )


PATHS: dict[str, Work] = {
    "m": _move, "l": _line, "c": _curve, "v": _curve_from_here, "y": _curve_to_here,
    "h": _close, "re": _rectangle, "W": _clip, "W*": _clip, "n": _no_paint,
    "S": _painter(True, False), "s": _painter(True, False, True),
    "f": _painter(False, True), "F": _painter(False, True), "f*": _painter(False, True),
    "B": _painter(True, True), "B*": _painter(True, True),
    "b": _painter(True, True, True), "b*": _painter(True, True, True),
}  # fmt: skip

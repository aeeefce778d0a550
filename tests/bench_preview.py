"""How soon the author's page shows what changed, as shares of a cold build of the same edition.

In: a demo design, and fences of 10, 50 and 200 parts.  Out: rows.  A round of the preview is run
as the page runs it, with the mate that helps it; its times are those that pass from the saved
text to each piece of news, the picture of a shown page included.  Every round saves another text,
so that nothing is merely remembered.  A cold build is the command in a process of its own, with
its checks and its proof, as an author has it who works without the page.  Both are times on the
wall, since two work at a round: the least of several, one after the other.
"""

from __future__ import annotations

import math
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from patternpress.booklet.build import few_sweeps
from patternpress.desk.hands import processors
from patternpress.desk.preview.keeping import Recent
from patternpress.desk.preview.mate import Mate
from patternpress.desk.preview.pagepictures import page_picture
from patternpress.desk.preview.rounds import News, Page, Seen, work
from patternpress.desk.preview.workshop import MOST_KEPT
from tests.bench_rows import Row, show

EDITION = "metric"
DPI = 110  # as the page asks for
ROUNDS = 3
DESIGN = Path(__file__).parents[1] / "designs" / "keepers-desk.yaml"
WORD, SIZE = "so that the lines meet across them", "  width: {} mm\n"
WIDE = 84  # mm, as the demo has it
GROWTH = 1.25  # the most that times may grow, as a power of the parts: this project's own goal
PARTS = (10, 50, 200)
A_STEP = 10  # parts that a step of the fence brings

Times = dict[str, float]


@dataclass
class Desk:
    """One design on the author's page, as rounds leave it."""

    path: Path
    cache: Recent = field(default_factory=lambda: Recent(MOST_KEPT))
    seen: dict[str, Seen] = field(default_factory=dict)
    mate: Mate = field(default_factory=lambda: Mate(processors()))

    def save(self, text: str) -> Times:
        """Do a round; seconds until the first news of each kind, and `all` of them."""
        with few_sweeps():  # as the workshop does; what is dead is swept when all is shown
            return self._saved(text)

    def _saved(self, text: str) -> Times:
        start, found = time.perf_counter(), Times()
        before: frozenset[str] = frozenset()
        for news in work(text, self.path, (EDITION,), self.seen, self.cache, self.mate):
            if news.fault or any(each.is_error for each in news.problems or ()):
                raise ValueError(news.fault or str(news.problems))
            for page in _fresh(news, before):
                page_picture(page.pdf, page.number, DPI)
            before = frozenset(page.id for page in news.pages or ()) or before
            found.setdefault(news.what, time.perf_counter() - start)
            if news.seen is not None:
                self.seen[news.edition] = news.seen
        return {**found, "all": time.perf_counter() - start}


def _fresh(news: News, before: frozenset[str]) -> Iterator[Page]:
    """The page that an author looks at: the first of those that are new."""
    if news.what in ("soon", "section"):
        yield from [page for page in news.pages or () if page.soon and page.id not in before][:1]


def least(rounds: list[Times]) -> Times:
    """The least time of each kind of news."""
    return {what: min(each[what] for each in rounds) for what in rounds[0]}


def rows() -> list[Row]:
    """Each of the goals, and how times grow."""
    text = DESIGN.read_text(encoding="utf-8")
    before = SIZE.format(WIDE)
    if WORD not in text or before not in text:
        raise ValueError("the demo no longer says what the bench changes")
    desk, full = Desk(DESIGN), _cold(DESIGN)
    desk.save(text)
    word, size = [], []
    for number in range(1, ROUNDS + 1):
        word.append(desk.save(text.replace(WORD, f"{WORD} word{number}")))
        desk.save(text)
        size.append(desk.save(text.replace(before, SIZE.format(WIDE + number))))
        desk.save(text)
        full = min(full, _cold(DESIGN))
    desk.mate.close()
    words, sizes = least(word), least(size)
    changes = {"a changed word": (words, 0.10), "a changed size": (sizes, 0.25)}
    told = max(words["problems"], sizes["problems"])
    found = [Row("preview: saved file to problems, to a build", told / full, goal=0.03)]
    for what, (times, goal) in changes.items():
        found += [
            Row(f"preview: {what} to its page, to a build", times["soon"] / full, goal=goal),
            Row(f"preview: {what} to its section, to a build", times["section"] / full, goal=goal),
            Row(f"preview: {what} to all up to date, to a build", times["all"] / full, goal=0.5),
        ]
    return [*found, *growth()]


def growth() -> list[Row]:
    """How the times to problems, to a page and to everything grow with the parts of a design."""
    found = {count: _fence_times(count) for count in PARTS}
    few, many = min(PARTS), max(PARTS)
    table = []
    for what, told in (("problems", "problems"), ("soon", "a page"), ("all", "all up to date")):
        power = math.log(found[many][what] / found[few][what]) / math.log(many / few)
        table.append(
            Row(f"preview: growth to {told}, {few} to {many} parts", power, "power", GROWTH)
        )
        for count in PARTS:
            share = found[count][what] / found[count]["build"]
            table.append(Row(f"preview: {told}, {count} parts, to a build", share))
    return table


def _fence_times(count: int) -> Times:
    """The times after a changed word; the first round, which has all to do, counts as a build."""
    desk = Desk(Path("fence.yaml"))
    first = desk.save(fence(count))  # with all to do here: the mate is not called before
    return {**desk.save(fence(count, "well")), "build": first["all"]}


def _cold(path: Path) -> float:
    """Seconds that pass while the command builds the edition."""
    with tempfile.TemporaryDirectory() as out:
        asked = ("build", str(path), "--edition", EDITION, "--out", out)
        start = time.perf_counter()
        subprocess.run(
            [sys.executable, "-m", "patternpress.desk", *asked], check=True, capture_output=True
        )
        return time.perf_counter() - start


def fence(count: int, word: str = "") -> str:
    """A board with posts in a row, each a part of its own height: so many parts in all."""
    posts = range(1, count)
    lines = [
        "design: Fence",
        "scale: 1:12",
        "stock:",
        "  board: {sheet: 2 mm, cut with: razor saw}",
        "  strip: {strip: 4 x 4 mm, cut with: razor saw}",
        "parts:",
        f"  base: {{stock: board, wide: {6 * count} mm, deep: 20 mm}}",
        *(f"  post {n}: {{stock: strip, high: {20 + n * 7 % 23} mm}}" for n in posts),
        "tools: {razor saw: }",
        "materials: {glue: {kind: glue, handle: 30 min}}",
        "steps:",
    ]
    for first in range(1, count, A_STEP):
        lines.append(f"  - step: Posts from {first}")
        lines += ["    start: base"] * (first == 1)
        lines.append("    join:")
        lines += [
            f"      post {n}: {{bottom: against base, front: 8 mm inside base, "
            f"left: {6 * n - 4} mm inside base}}"
            for n in range(first, min(first + A_STEP, count))
        ]
        lines += ["    wait: 30 min", f"    tip: Look along them {word}."]
    return "\n".join([*lines, ""])


def main() -> None:
    """Print the rows."""
    for row in rows():
        show(row)


if __name__ == "__main__":
    main()

"""Press a whole booklet: each section apart, as few times as will do, then joined.

In: the sections in order, the book's information, the words of the foot.  Out: a `Booklet`: one
PDF, the page number of every anchor, and every complaint.

Page numbers.  Sections that show no page numbers of other places are pressed at once.  The others
are first only laid out, with stand-ins, which gives the length of every section, and then pressed
with the true numbers; if those push a line over to a new page, once more.  The rounds are the same
with a cache as without, so that a cache can never change a booklet; it only answers sooner.  The
author's page, which is no booklet yet, begins with the numbers that it showed last.
"""

from __future__ import annotations

import contextlib
import multiprocessing
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, MutableMapping, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace
from pathlib import Path
from typing import NamedTuple

from patternpress.booklet.feet import Foot, feet_section
from patternpress.booklet.fetch import Fence, digest
from patternpress.booklet.join import BookInfo, join, missing_anchors
from patternpress.booklet.prepress import anchors_wanted, fill_page_numbers
from patternpress.booklet.press import (
    Pressed,
    Section,
    lay_out_section,
    press_section,
    section_key,
)

ROUNDS = 5
# Characters of HTML above which a second process has paid back its start (measured).
WORTH_A_PROCESS = 100_000


@dataclass(frozen=True)
class Complaint:
    """Something that would be missing or wrong on the page; a build with complaints has failed.

    `section` is a key; `url` is set if an address was refused.
    """

    section: str
    text: str
    url: str = ""


@dataclass(frozen=True)
class Booklet:
    """A pressed booklet.  `numbers`: anchor or section key -> page, counted from 1."""

    pdf: bytes
    pages: int
    numbers: Mapping[str, int]
    complaints: tuple[Complaint, ...] = ()


class _Job(NamedTuple):
    """One section to press, or only to lay out."""

    section: Section
    fence: Fence
    draw: bool
    tagged: bool = True


Cache = MutableMapping[str, object]
_Run = Callable[[Sequence[_Job]], list[Pressed]]


def press_book(
    sections: Sequence[Section],
    info: BookInfo,
    fence: Fence,
    *,
    foot: Foot | None = None,
    cache: Cache | None = None,
    workers: int = 1,
    guess: Mapping[str, int] | None = None,
) -> Booklet:
    """Return the booklet made of `sections`, in order.

    `cache`: any mapping that outlives the build; editions may share one.  `workers`: above 1, in
    that many processes, if there is enough to press.  `guess`: page numbers that are probably
    right; what is pressed is right even if they are not.  Raises `ValueError` for two sections
    with one key.
    """
    if len({section.key for section in sections}) != len(sections):
        raise ValueError("two sections have the same key")
    memory: Cache = {} if cache is None else cache
    with _crew(workers) as run:
        pressed, numbers, settled = _press_until_settled(sections, fence, memory, run, guess or {})
    pairs = list(zip(sections, pressed, strict=True))
    complaints = [c for p in pressed for c in _complaints(p)]
    complaints += _lost(sections, pairs, numbers)
    if not settled:
        complaints.append(Complaint("", "the page numbers do not settle"))
    feet_pdf = b""
    if foot is not None and pressed:
        pages = [(p.key, width, height) for p in pressed for width, height in p.sizes]
        job = _Job(
            feet_section(foot, pages, sections[0].base, numbers), fence, draw=True, tagged=False
        )
        (feet,) = _press_all([job], memory, _run_here)
        complaints += _complaints(feet)
        feet_pdf = feet.pdf
    total = sum(p.pages for p in pressed)
    return Booklet(join(pairs, info, feet_pdf), total, numbers, tuple(complaints))


def press_kept(section: Section, fence: Fence, memory: Cache) -> Pressed:
    """Return one section pressed, from memory where nothing it depends on has changed."""
    return _press_all([_Job(section, fence, draw=True)], memory, _run_here)[0]


def numbered(section: Section, numbers: Mapping[str, int]) -> Section:
    """Return a section with the page numbers that it shows filled in."""
    return replace(section, html=fill_page_numbers(section.html, numbers))


def number_pages(pressed: Iterable[Pressed]) -> dict[str, int]:
    """Return the page of the book, counted from 1, of each section key and anchor."""
    numbers: dict[str, int] = {}
    before = 0
    for part in pressed:
        for anchor, page in ((part.key, 1), *part.anchors.items()):
            numbers.setdefault(anchor, before + page)
        before += part.pages
    return numbers


def _press_until_settled(
    sections: Sequence[Section],
    fence: Fence,
    memory: Cache,
    run: _Run,
    guess: Mapping[str, int],
) -> tuple[list[Pressed], dict[str, int], bool]:
    wanted = {section.key: anchors_wanted(section.html) for section in sections}
    numbers = dict(guess)
    draw = bool(guess)
    pressed: list[Pressed] = []
    for _ in range(ROUNDS):
        jobs = [
            _Job(
                numbered(section, numbers),
                fence,
                draw or not wanted[section.key],
            )
            for section in sections
        ]
        pressed = _press_all(jobs, memory, run)
        found = number_pages(pressed)
        same = all(found.get(a) == numbers.get(a) for names in wanted.values() for a in names)
        numbers = found
        if same and all(part.pdf for part in pressed):
            return pressed, numbers, True
        draw = True
    return pressed, numbers, False


def _press_all(jobs: Sequence[_Job], memory: Cache, run: _Run) -> list[Pressed]:
    """Return what each job gives, from memory where nothing it depends on has changed."""
    keys = [section_key(job.section, job.fence) for job in jobs]
    digests: dict[Path, str] = {}
    done: dict[int, Pressed] = {}
    for place, (key, job) in enumerate(zip(keys, jobs, strict=True)):
        kept = memory.get(key)
        if isinstance(kept, Pressed) and (kept.pdf or not job.draw) and _fresh(kept, digests):
            done[place] = kept
    rest = [place for place in range(len(jobs)) if place not in done]
    rest.sort(key=lambda place: (-len(jobs[place].section.html), place))  # the longest first
    made = run([jobs[place] for place in rest])
    for place, pressed in zip(rest, made, strict=True):
        done[place] = pressed
        if not pressed.refusals and not pressed.complaints:
            memory[keys[place]] = pressed
    return [done[place] for place in range(len(jobs))]


@contextlib.contextmanager
def _crew(workers: int) -> Iterator[_Run]:
    """Yield a function that does jobs, in `workers` processes if that is more than one.

    The processes start with the first round that has enough to share, and serve all rounds after.
    """
    if workers < 2:
        yield _run_here
        return
    context = multiprocessing.get_context("spawn")
    with ProcessPoolExecutor(workers, mp_context=context) as pool:
        yield lambda jobs: list(pool.map(_do, jobs)) if _worth_sharing(jobs) else _run_here(jobs)


def _worth_sharing(jobs: Sequence[_Job]) -> bool:
    """Say whether what others could take off the longest job outweighs starting a process."""
    weights = [len(job.section.html) // (1 if job.draw else 4) for job in jobs]
    return sum(weights) - max(weights, default=0) > WORTH_A_PROCESS


def _run_here(jobs: Sequence[_Job]) -> list[Pressed]:
    return [_do(job) for job in jobs]


def _do(job: _Job) -> Pressed:
    if not job.draw:
        return lay_out_section(job.section, job.fence)
    return press_section(job.section, job.fence, tagged=job.tagged)


def _fresh(kept: Pressed, digests: dict[Path, str]) -> bool:
    """Say whether every file that a pressed section was made from is still the same."""
    for path, mark in kept.reads.items():
        if path not in digests:
            digests[path] = digest(path.read_bytes()) if path.is_file() else ""
        if digests[path] != mark:
            return False
    return True


def _complaints(pressed: Pressed) -> list[Complaint]:
    refused = [Complaint(pressed.key, r.reason, r.url) for r in pressed.refusals]
    return refused + [Complaint(pressed.key, text) for text in pressed.complaints]


def _lost(
    sections: Sequence[Section],
    pairs: Sequence[tuple[Section, Pressed]],
    numbers: Mapping[str, int],
) -> list[Complaint]:
    """Return a complaint for each place that is asked for and nowhere, or is there twice."""
    lost = [
        Complaint(section.key, f"no page number: there is no place called {anchor}")
        for section in sections
        for anchor in anchors_wanted(section.html)
        if anchor not in numbers
    ]
    seen = Counter(anchor for _, pressed in pairs for anchor in pressed.anchors)
    twice = [f"two places are called {anchor}" for anchor, times in seen.items() if times > 1]
    links = [f"a link leads nowhere: there is no place called {a}" for a in missing_anchors(pairs)]
    return lost + [Complaint("", text) for text in (*twice, *links)]

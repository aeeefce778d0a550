"""Sections pressed by two: the short ones here, the long ones by the mate meanwhile.

In: sections, and the memory of what was pressed.  Out: each section with its pages, as they come.
"""

from __future__ import annotations

from collections.abc import Iterator, MutableMapping, Sequence
from typing import Any, NamedTuple

from patternpress.booklet.fetch import Fence
from patternpress.booklet.press import Pressed, Section, lay_out_section, press_section
from patternpress.booklet.pressroom import keep, press_kept
from patternpress.desk.preview.mate import Mate

Cache = MutableMapping[str, Any]


class _Job(NamedTuple):
    """A section to be pressed or, where it is not `drawn`, only laid out."""

    section: Section
    drawn: bool


def press_all(
    sections: Sequence[Section],
    bare: Sequence[Section],
    fence: Fence,
    memory: Cache,
    mate: Mate | None,
) -> Iterator[tuple[Section, Pressed]]:
    """Yield each of `sections` with its pages, on the whole the shortest first.

    Those of `bare` will be asked for next, laid out and no more: whoever has time does them too.
    What was done is in `memory` afterwards.
    """
    jobs = [*(_Job(each, True) for each in sections), *(_Job(each, False) for each in bare)]
    jobs.sort(key=lambda job: (len(job.section.html), job.drawn))
    given: _Job | None = None
    while jobs or given is not None:
        if given is None and len(jobs) > 1 and mate is not None:
            given = jobs.pop() if mate.begin(done, *jobs[-1], fence) else None
        job = None
        if given is not None and mate is not None and (mate.ready or not jobs):
            job, given = given, None
            pressed = mate.answer()
            if pressed is not None:
                keep(pressed, job.section, fence, memory)
        elif jobs:
            job = jobs.pop(0)
            if not job.drawn and given is not None:
                keep(done(*job, fence), job.section, fence, memory)
        if job is not None and job.drawn:
            yield job.section, press_kept(job.section, fence, memory)


def done(section: Section, drawn: bool, fence: Fence) -> Pressed:
    """Return what comes of a job, without any memory: as the mate does it."""
    return press_section(section, fence) if drawn else lay_out_section(section, fence).pressed

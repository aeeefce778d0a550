"""What a proof finds, in a maker's words.

In: a code and facts.  Out: a `Finding`; or a `Measured`, which is what a proof is for: what was
measured, how far out it was at the worst, and where.  Every sentence that a report shows stands in
this module or in `sentences`, beside how to mend it.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from patternpress.proof.sentences import AUTHORS, OF_ANOTHER, SENTENCES


@dataclass(frozen=True, slots=True)
class Finding:
    """Something wrong.  `code` names its kind; `page` is 0 for the file as a whole.

    `fresh`: the file was built a moment ago, so that nobody else can have spoilt it.
    """

    code: str
    page: int
    facts: tuple[tuple[str, str], ...] = ()
    fresh: bool = False

    @property
    def what(self) -> str:
        """The finding in one sentence."""
        return SENTENCES[self.code][0].format(**dict(self.facts))

    @property
    def mend(self) -> str:
        """What to do about it."""
        said = SENTENCES[self.code][1]
        said = AUTHORS if self.fresh and said in OF_ANOTHER else said
        return said.format(**dict(self.facts))


@dataclass(frozen=True, slots=True)
class Measured:
    """Something that was measured: how far out, how far allowed, both in `unit`.

    `at`: where on the sheet it was out the most, in mm from the lower left corner.  `least`: it is
    a size that must be at least what is allowed.
    """

    what: str
    page: int
    worst: float
    allowed: float
    unit: str = "mm"
    at: tuple[float, float] | None = None
    least: bool = False


@dataclass(frozen=True, slots=True)
class Counted:
    """Something that was looked through: how many, all of them sound unless a finding says so."""

    what: str
    number: int


Judged = Finding | Measured | Counted


@dataclass(frozen=True)
class Report:
    """All that came of a proof.  `against`: the facts' design and edition, or nothing."""

    title: str
    version: str
    edition: str
    pages: int
    against: str
    findings: tuple[Finding, ...]
    measured: tuple[Measured, ...]
    counted: tuple[Counted, ...]
    file: str = ""
    digest: str = ""
    warnings: tuple[Finding, ...] = field(default=())

    @property
    def sound(self) -> bool:
        """Whether nothing was found."""
        return not self.findings

    @property
    def worst(self) -> Measured | None:
        """What lies furthest out of all that was measured in mm against the design or a rule."""
        found = [each for each in self.measured if each.unit == "mm" and each.allowed <= 0.01]
        return max(found, key=lambda each: each.worst, default=None)


def fresh(report: Report) -> Report:
    """Return the report as that of a file that was built a moment ago."""
    found = tuple(replace(each, fresh=True) for each in report.findings)
    return replace(report, findings=found)


def finding(code: str, page: int = 0, **facts: object) -> Finding:
    """Return a finding; lengths among the facts are shown to a thousandth of a millimetre."""
    return Finding(code, page, tuple((key, _shown(value)) for key, value in facts.items()))


def _shown(value: object) -> str:
    if isinstance(value, float):
        text = f"{value:.3f}".rstrip("0").rstrip(".")
        return "0" if text in ("-0", "") else text
    return str(value)

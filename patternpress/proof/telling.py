"""Tell what a proof found, as text for a terminal or as a record for a program.

In: a `Report`.  Out: text, or a dictionary ready for JSON in format 1; later versions only add.
"""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from typing import Any

from patternpress.proof.findings import Finding, Measured, Report

FORMAT = 1
WIDE = 100
MOST = 40  # findings shown in words; a record holds all


def headline(report: Report) -> str:
    """Return the outcome in one sentence."""
    if not report.sound:
        count = len(report.findings)
        return f"Refused: {count} {'thing is' if count == 1 else 'things are'} wrong."
    measured = sum(each.unit.startswith("mm") for each in report.measured)
    worst = report.worst
    told = f", the worst {length(worst.worst)} mm out ({worst.what})" if worst else ""
    return f"Sound: {measured} things measured{told}."


def subject(report: Report) -> str:
    """Return what was proved, and against what."""
    name = report.title or report.file or "this file"
    parts = [name]
    if report.version:
        parts.append(f"version {report.version}")
    if report.edition:
        parts.append(f"{report.edition} edition")
    parts.append(f"{report.pages} pages")
    against = (
        f"held against the design ({report.against})"
        if report.against
        else "judged by what the file says of itself; name the design to hold it against that"
    )
    return f"{', '.join(parts)}: {against}."


def length(value: float) -> str:
    """Return a measured length to a thousandth, and never a nought that is none."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "less than 0.001" if text in ("0", "-0", "") and value else text or "0"


def where(page: int) -> str:
    """Return where on the paper something is."""
    return f"page {page}" if page else "the whole file"


def as_text(report: Report) -> str:
    """Return the report for a terminal."""
    lines = [headline(report), subject(report)]
    before = ""
    for each in report.findings[:MOST]:
        lines += ["", *_told(each, "wrong", mend=each.mend != before)]
        before = each.mend
    if len(report.findings) > MOST:
        lines += ["", f"… and {len(report.findings) - MOST} more; --format json lists them all."]
    for each in report.warnings:
        lines += ["", *_told(each, "warning")]
    if report.sound:
        lines += ["", *_looked_through(report)]
    return "\n".join(lines) + "\n"


def _told(each: Finding, level: str, mend: bool = True) -> list[str]:
    """Return a finding's lines; how to mend it is left out where it was said just before."""
    lines = [f"{where(each.page)}: {level}[{each.code}]"]
    words_of = (each.what, f"To mend: {each.mend[0].lower()}{each.mend[1:]}")
    for words in words_of if mend else words_of[:1]:
        lines += textwrap.wrap(words, WIDE, initial_indent="   ", subsequent_indent="   ")
    return lines


def _looked_through(report: Report) -> Iterator[str]:
    worst: dict[str, Measured] = {}
    count: dict[str, int] = {}
    for each in report.measured:
        if each.unit == "mm" and not each.least:
            kind = kind_of(each)
            count[kind] = count.get(kind, 0) + 1
            if kind not in worst or each.worst > worst[kind].worst:
                worst[kind] = each
    for kind, each in worst.items():
        out = f"{length(each.worst)} mm of {length(each.allowed)} mm allowed"
        yield f"{count[kind]:6d}  {kind}: {out}, {where(each.page)}"
    for counted in report.counted:
        yield f"{counted.number:6d}  {counted.what}"


def kind_of(each: Measured) -> str:
    """Return what sort of thing was measured, for counting like with like."""
    for start, kind in (
        ("bar ", "bars"),
        ("outline", "outlines"),
        ("centre", "centres of holes"),
        ("edge", "edges of holes"),
        ("the ", "marks and grooves"),
        ("size", "sizes written at templates"),
    ):
        if each.what.startswith(start):
            return kind
    return each.what


def as_record(report: Report) -> dict[str, Any]:
    """Return the report ready for JSON."""
    return {
        "format": FORMAT,
        "sound": report.sound,
        "file": report.file,
        "sha256": report.digest,
        "title": report.title,
        "version": report.version,
        "edition": report.edition,
        "pages": report.pages,
        "against": report.against,
        "findings": [_finding(each) for each in report.findings],
        "warnings": [_finding(each) for each in report.warnings],
        "measured": [
            {
                "what": each.what,
                "page": each.page,
                "worst": round(each.worst, 6),
                "allowed": round(each.allowed, 6),
                "unit": each.unit,
                "at_least": each.least,
                "at": [round(place, 3) for place in each.at] if each.at else None,
            }
            for each in report.measured
        ],
        "counted": {each.what: each.number for each in report.counted},
    }


def _finding(each: Finding) -> dict[str, Any]:
    return {
        "code": each.code,
        "page": each.page,
        "what": each.what,
        "mend": each.mend,
        "facts": dict(each.facts),
    }

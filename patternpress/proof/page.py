"""The page of a proof that an author keeps: what was measured, the worst case, and where.

In: a `Report`.  Out: one HTML page that needs nothing else, prints well on a grey printer, and is
the same for the same booklet.
"""

from __future__ import annotations

from collections.abc import Iterator
from html import escape

from patternpress.proof.findings import Finding, Measured, Report
from patternpress.proof.telling import headline, length, subject, where

STYLE = """
@page { size: A4; margin: 16mm }
body { font: 11pt/1.45 system-ui, sans-serif; color: #111; max-width: 178mm; margin: 8mm auto;
  padding: 0 4mm }
h1 { font-size: 18pt; line-height: 1.2; margin: 0 0 2mm }
h2 { font-size: 12.5pt; margin: 8mm 0 1.5mm; break-after: avoid }
p { margin: 0 0 2mm; max-width: 66ch }
.outcome { border: 0.5mm solid #111; padding: 3mm 4mm; margin: 4mm 0; font-size: 13pt;
  font-weight: 600 }
.outcome::before { content: "✓  " } .refused .outcome::before { content: "✗  " }
table { border-collapse: collapse; width: 100%; font-size: 10pt;
  font-variant-numeric: tabular-nums }
th, td { text-align: left; padding: 0.7mm 3mm 0.7mm 0; vertical-align: top;
  border-bottom: 0.15mm solid #bbb }
th { font-weight: 600 } tbody th { font-weight: 400 }
.n { text-align: right; white-space: nowrap } tr { break-inside: avoid }
.share { width: 24mm } .share span { display: block; height: 2.2mm; margin-top: 1.3mm;
  background: #555; min-width: 0.2mm }
.small { font-size: 9pt; color: #444; overflow-wrap: anywhere } .quiet { color: #444 }
li { margin-bottom: 2mm }
"""


def as_page(report: Report) -> str:
    """Return the whole HTML page."""
    title = f"Proof of {report.title or report.file}"
    state = "sound" if report.sound else "refused"
    return "\n".join(
        [
            '<!doctype html><html lang="en"><head><meta charset="utf-8">',
            '<meta name="viewport" content="width=device-width">',
            f"<title>{escape(title)}</title><style>{STYLE}</style></head>",
            f'<body class="{state}"><h1>{escape(title)}</h1>',
            f"<p>{escape(subject(report))}</p>",
            f'<p class="outcome">{escape(headline(report))}</p>',
            *_findings("What is wrong", report.findings),
            *_findings("Worth a thought", report.warnings),
            *_measured(report),
            *_counted(report),
            *_sealed(report),
            "</body></html>\n",
        ]
    )


def _findings(heading: str, findings: tuple[Finding, ...]) -> Iterator[str]:
    if not findings:
        return
    yield f"<h2>{heading}</h2><ul>"
    for each in findings:
        place = f'<span class="quiet">{escape(where(each.page))}, {each.code}.</span>'
        yield f"<li>{escape(each.what)} {place}<br>{escape(each.mend)}</li>"
    yield "</ul>"


def _measured(report: Report) -> Iterator[str]:
    rows = [each for each in report.measured if not each.least]
    if not rows:
        return
    yield "<h2>What was measured in the finished file</h2>"
    yield (
        "<p>Each line gives the greatest distance found between what is printed and what should "
        "be, the distance allowed, and the place of the worst on the sheet, in millimetres from "
        "its lower left corner. A sharp pencil line is about 0.2 mm wide.</p>"
    )
    yield (
        '<table><thead><tr><th scope="col">What</th><th scope="col" class="n">Page</th>'
        '<th scope="col" class="n">Worst</th><th scope="col" class="n">Allowed</th>'
        '<th scope="col" class="share">Of allowed</th><th scope="col" class="n">Worst at</th>'
        "</tr></thead><tbody>"
    )
    for each in sorted(rows, key=lambda row: row.page):
        yield _row(each)
    yield "</tbody></table>"


def _row(each: Measured) -> str:
    share = min(100.0, 100 * each.worst / each.allowed) if each.allowed else 0.0
    at = f"{each.at[0]:.1f}, {each.at[1]:.1f}" if each.at else ""
    page = str(each.page) if each.page else ""
    return (
        f'<tr><th scope="row">{escape(each.what)}</th><td class="n">{page}</td>'
        f'<td class="n">{_short(each.worst)} {each.unit}</td>'
        f'<td class="n">{_short(each.allowed)}</td>'
        f'<td class="share"><span style="width:{share:.0f}%"></span></td>'
        f'<td class="n">{at}</td></tr>'
    )


def _short(value: float) -> str:
    return escape(length(value).replace("less than", "<"))


def _counted(report: Report) -> Iterator[str]:
    least = [each for each in report.measured if each.least]
    if not least and not report.counted:
        return
    yield "<h2>What was looked through</h2><table><tbody>"
    for each in report.counted:
        yield f'<tr><th scope="row">{escape(each.what)}</th><td class="n">{each.number}</td></tr>'
    for small in least:
        said = f"{small.worst:.1f} {small.unit}, at least {small.allowed:g}"
        yield f'<tr><th scope="row">{escape(small.what)}</th><td class="n">{said}</td></tr>'
    yield "</tbody></table>"


def _sealed(report: Report) -> Iterator[str]:
    yield "<h2>Which file this is</h2>"
    yield (
        "<p>A file that differs in a single letter has another fingerprint, and this page says "
        "nothing about it.</p>"
    )
    yield f'<p class="small">{escape(report.file)}<br>SHA-256 {report.digest}</p>'

"""The cutting list as text, pasted into three typefaces in a narrow column as a buyer would.

Run as `python -m tests.whole.test_list_faces FOLDER` it writes the pictures, to be looked at.
"""

from __future__ import annotations

import re
import sys
from html import escape
from pathlib import Path

import pypdfium2
import pytest
from weasyprint import HTML
from weasyprint.text.fonts import FontConfiguration

from patternpress.booklet.fonts import PLAIN, PROSE, font_css
from tests.whole.demos import DESIGNS, Built, Demo, built

FACES = {
    "narrow letters": PLAIN,
    "book letters": PROSE,
    "letters of one width": "monospace",
}  # the last: whichever the computer has
COLUMN = 80  # mm: a telephone, or the text under a film
MARGIN = 4  # mm
BOTH = [Demo(path, "both") for path in sorted(DESIGNS.glob("*-*.yaml"))]


def pasted(text: str, family: str) -> bytes:
    """A PDF of one column of plain text in a typeface; only what the text itself breaks, breaks."""
    fonts = FontConfiguration()
    named = family if family == "monospace" else f"'{family}'"
    style = (
        f"{font_css()} @page {{ size: {COLUMN}mm 400mm; margin: {MARGIN}mm }}"
        f"pre {{ font: 9pt {named}; white-space: pre-wrap; margin: 0 }}"
    )
    page = f"<style>{style}</style><pre>{escape(text)}</pre>"
    made: bytes = HTML(string=page).write_pdf(font_config=fonts)
    return made


def lines_of(pdf: bytes) -> list[str]:
    """The lines of all pages as they stand; the last one of a page may reach to the next."""
    document = pypdfium2.PdfDocument(pdf)
    texts = [page.get_textpage().get_text_range() for page in document]
    return [line.strip() for text in texts for line in text.splitlines()]


def reach(pdf: bytes) -> float:
    """How far to the right, in mm, any letter stands."""
    found = 0.0
    for page in pypdfium2.PdfDocument(pdf):
        text = page.get_textpage()
        for number in range(text.count_rects()):
            found = max(found, text.get_rect(number)[2] * 25.4 / 72)
    return found


@pytest.mark.parametrize("face", FACES)
@pytest.mark.parametrize("demo", BOTH, ids=str)
def test_the_list_is_read_in_any_typeface(demo: Demo, face: str, shared: Path) -> None:
    text = list_of(built(demo, shared))
    pdf = pasted(text, FACES[face])
    assert reach(pdf) <= COLUMN - MARGIN + 0.2
    shown = lines_of(pdf)
    for line in filter(None, text.splitlines()):
        # Each part and each heading starts a line of its own, wherever long ones are broken.
        start = re.sub(r"\s+", " ", line)[:12].strip()
        assert any(re.sub(r"\s+", " ", each).startswith(start) for each in shown), line
    # No fraction is parted from its whole number: “1 63/64” must not be read as 63/64.
    assert not re.search(r"\d\n\d+/\d", "\n".join(shown))
    assert squeezed(" ".join(shown)) == squeezed(text)


def squeezed(text: str) -> str:
    return re.sub(r"[\s\x02\ufffe-]", "", text)


def list_of(demo: Built) -> str:
    (path,) = demo.folder.glob(f"{demo.demo.design.stem}*-cutting-list.txt")
    return path.read_text(encoding="utf-8")


if __name__ == "__main__":
    folder = Path(sys.argv[1])
    for each in BOTH:
        for name, family in FACES.items():
            pdf = pasted(list_of(built(each, folder)), family)
            for number, page in enumerate(pypdfium2.PdfDocument(pdf), 1):
                picture = page.render(scale=2).to_pil()
                picture.save(folder / f"{each}-{name.replace(' ', '-')}-{number}.png")

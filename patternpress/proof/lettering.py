"""The fonts of a PDF, as far as reading needs them.

In: a font dictionary.  Out: a `Font` that turns the bytes of a string into letters and widths.
Only what the booklets use is read well: Type 0 fonts with two-byte codes and a ToUnicode map (ISO
32000-1, 9.7 and 9.10.3), and simple fonts with Widths.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from pikepdf import Array, Dictionary, Name, Object, Stream

_PAIRS = re.compile(rb"<([0-9A-Fa-f]+)>\s*<([0-9A-Fa-f]+)>")
_RANGES = re.compile(rb"<([0-9A-Fa-f]+)>\s*<([0-9A-Fa-f]+)>\s*<([0-9A-Fa-f]+)>")
_BLOCKS = re.compile(rb"beginbf(char|range)(.*?)endbf\1", re.DOTALL)
UNKNOWN = "\ufffd"


@dataclass(frozen=True)
class Font:
    """A font: how many bytes a code has, what each means, how wide it is in thousandths.

    `known` keeps what codes were found to be.
    """

    name: str
    bytes_each: int
    letters: Mapping[int, str]
    widths: Mapping[int, float]
    usual: float
    embedded: bool
    known: dict[int, tuple[str, float]] = field(default_factory=dict)

    def glyphs(self, data: bytes) -> list[tuple[str, float]]:
        """Return what each code in a string means, and its width in thousandths."""
        if self.bytes_each == 1:
            codes: Iterable[int] = data
        else:
            codes = (data[n] * 256 + data[n + 1] for n in range(0, len(data) - 1, 2))
        return [self.known.get(code) or self._glyph(code) for code in codes]

    def _glyph(self, code: int) -> tuple[str, float]:
        self.known[code] = found = (self.letter(code), self.widths.get(code, self.usual))
        return found

    def letter(self, code: int) -> str:
        """Return what a code means, or the sign for nobody knows."""
        if code in self.letters:
            return self.letters[code]
        return chr(code) if self.bytes_each == 1 and not self.letters else UNKNOWN


def read_font(font: Object) -> Font:
    """Return the font of a dictionary; what is missing is left empty."""
    kin = font.DescendantFonts[0] if Name.DescendantFonts in font else font
    descriptor = kin.get(Name.FontDescriptor, Dictionary())
    files = (Name.FontFile, Name.FontFile2, Name.FontFile3)
    return Font(
        name=str(font.get(Name.BaseFont, "/?")).lstrip("/"),
        bytes_each=2 if kin is not font else 1,
        letters=_letters(font.get(Name.ToUnicode)),
        widths=dict(_wide(kin) if kin is not font else _simple(font)),
        usual=float(kin.get(Name.DW, 1000)),
        embedded=any(name in descriptor for name in files),
    )


def _letters(stream: Object | None) -> dict[int, str]:
    found: dict[int, str] = {}
    if not isinstance(stream, Stream):
        return found
    for kind, block in _BLOCKS.findall(stream.read_bytes()):
        if kind == b"char":
            for code, text in _PAIRS.findall(block):
                found[int(code, 16)] = _decoded(text)
        else:
            for low, high, text in _RANGES.findall(block):
                first = int(text, 16)
                for code in range(int(low, 16), int(high, 16) + 1):
                    found[code] = chr(first + code - int(low, 16))
    return found


def _decoded(digits: bytes) -> str:
    return bytes.fromhex(digits.decode()).decode("utf-16-be", "replace")


def _wide(kin: Object) -> Iterator[tuple[int, float]]:
    """Yield code and width from a W array (ISO 32000-1, 9.7.4.3)."""
    items = list(kin.get(Name.W, Array()).as_list())
    while items:
        first = int(items.pop(0))
        then = items.pop(0)
        if isinstance(then, Array):
            for place, each in enumerate(then.as_list()):
                yield first + place, float(each)
        else:
            same = float(items.pop(0))
            for code in range(first, int(then) + 1):
                yield code, same


def _simple(font: Object) -> Iterator[tuple[int, float]]:
    first = int(font.get(Name.FirstChar, 0))
    for place, width in enumerate(font.get(Name.Widths, Array()).as_list()):
        yield first + place, float(width)

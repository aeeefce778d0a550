"""The operators that set and show text (ISO 32000-1, 9.3 and 9.4).

In: a `Run` and the operands.  Out: words written into the run, each with its place in mm, its
length and the size of its letters as printed.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from pikepdf import Dictionary, Name, Object

from patternpress.proof.lettering import Font, read_font
from patternpress.proof.marks import Words
from patternpress.proof.state import EVERYWHERE, MM, Run, Work, as_matrix, times


def _begin_text(run: Run, _: Any) -> None:
    run.text = run.row = (1, 0, 0, 1, 0, 0)


def _font(run: Run, given: Any) -> None:
    fonts = run.resources.get(Name.Font, Dictionary())
    found = fonts.get(given[0])
    run.state.size = float(given[1])
    if found is None:
        run.problems.append(f"no font {given[0]}")
        run.state.font = None
        return
    key = found.objgen if found.objgen[0] else id(found)
    if key not in run.fonts:
        run.fonts[key] = read_font(found)
    run.state.font = run.fonts[key]


def _text_matrix(run: Run, given: Any) -> None:
    run.text = run.row = as_matrix(given)


def _next_row(run: Run, x: float, y: float) -> None:
    run.row = times((1, 0, 0, 1, x, y), run.row)
    run.text = run.row


def _text_move(run: Run, given: Any) -> None:
    _next_row(run, float(given[0]), float(given[1]))


def _text_move_leading(run: Run, given: Any) -> None:
    run.state.leading = -float(given[1])
    _text_move(run, given)


def _new_row(run: Run, _: Any) -> None:
    _next_row(run, 0, -run.state.leading)


def _show(run: Run, given: Any) -> None:
    _shown(run, [given[0]])


def _show_row(run: Run, given: Any) -> None:
    _new_row(run, given)
    _shown(run, [given[0]])


def _show_spaced(run: Run, given: Any) -> None:
    _shown(run, given[0].as_list())


def _shown(run: Run, pieces: Iterable[Any]) -> None:
    """Write down the letters of one operator as one piece of text (ISO 32000-1, 9.4.4)."""
    state, font = run.state, run.state.font
    if font is None:
        return
    letters: list[str] = []
    across = inked = 0.0
    share = state.size * state.stretch / 1000
    for piece in pieces:
        if not isinstance(piece, Object):
            across -= float(piece) * share
            continue
        for letter, wide in font.glyphs(bytes(piece)):
            letters.append(letter)
            across += wide * share + state.spacing * state.stretch
            if letter == " " and font.bytes_each == 1:
                across += state.word_spacing * state.stretch
            if not letter.isspace():
                inked = across
    _write(run, "".join(letters), inked, font)
    run.text = times((1, 0, 0, 1, across, 0), run.text)


def _write(run: Run, text: str, inked: float, font: Font) -> None:
    state = run.state
    if not text.strip() or state.hidden:
        return
    whole = times((1, 0, 0, 1, 0, state.rise), times(run.text, state.matrix))
    a, b, c, d, x, y = whole
    long, high = (a * a + b * b) ** 0.5, (c * c + d * d) ** 0.5
    along = (a / long, b / long) if long else (1.0, 0.0)
    size = state.size * high / MM
    clip = None if state.clip == EVERYWHERE else state.clip
    run.words.append(Words(text, (x, y), along, inked * long, size, font.name, run.tags, clip))


def _setter(name: str, share: float = 1.0) -> Work:
    def work(run: Run, given: Any) -> None:
        setattr(run.state, name, float(given[0]) * share)

    return work


def _mode(run: Run, given: Any) -> None:
    run.state.hidden = int(given[0]) in (3, 7)


TEXT: dict[str, Work] = {
    "BT": _begin_text, "Tf": _font, "Tm": _text_matrix, "Td": _text_move,
    "TD": _text_move_leading, "T*": _new_row, "Tj": _show, "TJ": _show_spaced, "'": _show_row,
    "Tc": _setter("spacing"), "Tw": _setter("word_spacing"), "Tz": _setter("stretch", 0.01),
    "TL": _setter("leading"), "Ts": _setter("rise"), "Tr": _mode,
}  # fmt: skip

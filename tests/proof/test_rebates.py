"""A rebate runs along an edge: there its side is the edge itself, drawn and measured once."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

from patternpress.booklet.build import make_corrected
from patternpress.design.read import read_design
from patternpress.desk.commands.new import starter
from patternpress.measure.printers import Correction
from patternpress.proof.prove import prove

END = "pieces: [left end, right end]}"
FLOOR = "  floor: {stock: lime board, wide: width - 2 * board, deep: depth - 2 * board}"
REBATE = "{{on: {on}, wide: 1 mm, deep: 1 mm, along: {along}}}"


def rebates(on: str, *edges: str) -> str:
    told = (f"{each} rebate: {REBATE.format(on=on, along=each)}" for each in edges)
    return f"template: yes, grooves: {{{', '.join(told)}}}}}"


def test_rebates_along_every_edge_are_sound(tmp_path: Path) -> None:
    text = starter("box")
    assert END in text
    assert FLOOR in text
    text = text.replace(END, f"{END[:-1]}, {rebates('right', 'front', 'back')}")
    text = text.replace(FLOOR, f"{FLOOR[:-1]}, {rebates('top', 'left', 'right')}")
    path = tmp_path / "box.yaml"
    path.write_text(text, "utf-8")
    made = make_corrected(read_design(path), "metric", Correction(Fraction(101), Fraction(101)))
    report = prove(made.pdf, made.facts)
    assert [(each.code, each.what) for each in report.findings] == []
    seen = {each.what for each in report.measured if "rebate" in each.what}
    assert len(seen) == 4

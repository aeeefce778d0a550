"""Pages with photographs, on the cover and beside a step, pass every check in both themes."""

from __future__ import annotations

import io
from dataclasses import replace
from pathlib import Path

import pikepdf
import pytest

from patternpress.assembly.model import work_out
from patternpress.booklet.build import press_model
from patternpress.booklet.ready import check_photographs
from patternpress.design.read import read_text
from patternpress.proof.prove import prove
from patternpress.proof.telling import as_text
from tests.booklet.test_photographs import GOOD, saved, scene
from tests.whole.small import TOP
from tests.whole.wholechecks import complaints

DESIGN = f"""{TOP}cover: {{words: A tray., picture: tray.jpg, shows: the tray on a sill}}
licence: {{pieces for sale: any number}}
stock:
  board: {{sheet: 2 mm, sold: 100 x 600 mm, cut with: fine saw, kerf: 0.3 mm}}
parts:
  base: {{stock: board, wide: 80 mm, deep: 40 mm, template: yes}}
  rims: {{stock: board, deep: 40 mm, high: 30 mm, pieces: rim, other rim}}
tools:
  fine saw:
materials:
  wood glue: {{kind: glue, handle: 30 to 60 min, hard: 24 h}}
steps:
  - step: Stand the rims on the base
    start: base
    glue: wood glue
    join:
      rim: {{bottom: against base, left: flush with base, front: flush with base}}
      other rim: {{bottom: against base, right: flush with base, front: flush with base}}
    picture: {{of: the rim held by hand, file: rim.jpg}}
"""


@pytest.mark.parametrize("theme", ["quay", "rod"])
def test_pages_with_photographs_pass_every_check(theme: str, tmp_path: Path) -> None:
    for name in ("tray.jpg", "rim.jpg"):
        (tmp_path / name).write_bytes(saved(scene(GOOD)))
    reading = read_text(DESIGN, "tray.yaml", tmp_path)
    assert [*check_photographs(reading)] == []
    model = work_out(reading, "metric")
    model = replace(model, edition=replace(model.edition, theme=theme))
    pdf = press_model(model).pdf
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        placed = [len(page.get("/Resources", {}).get("/XObject", {})) for page in opened.pages]
    assert sum(placed) >= 2
    report = prove(pdf)
    assert report.sound, as_text(report)
    assert complaints(pdf) == {}

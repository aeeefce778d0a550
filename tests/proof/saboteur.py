"""Spoil a finished booklet, as a careless program, a bad printer set-up or a cheat might.

In: the bytes of a PDF.  Out: the bytes of one with a single fault, sealed again unless the fault is
that of a broken seal, so that what catches it is the measuring and not the seal.
"""

from __future__ import annotations

import hashlib
import io
import re
from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

import pikepdf
from pikepdf import Array, ContentStreamInstruction, Dictionary, Name, Operator, Pdf, String

Ops = list[Any]
Edit = Callable[[Ops], Ops]
MM = Decimal(72) / Decimal("25.4")  # points


def spoilt(data: bytes, fault: Callable[[Pdf], None], *, sealed: bool = True) -> bytes:
    """Return the booklet with a fault in it."""
    with Pdf.open(io.BytesIO(data)) as pdf:
        fault(pdf)
        if sealed:
            pdf.docinfo["/PatternSeal"] = String(seal(pdf))
        out = io.BytesIO()
        pdf.save(out)
        return out.getvalue()


def seal(pdf: Pdf) -> str:
    """The seal as DEVELOPERS.md describes it: anyone can set it, so it proves no more than that."""
    mixed = hashlib.sha256()
    for page in pdf.pages:
        contents = page.obj.get("/Contents", Array())
        streams = list(contents) if isinstance(contents, Array) else [contents]
        forms = page.obj.get("/Resources", Dictionary()).get("/XObject", Dictionary())
        streams += [form for _, form in sorted(forms.items()) if form.get("/Subtype") == "/Form"]
        for stream in streams:
            mixed.update(stream.read_bytes() + b"\n")
        mixed.update(b"page\n")
    return mixed.hexdigest()


def operations(page: pikepdf.Page) -> Ops:
    return list(pikepdf.parse_content_stream(page))


def edit(pdf: Pdf, number: int, change: Edit) -> None:
    """Change the operations of a page, counted from 1."""
    page = pdf.pages[number - 1]
    before = operations(page)
    after = change(list(before))
    assert len(before) != len(after) or any(a is not b for a, b in zip(before, after, strict=True))
    page.obj.Contents = pdf.make_stream(pikepdf.unparse_content_stream(after))


def op(operator: str, *operands: Any) -> ContentStreamInstruction:
    return ContentStreamInstruction(list(operands), Operator(operator))


def moved(instruction: Any, across: float, up: float, place: int = -1) -> Any:
    """A path operation with one of its points moved, in the units it is written in."""
    given = list(instruction.operands)
    at = len(given) - 2 if place < 0 else 2 * place
    given[at] = Decimal(str(given[at])) + Decimal(str(across))
    given[at + 1] = Decimal(str(given[at + 1])) + Decimal(str(up))
    return op(str(instruction.operator), *given)


# ------------------------------------------------------------------ what is tagged


@dataclass(frozen=True)
class Stretch:
    """Operations from a BDC to its EMC, both within."""

    first: int
    last: int
    facts: dict[str, str]
    inside: tuple[str, ...]  # parts of the templates it lies in


def stretches(ops: Ops, name: str) -> list[Stretch]:
    """Every marked content of a name on a page."""
    found: list[Stretch] = []
    opened: list[tuple[str, int, dict[str, str]]] = []
    for index, each in enumerate(ops):
        operator = str(each.operator)
        if operator in ("BDC", "BMC"):
            facts = {}
            if len(each.operands) > 1 and isinstance(each.operands[1], Dictionary):
                facts = {str(k)[1:]: str(v) for k, v in each.operands[1].items()}
            opened.append((str(each.operands[0])[1:], index, facts))
        elif operator == "EMC":
            kind, first, facts = opened.pop()
            if kind == name:
                parts = tuple(f["Part"] for k, _, f in opened if k == "Template")
                found.append(Stretch(first, index, facts, parts))
    return sorted(found, key=lambda each: each.first)


def tagged(ops: Ops, name: str, part: str = "", **facts: str) -> Stretch:
    """The first stretch with a name, in a part's template, with these facts."""
    return next(
        each
        for each in stretches(ops, name)
        if (not part or part in (*each.inside, each.facts.get("Part")))
        and all(each.facts.get(key.capitalize()) == value for key, value in facts.items())
    )


def page_with(pdf: Pdf, name: str, part: str = "", **facts: str) -> int:
    """The page, counted from 1, that has such a stretch."""
    for number, page in enumerate(pdf.pages, 1):
        try:
            tagged(operations(page), name, part, **facts)
        except StopIteration:
            continue
        return number
    raise LookupError(name, part, facts)


def on_stretch(
    pdf: Pdf, change: Callable[[Ops], Ops], name: str, part: str = "", **facts: str
) -> None:
    """Change the operations inside the first such stretch of the booklet."""
    number = page_with(pdf, name, part, **facts)

    def work(ops: Ops) -> Ops:
        found = tagged(ops, name, part, **facts)
        inner = change(ops[found.first + 1 : found.last])
        return [*ops[: found.first + 1], *inner, *ops[found.last :]]

    edit(pdf, number, work)


def path_points(ops: Ops) -> list[int]:
    """Places of the operations that put a point on the path; the writer starts with 0 0 m."""
    return [n for n, each in enumerate(ops) if str(each.operator) in ("m", "l", "c")][1:]


def shifted(ops: Ops, across: float, up: float) -> Ops:
    """A stretch drawn elsewhere."""
    return [op("q"), op("cm", 1, 0, 0, 1, Decimal(str(across)), Decimal(str(up))), *ops, op("Q")]


def stretched(ops: Ops, across: float, up: float) -> Ops:
    """A stretch drawn larger about the lower left corner of its page."""
    return [op("q"), op("cm", Decimal(str(across)), 0, 0, Decimal(str(up)), 0, 0), *ops, op("Q")]


# ------------------------------------------------------------------ letters


def meanings(font: Any) -> dict[int, str]:
    """Code -> letter, from a font's ToUnicode map."""
    text = font.ToUnicode.read_bytes()
    block = b"".join(re.findall(rb"beginbfchar(.*?)endbfchar", text, re.DOTALL))
    pairs = re.findall(rb"<([0-9a-fA-F]+)>\s*<([0-9a-fA-F]+)>", block)
    return {int(c, 16): bytes.fromhex(t.decode()).decode("utf-16-be") for c, t in pairs}


def shown(instruction: Any, letters: dict[int, str]) -> str:
    """The text that a TJ shows."""
    return "".join(
        letters.get(code, "?") for piece in _pieces(instruction) for code in _codes(piece)
    )


def _pieces(instruction: Any) -> list[bytes]:
    (given,) = instruction.operands
    several = list(given) if isinstance(given, Array) else [given]
    return [bytes(each) for each in several if isinstance(each, String)]


def _codes(piece: bytes) -> list[int]:
    return [piece[n] * 256 + piece[n + 1] for n in range(0, len(piece) - 1, 2)]


def retyped(pdf: Pdf, number: int, pattern: str, put: str, part: Stretch | None = None) -> None:
    """Change the first text on a page that matches, in its own font; `put` as in re.sub."""
    page = pdf.pages[number - 1]
    fonts = page.obj.Resources.Font

    def work(ops: Ops) -> Ops:
        letters: dict[int, str] = {}
        for index, each in enumerate(ops):
            operator = str(each.operator)
            if operator == "Tf":
                letters = meanings(fonts[each.operands[0]])
            elif operator in ("TJ", "Tj") and (part is None or part.first < index < part.last):
                before = shown(each, letters)
                after = re.sub(pattern, put, before, count=1)
                codes = {letter: code for code, letter in letters.items()}
                if after != before and all(letter in codes for letter in after):
                    data = b"".join(codes[letter].to_bytes(2, "big") for letter in after)
                    ops[index] = op("TJ", Array([String(data)]))
                    return ops
        raise LookupError(pattern)

    edit(pdf, number, work)


def places(pdf: Pdf) -> dict[str, int]:
    """The page, counted from 1, of each named place."""
    numbers = {page.obj.objgen: n for n, page in enumerate(pdf.pages, 1)}
    names = list(pdf.Root.Names.Dests.Names)
    return {str(n): numbers[d[0].objgen] for n, d in zip(names[::2], names[1::2], strict=True)}


def figures(pdf: Pdf) -> list[Any]:
    """Every Figure of the structure tree."""
    found: list[Any] = []

    def walk(node: Any) -> None:
        if isinstance(node, Array):
            for each in node:
                walk(each)
        elif isinstance(node, Dictionary):
            if node.get("/S") == Name.Figure:
                found.append(node)
            if "/K" in node:
                walk(node.K)

    walk(pdf.Root.StructTreeRoot.K)
    return found

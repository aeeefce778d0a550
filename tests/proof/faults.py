"""Single faults, each with the codes by which a proof must tell it.

In: nothing.  Out: `FAULTS`: a name, the fault, the codes that the proof must report, all of them
and no other, and whether the design's facts are needed to see it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from pikepdf import Array, Dictionary, Name, Pdf, String

from tests.proof import saboteur as s

Fault = Callable[[Pdf], None]


@dataclass(frozen=True)
class Case:
    """A fault of the desk's or the shelf's booklet; `facts`: seen only against the design."""

    name: str
    fault: Fault
    codes: frozenset[str]
    booklet: str = "desk"
    facts: bool = False
    sealed: bool = True

    def __str__(self) -> str:
        return self.name


# ------------------------------------------------------------------ lines


def whole_booklet_scaled(pdf: Pdf) -> None:
    for number in range(1, len(pdf.pages) + 1):
        s.edit(pdf, number, lambda ops: s.stretched(ops, 0.99, 0.99))


def one_sheet_stretched_across(pdf: Pdf) -> None:
    number = s.page_with(pdf, "Template")
    s.edit(pdf, number, lambda ops: s.stretched(ops, 0.995, 1))


def one_template_scaled(pdf: Pdf) -> None:
    s.on_stretch(pdf, lambda ops: s.stretched(ops, 0.97, 0.97), "Drawn", "A", **{"as": "outline"})


def outline_point_moved(pdf: Pdf) -> None:
    def work(ops: s.Ops) -> s.Ops:
        index = s.path_points(ops)[2]
        ops[index] = s.moved(ops[index], 0.05, 0)
        return ops

    s.on_stretch(pdf, work, "Drawn", "A", **{"as": "outline"})


def curve_bulged(pdf: Pdf) -> None:
    def work(ops: s.Ops) -> s.Ops:
        curves = [n for n in s.path_points(ops) if str(ops[n].operator) == "c"]
        for place in (0, 1, 2):
            ops[curves[0]] = s.moved(ops[curves[0]], 0.05, 0.05, place)
        return ops

    s.on_stretch(pdf, work, "Drawn", "R", **{"as": "outline"})


def outline_mirrored(pdf: Pdf) -> None:
    def work(ops: s.Ops) -> s.Ops:
        points = [ops[n].operands for n in s.path_points(ops)]
        xs = [Decimal(str(given[-2])) for given in points]
        turn = [s.op("cm", -1, 0, 0, 1, min(xs) + max(xs), 0)]
        return [s.op("q"), *turn, *ops, s.op("Q")]

    s.on_stretch(pdf, work, "Drawn", "B", **{"as": "outline"})


def outline_white(pdf: Pdf) -> None:
    def work(ops: s.Ops) -> s.Ops:
        return [s.op("RG", 1, 1, 1) if str(o.operator) == "RG" else o for o in ops]

    s.on_stretch(pdf, work, "Drawn", "A", **{"as": "outline"})


def outline_covered(pdf: Pdf) -> None:
    number = s.page_with(pdf, "Template")
    white = [s.op("rg", 1, 1, 1), s.op("re", 100, 560, 60, 60), s.op("f")]
    s.edit(pdf, number, lambda ops: [*ops, s.op("q"), *white, s.op("Q")])


def outline_tag_lost(pdf: Pdf) -> None:
    number = s.page_with(pdf, "Template")

    def work(ops: s.Ops) -> s.Ops:
        found = s.tagged(ops, "Drawn", "A", **{"as": "outline"})
        return [o for n, o in enumerate(ops) if n not in (found.first, found.last)]

    s.edit(pdf, number, work)


def stray_outline(pdf: Pdf) -> None:
    number = s.page_with(pdf, "Template")
    lines = [s.op("w", 1.42), s.op("re", 300, 300, 60, 60), s.op("S")]
    s.edit(pdf, number, lambda ops: [*ops, s.op("q"), *lines, s.op("Q")])


def template_taken_out(pdf: Pdf) -> None:
    """One of several on its sheet: the sheet's head still promises it."""
    s.on_stretch(pdf, lambda ops: [], "Template", "E")


def only_template_of_a_sheet_taken_out(pdf: Pdf) -> None:
    s.on_stretch(pdf, lambda ops: [], "Template", "D")


def template_twice(pdf: Pdf) -> None:
    number = s.page_with(pdf, "Template")

    def work(ops: s.Ops) -> s.Ops:
        found = s.tagged(ops, "Drawn", "E", **{"as": "outline"})
        outer = s.tagged(ops, "Template", "E")
        copy = ops[found.first : found.last + 1]
        return [
            *ops[: outer.last + 1],
            ops[outer.first],
            *copy,
            s.op("EMC"),
            *ops[outer.last + 1 :],
        ]

    s.edit(pdf, number, work)


def hole_shifted(pdf: Pdf) -> None:
    s.on_stretch(pdf, lambda ops: s.shifted(ops, 0.05, 0), "Drawn", "B", **{"as": "hole"})


def cross_in_hole_shifted(pdf: Pdf) -> None:
    s.on_stretch(pdf, lambda ops: s.shifted(ops, 0.05, 0.05), "Drawn", "B", **{"as": "centre"})


def hole_enlarged(pdf: Pdf) -> None:
    def work(ops: s.Ops) -> s.Ops:
        points = [[Decimal(str(v)) for v in ops[n].operands[-2:]] for n in s.path_points(ops)]
        x, y = ((min(each) + max(each)) / 2 for each in zip(*points, strict=True))
        grown = Decimal("1.02")  # about the middle, so that nothing but the size is wrong
        centre = s.op("cm", grown, 0, 0, grown, x - x * grown, y - y * grown)
        return [s.op("q"), centre, *ops, s.op("Q")]

    s.on_stretch(pdf, work, "Drawn", "B", **{"as": "hole"})


def hole_taken_out(pdf: Pdf) -> None:
    s.on_stretch(pdf, lambda ops: [], "Drawn", "R", **{"as": "hole"})


def hole_invented(pdf: Pdf) -> None:
    number = s.page_with(pdf, "Drawn", "B", **{"as": "hole"})

    def work(ops: s.Ops) -> s.Ops:
        found = s.tagged(ops, "Drawn", "B", **{"as": "hole"})
        copy = ops[found.first + 1 : found.last + 1]
        tag = Dictionary({"/As": String("hole"), "/Name": String("worm hole")})
        return [
            *ops[: found.last + 1],
            s.op("BDC", Name("/Drawn"), tag),
            *copy,
            *ops[found.last + 1 :],
        ]

    s.edit(pdf, number, work)


def mark_moved(pdf: Pdf) -> None:
    s.on_stretch(pdf, lambda ops: s.shifted(ops, 0.05, 0.05), "Drawn", "B", **{"as": "mark"})


def mark_shortened(pdf: Pdf) -> None:
    def work(ops: s.Ops) -> s.Ops:
        index = s.path_points(ops)[1]
        ops[index] = s.moved(ops[index], -0.5, -0.5)
        return ops

    s.on_stretch(pdf, work, "Drawn", "A", **{"as": "mark"})


def mark_taken_out(pdf: Pdf) -> None:
    s.on_stretch(pdf, lambda ops: [], "Drawn", "D", **{"as": "mark"})


def groove_moved(pdf: Pdf) -> None:
    s.on_stretch(pdf, lambda ops: s.shifted(ops, 0, 0.05), "Drawn", "B", **{"as": "groove"})


def point_moved(pdf: Pdf) -> None:
    s.on_stretch(pdf, lambda ops: s.shifted(ops, 0.05, 0), "Drawn", "A", **{"as": "point"})


# ------------------------------------------------------------------ bars


def bar_shortened(pdf: Pdf) -> None:
    s.on_stretch(pdf, lambda ops: s.stretched(ops, 0.998, 1), "Bar", along="across")


def bar_taken_out(pdf: Pdf) -> None:
    number = s.page_with(pdf, "Template")

    def work(ops: s.Ops) -> s.Ops:
        found = s.tagged(ops, "Bar", along="across")
        return [*ops[: found.first + 1], *ops[found.last :]]

    s.edit(pdf, number, work)


def tick_moved(pdf: Pdf) -> None:
    def work(ops: s.Ops) -> s.Ops:
        at = s.path_points(ops)[40]
        at -= str(ops[at].operator) == "l"
        ops[at], ops[at + 1] = s.moved(ops[at], 0.05, 0), s.moved(ops[at + 1], 0.05, 0)
        return ops

    s.on_stretch(pdf, work, "Bar", along="across")


# ------------------------------------------------------------------ words and figures


def width_retyped(pdf: Pdf) -> None:
    number = s.page_with(pdf, "Template", "A")
    part = s.tagged(s.operations(pdf.pages[number - 1]), "Said", "A", of="across")
    s.retyped(pdf, number, "8", "9", part)


def unit_retyped(pdf: Pdf, unit: str, name: str, part: str = "", **facts: str) -> None:
    """Another unit for French inches in a drawing, where each letter is shown by itself."""
    for before, after in zip("po", unit, strict=True):
        number = s.page_with(pdf, name, part, **facts)
        stretch = s.tagged(s.operations(pdf.pages[number - 1]), name, part, **facts)
        s.retyped(pdf, number, before, after, stretch)


def millimetres_for_inches(pdf: Pdf) -> None:
    unit_retyped(pdf, "mm", "Said", "A", of="across")


def english_told_as_french(pdf: Pdf) -> None:
    pdf.Root.Lang = String("fr")


def bar_in_english(pdf: Pdf) -> None:
    unit_retyped(pdf, "in", "Bar", along="across")


def listed_in_millimetres(pdf: Pdf) -> None:
    s.retyped(pdf, s.places(pdf)["cutting"] + 1, r"po(?=\)$)", "mm")


def listed_in_english(pdf: Pdf) -> None:
    s.retyped(pdf, s.places(pdf)["cutting"] + 1, r"po(?=\)$)", "in")


def letter_retyped(pdf: Pdf) -> None:
    number = s.page_with(pdf, "Template", "A")
    part = s.tagged(s.operations(pdf.pages[number - 1]), "Said", "A", of="letter")
    s.retyped(pdf, number, "A", "D", part)


def number_retyped(pdf: Pdf) -> None:
    number = s.page_with(pdf, "Template", "A")
    part = s.tagged(s.operations(pdf.pages[number - 1]), "Said", "A", of="number")
    s.retyped(pdf, number, "1", "2", part)


def head_retyped(pdf: Pdf) -> None:
    s.retyped(pdf, s.page_with(pdf, "Template"), "A, B, E", "A, B, D")


def list_number_retyped(pdf: Pdf) -> None:
    s.retyped(pdf, s.places(pdf)["cutting"], "^2$", "6")


def list_size_retyped(pdf: Pdf) -> None:
    s.retyped(pdf, s.places(pdf)["cutting"], "80 × 4", "80 × 8")


def step_figure_retyped(pdf: Pdf) -> None:
    s.retyped(pdf, s.places(pdf)["steps"], "13", "19")


def step_letter_retyped(pdf: Pdf) -> None:
    s.retyped(pdf, s.places(pdf)["steps"], r"\(B\)", "(T)")


def contents_retyped(pdf: Pdf) -> None:
    """The page of one step, which no other line of the contents leads to."""
    page = s.places(pdf)["step-9"]
    s.retyped(pdf, s.places(pdf)["contents"], f"^{page}$", f"{page + 1}")


def reference_retyped(pdf: Pdf) -> None:
    """The page that a row of the cutting list sends the reader to."""
    number = s.places(pdf)["cutting"]
    page = s.places(pdf)["template-1"]
    s.retyped(pdf, number, f"^{page}$", f"{page + 1}")


def foot_retyped(pdf: Pdf) -> None:
    """The version in the foot of one page; feet are forms of their own."""
    page = pdf.pages[4]
    form = page.obj.Resources.XObject.Foot
    letters = {}
    out = []
    done = False
    for each in s.pikepdf.parse_content_stream(form):
        if str(each.operator) == "Tf":
            letters = s.meanings(form.Resources.Font[each.operands[0]])
        if str(each.operator) == "TJ" and "version 1.0" in s.shown(each, letters) and not done:
            codes = {letter: code for code, letter in letters.items()}
            text = s.shown(each, letters).replace("1.0", "1.2")
            data = b"".join(codes[letter].to_bytes(2, "big") for letter in text)
            each, done = s.op("TJ", Array([String(data)])), True  # noqa: PLW2901
        out.append(each)
    assert done
    form.write(s.pikepdf.unparse_content_stream(out))


def words_pushed_off(pdf: Pdf) -> None:
    def work(ops: s.Ops) -> s.Ops:
        at = next(n for n, o in enumerate(ops) if str(o.operator) == "Tm")
        ops[at] = s.op("Tm", *ops[at].operands[:4], 790, ops[at].operands[5])
        return ops

    s.edit(pdf, 3, work)


def words_over_words(pdf: Pdf) -> None:
    def work(ops: s.Ops) -> s.Ops:
        places = [n for n, o in enumerate(ops) if str(o.operator) == "Tm"]
        one, two = places[6], places[5]
        ops[one] = s.op("Tm", *ops[one].operands[:4], *ops[two].operands[4:])
        return ops

    s.edit(pdf, s.places(pdf)["cautions"], work)


def words_shrunk(pdf: Pdf) -> None:
    def work(ops: s.Ops) -> s.Ops:
        at = next(n for n, o in enumerate(ops) if str(o.operator) == "Tf")
        ops[at] = s.op("Tf", ops[at].operands[0], 7)
        return ops

    s.edit(pdf, s.places(pdf)["cautions"], work)


def words_changed(pdf: Pdf) -> None:
    s.retyped(pdf, s.places(pdf)["steps"], "e", "a")


# ------------------------------------------------------------------ sheets and the file


def page_taken_out(pdf: Pdf) -> None:
    del pdf.pages[s.places(pdf)["steps"]]


def template_sheet_taken_out(pdf: Pdf) -> None:
    del pdf.pages[s.page_with(pdf, "Template") - 1]


def pages_swapped(pdf: Pdf) -> None:
    at = s.places(pdf)["steps"]
    first = pdf.pages[at]
    del pdf.pages[at]
    pdf.pages.insert(at + 1, first)


def blank_page_added(pdf: Pdf) -> None:
    box = pdf.pages[0].mediabox
    page = pdf.add_blank_page(page_size=(box[2], box[3]))
    pdf.pages.insert(5, page)
    del pdf.pages[-1]


def sheet_resized(pdf: Pdf) -> None:
    pdf.pages[2].obj.MediaBox = Array([0, 0, 612, 842])


def sheet_cropped(pdf: Pdf) -> None:
    pdf.pages[2].obj.CropBox = Array([20, 20, 560, 800])


def sheet_in_other_units(pdf: Pdf) -> None:
    pdf.pages[2].obj.UserUnit = 2


def sheet_turned(pdf: Pdf) -> None:
    pdf.pages[2].obj.Rotate = 90


def scaling_unsaid(pdf: Pdf) -> None:
    del pdf.Root.ViewerPreferences.PrintScaling


def scaling_misspelt(pdf: Pdf) -> None:
    pdf.Root.ViewerPreferences.PrintScaling = Name.None_


def fonts_of(pdf: Pdf) -> list[Any]:
    return [o for o in pdf.objects if isinstance(o, Dictionary) and o.get("/Type") == "/Font"]


def font_taken_out(pdf: Pdf) -> None:
    for each in pdf.objects:
        if isinstance(each, Dictionary) and each.get("/Type") == "/FontDescriptor":
            for key in ("/FontFile2", "/FontFile3"):
                if key in each:
                    del each[key]
                    return


def meanings_taken_out(pdf: Pdf) -> None:
    page = pdf.pages[s.places(pdf)["cautions"] - 1]
    for font in page.obj.Resources.Font.values():
        if "/ToUnicode" in font:
            del font["/ToUnicode"]


def description_taken_out(pdf: Pdf) -> None:
    del s.figures(pdf)[3]["/Alt"]


def structure_taken_out(pdf: Pdf) -> None:
    del pdf.Root.MarkInfo


def link_abroad(pdf: Pdf) -> None:
    note = Dictionary(
        Type=Name.Annot,
        Subtype=Name.Link,
        Rect=Array([50, 50, 90, 90]),
        A=Dictionary(S=Name.URI, URI=String("https://example.org/")),
    )
    pdf.pages[3].obj.Annots = Array([pdf.make_indirect(note)])


def link_to_nowhere(pdf: Pdf) -> None:
    page = pdf.pages[s.places(pdf)["contents"] - 1]
    page.obj.Annots[0].Dest = String("no such place")


def script_added(pdf: Pdf) -> None:
    pdf.Root.OpenAction = Dictionary(S=Name.JavaScript, JS=String("app.alert(1)"))


def version_changed(pdf: Pdf) -> None:
    pdf.docinfo["/PatternVersion"] = String("9.9")


def licence_changed(pdf: Pdf) -> None:
    pdf.docinfo["/Subject"] = String("Do as you please with it.")


def contract_taken_out(pdf: Pdf) -> None:
    del pdf.docinfo["/PatternContract"]


def facts_of_another(pdf: Pdf) -> None:
    pdf.docinfo["/PatternFacts"] = String("0" * 64)
    xmp = pdf.Root.Metadata.read_bytes()
    start = xmp.index(b"<dc:identifier>") + len(b"<dc:identifier>")
    pdf.Root.Metadata.write(xmp[:start] + b"0" * 64 + xmp[start + 64 :])


def page_broken(pdf: Pdf) -> None:
    s.edit(pdf, 4, lambda ops: [*ops, s.op("Q")])


def case(fault: Fault, *codes: str, **more: Any) -> Case:
    return Case(fault.__name__.replace("_", " "), fault, frozenset(codes), **more)


FAULTS: tuple[Case, ...] = (
    case(whole_booklet_scaled, "bar-wrong", "label-differs", "square-wrong"),
    case(one_sheet_stretched_across, "bar-wrong", "label-differs", "square-wrong"),
    case(one_template_scaled, "label-differs"),
    case(outline_point_moved, "outline-off", facts=True),
    case(curve_bulged, "outline-off", "label-differs", booklet="shelf", facts=True),
    case(outline_mirrored, "outline-off", facts=True),
    case(outline_white, "template-empty"),
    case(outline_covered, "template-covered"),
    case(outline_tag_lost, "line-unnamed", "template-empty"),
    case(stray_outline, "template-unnamed"),
    case(template_taken_out, "head-differs"),
    case(only_template_of_a_sheet_taken_out, "template-missing", facts=True),
    case(template_twice, "template-extra", facts=True),
    case(hole_shifted, "hole-off", booklet="shelf", facts=True),
    case(cross_in_hole_shifted, "mark-off", booklet="shelf", facts=True),
    case(hole_enlarged, "hole-size", booklet="shelf", facts=True),
    case(hole_taken_out, "hole-missing", booklet="shelf", facts=True),
    case(hole_invented, "drawn-extra", booklet="shelf", facts=True),
    case(mark_moved, "mark-off", facts=True),
    case(mark_shortened, "mark-off", facts=True),
    case(mark_taken_out, "mark-missing", facts=True),
    case(groove_moved, "mark-off", booklet="shelf", facts=True),
    case(point_moved, "mark-off", booklet="shelf", facts=True),
    case(bar_shortened, "bar-wrong"),
    case(bar_taken_out, "bar-missing"),
    case(tick_moved, "bar-wrong"),
    case(width_retyped, "label-differs"),
    case(millimetres_for_inches, "label-differs", booklet="french"),
    case(english_told_as_french, "unit-foreign", "bar-wrong", booklet="shelf"),
    case(listed_in_millimetres, "list-differs", booklet="french", facts=True),
    case(listed_in_english, "unit-foreign", booklet="french"),
    case(bar_in_english, "bar-wrong", booklet="french"),
    case(letter_retyped, "letter-differs"),
    case(number_retyped, "number-differs"),
    case(head_retyped, "head-differs"),
    case(list_number_retyped, "list-differs", "number-differs", facts=True),
    case(list_size_retyped, "figure-lost", "figure-unknown", "list-differs", facts=True),
    case(step_figure_retyped, "figure-lost", "figure-unknown"),
    case(step_letter_retyped, "letter-unknown"),
    case(contents_retyped, "contents-wrong"),
    case(reference_retyped, "page-wrong"),
    case(foot_retyped, "version-missing"),
    case(words_pushed_off, "words-cut"),
    case(words_over_words, "words-overlap"),
    case(words_shrunk, "letters-small"),
    case(words_changed, "seal-broken", sealed=False),
    case(page_taken_out, "page-number", "page-wrong", "contents-wrong", "figure-lost", "link-lost"),
    case(template_sheet_taken_out, "page-number", "page-wrong", "contents-wrong", "link-lost"),
    case(pages_swapped, "page-number", "contents-wrong", "page-wrong"),
    case(
        blank_page_added,
        "page-blank",
        "page-wrong",
        "page-number",
        "contents-wrong",
        "version-missing",
    ),
    case(sheet_resized, "page-size"),
    case(sheet_cropped, "page-size"),
    case(sheet_in_other_units, "page-size"),
    case(sheet_turned, "content-damaged"),
    case(scaling_unsaid, "print-scaling"),
    case(scaling_misspelt, "print-scaling"),
    case(font_taken_out, "font-missing"),
    case(
        meanings_taken_out,
        "letters-unreadable",
        "figure-lost",
        "bar-wrong",
        "letter-unknown",
    ),
    case(description_taken_out, "figure-undescribed"),
    case(structure_taken_out, "not-tagged"),
    case(link_abroad, "link-outside"),
    case(link_to_nowhere, "link-lost"),
    case(script_added, "action-found"),
    case(version_changed, "version-missing"),
    case(licence_changed, "licence-missing"),
    case(contract_taken_out, "no-contract"),
    case(facts_of_another, "facts-differ", facts=True),
    case(page_broken, "content-damaged"),
)

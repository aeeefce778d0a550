"""The author's photographs: what is printed of them, what is not, and what a maker is told."""

from __future__ import annotations

import io
from collections.abc import Callable
from pathlib import Path

import pikepdf
import pytest
from markupsafe import escape
from PIL import Image, ImageCms, ImageDraw

from patternpress.assembly.model import work_out
from patternpress.booklet.build import PressError, press_model
from patternpress.booklet.photographs import (
    COVER_ROOM,
    FINEST,
    as_picture,
    read_photograph,
)
from patternpress.booklet.ready import check_photographs
from patternpress.design.problem import Problem
from patternpress.design.read import read_text
from tests.design.faulty import told
from tests.whole.small import BODY, STEP, TOP

COVER = "cover: {words: A tray., picture: tray.jpg, shows: the tray on a sill}\n"
DESIGN = TOP + COVER + BODY + STEP


def scene(size: tuple[int, int], dark: int = 20, light: int = 235) -> Image.Image:
    """A light tray before a dark wall, so that tones and edges can be told."""
    image = Image.new("RGB", size, (dark, dark, dark))
    box = (size[0] // 4, size[1] // 4, 3 * size[0] // 4, 3 * size[1] // 4)
    ImageDraw.Draw(image).rectangle(box, fill=(light, light - 10, light - 20))
    return image


def saved(image: Image.Image, form: str = "JPEG", **more: object) -> bytes:
    out = io.BytesIO()
    image.save(out, form, **more)
    return out.getvalue()


def camera(place: bool = True) -> Image.Exif:
    """What a camera writes down: maker, time, where it stood (Exif 2.32 tags)."""
    exif = Image.Exif()
    exif[0x010F], exif[0x0110] = "Cameramaker", "Model Nine"
    exif[0x0132] = "2024:05:06 07:08:09"
    if place:
        exif[0x8825] = {1: "N", 2: (54.0, 10.0, 58.7), 3: "E", 4: (7.0, 53.0, 1.2)}
    return exif


def found(folder: Path, data: bytes | None, text: str = DESIGN) -> tuple[Problem, ...]:
    if data is not None:
        (folder / "tray.jpg").write_bytes(data)
    return tuple(check_photographs(read_text(text, "tray.yaml", folder)))


def described(pdf: bytes) -> list[str]:
    """What a screen reader is told of the pictures of a booklet."""
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        return [
            str(each["/Alt"])
            for each in opened.objects
            if isinstance(each, pikepdf.Dictionary) and "/Alt" in each
        ]


Made = Callable[[Path], tuple[Problem, ...]]
GOOD = (2000, 1500)

# Code -> how it comes about, and everything that a maker is told.
TOLD: dict[str, tuple[Made, str]] = {
    "photograph-unreadable": (
        lambda folder: found(folder, None),
        """
        # error photograph-unreadable: the photograph “tray.jpg” cannot be printed:
        no such file or directory
        # mend: put the file beside the design, as JPEG or PNG, and write its name with its ending.
        """,
    ),
    "photograph-undescribed": (
        lambda folder: found(
            folder, saved(scene(GOOD)), DESIGN.replace(", shows: the tray on a sill", "")
        ),
        """
        # error photograph-undescribed: no words say what the photograph “tray.jpg” shows
        # mend: say it in a few words, such as `shows: the desk in a window, its lid open`.
        """,
    ),
    "photograph-coarse": (
        lambda folder: found(folder, saved(scene((600, 400)))),
        """
        # warning photograph-coarse: the photograph “tray.jpg” has 102 pixels to the inch at
        150 x 100 mm; from 150 on it prints well
        # mend: take the picture as the camera made it, not a copy made smaller for sending.
        """,
    ),
    "photograph-flat": (
        lambda folder: found(folder, saved(scene(GOOD, 120, 160))),
        """
        # warning photograph-flat: light and dark of the photograph “tray.jpg” run together on a
        grey printer
        # mend: put the piece before something lighter or darker, or give the picture more contrast.
        """,
    ),
    "photograph-dark": (
        lambda folder: found(folder, saved(scene(GOOD, 2, 110))),
        """
        # warning photograph-dark: the photograph “tray.jpg” is so dark that it prints nearly black
        # mend: make it lighter, or take it in better light.
        """,
    ),
}


@pytest.mark.parametrize("code", TOLD)
def test_a_fault_of_a_photograph_is_told_in_full_and_alone(code: str, tmp_path: Path) -> None:
    make, words = TOLD[code]
    (problem,) = make(tmp_path)
    line = DESIGN.splitlines()[problem.span.line - 1]
    assert line[problem.span.column - 1 : problem.span.end_column - 1] == "tray.jpg"
    said, mend = told(problem)
    level, _, rest = said.removeprefix("# ").split(" ", 2)
    assert " ".join([f"# {level} {rest}", mend]) == " ".join(words.split())


def test_a_good_photograph_gives_no_problem(tmp_path: Path) -> None:
    assert found(tmp_path, saved(scene(GOOD))) == ()


@pytest.mark.parametrize(
    ("data", "reason"),
    [
        (b"", "it is no JPEG"),
        (b"GIF89a" + bytes(40), "it is no JPEG"),
        (saved(scene(GOOD))[:5000], "damaged"),
        (b"%!PS-Adobe-3.0 EPSF-3.0\n%%BoundingBox: 0 0 9 9\n", "it is no JPEG"),
        (b"<svg xmlns='http://www.w3.org/2000/svg'/>", "it is no JPEG"),
        (saved(Image.new("1", (12_000, 9_000)), "PNG"), "million pixels"),
    ],
)
def test_what_is_no_picture_or_too_large_is_told(data: bytes, reason: str, tmp_path: Path) -> None:
    (problem,) = found(tmp_path, data)
    assert problem.code == "photograph-unreadable"
    assert reason in problem.what


def test_nothing_outside_the_folder_is_read(tmp_path: Path) -> None:
    folder = tmp_path / "designs"
    folder.mkdir()
    (tmp_path / "secret.jpg").write_bytes(saved(scene(GOOD)))
    (folder / "link.jpg").symlink_to(tmp_path / "secret.jpg")
    (folder / "folder.jpg").mkdir()
    for name in ("../secret.jpg", str(tmp_path / "secret.jpg"), "link.jpg", "http://x.org/a.jpg"):
        (problem,) = found(folder, None, DESIGN.replace("tray.jpg", name))
        assert problem.code == "photograph-unreadable"
    (problem,) = found(folder, None, DESIGN.replace("tray.jpg", "folder.jpg"))
    assert "it is not a file" in problem.what


def test_nothing_of_the_camera_is_left_in_the_booklet(tmp_path: Path) -> None:
    """Not in the prepared photograph, and not in the PDF: neither place, maker nor time."""
    image = scene(GOOD)
    data = saved(image, exif=camera(), comment=b"from the attic window")
    assert b"Model Nine" in data
    found(tmp_path, data)
    made = read_photograph(tmp_path, "tray.jpg", COVER_ROOM).data
    with Image.open(io.BytesIO(made)) as opened:
        assert not opened.getexif()
        assert not {"exif", "comment", "icc_profile", "photoshop", "xmp"} & {*opened.info}
    pdf = press_model(work_out(read_text(DESIGN, "tray.yaml", tmp_path), "metric")).pdf
    with pikepdf.open(io.BytesIO(pdf)) as opened_pdf:
        raw = [
            each.read_raw_bytes()
            for each in opened_pdf.objects
            if isinstance(each, pikepdf.Stream) and each.get("/Subtype") == "/Image"
        ]
    assert len(raw) == 1
    assert not any(word in raw[0] + pdf for word in (b"Model Nine", b"Cameramaker", b"attic"))


XMP = b"<x:xmpmeta xmlns:x='adobe:ns:meta/'><Iptc4xmpCore:Location>attic</Iptc4xmpCore:Location>"


@pytest.mark.parametrize("form", ["JPEG", "PNG", "WEBP", "TIFF"])
def test_place_camera_and_notes_are_removed_from_every_kind_of_file(
    form: str, tmp_path: Path
) -> None:
    exif = camera()
    data = saved(scene(GOOD), form, exif=exif, xmp=XMP) if form != "TIFF" else tagged_tiff()
    assert b"Model Nine" in data and (b"attic" in data or form == "PNG")
    found(tmp_path, data)
    made = read_photograph(tmp_path, "tray.jpg", COVER_ROOM).data
    with Image.open(io.BytesIO(made)) as opened:
        assert not opened.getexif()
        assert {*opened.info} <= {"jfif", "jfif_version", "jfif_unit", "jfif_density"}
    assert not any(word in made for word in (b"Model Nine", b"Cameramaker", b"attic", b"2024:05"))


def tagged_tiff() -> bytes:
    """A TIFF that says who made it, and its XMP (TIFF 6.0, tags 271 and 272; 700 is XMP's)."""
    return saved(scene(GOOD), "TIFF", tiffinfo={271: "Cameramaker", 272: "Model Nine", 700: XMP})


@pytest.mark.parametrize(("turn", "corner"), [(1, (0, 0)), (3, (1, 1)), (6, (1, 0)), (8, (0, 1))])
def test_a_turned_camera_gives_an_upright_picture(
    turn: int, corner: tuple[int, int], tmp_path: Path
) -> None:
    """Exif 2.32, tag 0x0112: 3 is half a turn, 6 a quarter clockwise, 8 one the other way."""
    image = scene((1600, 800))
    ImageDraw.Draw(image).rectangle((0, 0, 200, 200), fill="white")
    exif = Image.Exif()
    exif[0x0112] = turn
    found(tmp_path, saved(image, exif=exif))
    made = read_photograph(tmp_path, "tray.jpg", COVER_ROOM)
    with Image.open(io.BytesIO(made.data)) as opened:
        wide, high = opened.size
        assert (wide > high) == (turn in (1, 3)) == (made.width > made.height)
        at = [20 + round(c * (s - 40)) for c, s in zip(corner, (wide, high), strict=True)]
        assert min(opened.getpixel((at[0], at[1]))) > 200


def test_pixels_are_at_most_as_fine_as_a_printer_shows_and_never_made_up(tmp_path: Path) -> None:
    found(tmp_path, saved(scene((6000, 4000))))
    fine = read_photograph(tmp_path, "tray.jpg", COVER_ROOM)
    with Image.open(io.BytesIO(fine.data)) as opened:
        assert opened.size[0] / (fine.width / 25.4) == pytest.approx(FINEST, rel=0.001)
    found(tmp_path, saved(scene((300, 200))))
    with Image.open(io.BytesIO(read_photograph(tmp_path, "tray.jpg", COVER_ROOM).data)) as opened:
        assert opened.size == (300, 200)


def test_profiles_and_clear_places_are_worked_in(tmp_path: Path) -> None:
    clear = scene(GOOD).convert("RGBA")
    clear.paste((0, 0, 0, 0), (0, 0, 400, 400))
    found(tmp_path, saved(clear, "PNG"))
    made = read_photograph(tmp_path, "tray.jpg", COVER_ROOM)
    with Image.open(io.BytesIO(made.data)) as opened:
        assert min(opened.getpixel((20, 20))) > 245, "what is clear shows the paper"
    lab = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    found(tmp_path, saved(scene(GOOD), icc_profile=lab))
    assert read_photograph(tmp_path, "tray.jpg", COVER_ROOM).spread > 0.8
    found(tmp_path, saved(scene(GOOD).convert("CMYK")))
    assert read_photograph(tmp_path, "tray.jpg", COVER_ROOM).spread > 0.5


def test_the_words_for_a_photograph_are_in_the_pdf_and_harm_nothing(tmp_path: Path) -> None:
    found(tmp_path, saved(scene(GOOD)))
    made = read_photograph(tmp_path, "tray.jpg", COVER_ROOM)
    svg = as_picture(made, escape('a <b>tray</b> & "sill"'))
    assert "<b>" not in svg
    pdf = press_model(work_out(read_text(DESIGN, "tray.yaml", tmp_path), "metric")).pdf
    assert "the tray on a sill" in described(pdf)


def test_a_photograph_that_goes_after_the_check_stops_the_press(tmp_path: Path) -> None:
    found(tmp_path, saved(scene(GOOD)))
    model = work_out(read_text(DESIGN, "tray.yaml", tmp_path), "metric")
    (tmp_path / "tray.jpg").unlink()
    with pytest.raises(PressError, match="no such file"):
        press_model(model)


def test_the_same_file_gives_the_same_bytes(tmp_path: Path) -> None:
    found(tmp_path, saved(scene(GOOD), exif=camera()))
    one = read_photograph(tmp_path, "tray.jpg", COVER_ROOM)
    found(tmp_path, saved(scene(GOOD), exif=camera(place=False)))
    assert read_photograph(tmp_path, "tray.jpg", COVER_ROOM).data == one.data


def test_a_photograph_of_a_step_stands_with_the_step(tmp_path: Path) -> None:
    text = TOP + BODY + STEP + "    picture: {of: the rim held by hand, file: tray.jpg}\n"
    (tmp_path / "tray.jpg").write_bytes(saved(scene(GOOD)))
    reading = read_text(text, "tray.yaml", tmp_path)
    assert tuple(check_photographs(reading)) == ()
    pdf = press_model(work_out(reading, "metric")).pdf
    assert "the rim held by hand" in described(pdf)

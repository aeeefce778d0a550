"""Photographs of the author's own, made ready for the press.

In: the name of a file beside the design and the room it has on the page.  Out: a `Photograph`:
plain sRGB pixels, at most 300 to the inch, in a JPEG that holds nothing else.  A camera writes
where and when it was used into every file; none of that goes into a booklet.
"""

from __future__ import annotations

import hashlib
import io
import warnings
from dataclasses import dataclass
from functools import lru_cache
from html import escape
from pathlib import Path

from markupsafe import Markup
from PIL import Image, ImageCms, ImageFile, ImageOps, ImageStat

from patternpress.design.read import inside

PHOTOGRAPH = "photograph:"  # begins the addresses that the press is asked for
MM_PER_INCH = 25.4
FINEST = 300  # pixels to the inch; what a home printer can show of a photograph
COARSEST = 150  # below this the pixels show at arm's length (common practice, no source)
LARGEST_FILE = 40_000_000  # bytes
MOST_PIXELS = 80_000_000
LEAST_SPREAD = 0.30  # of white: below it, light and dark run together on a grey printer
DARKEST = 0.22  # of white: a mean below this prints as a black slab (common practice, no source)
QUALITY = 88
FORMS = ("JPEG", "PNG", "WEBP", "TIFF")

COVER_ROOM = (150.0, 118.0)  # mm
STEP_ROOM = (92.0, 92.0)


@dataclass(frozen=True)
class Photograph:
    """A photograph as it will be printed.

    `width` and `height` in mm; `fineness` is what the author's file has, in pixels to the inch at
    that size; `mean` and `spread` of its grey tones are shares of white.
    """

    data: bytes
    width: float
    height: float
    fineness: float
    mean: float
    spread: float

    @property
    def address(self) -> str:
        """Where the press finds its bytes: a fingerprint, so a changed file is another one."""
        return PHOTOGRAPH + hashlib.blake2b(self.data, digest_size=12).hexdigest()


class PhotographError(Exception):
    """A photograph that cannot be printed; `reason` is in a maker's words."""

    def __init__(self, reason: str) -> None:
        super().__init__(reason)
        self.reason = reason


def read_photograph(folder: Path, name: str, room: tuple[float, float]) -> Photograph:
    """Return the photograph `name`, as large as `room` (mm) allows; raises PhotographError.

    Nothing outside the design's `folder` is read, links followed.
    """
    path = inside(folder, name)
    if path is None:
        raise PhotographError("it lies outside the folder of the design")
    try:
        if path.exists() and not path.is_file():
            raise PhotographError("it is not a file")
        with path.open("rb") as file:
            data = file.read(LARGEST_FILE + 1)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "no such file"
        raise PhotographError(reason[:1].lower() + reason[1:]) from None
    if len(data) > LARGEST_FILE:
        raise PhotographError(f"the file is larger than {LARGEST_FILE // 1_000_000} MB")
    return _made_ready(data, room)


@lru_cache(maxsize=64)
def _made_ready(data: bytes, room: tuple[float, float]) -> Photograph:
    """The same file is asked for by the check and by each edition: its pixels are read once."""
    with warnings.catch_warnings():
        warnings.simplefilter("error", Image.DecompressionBombWarning)
        # The press engine tells the decoder to let torn files pass; here they are to be told.
        lenient, ImageFile.LOAD_TRUNCATED_IMAGES = ImageFile.LOAD_TRUNCATED_IMAGES, False
        try:
            with Image.open(io.BytesIO(data), formats=FORMS) as opened:
                return _fitted(opened, room)
        except PhotographError:
            raise
        except Exception as problem:  # a broken file may fail in any way that a decoder can
            raise PhotographError(_broken(problem)) from None
        finally:
            ImageFile.LOAD_TRUNCATED_IMAGES = lenient


def _broken(problem: Exception) -> str:
    if isinstance(problem, Image.DecompressionBombWarning | Image.DecompressionBombError):
        return f"it has more than {MOST_PIXELS // 1_000_000} million pixels"
    return "it is no JPEG, PNG, WebP or TIFF picture, or the file is damaged"


def _fitted(opened: Image.Image, room: tuple[float, float]) -> Photograph:
    if opened.width * opened.height > MOST_PIXELS:
        raise PhotographError(f"it has more than {MOST_PIXELS // 1_000_000} million pixels")
    wide, high = opened.size
    if opened.getexif().get(0x0112, 1) in (5, 6, 7, 8):  # the camera was held upright (Exif 2.32)
        wide, high = high, wide
    scale = min(room[0] / wide, room[1] / high)  # mm to a pixel
    goal = tuple(
        min(size, max(1, round(size * scale / MM_PER_INCH * FINEST))) for size in (wide, high)
    )
    if opened.format == "JPEG":
        opened.draft("RGB", (2 * max(goal), 2 * max(goal)))  # decodes large ones in a quarter
    upright = ImageOps.exif_transpose(_plain(opened))
    made = upright.resize((goal[0], goal[1]), Image.Resampling.LANCZOS)
    grey = made.convert("L")
    out = io.BytesIO()
    made.save(out, "JPEG", quality=QUALITY, optimize=True, subsampling=0)
    low, top = _percentiles(grey)
    return Photograph(
        out.getvalue(),
        wide * scale,
        high * scale,
        MM_PER_INCH / scale,
        ImageStat.Stat(grey).mean[0] / 255,
        (top - low) / 255,
    )


def _plain(opened: Image.Image) -> Image.Image:
    """Colours as sRGB on white paper, profiles worked in; the Exif still there."""
    exif, profile = opened.getexif(), opened.info.get("icc_profile")
    image: Image.Image = opened
    if image.mode in ("RGBA", "LA", "PA") or "transparency" in image.info:
        image = image.convert("RGBA")
        paper = Image.new("RGBA", image.size, "white")
        image = Image.alpha_composite(paper, image).convert("RGB")
    elif profile and image.mode in ("RGB", "CMYK", "L"):
        image = _in_srgb(image, profile)
    plain = image.convert("RGB")
    plain.info = {"exif": exif.tobytes()} if exif else {}
    return plain


def _in_srgb(image: Image.Image, profile: bytes) -> Image.Image:
    try:
        source = ImageCms.ImageCmsProfile(io.BytesIO(profile))
        made = ImageCms.profileToProfile(
            image, source, ImageCms.createProfile("sRGB"), outputMode="RGB"
        )
    except (ImageCms.PyCMSError, OSError, ValueError):
        return image  # a damaged profile: its colours as they stand
    return made if made is not None else image


def _percentiles(grey: Image.Image) -> tuple[float, float]:
    """The tones that 2 % and 98 % of the pixels do not reach."""
    counts = grey.histogram()
    total, seen = sum(counts), 0
    found: list[int] = []
    for tone, count in enumerate(counts):
        seen += count
        if len(found) == 0 and seen >= 0.02 * total:
            found.append(tone)
        if len(found) == 1 and seen >= 0.98 * total:
            found.append(tone)
            break
    return float(found[0]), float(found[1])


def as_picture(photograph: Photograph, shows: Markup) -> Markup:
    """Return a photograph as the picture of a page; `shows` says what is seen, for who cannot."""
    wide, high = f"{photograph.width:.2f}", f"{photograph.height:.2f}"
    title = escape(str(shows.striptags()))
    return Markup(
        f'<svg xmlns="http://www.w3.org/2000/svg" class="photograph" width="{wide}mm" '
        f'height="{high}mm" viewBox="0 0 {wide} {high}"><title>{title}</title>'
        f'<image href="{photograph.address}" width="{wide}" height="{high}"/></svg>'
    )

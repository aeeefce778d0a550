"""Compose the pages: from content to sections of HTML.

In: a `Content`, a `Theme` and a `PageStyle`.  Out: `Section`s, one for each stretch of the booklet
that has something to say, in the order in which they are bound.  A theme's templates run in a
sandbox: they see the content, the fixed words and a few functions, and no file but their own.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from itertools import takewhile
from pathlib import Path
from types import CodeType
from typing import Any

from jinja2 import BytecodeCache, FunctionLoader, StrictUndefined, TemplateSyntaxError
from jinja2.bccache import Bucket
from jinja2.sandbox import ImmutableSandboxedEnvironment, safe_range
from markupsafe import Markup

from patternpress.booklet.binding import (
    PARTS,
    Entry,
    Part,
    entries_of,
    head_marks,
    head_words,
    link_words,
    runs_of,
)
from patternpress.booklet.content import Content
from patternpress.booklet.feet import Foot
from patternpress.booklet.fonts import font_css
from patternpress.booklet.inturn import in_turn
from patternpress.booklet.phrases import Phrases, read_phrases
from patternpress.booklet.prepress import page_of
from patternpress.booklet.press import Section
from patternpress.booklet.prose import is_list
from patternpress.booklet.sizing import (
    balanced_width,
    figure_of,
    height_of,
    height_of_words,
    width_of,
)
from patternpress.booklet.themes import Theme, ThemeError, custom_properties
from patternpress.booklet.typeset import typeset

MOST_TICKS = 12  # boxes in one row of the cutting list
_TICK_WORTH = (1, 10, 50, 100, 1000)

__all__ = [
    "A4",
    "LETTER",
    "PARTS",
    "Entry",
    "PageStyle",
    "Part",
    "Ticks",
    "compose",
    "running_foot",
]


@dataclass(frozen=True)
class PageStyle:
    """Paper and letters.  Lengths in mm.

    Everything is printed inside `live_width` × `live_height`, centred on the paper: by default
    what A4 and Letter have in common when 10 mm are kept clear all round, so that a booklet
    printed on the other paper loses nothing.  `letters` is a size the theme has; `ink` is "normal"
    or "saving".
    """

    width: Fraction
    height: Fraction
    letters: str = "normal"
    ink: str = "normal"
    live_width: Fraction = Fraction(190)
    live_height: Fraction = Fraction(2594, 10)
    clear: Fraction = Fraction(10)


A4 = PageStyle(Fraction(210), Fraction(297))
LETTER = PageStyle(Fraction(2159, 10), Fraction(2794, 10))


@dataclass(frozen=True)
class Ticks:
    """A row of tick boxes: how many boxes, and how many pieces each stands for."""

    boxes: int
    each: int


def compose(
    content: Content, theme: Theme, style: PageStyle = A4, only: str = ""
) -> tuple[Section, ...]:
    """Return the sections of the booklet, one for each run of the theme that has something to say.

    `only`: the key of a part; then just the run that holds it.  Raises ThemeError if a template of
    the theme fails, PhraseError if the language has no words.
    """
    phrases = read_phrases(content.language)
    runs = runs_of(content, theme)
    values = {
        "content": content,
        "entries": entries_of(runs, content, phrases),
        "style": style,
    }
    names = link_words(runs, content, phrases)
    environment = _environment(theme, phrases, style)
    css = (font_css(), page_css(theme, style), *_sheets(theme, "booklet.css"))
    made = []
    for run in runs:
        if only and only not in [part.key for part in run]:
            continue
        parts = [Markup(_render(environment, theme, part.key, **values)) for part in run]
        page = _render(environment, theme, "page", parts=parts, run=run[0].key, **values)
        html = typeset(page, content.language)
        made.append(
            Section(
                key=run[0].key,
                title=names[run[0].key],
                html=html,
                css=css,
                base=theme.folder,
                in_contents=len(run) > 1 or run[0].in_contents,
                photographs={at: data for at, data in content.photographs.items() if at in html},
                parts=len(run),
                names=names,
                paper=(_points(style.width), _points(style.height)),
            )
        )
    return tuple(made)


def running_foot(content: Content, theme: Theme, style: PageStyle = A4) -> Foot:
    """Return the words and the look of the running foot, for `press_book`.

    Raises ThemeError if the theme has no `foot.css`, PhraseError as `compose` does.
    """
    phrases = read_phrases(content.language)
    runs = runs_of(content, theme)
    cover, said = content.cover, phrases.say
    version = said("foot_version", version=cover.version)
    if cover.date:
        version = said("foot_dated", version=version, date=cover.date)
    told = (cover.title, cover.edition, Markup("<b>{}</b>").format(version))
    left = typeset(Markup(" · ").join(each for each in told if each), content.language)
    css = (font_css(), page_css(theme, style, pages=False), *_sheets(theme, "foot.css"))
    sizes = theme.sizes_for(style.letters)
    most = int(sizes["running-most"])
    if "running-shares" in sizes:  # the line of title and version
        most = min(most, int(sizes["running-shares"]) - len(Markup(left).striptags()))
    return Foot(
        Markup(left),
        said("foot_right", page="{page}", pages="{pages}"),
        css,
        head_marks(runs, content, phrases),
        head_words(phrases),
        most,
    )


def page_css(theme: Theme, style: PageStyle, *, pages: bool = True) -> str:
    """Return the theme's values as CSS custom properties and, unless `pages` is False, the page.

    The margins leave exactly the live area, less the theme's `head` above and `foot` below for
    the running words.  Pages are laid out on A4 whatever their paper, and put on it afterwards;
    running words are laid out on the paper itself.  A page called `whole` has no head: covers and
    templates use it.
    """
    live_width = min(style.live_width, style.width - 2 * style.clear)
    live_height = min(style.live_height, style.height - 2 * style.clear)
    sheet = A4 if pages else style
    side = _mm((sheet.width - live_width) / 2)
    ends = _mm((sheet.height - live_height) / 2)
    values = {
        **custom_properties(theme, style.letters, style.ink),
        "--live-width": _mm(live_width),
        "--frame-height": f"calc({_mm(live_height)} - var(--size-foot))",
        "--head-top": ends,
        "--foot-side": f"calc({side} + var(--size-inset))",
        "--foot-bottom": f"calc({ends} + 1mm)",  # descenders stay inside
    }
    lines = "\n".join(f"  {key}: {value};" for key, value in values.items())
    root = f":root {{\n{lines}\n}}\n"
    if not pages:
        return root
    size = f"{_mm(sheet.width)} {_mm(sheet.height)}"
    head, foot = values.get("--size-head", "0mm"), values["--size-foot"]
    margins = f"calc({ends} + {head}) {side} calc({ends} + {foot}) {side}"
    whole = f"@page whole {{ margin-top: {ends}; }}\n"
    return f"{root}@page {{ size: {size}; margin: {margins}; }}\n{whole}"


def ticks(quantity: int) -> Ticks:
    """Return the boxes to tick for `quantity` pieces.

    One for each piece while a row holds them; else one for 10, 50, 100 or 1000 pieces.
    """
    small = list(takewhile(lambda worth: quantity > worth * MOST_TICKS, _TICK_WORTH[:-1]))
    each = _TICK_WORTH[len(small)]
    return Ticks(boxes=min(-(-quantity // each), MOST_TICKS), each=each)


class _Compiled(BytecodeCache):
    """Templates as they were compiled before, by their text: one that was edited is compiled anew.

    Compiling them took a third of composing a booklet.
    """

    def __init__(self) -> None:
        self._codes: dict[str, tuple[str, CodeType | None]] = {}

    def load_bytecode(self, bucket: Bucket) -> None:
        """Give a template its code, if its text is still the same."""
        text, code = self._codes.get(bucket.key, ("", None))
        if text == bucket.checksum:
            bucket.code = code

    def dump_bytecode(self, bucket: Bucket) -> None:
        """Keep a template's code."""
        self._codes[bucket.key] = (bucket.checksum, bucket.code)


_COMPILED = _Compiled()


def _environment(theme: Theme, phrases: Phrases, style: PageStyle) -> ImmutableSandboxedEnvironment:
    sizes = {
        **theme.sizes,
        **theme.letters.get(style.letters, {}),
        "live": str(float(style.live_width)),
    }
    environment = ImmutableSandboxedEnvironment(
        bytecode_cache=_COMPILED,
        loader=FunctionLoader(lambda name: _template(theme, name)),
        undefined=StrictUndefined,
        autoescape=True,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.filters.update(width=width_of, height=height_of)
    environment.globals.clear()  # no lipsum, no cycler: only what is named here
    environment.globals.update(
        range=safe_range,
        say=phrases.say,
        ticks=ticks,
        height_of_words=height_of_words,
        balanced_width=balanced_width,
        in_turn=in_turn,
        is_list=is_list,
        size=lambda name: figure_of(sizes[name]),
        page_of=lambda anchor: Markup(page_of(str(anchor))),
        language=phrases.language,
    )
    return environment


def _render(
    environment: ImmutableSandboxedEnvironment, theme: Theme, key: str, **values: Any
) -> str:
    name = f"{key}.html"
    try:
        return environment.get_template(name).render(key=key, **values)
    except ThemeError:
        raise
    except Exception as problem:  # a template may fail in any way that Python can
        place = _place(problem, theme.folders) or name
        raise ThemeError(f"{place} of the theme “{theme.name}” fails: {problem}.") from problem


def _place(problem: Exception, folders: tuple[Path, ...]) -> str:
    """Return "steps.html, line 12": the innermost line of a template that led to `problem`."""
    if isinstance(problem, TemplateSyntaxError):
        return f"{problem.name}, line {problem.lineno}"
    place, trace = "", problem.__traceback__
    while trace:
        file = Path(trace.tb_frame.f_code.co_filename)
        if file.parent in folders:
            place = f"{file.name}, line {trace.tb_lineno}"
        trace = trace.tb_next
    return place


def _theme_file(theme: Theme, name: str) -> Path:
    """Return a file of the theme, or of the theme that it is like.

    Nothing outside their folders is ever read.  Raises ThemeError if there is no such file.
    """
    for folder in theme.folders:
        path = (folder / name).resolve()
        if path.is_relative_to(folder) and path.is_file():
            return path
    raise ThemeError(f"The theme “{theme.name}” has no file “{name}”.")


def _sheets(theme: Theme, name: str) -> tuple[str, ...]:
    """Return a stylesheet of the theme, after those of the themes that it is like."""
    found = [folder / name for folder in theme.folders if (folder / name).is_file()]
    if not found:
        raise ThemeError(f"The theme “{theme.name}” has no file “{name}”.")
    return tuple(path.read_text(encoding="utf-8") for path in reversed(found))


def _template(theme: Theme, name: str) -> tuple[str, str, None]:
    """Return a template's text and its path, by which `_place` knows it again."""
    path = _theme_file(theme, name)
    return path.read_text(encoding="utf-8"), str(path), None


def _mm(length: Fraction) -> str:
    """Return an exact length in mm for CSS; every length of a page has a finite decimal."""
    return f"{Decimal(length.numerator) / Decimal(length.denominator)}mm"


def _points(length: Fraction) -> float:
    return float(length * 72 / Fraction(254, 10))

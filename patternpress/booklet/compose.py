"""Compose the pages: from content to sections of HTML.

In: a `Content`, a `Theme` and a `PageStyle`.  Out: `Section`s, one for each stretch of the booklet
that has something to say, in the order in which they are bound.  A theme's templates run in a
sandbox: they see the content, the fixed words and a few functions, and no file but their own.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from itertools import takewhile
from pathlib import Path
from typing import Any

from jinja2 import FunctionLoader, StrictUndefined, TemplateSyntaxError
from jinja2.sandbox import ImmutableSandboxedEnvironment, safe_range
from markupsafe import Markup

from patternpress.booklet.content import Content, Finishing, Making, Needs, Plan
from patternpress.booklet.feet import Foot
from patternpress.booklet.fonts import font_css
from patternpress.booklet.phrases import Phrases, read_phrases
from patternpress.booklet.prepress import page_of
from patternpress.booklet.press import Section
from patternpress.booklet.themes import Theme, ThemeError, custom_properties

MOST_STEPS_LISTED = 30  # in the contents
MOST_TICKS = 12  # boxes in one row of the cutting list
_WIDTH = re.compile(r'<svg\b[^>]*?\swidth="([0-9.]+)mm"')
_TICK_WORTH = (1, 10, 50, 100, 1000)


@dataclass(frozen=True)
class PageStyle:
    """Paper and letters.  Lengths in mm.

    Everything is printed inside `live_width` × `live_height`, centred on the paper: by default
    what A4 and Letter have in common when 10 mm are kept clear all round, so that a booklet
    printed on the other paper loses nothing.  `letters` is a size the theme has.
    """

    width: Fraction
    height: Fraction
    letters: str = "normal"
    live_width: Fraction = Fraction(190)
    live_height: Fraction = Fraction(2594, 10)
    clear: Fraction = Fraction(10)


A4 = PageStyle(Fraction(210), Fraction(297))
LETTER = PageStyle(Fraction(2159, 10), Fraction(2794, 10))


@dataclass(frozen=True)
class Entry:
    """One line of the contents: the anchor it points to, its words, and the lines under it."""

    anchor: str
    title: str
    under: tuple[Entry, ...] = ()


@dataclass(frozen=True)
class Ticks:
    """A row of tick boxes: how many boxes, and how many pieces each stands for."""

    boxes: int
    each: int


@dataclass(frozen=True)
class Part:
    """A section as the theme knows it: its template is `<key>.html`, its title the words `key`."""

    key: str
    present: Callable[[Content], bool]
    in_contents: bool = True


PARTS = (
    Part("cover", lambda content: True, in_contents=False),
    Part("contents", lambda content: bool(content.steps or content.glossary), in_contents=False),
    Part("make", lambda content: content.making != Making()),
    Part("print", lambda content: bool(content.templates or content.printing.bars)),
    Part("cautions", lambda content: bool(content.cautions)),
    Part("finishing", lambda content: content.finishing != Finishing()),
    Part("needs", lambda content: content.needs != Needs()),
    Part("cutting", lambda content: bool(content.cutting)),
    Part("layouts", lambda content: bool(content.layouts)),
    Part("templates", lambda content: bool(content.templates)),
    Part("plan", lambda content: content.plan != Plan()),
    Part("steps", lambda content: bool(content.steps)),
    Part("imprint", lambda content: True),
)


def compose(content: Content, theme: Theme, style: PageStyle = A4) -> tuple[Section, ...]:
    """Return the sections of the booklet; those without content are left out.

    Raises ThemeError if a template of the theme fails, PhraseError if the language has no words.
    """
    phrases = read_phrases(content.language)
    here = [part for part in PARTS if part.present(content)]
    entries = tuple(_entry(part, content, phrases) for part in here if part.in_contents)
    environment = _environment(theme, phrases)
    css = (font_css(), page_css(theme, style), _theme_file(theme, "booklet.css"))
    made = []
    for part in here:
        title = content.cover.title if part.key == "cover" else str(phrases.say(part.key))
        html = _render(environment, theme, part.key, content=content, entries=entries, style=style)
        shown = {at: data for at, data in content.photographs.items() if at in html}
        made.append(
            Section(part.key, title, html, css, theme.folder, part.in_contents, photographs=shown)
        )
    return tuple(made)


def running_foot(content: Content, theme: Theme, style: PageStyle = A4) -> Foot:
    """Return the words and the look of the running foot, for `press_book`.

    Raises ThemeError if the theme has no `foot.css`, PhraseError as `compose` does.
    """
    say = read_phrases(content.language).say
    cover = content.cover
    key = "foot_left" if cover.date else "foot_left_undated"
    left = say(key, title=cover.title, version=cover.version, date=cover.date)
    right = say("foot_right", page="{page}", pages="{pages}")
    css = (font_css(), page_css(theme, style, pages=False), _theme_file(theme, "foot.css"))
    return Foot(left.unescape(), right.unescape(), css)


def page_css(theme: Theme, style: PageStyle, *, pages: bool = True) -> str:
    """Return the theme's values as CSS custom properties and, unless `pages` is False, the page.

    The margins leave exactly the live area, less the theme's `foot` below for the running foot.
    """
    live_width = min(style.live_width, style.width - 2 * style.clear)
    live_height = min(style.live_height, style.height - 2 * style.clear)
    side = _mm((style.width - live_width) / 2)
    ends = _mm((style.height - live_height) / 2)
    values = {
        **custom_properties(theme, style.letters),
        "--live-width": _mm(live_width),
        "--frame-height": f"calc({_mm(live_height)} - var(--size-foot))",
        "--foot-side": f"calc({side} + var(--size-inset))",
        "--foot-bottom": f"calc({ends} + 1mm)",  # descenders stay inside
    }
    lines = "\n".join(f"  {key}: {value};" for key, value in values.items())
    root = f":root {{\n{lines}\n}}\n"
    if not pages:
        return root
    size = f"{_mm(style.width)} {_mm(style.height)}"
    margins = f"{ends} {side} calc({ends} + {values['--size-foot']}) {side}"
    return f"{root}@page {{ size: {size}; margin: {margins}; }}\n"


def ticks(quantity: int) -> Ticks:
    """Return the boxes to tick for `quantity` pieces.

    One for each piece while a row holds them; else one for 10, 50, 100 or 1000 pieces.
    """
    small = list(takewhile(lambda worth: quantity > worth * MOST_TICKS, _TICK_WORTH[:-1]))
    each = _TICK_WORTH[len(small)]
    return Ticks(boxes=min(-(-quantity // each), MOST_TICKS), each=each)


def width_of(picture: str) -> float:
    """Return the width of an `<svg>` in mm, or 0 if it does not say; only chooses a place."""
    found = _WIDTH.match(picture.lstrip())
    return float(found[1]) if found else 0.0


def _entry(part: Part, content: Content, phrases: Phrases) -> Entry:
    under: tuple[Entry, ...] = ()
    if part.key == "steps":
        # A buyer looks for a step by its number; so many that they fill the page are told by stage.
        steps = [step for group in content.steps for step in group.steps]
        under = tuple(
            Entry(
                f"step-{step.number.replace(' ', '-')}",
                phrases.say("contents_step", number=step.number, title=step.title),
            )
            for step in steps
        )
        if len(under) > MOST_STEPS_LISTED:
            groups = enumerate(content.steps, start=1)
            under = tuple(
                Entry(f"stage-{n}", group.heading) for n, group in groups if group.heading
            )
    return Entry(part.key, str(phrases.say(part.key)), under)


def _environment(theme: Theme, phrases: Phrases) -> ImmutableSandboxedEnvironment:
    environment = ImmutableSandboxedEnvironment(
        loader=FunctionLoader(lambda name: _template(theme, name)),
        undefined=StrictUndefined,
        autoescape=True,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.globals.clear()  # no lipsum, no cycler: only what is named here
    environment.globals.update(
        range=safe_range,
        say=phrases.say,
        ticks=ticks,
        width_of=width_of,
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
        place = _place(problem, theme.folder) or name
        raise ThemeError(f"{place} of the theme “{theme.name}” fails: {problem}.") from problem


def _place(problem: Exception, folder: Path) -> str:
    """Return "steps.html, line 12": the innermost line of a template that led to `problem`."""
    if isinstance(problem, TemplateSyntaxError):
        return f"{problem.name}, line {problem.lineno}"
    place, trace = "", problem.__traceback__
    while trace:
        file = Path(trace.tb_frame.f_code.co_filename)
        if file.parent == folder:
            place = f"{file.name}, line {trace.tb_lineno}"
        trace = trace.tb_next
    return place


def _theme_file(theme: Theme, name: str) -> str:
    """Return the text of a file of the theme; nothing outside its folder is ever read.

    Raises ThemeError if there is no such file.
    """
    folder = theme.folder.resolve()
    path = (folder / name).resolve()
    if not (path.is_relative_to(folder) and path.is_file()):
        raise ThemeError(f"The theme “{theme.name}” has no file “{name}”.")
    return path.read_text(encoding="utf-8")


def _template(theme: Theme, name: str) -> tuple[str, str, None]:
    """Return a template's text and its path, by which `_place` knows it again."""
    return _theme_file(theme, name), str(theme.folder.resolve() / name), None


def _mm(length: Fraction) -> str:
    """Return an exact length in mm for CSS; every length of a page has a finite decimal."""
    return f"{Decimal(length.numerator) / Decimal(length.denominator)}mm"

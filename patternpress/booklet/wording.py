"""Words and figures for one edition.

In: a `Model` and the fixed words of its language.  Out: markup: sizes shown in the edition's
units, pieces with their letters, and the author's prose with every reference filled in.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property

from babel.numbers import get_decimal_symbol
from markupsafe import Markup, escape

from patternpress.assembly.calls import Calls, calls_of
from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.lookalikes import look_alikes
from patternpress.assembly.model import Model
from patternpress.booklet.phrases import PhraseError, Phrases, read_phrases, with_names
from patternpress.booklet.prose import blocks, inline, is_list
from patternpress.closing.filled import widths
from patternpress.design.reads import Prose
from patternpress.design.references import Ref
from patternpress.design.span import Said
from patternpress.measure.digits import as_printed
from patternpress.measure.errors import MeasureError
from patternpress.measure.figures import Figure, markup, show_angle, show_measure, show_size
from patternpress.measure.formula import Formula
from patternpress.measure.nodes import Manner, Measure, Property
from patternpress.measure.quantity import Kind, Quantity
from patternpress.measure.unitwords import in_language

NOTHING = Markup()
TIMES = ((60 * 24, "days"), (60, "hours"), (1, "minutes"))


@dataclass(frozen=True)
class Wording:
    """What words a model; every method returns markup that is safe to print.

    `building` is the sub-assembly that the step at hand builds; while pieces are joined,
    `joining`, a part that is named stands for the one piece of it that is there.
    """

    model: Model
    phrases: Phrases
    building: str = ""
    joining: bool = False

    @cached_property
    def alike(self) -> Mapping[str, tuple[str, ...]]:
        """The parts that each part is taken for: asked for in every row of every list."""
        return look_alikes(self.model.worked)

    @cached_property
    def _said(self) -> Phrases:
        """The fixed words, and what becomes of names: those with articles, those with numbers."""
        every = (piece for part in self.model.worked.parts for piece in part.pieces)
        counted = (self.calls.one(each) for each in every if each[-1:].isdecimal())
        given = (*self.calls.given_names, *counted)
        return with_names(self.phrases, self.calls.language, given)

    @cached_property
    def calls(self) -> Calls:
        """What the things of the design are called in the edition's language."""
        return calls_of(self.model.worked.book, self.model.edition.language)

    def name(self, name: str) -> Markup:
        """The name of a thing as it is printed; one that the language lacks is marked."""
        words = Markup(escape(self.calls.one(name)))
        return words if self.calls.knows(name) else self._theirs(words)

    def several(self, name: str) -> Markup:
        """The name for several of a thing; one that the language lacks is marked."""
        words = Markup(escape(self.calls.several(name)))
        return words if self.calls.knows(name) else self._theirs(words)

    def label(self, words: str) -> Markup:
        """What the author typed as a label and may speak of things, such as an outcome."""
        said = self.text(self.calls.given(words))
        return said if self.calls.knows(words) else self._theirs(said)

    def say(self, key: str, **values: object) -> Markup:
        """Fixed words with values in their places."""
        return self._said.say(key, **values)

    def counted(self, key: str, number: Fraction | int, **values: object) -> Markup:
        """Fixed words in the plural form that a number of things takes."""
        return self._said.counted(key, number, **values)

    def local(self, text: str) -> str:
        """A size of no language, such as a drill's, with the edition's decimal sign and units."""
        locale = self.model.edition.display.locale
        sign = get_decimal_symbol(locale.replace("-", "_"))
        text = re.sub(r"\bNo\. (?=\d)", self.phrases.texts["bit_number"], text)
        return in_language(re.sub(r"(?<=\d)\.(?=\d)", sign, text), locale)

    def listed_in(self, key: str) -> tuple[str, ...]:
        """Fixed words that are a list with commas."""
        return tuple(self.phrases.texts[key].split(", "))

    def meant(self, key: str) -> tuple[str, ...]:
        """Such a list in the language of the author's names; English where it has no words."""
        try:
            own = read_phrases(self.own_language)
        except PhraseError:
            own = read_phrases("en")
        return tuple(own.texts[key].split(", "))

    @property
    def plurals(self) -> bool:
        """Whether the author's names can be put in the plural: English names among English."""
        return all(
            each.partition("-")[0] == "en" for each in (self.own_language, self.phrases.language)
        )

    @property
    def own_language(self) -> str:
        """The main language of the author's texts."""
        languages = self.model.worked.book.languages
        return languages[0].value if languages else "en"

    def size(self, *lengths: Quantity) -> Markup:
        """Lengths that belong together: 80 × 42 × 2 mm."""
        return _marked(show_size(lengths, self.model.edition.display)) if lengths else NOTHING

    def enlarged(self, lengths: Sequence[Quantity], times: Fraction) -> Markup:
        """Lengths that belong together, so many times as large as they are printed.

        Who multiplies the figure of the page must come to this one, in either system.
        """
        if not lengths:
            return NOTHING
        display = self.model.edition.display
        first, *rest = (
            [as_printed(each, system, display) * times for each in lengths]
            for system in display.systems
        )
        pairs = tuple(zip(first, *rest, strict=True)) if rest else ()
        large = replace(display, beside=pairs)
        return _marked(show_size([Quantity(each, Kind.LENGTH) for each in first], large))

    def mm(self, value: Fraction) -> Markup:
        """One length given in millimetres."""
        return self.size(Quantity(value, Kind.LENGTH))

    def said(self, said: Said[Formula] | None) -> Markup:
        """A formula's measure, with its manner (about, at most, a range)."""
        measure = self.model.worked.solver.measure(said) if said else None
        return self.measure(measure) if measure else NOTHING

    def bore(self, said: Said[Formula]) -> Markup:
        """How wide a hole is."""
        measure = self.model.worked.solver.measure(said)
        display = self.model.edition.display.bored
        return _marked(show_measure(measure, display, self._manners())) if measure else NOTHING

    def groove(self, said: Said[Formula]) -> Markup:
        """How wide a groove is."""
        measure = self.model.worked.solver.measure(said)
        display = self.model.edition.display.grooved
        return _marked(show_measure(measure, display, self._manners())) if measure else NOTHING

    def degrees(self, value: Fraction) -> Markup:
        """An angle in degrees."""
        return _marked(show_angle(Quantity(value, Kind.ANGLE), self.model.edition.display))

    def measure(self, measure: Measure) -> Markup:
        """A measure of any kind."""
        if measure.low.kind is Kind.TIME:
            return self.time(measure)
        if measure.low.kind is Kind.ANGLE and measure.high is None:
            return _marked(show_angle(measure.low, self.model.edition.display))
        return _marked(show_measure(measure, self.model.edition.display, self._manners()))

    def _manners(self) -> dict[str, str]:
        words = {key: str(self.phrases.texts[f"figure_{key}"]) for key in _MANNERS}
        return {key.replace("_", " "): text for key, text in words.items()}

    def range_of(self, low: Quantity, high: Quantity) -> Markup:
        """A range, its ends rounded inwards; one figure where the ends are alike."""
        if low.value == high.value:
            return self.size(low)
        return self.measure(Measure(low, high, Manner.RANGE))

    def time(self, measure: Measure) -> Markup:
        """A time in minutes, hours or days, with its manner or least to most."""
        shown = self._time(measure)
        if measure.manner in (Manner.EXACT, Manner.RANGE):
            return shown
        key = f"figure_{measure.manner.value.replace(' ', '_')}"
        return Markup(escape(self.phrases.texts[key])).format(shown)

    def _time(self, measure: Measure) -> Markup:
        low, high = measure.low.value, (measure.high or measure.low).value
        worth, word = next(
            (each for each in TIMES if low >= each[0] * 2 or low == each[0]), TIMES[-1]
        )
        if low % worth or high % worth:
            worth, word = TIMES[-1]
        first, last = (self.local(_number(each / worth)) for each in (low, high))
        if first == last:
            return self.counted(f"time_{word}", low / worth, figure=first)
        # CLDR's plural ranges: in these languages a range counts like its upper end.
        span = self.say("figure_range_of", low=first, high=last)
        return self.counted(f"time_{word}", high / worth, figure=span)

    def part(self, part: CutPart, piece: str = "") -> Markup:
        """A piece or part with its letter: “shelf (D)”."""
        return self.lettered(self.name(piece or part.name), part)

    def lettered(self, name: Markup, part: CutPart) -> Markup:
        """A name of a part with the part's letter."""
        return self.say("piece_lettered", piece=name, letter=part.letter)

    def thing(self, name: str) -> Markup:
        """A piece with its letter, or a sub-assembly, mark or tool by name."""
        if name in self.model.worked.usage.in_copies:
            piece, copy = self.model.worked.usage.in_copies[name]
            whose = self.say("the", thing=self.name(copy))
            return self.say("piece_of_copy", piece=self.thing(piece), copy=whose)
        owner = self.model.worked.usage.part_of.get(name, name)
        part = next((each for each in self.model.worked.parts if each.name == owner), None)
        return self.part(part, name) if part else self.name(name)

    def prose(self, prose: Prose | None) -> Markup:
        """The author's words in the edition's language, references filled in."""
        if prose is None:
            return NOTHING
        said = prose.within(self.model.edition.language)
        if said is None:
            return self._theirs(self.text(prose.main.value))
        return self.text(self._in_units(said.value))

    def text(self, text: str) -> Markup:
        """Any text of the author's, emphasis read and references filled in."""
        return inline(text, self._named)

    def paragraphs(self, prose: Prose | None) -> tuple[Markup, ...]:
        """The author's words, a paragraph or a list each."""
        if prose is None:
            return ()
        said = prose.within(self.model.edition.language)
        if said is None:
            found = blocks(prose.main.value, self._named)
            return tuple(self._theirs(each) for each in found)
        return blocks(self._in_units(said.value), self._named)

    def _in_units(self, text: str) -> str:
        """A text of the edition's language, the units typed in it called as it does."""
        return in_language(text, self.model.edition.display.locale)

    def _theirs(self, words: Markup) -> Markup:
        """Words of the author's main language in an edition of another: marked, and told as such.

        The page sets them in italics, and who reads it aloud knows the language.
        """
        if not words:
            return words
        if is_list(words):
            mark = Markup(' class="theirs" lang="{}"').format(self.own_language)
            return Markup(words[:3]) + mark + Markup(words[3:])
        return Markup('<span class="theirs" lang="{}">{}</span>').format(self.own_language, words)

    def listed(self, things: Iterable[Markup], key: str = "list_and") -> Markup:
        """Things with commas and a last “and”, or with `list_or` a last “or”."""
        return self.phrases.listed(things, key)

    def _named(self, ref: Ref) -> Markup:
        """What a name in angle brackets stands for."""
        asked = ref.asked
        if isinstance(asked, Property):
            return self._quantity(asked)
        kind = self.model.worked.names.find(asked)
        if kind is not None and kind.kind == "size":
            return self._size(asked)
        if kind is not None and kind.kind in ("piece", "part"):
            return self.thing(asked)
        return self.name(asked)

    def _size(self, name: str) -> Markup:
        said = next(each.is_ for each in self.model.worked.book.sizes if each.name.value == name)
        hollow = name in widths(self.model.worked.book)
        return self.groove(said) if hollow and said.value.high is None else self.said(said)

    def _quantity(self, asked: Property) -> Markup:
        try:
            return self.size(self.model.worked.solver.lookup(asked))
        except (KeyError, MeasureError):
            return Markup(escape(f"{asked.what} of {asked.of}"))


def wording_of(model: Model) -> Wording:
    """The words of a model's edition.  Raises PhraseError where its language has none."""
    return Wording(model, read_phrases(model.edition.language))


_MANNERS = ("about", "at_most", "at_least", "range")


def _marked(figure: Figure) -> Markup:
    return Markup(markup(figure))


def _number(value: Fraction) -> str:
    return f"{float(value):.1f}".removesuffix(".0")

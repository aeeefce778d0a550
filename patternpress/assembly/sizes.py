"""Work out every size.

In: a Book.  Out: exact quantities for its sizes, stock and parts, and the problems met.  Sizes
may be named in any order; a ring of them is found and told once.  Where a size is a range (a
clearance, a measured opening) one `Solver` works with its least and another with its most.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction

from patternpress.design.kinds import figures, parts
from patternpress.design.measured import KIND_WORDS, facts_of, kind_of
from patternpress.design.names import Names
from patternpress.design.problem import Kind as ProblemKind
from patternpress.design.problem import Problem, near_name
from patternpress.design.records.book import Book, Size
from patternpress.design.records.goods import Stock
from patternpress.design.records.parts import Opening, Part
from patternpress.design.span import Said, Span
from patternpress.measure.errors import MeasureError
from patternpress.measure.formula import Formula, Name, Property, evaluate
from patternpress.measure.nodes import Literal, Measure
from patternpress.measure.quantity import Kind, Quantity

AXES = ("wide", "deep", "high")
# The axis along which each side of a piece looks.
SIDE_AXIS = {
    "left": "wide",
    "right": "wide",
    "front": "deep",
    "back": "deep",
    "bottom": "high",
    "top": "high",
}
AXIS_OF = {"width": "wide", "depth": "deep", "height": "high"}
# Usual clearance of a fitted part in miniature: common practice, no source ("up to 0.5 mm").
USUAL_LESS = (Fraction(1, 4), Fraction(1, 2))
MINIATURE = Fraction(1, 6)
NO_NAMES = Names()


class UnresolvedError(MeasureError):
    """Something that depends on a size which has been reported already."""

    def __init__(self) -> None:
        super().__init__("unresolved", {}, 0, 1)


class Solver:
    """Works sizes out on demand and remembers them; reports each failure once, at its place."""

    def __init__(self, book: Book, names: Names = NO_NAMES, *, most: bool = True) -> None:
        self.book = book
        self.names = names
        self.most = most
        self._other: Solver | None = None
        self.problems: list[Problem] = []
        self._sizes = {each.name.value: each for each in book.sizes}
        self._parts = {each.name.value: each for each in book.parts}
        self._stock = {each.name.value: each for each in book.stock}
        self._openings = {each.name.value: each for each in book.openings}
        self._holes = {h.name.value: h for part in book.parts for h in part.holes}
        self._owners = {p.name.value: part for part in book.parts for p in part.pieces}
        for each in names.of_kind("piece"):
            if each.owner in self._parts:
                self._owners.setdefault(each.name, self._parts[each.owner])
        read = {*self._parts, *self._stock, *self._openings, *self._holes, *self._owners}
        named = names.of_kind("part", "piece", "stock", "opening", "hole")
        self._unread = {each.name for each in named} - read
        self._known: dict[object, Quantity | None] = {}
        self._busy: list[tuple[object, str]] = []
        self.used: set[str] = set()

    def report(self, kind: type[ProblemKind], span: Span, /, **facts: str) -> None:
        """Keep a problem."""
        self.problems.append(Problem(kind, span, facts))

    def measure(self, said: Said[Formula]) -> Measure | None:
        """The measure of a formula with its manner, or None after reporting."""
        try:
            return evaluate(said.value, self.lookup)
        except UnresolvedError:
            return None
        except MeasureError as error:
            self._failed(error, said)
            return None

    def value(
        self, said: Said[Formula] | None, wanted: Kind | None = Kind.LENGTH
    ) -> Quantity | None:
        """A formula's quantity, of the wanted kind, or None after reporting."""
        measure = self.measure(said) if said else None
        if said is None or measure is None:
            return None
        quantity = measure.high if self.most and measure.high else measure.low
        if wanted is None or quantity.kind is wanted:
            return quantity
        if quantity.kind is Kind.NUMBER and quantity.value == 0:
            return Quantity(Fraction(0), wanted)
        bare = isinstance(said.value.low, Literal) and quantity.kind is Kind.NUMBER
        kind = figures.UnitMissing if bare else figures.WrongKind
        facts = {
            "text": said.text,
            "found": KIND_WORDS[quantity.kind.value],
            "wanted": KIND_WORDS[wanted.value],
        }
        self.report(kind, said.span, **facts)
        return None

    def positive(self, said: Said[Formula] | None) -> Quantity | None:
        """A length above nothing, or None after reporting."""
        quantity = self.value(said)
        if said is not None and quantity is not None and quantity.value <= 0:
            figure = f"{float(quantity.value):g} mm"
            self.report(figures.NotPositive, said.span, text=said.text, figure=figure)
            return None
        return quantity

    def lookup(self, name: Name) -> Quantity:
        """The quantity behind a name; KeyError where there is none."""
        if isinstance(name, Property):
            return self._property(name)
        self.used.add(name)
        if name not in self._sizes and self.names.find(name, "size"):
            raise UnresolvedError  # its own figure could not be read, which is told there
        return self._size(self._sizes[name])

    def size(self, size: Size) -> Quantity | None:
        """A named size, or None after reporting; does not count as a use of it."""
        return self._quietly(lambda: self._size(size))

    def _size(self, size: Size) -> Quantity:
        name = size.name.value
        return self._once(("size", name), name, lambda: self.value(size.is_, None))

    def thickness(self, stock: Stock) -> Quantity | None:
        """The thickness of a sheet, the diameter of a rod, the lesser side of a strip."""
        section = self.section(stock)
        return min(section, key=lambda q: q.value) if section else None

    def section(self, stock: Stock) -> tuple[Quantity, ...]:
        """What the stock fixes: one thickness, a strip's two sides (alike when square)."""
        if stock.sheet:
            found = [self.positive(stock.sheet)]
        elif stock.rod:
            found = [self.positive(stock.rod)] * 2
        elif stock.strip:
            found = [self.positive(each) for each in stock.strip]
            found = found * 2 if len(found) == 1 else found
        else:
            return ()
        kept = tuple(each for each in found if each)
        return kept if len(kept) == len(found) else ()

    def extent(self, part: Part, axis: str) -> Quantity | None:
        """A part's size along wide, deep or high, or None after reporting."""
        name = f"{axis} of {part.name.value}"
        return self._quietly(
            lambda: self._once(
                ("part", part.name.value, axis), name, lambda: self._extent(part, axis)
            )
        )

    def opening(self, opening: Opening, axis: str) -> Quantity | None:
        """An opening's planned size along an axis."""
        key = ("opening", opening.name.value, axis)
        said: Said[Formula] | None = getattr(opening, axis)
        return self._quietly(
            lambda: self._once(key, f"{axis} of {opening.name.value}", lambda: self.positive(said))
        )

    def less(self, part: Part) -> dict[str, Quantity]:
        """What a fitted part takes off its opening, by axis; the usual where nothing is said."""
        if part.fitted is None:
            return {}
        if part.less is not None:
            said = {axis: getattr(part.less, axis) for axis in AXES}
            found = {axis: self._clearance(part, each) for axis, each in said.items() if each}
            return {axis: each for axis, each in found.items() if each}
        if self.book.scale is None or self.book.scale.value > MINIATURE:
            facts = {"part": f"“{part.name.value}”", "opening": f"“{part.fitted.value}”"}
            self.report(parts.LessMissing, part.fitted.span, **facts)
            return {}
        usual = Quantity(USUAL_LESS[0] if self.most else USUAL_LESS[1], Kind.LENGTH)
        free = [axis for axis in AXES if getattr(part, axis) is None and axis != self.thin(part)]
        return dict.fromkeys(free, usual)

    def thin(self, part: Part) -> str | None:
        """The axis that a sheet part's thickness runs along, as far as its sizes tell."""
        stock = self._stock.get(part.stock.value)
        if stock is None or not stock.sheet:
            return None
        opening = self._openings.get(part.fitted.value) if part.fitted else None
        if opening is not None and part.less is not None:
            said = [a for a in AXES if getattr(part, a) or getattr(part.less, a)]
        elif opening is not None:
            said = [a for a in AXES if getattr(part, a) or (getattr(opening, a) and a != "deep")]
        else:
            said = [axis for axis in AXES if getattr(part, axis)]
        missing = [axis for axis in AXES if axis not in said]
        return missing[0] if len(missing) == 1 else None

    def _opposite(self) -> Solver:
        """What works with the other ends of ranges; its problems are those of this one."""
        if self._other is None:
            self._other = Solver(self.book, self.names, most=not self.most)
        return self._other

    def _clearance(self, part: Part, said: Said[Formula]) -> Quantity | None:
        measure = self.measure(said)
        if measure is None:
            return None
        # The largest part comes from the least clearance, names in it included.
        measure = self._opposite().measure(said) or measure
        quantity = measure.low if self.most or not measure.high else measure.high
        most = measure.high or measure.low
        if quantity.kind is not Kind.LENGTH or measure.low.value < 0 or most.value <= 0:
            self.report(parts.NothingOff, said.span, part=f"“{part.name.value}”", figure=said.text)
            return None
        return quantity

    def _extent(self, part: Part, axis: str) -> Quantity | None:
        said: Said[Formula] | None = getattr(part, axis)
        if said is not None:
            return self.positive(said)
        less = self.less(part)
        if axis in part.unread or (part.less and getattr(part.less, axis) and axis not in less):
            return None  # told where it could not be read or worked out
        if axis in less and part.fitted:
            opening = self._openings[part.fitted.value]
            planned = self.opening(opening, axis)
            if planned is None:
                return None
            count = shared(part, axis)
            left = planned.value - less[axis].value
            return Quantity(left / count, Kind.LENGTH, planned.error / count)
        stock = self._stock.get(part.stock.value)
        return self._from_stock(part, axis, stock) if stock else None

    def _from_stock(self, part: Part, axis: str, stock: Stock) -> Quantity | None:
        section = self.section(stock)
        if stock.sheet:
            return section[0] if section and axis == self.thin(part) else None
        if not section:
            return None
        broad = part.broad_side.value[0] if part.broad_side else None
        if section[0] == section[1] or broad is None:
            return max(section, key=lambda q: q.value)
        pick = min if axis == SIDE_AXIS[broad] else max
        return pick(section, key=lambda q: q.value)

    def _property(self, name: Property) -> Quantity:
        axis = AXIS_OF.get(name.what)
        part = self._parts.get(name.of) or self._owners.get(name.of)
        found: Quantity | None = None
        if part is not None and axis:
            found = self.extent(part, axis)
        elif part is not None and name.what in ("thickness", "diameter"):
            found = self._of_stock(self._stock.get(part.stock.value), name.what)
        elif part is not None and name.what == "length":
            found = self._longest(part)
        elif name.of in self._openings and axis:
            found = self.opening(self._openings[name.of], axis)
        elif name.of in self._stock:
            found = self._of_stock(self._stock[name.of], name.what)
        elif name.of in self._holes and name.what == "diameter":
            found = self.positive(self._holes[name.of].round)
        elif name.of in self._unread:
            raise UnresolvedError
        else:
            raise KeyError(name)
        if found is None:
            raise UnresolvedError
        return found

    def _of_stock(self, stock: Stock | None, what: str) -> Quantity | None:
        if stock is None:
            return None
        if what in ("thickness", "diameter"):
            return self.thickness(stock)
        section = self.section(stock)
        if what != "width" or not section:
            raise KeyError(what)
        return max(section, key=lambda q: q.value)

    def _longest(self, part: Part) -> Quantity | None:
        extents = [self.extent(part, axis) for axis in AXES]
        kept = [each for each in extents if each]
        return max(kept, key=lambda q: q.value) if kept else None

    def _once(self, key: object, name: str, work: Callable[[], Quantity | None]) -> Quantity:
        if key in self._known:
            known = self._known[key]
            if known is None:
                raise UnresolvedError
            return known
        if any(key == each for each, _ in self._busy):
            self._ring(key)
            raise UnresolvedError
        self._busy.append((key, name))
        try:
            found = work()
        except UnresolvedError:
            found = None
        finally:
            self._busy.pop()
        self._known.setdefault(key, found)
        known = self._known[key]
        if known is None:
            raise UnresolvedError
        return known

    def _ring(self, key: object) -> None:
        start = next(i for i, (each, _) in enumerate(self._busy) if each == key)
        ring = self._busy[start:]
        names = " → ".join([*(name for _, name in ring), ring[0][1]])
        for each, _ in ring:
            self._known[each] = None
        span = self._span_of(ring[0][0])
        self.report(figures.CircularSize, span, ring=names)

    def _span_of(self, key: object) -> Span:
        kind, name, *axis = key if isinstance(key, tuple) else ("", "")
        if kind == "size":
            return self._sizes[name].is_.span
        owner: Part | Opening = self._parts[name] if kind == "part" else self._openings[name]
        said: Said[Formula] | None = getattr(owner, axis[0])
        return said.span if said else owner.name.span

    def _quietly(self, work: Callable[[], Quantity]) -> Quantity | None:
        try:
            return work()
        except UnresolvedError:
            return None

    def _failed(self, error: MeasureError, said: Said[Formula]) -> None:
        kind, facts = kind_of(error), facts_of(error, said.value.text)
        if kind is figures.UnknownSize and not facts.get("near"):
            facts["near"] = self._near(facts)
        self.report(kind, stretch(said, error), **facts)

    def _near(self, facts: Mapping[str, str]) -> str:
        if not facts.get("of"):
            return near_name(facts["name"], self._sizes)
        things = (*self._parts, *self._owners, *self._stock, *self._openings, *self._holes)
        near = near_name(facts["of"], things)
        return f"{facts['what']} of {near}" if near and near != facts["of"] else ""


def stretch(said: Said[Formula], error: MeasureError) -> Span:
    """The place of the part that failed; the whole figure where that is unsure."""
    span, length = said.span, len(said.text)
    quotes, odd = divmod(span.end_column - span.column - length, 2)
    plain = span.line == span.end_line and not odd and quotes in (0, 1)
    if not error.end or not plain or not said.value.text.startswith(said.text):
        return span
    column = span.column + quotes
    start, end = min(error.start, length), min(error.end, length)
    return Span(span.file, span.line, column + start, span.line, column + max(end, start + 1))


def shared(part: Part, axis: str) -> int:
    """How many pieces of a fitted part share its opening side by side along an axis."""
    said: Said[int] | None = getattr(part.share, axis) if part.share is not None else None
    return said.value if said is not None else 1

"""Which names a design gives to what.

In: the raw tree of a design file.  Out: a `Names` book, filled before any phrase is read, so
that a sentence may speak of a part that is described further down.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from patternpress.design.problem import near_name
from patternpress.design.source import Items, Node, Pairs, Scalar
from patternpress.design.span import Span

# The kinds of things that can be named, in the order in which a bare name is looked up.
KINDS = (
    "piece",
    "part",
    "sub-assembly",
    "size",
    "mark",
    "opening",
    "hole",
    "groove",
    "stock",
    "material",
    "tool",
    "choice",
    "answer",
)
# A piece of one copy of a sub-assembly, as a later step calls it: “foot rail of left end frame”.
IN_COPY = "piece of a copy"
# One of a row of holes by its number: “rung hole 2”; the first is called as the row is.
IN_ROW = "hole of a row"
# A piece of a sub-assembly that twins repeat, called with the one that is built: its own name.
IN_FIRST = "piece of the one built"
# What is printed as it is typed and is no name of a thing: woods, outcomes, words explained.
LABEL = "label"


@dataclass(frozen=True, slots=True)
class Named:
    """One name: of which kind of thing, where it was given, and what owns it (a hole's part)."""

    name: str
    kind: str
    span: Span
    owner: str = ""


@dataclass(frozen=True)
class Names:
    """All names of a design."""

    given: tuple[Named, ...] = ()
    _index: Mapping[str, tuple[Named, ...]] = field(default_factory=dict, repr=False)

    def find(self, name: str, *kinds: str) -> Named | None:
        """The thing of that name and one of those kinds (all kinds when none is said)."""
        found = self._index.get(name, ())
        for kind in kinds or KINDS:
            for each in found:
                if each.kind == kind:
                    return each
        return None

    def of_kind(self, *kinds: str) -> Iterator[Named]:
        """Every name of those kinds, in the order written."""
        return (each for each in self.given if each.kind in kinds)

    def near(self, name: str, *kinds: str) -> str:
        """The nearest known name, or an empty string."""
        return near_name(name, (each.name for each in self.of_kind(*(kinds or KINDS))))

    def longest_at(self, words: str, *kinds: str) -> Named | None:
        """The longest known name that opens the words, ending at a word's end."""
        pieces = words.split(" ")
        for count in range(len(pieces), 0, -1):
            found = self.find(" ".join(pieces[:count]), *kinds)
            if found:
                return found
        return None


def index(given: Iterable[Named]) -> Names:
    """A book of names with its index."""
    every = tuple(given)
    found: dict[str, list[Named]] = {}
    for each in every:
        found.setdefault(each.name, []).append(each)
    return Names(every, {name: tuple(items) for name, items in found.items()})


def collect(tree: Node | None) -> Iterator[Named]:
    """Every name that a tree gives; forgiving, since the reading proper reports faults."""
    if not isinstance(tree, Pairs):
        return
    pieces: dict[str, str] = {}
    for field_name, kind in _SECTIONS:
        for key, node in _entries(tree.get(field_name)):
            yield Named(key.text, kind, key.span)
            for each in _inside(field_name, key, node):
                yield each
                pieces |= {each.name: each.owner} if each.kind == "piece" else {}
    yield from _in_copies(tree, pieces)
    terms = (word for word, _ in _entries(tree.get("terms")))
    for said in (*_woods(tree), *_outcomes(tree), *terms):
        yield Named(" ".join(said.text.split()), LABEL, said.span)


def _in_copies(tree: Pairs, pieces: Mapping[str, str]) -> Iterator[Named]:
    """What the steps of a sub-assembly bring, as pieces of each copy that is made of it."""
    copies: dict[str, list[Scalar]] = {}
    for key, node in _entries(tree.get("sub-assemblies")):
        inner = node.get("copies") if isinstance(node, Pairs) else node
        copies.setdefault(key.text, []).extend(c for c in listed(inner) if c.text != key.text)
        for said in ("mirror of", "same as"):
            twin = node.get(said) if isinstance(node, Pairs) else None
            if isinstance(twin, Scalar):
                copies.setdefault(twin.text.strip(), []).append(key)
    for step in (s for section in ("steps", "finishing") for s in _several(tree.get(section))):
        builds = step.get("builds") if isinstance(step, Pairs) else None
        if not isinstance(step, Pairs) or not isinstance(builds, Scalar):
            continue
        brought = {*(key.text for key, _ in _entries(step.get("join")))}
        brought |= {each.text for each in listed(step.get("start"))}
        for piece, part in pieces.items():
            if not {piece, part} & brought:
                continue
            for copy in copies.get(builds.text.strip(), ()):
                yield Named(in_copy(piece, copy.text), IN_COPY, copy.span, part)
            yield Named(in_copy(piece, builds.text.strip()), IN_FIRST, builds.span, part)


def in_copy(piece: str, copy: str) -> str:
    """A piece of one copy of a sub-assembly by name."""
    return f"{piece} of {copy}"


def how_to_name(words: str, held: Named, names: Names) -> str:
    """How to mend what was named of a thing and is neither a side of it nor cut into it."""
    if " of " in words or " and " in words:
        return (
            "Name one thing in each line; only `against`, `flush with` and `through` take several."
        )
    named = names.find(words, "piece", "part", IN_ROW)
    if named is not None and named.kind == IN_ROW:
        return "The holes of a row are drilled together: name the row, without a number."
    if named is not None:
        copies = (n.name for n in names.of_kind(IN_COPY) if n.name.startswith(f"{words} of "))
        also = ", ".join(f"`{each}`" for each in copies)
        return f"A piece is called by its name alone, `{words}`" + (
            f"; one of a copy as {also}." if also else "."
        )
    mine = (held.name, held.owner)
    own = ", ".join(each.name for each in names.of_kind("hole", "groove") if each.owner in mine)
    has = f"its holes and grooves: {own}" if own else "it has no holes or grooves"
    return f"The sides are left, right, front, back, top and bottom; {has}."


def _woods(tree: Pairs) -> Iterator[Scalar]:
    """The woods of stock, at every scale."""
    for _, stock in _entries(tree.get("stock")):
        scales = stock.get("at scales") if isinstance(stock, Pairs) else None
        for each in (stock, *_several(scales)):
            wood = each.get("wood") if isinstance(each, Pairs) else None
            if isinstance(wood, Scalar) and wood.text.strip():
                yield wood


def _outcomes(tree: Pairs) -> Iterator[Scalar]:
    """The outcomes of checks, in every step."""
    for section in ("steps", "finishing"):
        for step in _several(tree.get(section)):
            for check in _several(step.get("check")) if isinstance(step, Pairs) else ():
                outcomes = check.get("if") if isinstance(check, Pairs) else None
                yield from (key for key, _ in _entries(outcomes))


def _several(node: Node | None) -> tuple[Node, ...]:
    """The items of a list; what is no list is the only one."""
    if isinstance(node, Items):
        return node.nodes
    return (node,) if node is not None else ()


_SECTIONS = (
    ("sizes", "size"),
    ("stock", "stock"),
    ("parts", "part"),
    ("sub-assemblies", "sub-assembly"),
    ("openings", "opening"),
    ("marks", "mark"),
    ("choices", "choice"),
    ("tools", "tool"),
    ("materials", "material"),
)


def _inside(section: str, key: Scalar, node: Node) -> Iterator[Named]:
    inner = node if isinstance(node, Pairs) else Pairs((), node.span)
    if section == "parts":
        yield from _cuts(key, inner)
        pieces = list(listed(inner.get("pieces")))
        count = inner.get("quantity")
        several = isinstance(count, Scalar) and count.text.strip() not in ("", "1")
        if not pieces and several:
            pieces = list(_counted(key, count))
        for piece in pieces or [key]:
            yield Named(piece.text, "piece", piece.span, key.text)
    elif section == "sub-assemblies":
        # Copies may be said by themselves, in place of the fields.
        for copy in listed(inner.get("copies") if isinstance(node, Pairs) else node):
            if copy.text != key.text:
                yield Named(copy.text, "sub-assembly", copy.span, key.text)
    elif section == "choices":
        for answer, _ in _entries(inner.get("answers")):
            yield Named(answer.text, "answer", answer.span, key.text)


def _cuts(key: Scalar, part: Pairs) -> Iterator[Named]:
    """The holes and grooves of a part; of a row of holes the second and all after it as well."""
    for cut, kind in (("holes", "hole"), ("grooves", "groove")):
        for name, said in _entries(part.get(cut)):
            yield Named(name.text, kind, name.span, key.text)
            row = said.get("row") if isinstance(said, Pairs) else None
            count = row.get("quantity") if isinstance(row, Pairs) else None
            for each in list(_counted(name, count))[1:]:
                yield Named(each.text, IN_ROW, each.span, key.text)


def _counted(key: Scalar, count: Node | None) -> Iterator[Scalar]:
    """A part of quantity 5 without names has the pieces “slat 1” to “slat 5”."""
    text = count.text.strip() if isinstance(count, Scalar) else ""
    number = int(text) if text.isdecimal() and len(text) <= 3 else 0
    for each in range(1, number + 1):
        yield Scalar(f"{key.text} {each}", key.span)


def _entries(node: Node | None) -> Iterator[tuple[Scalar, Node]]:
    """Named entries, whether written as a mapping or as a plain list of names."""
    if isinstance(node, Pairs):
        yield from node.entries
    elif isinstance(node, Items):
        for each in node.nodes:
            if isinstance(each, Scalar):
                yield each, each
            elif isinstance(each, Pairs):
                yield from each.entries
    elif isinstance(node, Scalar) and node.text:
        for each in listed(node):
            yield each, each


def listed(node: Node | None) -> Iterator[Scalar]:
    """The names of a list, whether written as lines, as keys, or in one line with commas."""
    if isinstance(node, Items):
        yield from (each for each in node.nodes if isinstance(each, Scalar))
    elif isinstance(node, Pairs):
        yield from (key for key, _ in node.entries)
    elif isinstance(node, Scalar):
        start = 0
        for part in node.text.replace(" and ", ",    ").split(","):
            name = part.strip()
            if name:
                at = node.text.find(name, start)
                yield Scalar(name, node.locate(at, at + len(name)), node.quoted, node.lines)
            start += len(part) + 1

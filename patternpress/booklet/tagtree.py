"""One structure tree out of many: what a screen reader follows through the whole booklet.

In: the tagged PDFs of the sections.  Out: one StructTreeRoot with one ParentTree, in the joined
PDF.  ISO 32000-1, 14.7: a page's `StructParents` and an annotation's `StructParent` are keys of
the ParentTree; every element names its parent in `P`; an `ID` must be the only one of its name.
"""

from __future__ import annotations

from dataclasses import dataclass

from pikepdf import Array, Dictionary, Name, Object, Pdf, String

Pairs = list[Object | int]  # key, value, key, value …: what a ParentTree holds


@dataclass(frozen=True)
class TagTree:
    """The root of a structure tree, and its one document element."""

    root: Object
    document: Object


def plant(book: Pdf) -> TagTree:
    """Return an empty tree, tied to the catalogue of `book`."""
    root = book.make_indirect(Dictionary(Type=Name.StructTreeRoot))
    document = book.make_indirect(
        Dictionary(Type=Name.StructElem, S=Name.Document, P=root, K=Array())
    )
    root.K = Array([document])
    book.Root.StructTreeRoot = root
    book.Root.MarkInfo = Dictionary(Marked=True)
    return TagTree(root, document)


def mend_tables(section: Pdf, mark: str) -> None:
    """Put `mark` before every header cell's ID and every reference to it, and give it its scope.

    The engine numbers IDs anew in each section.  Scope (ISO 32000-1, table 349): a header in a
    table's head stands over its column, any other before its row.
    """
    for element in section.objects:
        if not isinstance(element, Dictionary) or Name.S not in element:
            continue
        if Name.ID in element:
            element.ID = String(f"{mark}-{element.ID}")
        attributes = element.get(Name.A)
        if not isinstance(attributes, Dictionary):
            continue
        if Name.Headers in attributes:
            heads = [String(f"{mark}-{head}") for head in attributes.Headers.as_list()]
            attributes.Headers = Array(heads)
        if element.S == Name.TH:
            around = element.P.P.get(Name.S)
            attributes.Scope = Name.Column if around == Name.THead else Name.Row


def renumber(section: Pdf, first: int) -> int:
    """Shift the ParentTree keys of the section's pages and links by `first`.

    Returns the first key that is free after them.
    """
    last = first - 1
    for page in section.pages:
        page.obj.StructParents = first + int(page.obj.StructParents)
        last = max(last, int(page.obj.StructParents))
        for annotation in page.obj.get(Name.Annots, Array()).as_list():
            if Name.StructParent in annotation:
                annotation.StructParent = first + int(annotation.StructParent)
                last = max(last, int(annotation.StructParent))
    return last + 1


def graft(book: Pdf, tree: TagTree, section: Pdf, first: int) -> Pairs:
    """Move the section's elements under the book's document element.

    The section's pages must be in `book` already, so that the elements find them there, and its
    keys must have been shifted by `first` with `renumber`.  Returns the pairs for the ParentTree.
    """
    branch = book.copy_foreign(section.Root.StructTreeRoot)
    for element in branch.K[0].K.as_list():
        element.P = tree.document
        tree.document.K.append(element)
    old = branch.ParentTree.Nums.as_list()
    pairs: Pairs = []
    for key, value in zip(old[::2], old[1::2], strict=True):
        pairs += [first + int(key), value]
    return pairs


def close(book: Pdf, tree: TagTree, pairs: Pairs, next_key: int) -> None:
    """Write the ParentTree; the keys of `pairs` must be in rising order."""
    tree.root.ParentTree = book.make_indirect(Dictionary(Nums=Array(pairs)))
    tree.root.ParentTreeNextKey = next_key

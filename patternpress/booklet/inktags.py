"""Keep the tags of drawings in the PDF, so that the finished file says what each line is.

In: SVG elements with `data-tag` and other `data-` attributes (see `drawing.tags`).  Out: the same
marks on the page, inside marked content (ISO 32000-1, 14.6.2): `/Template <</Part (B)>> BDC … EMC`.

The engine has no word for this, so for as long as `keeping_tags` lasts, its class for SVG images is
replaced by one that differs in nothing else.  Should an engine of another version pass it by, the
proof of every booklet fails, because no template has a name any more.
"""

from __future__ import annotations

import contextlib
from collections.abc import Iterator, Mapping
from typing import Any

from pikepdf import Dictionary, String
from weasyprint import images
from weasyprint.svg import SVG

PREFIX = "data-"
TAG = "data-tag"


@contextlib.contextmanager
def keeping_tags() -> Iterator[None]:
    """Let the engine draw SVG images with their tags while the block runs."""
    before = images.SVG
    images.SVG = _TaggedSVG
    try:
        yield
    finally:
        images.SVG = before


class _TaggedSVG(SVG):  # type: ignore[misc]
    """An SVG image that writes a tagged element as marked content."""

    def draw_node(self, node: Any, *args: Any, **kwargs: Any) -> None:
        """Draw a node, and begin and end its marked content if it has a tag."""
        # The element as written: a node's own attributes hold those of its parents too.
        attributes = node._etree_node.attrib
        tag = attributes.get(TAG)
        if tag is None:
            super().draw_node(node, *args, **kwargs)
            return
        stream = self.stream
        stream.begin_marked_content(tag, _facts(attributes))
        super().draw_node(node, *args, **kwargs)
        stream.end_marked_content()


def _facts(attributes: Mapping[str, str]) -> bytes:
    """Return the property list of an element's tag, written out."""
    return Dictionary(
        {
            f"/{key.removeprefix(PREFIX).capitalize()}": String(value)
            for key, value in sorted(attributes.items())
            if key.startswith(PREFIX) and key != TAG and value
        }
    ).unparse()

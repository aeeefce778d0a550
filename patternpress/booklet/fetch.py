"""What the press may read: files inside a few folders, and nothing else.

In: a `Fence` (folders, largest sizes), the drawings lifted out of a section, its photographs.
Out: the bytes of what a page asks for, or a `Refusal`.  Nothing is ever fetched over a network.
Whatever was refused is kept, because a page that lacks a picture is worse than no page.
"""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType
from urllib.parse import unquote_to_bytes, urlsplit
from urllib.request import url2pathname

from weasyprint.urls import URLFetcher, URLFetcherResponse

DRAWING = "drawing:"
# Read off the name alone: the computer's own tables of types differ from one to the next.
TYPES = {
    ".css": "text/css",
    ".svg": "image/svg+xml",
    ".png": "image/png",
    ".jpg": "image/jpeg",
    ".jpeg": "image/jpeg",
    ".ttf": "font/ttf",
    ".otf": "font/otf",
    ".woff": "font/woff",
    ".woff2": "font/woff2",
}


@dataclass(frozen=True)
class Fence:
    """The folders that may be read, and the largest file and `data:` address, in bytes."""

    roots: tuple[Path, ...]
    largest_file: int = 20_000_000
    largest_data: int = 100_000


@dataclass(frozen=True)
class Refusal:
    """An address that a page asked for and did not get, and why."""

    url: str
    reason: str


class RefusedError(Exception):
    """Something was asked for that lies outside the fence; `reason` is in a maker's words."""

    def __init__(self, reason: str) -> None:
        super().__init__(reason)
        self.reason = reason


def path_inside(fence: Fence, url: str) -> Path:
    """Return the file that a `file:` address names, with every link in its path followed.

    Raises `RefusedError` if it is not a plain file inside one of the fence's folders.
    """
    parts = urlsplit(url)
    if parts.netloc not in ("", "localhost"):
        raise RefusedError("it is on another computer")
    try:
        path = Path(url2pathname(parts.path)).resolve(strict=True)
        roots = [root.resolve() for root in fence.roots]
    except (OSError, ValueError, RuntimeError):  # absent; a zero byte; a ring of links
        raise RefusedError("there is no such file") from None
    if not any(path.is_relative_to(root) for root in roots):
        raise RefusedError("it is outside the folders of the design, the theme and the fonts")
    if not path.is_file():
        raise RefusedError("it is not a file")
    return path


def read_file(fence: Fence, url: str) -> tuple[Path, bytes, str]:
    """Return path, content and media type of a `file:` address; raises `RefusedError`."""
    path = path_inside(fence, url)
    kind = TYPES.get(path.suffix.lower())
    if kind is None:
        raise RefusedError(
            f"files that end in {path.suffix or 'nothing'} are not used in a booklet"
        )
    with path.open("rb") as file:
        content = file.read(fence.largest_file + 1)
    if len(content) > fence.largest_file:
        raise RefusedError(f"the file is larger than {fence.largest_file / 1e6:g} MB")
    return path, content, kind


def read_data(fence: Fence, url: str) -> tuple[bytes, str]:
    """Return content and type of a small `data:` address (RFC 2397); raises `RefusedError`."""
    if len(url) > fence.largest_data:
        raise RefusedError(f"data written into the page may have {fence.largest_data // 1000} kB")
    head, comma, body = url.removeprefix("data:").partition(",")
    kind, _, coding = head.partition(";")
    if not comma or coding.endswith("base64") or kind not in TYPES.values():
        raise RefusedError("data written into the page must be a plain image, font or stylesheet")
    return unquote_to_bytes(body), kind


class FencedFetcher(URLFetcher):  # type: ignore[misc]
    """The press engine's way to files; keeps what was refused and what was read.

    `refusals`: every address refused, in order.  `reads`: path and digest of every file read, so
    that a cache can tell whether they have changed.
    """

    def __init__(
        self,
        fence: Fence,
        drawings: Mapping[str, str],
        photographs: Mapping[str, bytes] = MappingProxyType({}),
    ) -> None:
        super().__init__(allowed_protocols=(), allow_redirects=False)
        self._fence = fence
        self._drawings = drawings
        self._photographs = photographs
        self.refusals: list[Refusal] = []
        self.reads: dict[Path, str] = {}

    def fetch(self, url: str, headers: Mapping[str, str] | None = None) -> URLFetcherResponse:
        """Return what `url` names; raises `RefusedError`, which the engine takes as "not found"."""
        try:
            body, kind = self._read(url)
        except RefusedError as refused:
            self.refusals.append(Refusal(url[:200], refused.reason))
            raise
        return URLFetcherResponse(url, body, {"Content-Type": kind})

    def _read(self, url: str) -> tuple[bytes, str]:
        scheme = url.partition(":")[0].lower()
        if scheme == "drawing" and url in self._drawings:
            return self._drawings[url].encode(), "image/svg+xml"
        if scheme == "photograph" and url in self._photographs:
            return self._photographs[url], "image/jpeg"
        if scheme == "data":
            return read_data(self._fence, url)
        if scheme != "file":
            raise RefusedError("a booklet is made without a network; put it beside the design")
        path, content, kind = read_file(self._fence, url)
        self.reads[path] = digest(content)
        return content, kind


def digest(content: bytes) -> str:
    """Return a short fingerprint of `content`."""
    return hashlib.blake2b(content, digest_size=16).hexdigest()

"""The press reads only what lies inside its folders, and says what it did not get."""

from __future__ import annotations

import socket
from pathlib import Path

import pytest

from patternpress.booklet.fetch import Fence, FencedFetcher, RefusedError, path_inside
from patternpress.booklet.press import Section, press_section

PIXEL = (
    "89504e470d0a1a0a0000000d49484452000000010000000108000000003a7e9b55"
    "0000000a49444154789c6368000000820081771cdb6a0000000049454e44ae426082"
)


@pytest.fixture
def fence(tmp_path: Path) -> Fence:
    inside = tmp_path / "design"
    inside.mkdir()
    (inside / "shelf.png").write_bytes(bytes.fromhex(PIXEL))
    (inside / "ünder way.png").write_bytes(bytes.fromhex(PIXEL))
    (tmp_path / "secret.png").write_bytes(bytes.fromhex(PIXEL))
    (tmp_path / "design2").mkdir()
    (tmp_path / "design2" / "near.png").write_bytes(bytes.fromhex(PIXEL))
    return Fence((inside,), largest_file=1000, largest_data=200)


def test_a_file_inside_is_read_and_remembered(fence: Fence) -> None:
    fetcher = FencedFetcher(fence, {})
    path = fence.roots[0] / "shelf.png"
    response = fetcher(path.as_uri())
    assert response.read() == bytes.fromhex(PIXEL)
    assert response.content_type == "image/png"
    assert list(fetcher.reads) == [path.resolve()]
    assert fetcher.refusals == []


def test_spaces_letters_and_queries_in_an_address_are_understood(fence: Fence) -> None:
    path = fence.roots[0] / "ünder way.png"
    assert path_inside(fence, path.as_uri()) == path.resolve()
    assert path_inside(fence, path.as_uri() + "?v=2#x") == path.resolve()


@pytest.mark.parametrize(
    ("url", "reason"),
    [
        ("http://example.org/a.png", "without a network"),
        ("HTTPS://example.org/a.png", "without a network"),
        ("ftp://example.org/a.png", "without a network"),
        ("drawing:unknown", "without a network"),
        ("file:///etc/passwd", "outside the folders"),
        ("file://localhost/etc/passwd", "outside the folders"),
        ("file://example.org/etc/passwd", "another computer"),
        ("file:///dev/zero", "outside the folders"),
        ("{inside}/../secret.png", "outside the folders"),
        ("{inside}/%2e%2e/secret.png", "outside the folders"),
        ("{inside}/..%2fsecret.png", "outside the folders"),
        ("{inside}2/near.png", "outside the folders"),
        ("{inside}/absent.png", "no such file"),
        ("{inside}/shelf.png%00.svg", "no such file"),
        ("{inside}/", "not a file"),
        ("{inside}/way-out.png", "outside the folders"),
        ("{inside}/ring.png", "no such file"),
        ("{inside}/big.png", "larger than"),
        ("{inside}/notes.txt", "end in .txt"),
        ("data:image/png;base64,AAAA", "plain image"),
        ("data:text/html,<b>", "plain image"),
        ("data:image/svg+xml," + "x" * 300, "may have"),
    ],
)
def test_everything_else_is_refused_and_reported(fence: Fence, url: str, reason: str) -> None:
    inside = fence.roots[0]
    (inside / "way-out.png").symlink_to(inside.parent / "secret.png")
    (inside / "ring.png").symlink_to(inside / "ring.png")
    (inside / "big.png").write_bytes(bytes(1001))
    (inside / "notes.txt").write_text("glue", encoding="utf-8")
    fetcher = FencedFetcher(fence, {})
    url = url.replace("{inside}", inside.as_uri())
    with pytest.raises(RefusedError, match=reason):
        fetcher(url)
    assert [refusal.url for refusal in fetcher.refusals] == [url[:200]]
    assert fetcher.reads == {}


def test_a_link_that_stays_inside_may_be_followed(fence: Fence) -> None:
    link = fence.roots[0] / "cover.png"
    link.symlink_to("shelf.png")
    assert path_inside(fence, link.as_uri()) == (fence.roots[0] / "shelf.png").resolve()


def test_a_small_plain_image_may_be_written_into_the_page(fence: Fence) -> None:
    response = FencedFetcher(fence, {})("data:image/svg+xml,%3Csvg/%3E")
    assert (response.read(), response.content_type) == (b"<svg/>", "image/svg+xml")


WAYS_OUT = [
    '<img alt="a" src="http://example.org/a.png">',
    '<img alt="a" src="../secret.png">',
    '<p style="background-image: url(http://example.org/b.png)">b</p>',
    '<link rel="stylesheet" href="https://example.org/c.css">',
    "<style>@import url(https://example.org/d.css);</style>",
    "<style>@font-face { font-family: E; src: url(http://example.org/e.ttf) }</style>",
    '<a rel="attachment" href="file:///etc/passwd">f</a>',
    '<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm" viewBox="0 0 9 9"><title>g'
    '</title><image href="file:///etc/hosts.png" width="9" height="9"/></svg>',
    '<object data="http://example.org/h.svg">h</object>',
    '<base href="http://example.org/"><img alt="i" src="shelf.png">',
]


@pytest.mark.parametrize("body", WAYS_OUT)
def test_no_page_gets_out_and_each_attempt_is_reported(
    fence: Fence, body: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    def no_network(*_: object, **__: object) -> None:
        raise AssertionError("a socket was opened")

    monkeypatch.setattr(socket, "socket", no_network)
    monkeypatch.setattr(socket, "getaddrinfo", no_network)
    html = f'<!doctype html><html lang="en"><title>x</title><body>{body}<p>end</p></body></html>'
    pressed = press_section(Section("x", "x", html, (), fence.roots[0]), fence)
    assert pressed.pages == 1
    assert len(pressed.refusals) == 1
    assert b"root:" not in pressed.pdf

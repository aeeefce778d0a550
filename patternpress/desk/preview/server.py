"""The page's server, for this computer alone.

In: a `Workshop`, a token, the port that it listens on.  Out: an application that answers the
author's browser and nobody else: every request must name this host, carry the token, and, where it
changes anything, come from the page itself.
"""

from __future__ import annotations

import asyncio
import hmac
import json
from collections.abc import AsyncIterator, Awaitable, Callable
from functools import partial
from importlib import resources
from typing import Any

from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import JSONResponse, PlainTextResponse, RedirectResponse, Response
from starlette.responses import StreamingResponse as Stream
from starlette.routing import Route
from starlette.types import ASGIApp, Receive, Scope, Send

from patternpress.desk.preview.asking import Asked, AskedWronglyError, answers
from patternpress.desk.preview.showing import state_record
from patternpress.desk.preview.workshop import ConflictError, Workshop

COOKIE = "patternpress"
LARGEST = 64_000  # bytes that the page may send
STATIC = {
    "page.css": "text/css; charset=utf-8",
    "page.js": "text/javascript; charset=utf-8",
    "changing.js": "text/javascript; charset=utf-8",
    "turning.js": "text/javascript; charset=utf-8",
}
# Nothing but what this server gives itself; no frame, no form, no inline script or style.
POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; "
    "base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
)
HEADERS = {
    "Content-Security-Policy": POLICY,
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cache-Control": "no-store",
}
MADE_TYPES = {
    ".pdf": "application/pdf",
    ".txt": "text/plain; charset=utf-8",
    ".csv": "text/csv; charset=utf-8",
    ".html": "text/html; charset=utf-8",
}


def application(workshop: Workshop, token: str, port: int) -> ASGIApp:
    """Return the application; it is served on 127.0.0.1 and this port only."""
    inner = Starlette(
        routes=[
            Route("/", partial(_page, token)),
            Route("/static/{name}", _static),
            Route("/state", partial(_state, workshop)),
            Route("/news", partial(_news, workshop)),
            Route("/page/{name}", partial(_picture, workshop)),
            Route("/problem/{mark}/{number:int}.svg", partial(_problem, workshop)),
            Route("/made/{name}", partial(_made, workshop)),
            Route("/ask/{what}", partial(_ask, workshop), methods=["POST"]),
        ]
    )
    return _Gate(inner, token, port)


class _Gate:
    """Lets in what names this host and carries the token; adds the headers to every answer."""

    def __init__(self, inner: ASGIApp, token: str, port: int) -> None:
        self._inner = inner
        self._token = token
        hosts = (f"127.0.0.1:{port}", f"localhost:{port}")
        self._hosts = frozenset(hosts)
        self._origins = frozenset(f"http://{host}" for host in hosts)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            if scope["type"] == "lifespan":
                await self._inner(scope, receive, send)
            return
        request = Request(scope)
        refused = self._refusal(request)
        if refused is not None:
            await PlainTextResponse(refused, 403, HEADERS)(scope, receive, send)
            return

        async def with_headers(message: Any) -> None:
            if message["type"] == "http.response.start":
                added = [(k.lower().encode(), v.encode()) for k, v in HEADERS.items()]
                names = {name for name, _ in added}
                kept = [(k, v) for k, v in message["headers"] if k.lower() not in names]
                message = {**message, "headers": [*kept, *added]}
            await send(message)

        await self._inner(scope, receive, with_headers)

    def _refusal(self, request: Request) -> str | None:
        if request.headers.get("host", "") not in self._hosts:
            return "This page is for the computer that it runs on."
        origin = request.headers.get("origin")
        if origin is not None and origin not in self._origins:
            return "Another page may not ask here."
        if request.method not in ("GET", "HEAD", "POST"):
            return "This is not asked here."
        if request.method == "POST" and origin is None:
            return "Changes come from the page alone."
        given = request.cookies.get(COOKIE, "")
        if request.url.path == "/":
            given = request.query_params.get("token", given)
        if not hmac.compare_digest(given.encode(), self._token.encode()):
            return "The address is not complete; open the one that the command printed."
        return None


async def _page(token: str, request: Request) -> Response:
    if "token" in request.query_params:
        # The token leaves the address bar, and with it the history, at once.
        answer = RedirectResponse("/", 303)
        answer.set_cookie(COOKIE, token, httponly=True, samesite="strict", path="/")
        return answer
    return Response(_file("page.html"), media_type="text/html; charset=utf-8")


async def _static(request: Request) -> Response:
    name = request.path_params["name"]
    if name not in STATIC:
        return PlainTextResponse("There is no such file.", 404)
    return Response(_file(name), media_type=STATIC[name])


def _file(name: str) -> bytes:
    return resources.files("patternpress.desk.preview").joinpath("static", name).read_bytes()


async def _state(workshop: Workshop, request: Request) -> Response:
    return JSONResponse(await asyncio.to_thread(state_record, workshop))


async def _news(workshop: Workshop, request: Request) -> Response:
    """Server-sent events: the number of each new state; the page then asks for the state."""
    loop = asyncio.get_running_loop()
    changed = asyncio.Event()

    def tell() -> None:
        loop.call_soon_threadsafe(changed.set)

    end = workshop.listen(tell)

    async def events() -> AsyncIterator[str]:
        try:
            while True:
                yield f"data: {json.dumps(workshop.state.revision)}\n\n"
                try:
                    await asyncio.wait_for(changed.wait(), 15)
                    changed.clear()
                except TimeoutError:
                    yield ": still here\n\n"
                    if await request.is_disconnected():
                        return
        finally:
            end()

    return Stream(events(), media_type="text/event-stream")


async def _picture(workshop: Workshop, request: Request) -> Response:
    name = request.path_params["name"].removesuffix(".png")
    page = workshop.page(name)
    dpi = request.query_params.get("dpi", "80")
    if page is None or not dpi.isdecimal() or not 10 <= int(dpi) <= 300:
        return PlainTextResponse("There is no such page.", 404)
    picture = await asyncio.to_thread(workshop.picture, page, int(dpi))
    return Response(picture, media_type="image/png")


async def _problem(workshop: Workshop, request: Request) -> Response:
    """The picture of a place where pieces do not fit."""
    number, mark = request.path_params["number"], request.path_params["mark"]
    picture = await asyncio.to_thread(workshop.problem_picture, number, mark)
    if not picture:
        return PlainTextResponse("There is no such picture.", 404)
    return Response(picture, media_type="image/svg+xml")


async def _made(workshop: Workshop, request: Request) -> Response:
    """A file that was built; no other file of the folder is given out."""
    name = request.path_params["name"]
    if name not in workshop.state.built:
        return PlainTextResponse("There is no such file.", 404)
    try:
        data = await asyncio.to_thread((workshop.out / name).read_bytes)
    except OSError:
        return PlainTextResponse("The file is gone.", 404)
    kind = MADE_TYPES.get(name[name.rfind(".") :], "application/octet-stream")
    # A page that was made is kept as a file: this page's rules would take its look away.
    kept = {"Content-Disposition": "attachment"} if name.endswith(".html") else None
    return Response(data, media_type=kind, headers=kept)


Answer = Callable[[Workshop, Asked], Awaitable[Any]]


async def _ask(workshop: Workshop, request: Request) -> Response:
    answer = answers().get(request.path_params["what"])
    if answer is None:
        return PlainTextResponse("This is not asked here.", 404)
    body = await _body(request)
    if body is None:
        return PlainTextResponse("This is too much at once.", 413)
    try:
        asked = Asked.read(body)
        found = await asyncio.to_thread(answer, workshop, asked)
    except AskedWronglyError as error:
        return JSONResponse({"refused": str(error)}, 400)
    except ConflictError as error:
        return JSONResponse({"refused": str(error)}, 409)
    return JSONResponse(found)


async def _body(request: Request) -> bytes | None:
    kept = b""
    async for piece in request.stream():
        kept += piece
        if len(kept) > LARGEST:
            return None
    return kept

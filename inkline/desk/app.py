"""The desk as a web application: what the page asks for, and what it gets."""

from __future__ import annotations

import asyncio
import json
from collections.abc import Awaitable, Callable
from functools import wraps
from importlib.resources import files
from typing import Any

from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import JSONResponse, PlainTextResponse, Response
from starlette.routing import Route

from inkline.desk.desk import Desk, furnishings, picture_wish
from inkline.errors import InklineError, InputError, WorkError

_PAGE = {
    "index.html": "text/html; charset=utf-8",
    "desk.css": "text/css; charset=utf-8",
    "desk.js": "text/javascript; charset=utf-8",
    "asking.js": "text/javascript; charset=utf-8",
    "picture.js": "text/javascript; charset=utf-8",
    "leaves.js": "text/javascript; charset=utf-8",
    "strip.js": "text/javascript; charset=utf-8",
    "ground.js": "text/javascript; charset=utf-8",
}
"""The files of the page, all of them."""
_SLOT = "{{token}}"
_LEAST_PX, _MOST_PX = 16, 2_000


class _Latest:
    """Lets the latest of several callers have their turn; those who waited longer are sent away."""

    def __init__(self) -> None:
        self._lock = asyncio.Lock()
        self._count = 0

    async def __aenter__(self) -> bool:
        self._count += 1
        mine = self._count
        await self._lock.acquire()
        return mine == self._count

    async def __aexit__(self, *_: object) -> None:
        self._lock.release()


def desk_app(desk: Desk, *, token: str) -> Starlette:
    """The application that serves `desk`; a `Guard` stands before it."""
    views = _Views(desk, token)
    return Starlette(
        routes=[
            Route("/", views.page),
            Route("/page/{file}", views.page_file),
            Route("/furnishings", views.furnishings),
            Route("/state", views.state),
            Route("/turn", views.turn, methods=["POST"]),
            Route("/style", views.style, methods=["POST"]),
            Route("/undo", views.undo, methods=["POST"]),
            Route("/redo", views.redo, methods=["POST"]),
            Route("/draw", views.draw, methods=["POST"]),
            Route("/sketch", views.sketch, methods=["POST"]),
            Route("/stroke", views.stroke, methods=["POST"]),
            Route("/sample", views.sample, methods=["POST"]),
            Route("/places", views.places, methods=["POST"]),
        ],
        exception_handlers={InputError: _refused, WorkError: _failed, InklineError: _failed},
    )


async def _refused(_: Request, problem: Exception) -> Response:
    return JSONResponse({"sentence": str(problem)}, status_code=422)


async def _failed(_: Request, problem: Exception) -> Response:
    return JSONResponse({"sentence": str(problem)}, status_code=500)


def _with_json(answer: Callable[[Any, dict[str, Any]], Awaitable[Response]]) -> Any:
    """A view that gets the request's JSON."""

    @wraps(answer)
    async def view(self: Any, request: Request) -> Response:
        try:
            asked = json.loads(await request.body() or b"{}")
        except (ValueError, RecursionError) as error:
            raise InputError("the page sent no JSON") from error
        if not isinstance(asked, dict):
            raise InputError("the page sent no table of values")
        return await answer(self, asked)

    return view


class _Views:
    """What the page asks for."""

    def __init__(self, desk: Desk, token: str) -> None:
        self._desk, self._token = desk, token
        self._editing = asyncio.Lock()
        self._large, self._large_stroke = _Latest(), _Latest()

    async def page(self, _: Request) -> Response:
        """The page itself, with the token that its requests must show."""
        text = _page_bytes("index.html").decode().replace(_SLOT, self._token)
        return Response(text, media_type=_PAGE["index.html"])

    async def page_file(self, request: Request) -> Response:
        """A file of the page."""
        name = request.path_params["file"]
        if name not in _PAGE or name == "index.html":
            return PlainTextResponse("There is no such file.", status_code=404)
        return Response(_page_bytes(name), media_type=_PAGE[name])

    async def furnishings(self, _: Request) -> Response:
        """Controls and styles."""
        return JSONResponse(furnishings())

    async def state(self, _: Request) -> Response:
        """The recipe, looked at again if another program changed its file."""
        async with self._editing:
            self._desk.document.look_again()
        return await self._state()

    @_with_json
    async def turn(self, asked: dict[str, Any]) -> Response:
        """Set values of the style."""
        return await self._changed(lambda: self._desk.turn(_table(asked, "values")))

    @_with_json
    async def style(self, asked: dict[str, Any]) -> Response:
        """Take another style."""
        return await self._changed(lambda: self._desk.take_style(str(asked.get("name"))))

    async def undo(self, _: Request) -> Response:
        """Go back by one change."""
        return await self._changed(self._desk.document.undo)

    async def redo(self, _: Request) -> Response:
        """Make the change again that was undone."""
        return await self._changed(self._desk.document.redo)

    @_with_json
    async def draw(self, asked: dict[str, Any]) -> Response:
        """The large picture; nothing if a later one is asked for already."""
        async with self._large as is_latest:
            if not is_latest:
                return Response(status_code=204)
            return await self._picture(self._desk.front, asked)

    @_with_json
    async def sketch(self, asked: dict[str, Any]) -> Response:
        """A small picture: a thumbnail or a choice."""
        return await self._picture(self._desk.back, asked)

    @_with_json
    async def stroke(self, asked: dict[str, Any]) -> Response:
        """The large stroke; nothing if a later one is asked for already."""
        desk = self._desk
        size, changes = _size(asked), desk.changes(_table(asked, "changes"))
        async with self._large_stroke as is_latest:
            if not is_latest:
                return Response(status_code=204)
            data = await asyncio.to_thread(desk.front.call, "stroke", desk.sheet, size, changes)
        return Response(data, media_type="image/png")

    @_with_json
    async def sample(self, asked: dict[str, Any]) -> Response:
        """A stroke of one style, small."""
        desk = self._desk
        data = await asyncio.to_thread(
            desk.back.call, "sample", desk.sheet, str(asked.get("style")), _size(asked)
        )
        return Response(data, media_type="image/png")

    @_with_json
    async def places(self, asked: dict[str, Any]) -> Response:
        """What can be chosen on a stamp."""
        desk = self._desk
        found = await asyncio.to_thread(
            desk.back.call, "places", desk.sheet, str(asked.get("stamp"))
        )
        return JSONResponse(found)

    async def _picture(self, easel: Any, asked: dict[str, Any]) -> Response:
        desk = self._desk
        wish = picture_wish(asked, desk.changes(_table(asked, "changes")))
        data = await asyncio.to_thread(easel.call, "picture", desk.sheet, wish)
        return Response(data, media_type="image/png")

    async def _changed(self, change: Callable[[], None]) -> Response:
        async with self._editing:
            await asyncio.to_thread(change)
        return await self._state()

    async def _state(self) -> Response:
        return JSONResponse(await asyncio.to_thread(self._desk.state))


def _table(asked: dict[str, Any], name: str) -> dict[str, Any]:
    table = asked.get(name, {})
    if not isinstance(table, dict):
        raise InputError(f"{name} must be a table of values")
    return table


def _size(asked: dict[str, Any]) -> tuple[int, int]:
    """The size of a small picture in px, within reason."""
    try:
        width, height = (max(_LEAST_PX, min(_MOST_PX, int(side))) for side in asked["size"])
    except (KeyError, TypeError, ValueError) as error:
        raise InputError("size must be a width and a height in px") from error
    return width, height


def _page_bytes(name: str) -> bytes:
    return files("inkline.desk").joinpath("page", name).read_bytes()

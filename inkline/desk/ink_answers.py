"""Answers about ink: the recipe on the desk, its changes, and pictures of it."""

from __future__ import annotations

import asyncio
import json
from collections.abc import Callable
from typing import Any

from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from inkline.desk.answers import Changes, Latest, picture_response, size_in, table_in, with_json
from inkline.desk.artwork.kept import ArtworkOnDesk
from inkline.desk.desk import furnishings, picture_wish
from inkline.desk.process import StaleError


class InkAnswers:
    """What the page asks for while ink is turned."""

    def __init__(self, changes: Changes, artwork: ArtworkOnDesk) -> None:
        self._changes, self._desk, self._artwork = changes, changes.desk, artwork
        self._large, self._large_stroke, self._beside = Latest(), Latest(), Latest()

    def routes(self) -> list[Route]:
        """Where each is asked for."""
        looks = {"/furnishings": self.furnishings, "/state": self.state}
        asks = {
            "/turn": self.turn,
            "/style": self.style,
            "/keep-style": self.keep_style,
            "/again": self.again,
            "/number": self.number,
            "/undo": self.undo,
            "/redo": self.redo,
            "/draw": self.draw,
            "/drop": self.drop,
            "/beside": self.beside,
            "/sketch": self.sketch,
            "/stroke": self.stroke,
            "/sample": self.sample,
            "/places": self.places,
        }
        return [
            *(Route(place, answer) for place, answer in looks.items()),
            *(Route(place, answer, methods=["POST"]) for place, answer in asks.items()),
        ]

    async def furnishings(self, _: Request) -> Response:
        """Controls and styles."""
        return JSONResponse(furnishings())

    async def state(self, _: Request) -> Response:
        """The recipe, looked at again if another program changed its file."""
        return await self._changed(self._desk.document.look_again)

    @with_json
    async def turn(self, asked: dict[str, Any]) -> Response:
        """Set values of the style."""
        return await self._changed(lambda: self._desk.turn(table_in(asked, "values")))

    @with_json
    async def style(self, asked: dict[str, Any]) -> Response:
        """Take another style."""
        return await self._changed(lambda: self._desk.take_style(str(asked.get("name"))))

    async def undo(self, _: Request) -> Response:
        """Go back by one change."""
        return await self._changed(self._desk.document.undo)

    async def redo(self, _: Request) -> Response:
        """Make the change again that was undone."""
        return await self._changed(self._desk.document.redo)

    @with_json
    async def keep_style(self, asked: dict[str, Any]) -> Response:
        """Keep the style with all that was turned as a file of her own."""
        return await self._changed(lambda: self._desk.keep_style(str(asked.get("name"))))

    @with_json
    async def again(self, asked: dict[str, Any]) -> Response:
        """Draw something another time."""
        name, count = str(asked.get("name")), asked.get("count")
        return await self._changed(lambda: self._desk.draw_again(name, count))

    @with_json
    async def number(self, asked: dict[str, Any]) -> Response:
        """Draw all with another number, or a fresh one."""
        return await self._changed(lambda: self._desk.take_number(asked.get("number")))

    @with_json
    async def draw(self, asked: dict[str, Any]) -> Response:
        """The large picture; nothing if a later one is asked for already."""
        async with self._large as is_latest:
            if not is_latest:
                return Response(status_code=204)
            try:
                return await self._picture(self._desk.front, asked)
            except StaleError:
                return Response(status_code=204)

    async def drop(self, _: Request) -> Response:
        """Let go of the large picture that is being drawn."""
        await asyncio.to_thread(self._desk.front.drop)
        return Response(status_code=204)

    @with_json
    async def beside(self, asked: dict[str, Any]) -> Response:
        """The picture in another style; nothing if a later one is asked for already."""
        async with self._beside as is_latest:
            if not is_latest:
                return Response(status_code=204)
            try:
                return await self._picture(self._desk.front, asked)
            except StaleError:
                return Response(status_code=204)

    @with_json
    async def sketch(self, asked: dict[str, Any]) -> Response:
        """A small picture: a thumbnail or a choice."""
        return await self._picture(self._desk.back, asked)

    @with_json
    async def stroke(self, asked: dict[str, Any]) -> Response:
        """The large stroke; nothing if a later one is asked for already."""
        desk = self._desk
        size, changes = size_in(asked), desk.changes(table_in(asked, "changes"))
        async with self._large_stroke as is_latest:
            if not is_latest:
                return Response(status_code=204)
            grey, measured = await asyncio.to_thread(
                desk.front.call, "stroke", desk.sheet, size, changes
            )
        return picture_response(grey, **{"x-inkline-measured": json.dumps(measured)})

    @with_json
    async def sample(self, asked: dict[str, Any]) -> Response:
        """A stroke of one style, small."""
        desk = self._desk
        data = await asyncio.to_thread(
            desk.back.call, "sample", desk.sheet, str(asked.get("style")), size_in(asked)
        )
        return picture_response(data)

    @with_json
    async def places(self, asked: dict[str, Any]) -> Response:
        """What can be chosen on a stamp."""
        name = str(asked.get("stamp"))
        return JSONResponse(await self._called(self._desk.back, "places", asked, name))

    async def _picture(self, easel: Any, asked: dict[str, Any]) -> Response:
        desk = self._desk
        wish = picture_wish(asked, desk.changes(table_in(asked, "changes")))
        return picture_response(await self._called(easel, "picture", asked, wish))

    async def _called(self, easel: Any, method: str, asked: dict[str, Any], wish: Any) -> Any:
        """What an easel gives for a stamp, or for artwork where that is asked for."""
        sheet = self._desk.sheet
        if asked.get("artwork"):
            return await asyncio.to_thread(
                self._artwork.draw, easel, sheet, f"artwork_{method}", wish
            )
        return await asyncio.to_thread(easel.call, method, sheet, wish)

    async def _changed(self, change: Callable[[], Any]) -> Response:
        return await self._changes.make(change)

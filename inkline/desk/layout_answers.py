"""Answers about the layout: its form, what is set in it, fonts that are brought, moved numerals."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from functools import partial
from typing import Any
from urllib.parse import unquote

from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from inkline.desk.answers import FILE_NAME, Changes, with_json
from inkline.desk.laying_out import lay_out, look_at, mend, nudge, put_back, swap_form, take_font
from inkline.desk.layout import layout_tables


class LayoutAnswers:
    """What the page asks for while the layout is set."""

    def __init__(self, changes: Changes) -> None:
        self._changes, self._desk = changes, changes.desk

    def routes(self) -> list[Route]:
        """Where each is asked for."""
        looks = {"/layout": self.layout, "/remarks": self.remarks}
        asks = {
            "/set": self.set,
            "/mend": self.mend,
            "/kit": self.kit,
            "/nudge": self.nudge,
            "/put-back": self.put_back,
            "/form": self.form,
            "/forms": self.forms,
            "/font": self.font,
        }
        return [
            *(Route(place, answer) for place, answer in looks.items()),
            *(Route(place, answer, methods=["POST"]) for place, answer in asks.items()),
        ]

    async def layout(self, _: Request) -> Response:
        """The tables of the layout."""
        sheet = self._desk.sheet
        return JSONResponse(
            layout_tables(sheet.text, source=sheet.source, folder=sheet.folder, kit=sheet.kit)
        )

    async def remarks(self, _: Request) -> Response:
        """Notes on the layout, and what its fonts say of their licences."""
        desk = self._desk
        return JSONResponse(await asyncio.to_thread(desk.back.call, "remarks", desk.sheet))

    @with_json
    async def set(self, asked: dict[str, Any]) -> Response:
        """Set what was typed into a row, or let it be as usual."""
        return await self._make(lay_out, asked.get("way"), asked.get("typed"))

    @with_json
    async def mend(self, asked: dict[str, Any]) -> Response:
        """Set what a fault said would mend it."""
        return await self._make(mend, asked.get("key"), asked.get("value"))

    @with_json
    async def kit(self, asked: dict[str, Any]) -> Response:
        """Look at another kit of the recipe."""
        return await self._make(look_at, asked.get("name"))

    @with_json
    async def nudge(self, asked: dict[str, Any]) -> Response:
        """Move a numeral in its cell."""
        return await self._make(nudge, asked.get("name"), asked.get("right"), asked.get("lower"))

    @with_json
    async def put_back(self, asked: dict[str, Any]) -> Response:
        """Let a numeral stand in its own place."""
        return await self._make(put_back, asked.get("name"))

    @with_json
    async def form(self, asked: dict[str, Any]) -> Response:
        """Draw a character by another form."""
        return await self._make(swap_form, asked.get("character"), asked.get("form"))

    @with_json
    async def forms(self, asked: dict[str, Any]) -> Response:
        """The other forms of characters."""
        desk, characters = self._desk, str(asked.get("characters", ""))[:8]
        return JSONResponse(
            await asyncio.to_thread(desk.back.call, "forms", desk.sheet, characters)
        )

    async def font(self, request: Request) -> Response:
        """Take a font file that was dropped on the page."""
        name = unquote(request.headers.get(FILE_NAME, ""))
        return await self._make(take_font, name, await request.body())

    async def _make(self, change: Callable[..., None], *arguments: Any) -> Response:
        return await self._changes.make(partial(change, self._desk, *arguments))

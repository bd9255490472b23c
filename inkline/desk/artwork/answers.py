"""Answers about artwork of the user's own: brought, told, drawn into a folder and taken away."""

from __future__ import annotations

import asyncio
from functools import partial
from pathlib import Path
from typing import Any
from urllib.parse import unquote

from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from inkline.desk.answers import FILE_NAME, Changes, packed, with_json
from inkline.desk.artwork.bringing import leave_artwork, take_artwork
from inkline.desk.artwork.kept import ArtworkOnDesk
from inkline.desk.artwork.reading import ReadPicture
from inkline.desk.kits import KitFolders
from inkline.desk.layout import artwork_table
from inkline.desk.looking import fault_values
from inkline.desk.maker import Maker
from inkline.errors import InklineError, InputError
from inkline.source.faults import RecipeError


class ArtworkAnswers:
    """What the page asks for about the user's own artwork."""

    def __init__(self, changes: Changes, maker: Maker, artwork: ArtworkOnDesk) -> None:
        self._changes, self._desk = changes, changes.desk
        self._maker, self._artwork = maker, artwork

    def routes(self) -> list[Route]:
        """Where each is asked for."""
        return [
            Route("/artwork", self.artwork),
            Route("/artwork/bring", self.bring, methods=["POST"]),
            Route("/artwork/leave", self.leave, methods=["POST"]),
            Route("/artwork/making", self.making),
            Route("/artwork/make", self.make, methods=["POST"]),
            Route("/artwork/pack.zip", self.pack),
        ]

    async def artwork(self, _: Request) -> Response:
        """What the recipe asks of its artwork, and what was found in that."""
        return JSONResponse(await asyncio.to_thread(self._told))

    async def bring(self, request: Request) -> Response:
        """Take a file that was dropped on the page."""
        name = unquote(request.headers.get(FILE_NAME, ""))
        data = await request.body()
        return await self._changes.make(partial(take_artwork, self._desk, name, data))

    @with_json
    async def leave(self, asked: dict[str, Any]) -> Response:
        """Ask for a file no more; it stays where it is."""
        name = str(asked.get("name"))
        return await self._changes.make(partial(leave_artwork, self._desk, name))

    async def making(self, _: Request) -> Response:
        """How far it is."""
        return self._news()

    @with_json
    async def make(self, asked: dict[str, Any]) -> Response:
        """Begin to draw it into its folder, or into another."""
        desk, folders = self._desk, self._folders
        desk.document.keep()
        self._maker.start(
            {
                "what": "artwork",
                "recipe": str(desk.document.path),
                "kit": desk.kit,
                "folder": str(folders.next if asked.get("elsewhere") else folders.current),
                "all_the_same": bool(asked.get("all_the_same")),
                "redraw": [str(name) for name in asked.get("redraw") or ()],
            }
        )
        return self._news()

    async def pack(self, _: Request) -> Response:
        """All of it, packed."""
        folder = self._folders.made
        if folder is None:
            raise InputError("the artwork is not drawn yet")
        return await packed(folder, f"{self._folders.first.name}.zip")

    def _told(self) -> dict[str, Any]:
        sheet = self._desk.sheet
        table = artwork_table(sheet.text, source=sheet.source, folder=sheet.folder, kit=sheet.kit)
        told: dict[str, Any] = {**table, "key": "", "pictures": [], "faults": []}
        if not table["files"]:
            return told
        try:
            read = self._artwork.read(sheet)
        except RecipeError as error:
            return told | {"faults": [fault_values(one) for one in error.faults]}
        except InklineError as error:
            fault = {"key": "", "line": 0, "sentence": str(error), "fixes": []}
            return told | {"faults": [fault]}
        return told | {"key": read.key, "pictures": [_picture_values(one) for one in read.pictures]}

    def _news(self) -> Response:
        folders = self._folders
        made = {
            "folder": folders.current.name,
            "made": folders.made is not None,
            "next": folders.next.name,
        }
        return JSONResponse({**self._maker.news, **made})

    @property
    def _folders(self) -> KitFolders:
        """Where it is drawn: a folder beside the recipe."""
        path: Path = self._desk.document.path
        name = f"{path.stem}-{self._desk.kit}" if self._desk.kit else path.stem
        return KitFolders(path.with_name(f"{name}-artwork"))


def _picture_values(one: ReadPicture) -> dict[str, Any]:
    width, height = one.canvas
    return {
        "name": one.name,
        "file": one.file.name,
        "width": width,
        "height": height,
        "words": list(one.words),
        "lacks": list(one.lacks),
        "across": [] if one.cells is None else one.cells.across,
        "down": [] if one.cells is None else one.cells.down,
        "fault": one.fault,
        "colour_fault": one.colour_fault,
        "is_drawn": bool(one.stamps),
    }

"""Answers about the kit that is made of the recipe: how far it is, and what came of it."""

from __future__ import annotations

import asyncio
import tempfile
from pathlib import Path

from starlette.requests import Request
from starlette.responses import FileResponse, JSONResponse, PlainTextResponse, Response
from starlette.routing import Route

from inkline.delivery.pack import pack_kit
from inkline.delivery.wishes import export_request
from inkline.desk.desk import Desk
from inkline.desk.maker import Maker
from inkline.errors import InputError
from inkline.folder.strangers import holds_product
from inkline.kit.requests import refuse_unfinished

_OVERVIEW = "overview.png"


class KitAnswers:
    """What the page asks for about the kit."""

    def __init__(self, desk: Desk, maker: Maker) -> None:
        self._desk, self._maker = desk, maker

    def routes(self) -> list[Route]:
        """Where each is asked for."""
        return [
            Route("/making", self.making),
            Route("/make", self.make, methods=["POST"]),
            Route("/stop", self.stop, methods=["POST"]),
            Route("/made/overview.png", self.overview),
            Route("/made/pack.zip", self.pack),
        ]

    async def make(self, _: Request) -> Response:
        """Begin to make the kit in its folder beside the recipe."""
        self._desk.document.keep()
        self._maker.start(self._desk.document.path, self._desk.kit_folder)
        return self._news()

    async def stop(self, _: Request) -> Response:
        """Stop it; what was finished is kept."""
        await asyncio.to_thread(self._maker.stop)
        return self._news()

    async def making(self, _: Request) -> Response:
        """How far it is."""
        return self._news()

    async def overview(self, _: Request) -> Response:
        """The overview of the kit that was made."""
        path = self._kit() / _OVERVIEW
        if not path.is_file():
            return PlainTextResponse("There is no overview yet.", status_code=404)
        return FileResponse(path, media_type="image/png")

    async def pack(self, _: Request) -> Response:
        """The kit, packed as it goes to those who buy it."""
        kit = self._kit()
        refuse_unfinished(kit)
        with tempfile.TemporaryDirectory() as folder:
            file = Path(folder) / f"{self._desk.document.path.stem}.zip"
            request = export_request(kit, forms=(), are_all_meant=False)
            await asyncio.to_thread(pack_kit, request, file)
            data = await asyncio.to_thread(file.read_bytes)
        name = file.name.encode("ascii", "replace").decode().replace('"', "")
        headers = {"content-disposition": f'attachment; filename="{name}"'}
        return Response(data, media_type="application/zip", headers=headers)

    def _news(self) -> Response:
        folder = self._desk.kit_folder
        made = {"folder": folder.name, "made": self._made() is not None}
        return JSONResponse({**self._maker.news, **made})

    def _made(self) -> Path | None:
        folder = self._desk.kit_folder
        for one in (folder, folder / self._desk.kit):
            if holds_product(one):
                return one
        return None

    def _kit(self) -> Path:
        kit = self._made()
        if kit is None:
            raise InputError("the kit is not made yet")
        return kit

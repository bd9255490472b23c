"""Answers about the kit that is made of the recipe: how far it is, and what came of it."""

from __future__ import annotations

import asyncio
import tempfile
import weakref
from pathlib import Path
from typing import Any
from urllib.parse import unquote

from starlette.requests import Request
from starlette.responses import FileResponse, JSONResponse, PlainTextResponse, Response
from starlette.routing import Route

from inkline.desk.answers import FILE_NAME, packed, with_json
from inkline.desk.desk import Desk
from inkline.desk.maker import Maker
from inkline.desk.own_hand import put_own_drawing
from inkline.errors import InputError
from inkline.folder.strangers import holds_product
from inkline.kit.recipe.loading import load_recipe
from inkline.kit.requests import refuse_unfinished

_OVERVIEW, _PROOF = "overview.png", "proof.html"
_THING = "x-inkline-thing"
_PROOF_HEADERS = {
    "content-security-policy": "default-src 'none'; style-src 'unsafe-inline'; img-src data:; "
    "base-uri 'none'; form-action 'none'; frame-ancestors 'self'; sandbox",
    "x-frame-options": "SAMEORIGIN",
}
"""The page of a proof holds its own style and pictures, and runs nothing."""


class KitAnswers:
    """What the page asks for about the kit."""

    def __init__(self, desk: Desk, maker: Maker) -> None:
        self._desk, self._maker = desk, maker
        self._pages = tempfile.TemporaryDirectory(prefix="inkline-")
        weakref.finalize(self, self._pages.cleanup)

    def routes(self) -> list[Route]:
        """Where each is asked for."""
        return [
            Route("/making", self.making),
            Route("/make", self.make, methods=["POST"]),
            Route("/own-hand", self.own_hand, methods=["POST"]),
            Route("/prove", self.prove, methods=["POST"]),
            Route("/shop", self.shop, methods=["POST"]),
            Route("/stop", self.stop, methods=["POST"]),
            Route("/made/overview.png", self.overview),
            Route("/made/pack.zip", self.pack),
            Route("/made/proof.html", self.proof),
            Route("/made/shop/{index:int}.png", self.shop_picture),
        ]

    @with_json
    async def make(self, asked: dict[str, Any]) -> Response:
        """Begin to make the kit, an edition of it, or one in another folder."""
        desk, folders = self._desk, self._desk.kit_folders
        desk.document.keep()
        is_new = bool(asked.get("edition") or asked.get("elsewhere"))
        if asked.get("edition"):
            refuse_unfinished(self._kit())
        return self._begin_kit(
            {
                "folder": str(folders.next if is_new else folders.current),
                "since": str(folders.current) if asked.get("edition") else None,
                "all_the_same": bool(asked.get("all_the_same")),
                "redraw": [str(name) for name in asked.get("redraw") or ()],
            }
        )

    async def own_hand(self, request: Request) -> Response:
        """Put a drawing of hers in the place of something, and draw the kit with it everywhere."""
        kit, name = self._kit(), unquote(request.headers.get(FILE_NAME, ""))
        thing = unquote(request.headers.get(_THING, ""))
        refuse_unfinished(kit)
        await asyncio.to_thread(put_own_drawing, kit, thing, name, await request.body())
        return self._begin_kit({"spread": [thing]})

    async def prove(self, _: Request) -> Response:
        """Begin to prove the kit."""
        page = Path(self._pages.name) / _PROOF
        return self._begin({"what": "prove", "kit": str(self._kit()), "page": str(page)})

    async def shop(self, _: Request) -> Response:
        """Begin to make pictures that sell the kit."""
        desk = self._desk
        recipe = load_recipe(desk.document.path, kit=desk.kit)
        font = str(recipe.font) if recipe.font else None
        kit, folder = str(self._kit()), str(self._shop_folder())
        return self._begin({"what": "shop", "kit": kit, "folder": folder, "font": font})

    async def stop(self, _: Request) -> Response:
        """Stop it; what was finished is kept."""
        await asyncio.to_thread(self._maker.stop)
        return self._news()

    async def making(self, _: Request) -> Response:
        """How far it is."""
        return self._news()

    async def overview(self, _: Request) -> Response:
        """The overview of the kit that was made."""
        return _picture(self._kit() / _OVERVIEW)

    async def proof(self, _: Request) -> Response:
        """The page of the proof that was made."""
        page = Path(self._pages.name) / _PROOF
        if not page.is_file():
            return PlainTextResponse("There is no proof yet.", status_code=404)
        return FileResponse(page, media_type="text/html", headers=_PROOF_HEADERS)

    async def shop_picture(self, request: Request) -> Response:
        """One of the pictures that sell."""
        pictures, index = self._shop_pictures(), request.path_params["index"]
        if index >= len(pictures):
            return PlainTextResponse("There is no such picture.", status_code=404)
        return _picture(pictures[index])

    async def pack(self, _: Request) -> Response:
        """The kit, packed as it goes to those who buy it."""
        return await packed(self._kit(), f"{self._desk.document.path.stem}.zip")

    def _begin_kit(self, wishes: dict[str, Any]) -> Response:
        recipe, folder = self._desk.document.path, self._desk.kit_folders.current
        return self._begin({"what": "kit", "recipe": str(recipe), "folder": str(folder), **wishes})

    def _begin(self, order: dict[str, Any]) -> Response:
        self._maker.start(order)
        return self._news()

    def _news(self) -> Response:
        folders, pictures = self._desk.kit_folders, self._shop_pictures()
        made = {
            "folder": folders.current.name,
            "made": folders.made is not None,
            "next": folders.next.name,
            "pictures": [path.relative_to(self._shop_folder()).as_posix() for path in pictures],
        }
        return JSONResponse({**self._maker.news, **made})

    def _shop_folder(self) -> Path:
        """Where pictures that sell the kit that is looked at go, beside its own folder."""
        kit = self._desk.kit_folders
        name = f"{kit.current.name}-{kit.kit}" if kit.kit else kit.current.name
        return kit.current.with_name(f"{name}-shop")

    def _shop_pictures(self) -> list[Path]:
        folder = self._shop_folder()
        if not holds_product(folder):
            return []
        return sorted(path for path in folder.glob("*/*.png") if not path.is_symlink())

    def _kit(self) -> Path:
        kit = self._desk.kit_folders.made
        if kit is None:
            raise InputError("the kit is not made yet")
        return kit


def _picture(path: Path) -> Response:
    if not path.is_file():
        return PlainTextResponse("There is no such picture.", status_code=404)
    return FileResponse(path, media_type="image/png")

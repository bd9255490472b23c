"""The desk as a web application: its page, and whose answers stand where."""

from __future__ import annotations

from importlib.resources import files

from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import JSONResponse, PlainTextResponse, Response
from starlette.routing import Route

from inkline.desk.answers import Changes
from inkline.desk.artwork.answers import ArtworkAnswers
from inkline.desk.artwork.kept import ArtworkOnDesk
from inkline.desk.desk import Desk
from inkline.desk.ink_answers import InkAnswers
from inkline.desk.kit_answers import KitAnswers
from inkline.desk.layout_answers import LayoutAnswers
from inkline.desk.maker import Maker
from inkline.errors import InklineError, InputError, WorkError

_KINDS = {
    ".html": "text/html; charset=utf-8",
    ".css": "text/css; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
}
_PAGE = "index.html"
_SLOT = "{{token}}"


def desk_app(desk: Desk, *, token: str, maker: Maker) -> Starlette:
    """The application that serves `desk`; a `Guard` stands before it."""
    page, changes, artwork = _Page(token), Changes(desk), ArtworkOnDesk()
    return Starlette(
        routes=[
            Route("/", page.page),
            Route("/page/{file}", page.file),
            *InkAnswers(changes, artwork).routes(),
            *LayoutAnswers(changes).routes(),
            *KitAnswers(desk, maker).routes(),
            *ArtworkAnswers(changes, maker, artwork).routes(),
        ],
        exception_handlers={InputError: _refused, WorkError: _failed, InklineError: _failed},
    )


async def _refused(_: Request, problem: Exception) -> Response:
    return JSONResponse({"sentence": str(problem)}, status_code=422)


async def _failed(_: Request, problem: Exception) -> Response:
    return JSONResponse({"sentence": str(problem)}, status_code=500)


class _Page:
    """The files of the page, as they lie in the package."""

    def __init__(self, token: str) -> None:
        self._token = token
        folder = files("inkline.desk").joinpath("page")
        self._files = {one.name: one.read_bytes() for one in folder.iterdir()}

    async def page(self, _: Request) -> Response:
        """The page itself, with the token that its requests must show."""
        text = self._files[_PAGE].decode().replace(_SLOT, self._token)
        return Response(text, media_type=_KINDS[".html"])

    async def file(self, request: Request) -> Response:
        """A file of the page."""
        name = request.path_params["file"]
        kind = _KINDS.get(f".{name.rpartition('.')[2]}")
        if name not in self._files or name == _PAGE or kind is None:
            return PlainTextResponse("There is no such file.", status_code=404)
        return Response(self._files[name], media_type=kind)

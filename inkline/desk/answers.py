"""What all answers to the page have in common: JSON in, turns taken, sizes within reason."""

from __future__ import annotations

import asyncio
import json
import tempfile
from collections.abc import Awaitable, Callable
from functools import wraps
from pathlib import Path
from typing import Any

from starlette.requests import Request
from starlette.responses import JSONResponse, Response

from inkline.delivery.pack import pack_kit
from inkline.delivery.wishes import export_request
from inkline.desk.desk import Desk
from inkline.errors import InputError
from inkline.geometry.arrays import Values
from inkline.kit.requests import refuse_unfinished

FILE_NAME = "x-inkline-file"
"""What a file that the page sends is called, percent-encoded."""
_LEAST_PX, _MOST_PX = 16, 2_000


class Latest:
    """Lets the latest of several callers have its turn; those who waited longer are sent away."""

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


class Changes:
    """Makes changes of the recipe one at a time, each answered by what the recipe then is."""

    def __init__(self, desk: Desk) -> None:
        self.desk = desk
        self._editing = asyncio.Lock()

    async def make(self, change: Callable[[], Any]) -> Response:
        """Make one change."""
        async with self._editing:
            await asyncio.to_thread(change)
        return await self.state()

    async def state(self) -> Response:
        """What the recipe is."""
        return JSONResponse(await asyncio.to_thread(self.desk.state))


def with_json(answer: Callable[[Any, dict[str, Any]], Awaitable[Response]]) -> Any:
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


def table_in(asked: dict[str, Any], name: str) -> dict[str, Any]:
    """The table of values called `name` in what was asked, or an empty one.

    Raises:
        InputError: it is no table.
    """
    table = asked.get(name, {})
    if not isinstance(table, dict):
        raise InputError(f"{name} must be a table of values")
    return table


def size_in(asked: dict[str, Any]) -> tuple[int, int]:
    """The size of a small picture in px, within reason."""
    try:
        width, height = (max(_LEAST_PX, min(_MOST_PX, int(side))) for side in asked["size"])
    except (KeyError, TypeError, ValueError) as error:
        raise InputError("size must be a width and a height in px") from error
    return width, height


def picture_response(picture: Values, **headers: str) -> Response:
    """A picture as the page takes it: row by row, with its size beside it.

    A byte a pixel is ink, four are a colour and how opaque it is. Loopback has room; packing and
    unpacking a file would take longer than all of its way.
    """
    height, width = picture.shape[:2]
    return Response(
        picture.tobytes(),
        media_type="application/octet-stream",
        headers={"x-inkline-size": f"{width} {height}", **headers},
    )


async def packed(folder: Path, name: str) -> Response:
    """What was made in `folder`, packed as it goes to those who buy it, as the file `name`.

    Raises:
        InputError: it isn't finished, or a proof finds stamps out of bounds.
    """
    refuse_unfinished(folder)
    with tempfile.TemporaryDirectory() as beside:
        file = Path(beside) / name
        request = export_request(folder, forms=(), are_all_meant=False)
        await asyncio.to_thread(pack_kit, request, file)
        data = await asyncio.to_thread(file.read_bytes)
    shown = name.encode("ascii", "replace").decode().replace('"', "")
    headers = {"content-disposition": f'attachment; filename="{shown}"'}
    return Response(data, media_type="application/zip", headers=headers)

"""What the owner of a kit drew herself and had put in other stamps: nobody says where it is to lie.

It is held against its masters as all else is, but not against the exact layout.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from inkline.geometry.arrays import Grey
from inkline.geometry.boxes import Box
from inkline.proof.finding import ListedStamp

_ABOUT_BLOCK = 0.1
"""How much of the white about a block belongs to it, as a share of its shorter side."""


def without_patched(entry: ListedStamp, body: Grey) -> tuple[ListedStamp, Grey]:
    """A stamp's entry and picture without what its owner drew in cells; as they are otherwise."""
    ink = entry.get("ink") or {}
    hers = set(ink.get("patched", ()))
    if not hers:
        return entry, body
    places = [
        place for name, place in zip(ink["names"], ink["origins"], strict=True) if name in hers
    ]
    left, body = dict(entry), body.copy()
    for kind in ("glyphs", "boxes"):
        things = [(thing, _cell_of(thing)) for thing in entry.get(kind, ())]
        if things:
            left[kind] = [thing for thing, cell in things if not _holds_any(cell, places)]
        for _, cell in things:
            if _holds_any(cell, places):
                x0, y0, x1, y1 = (max(round(side), 0) for side in cell)
                body[y0:y1, x0:x1] = 0
    return left, body


def _cell_of(thing: dict[str, Any]) -> Box:
    """The cell of a numeral or word; of a block itself, with some of the white about it."""
    if "cell" in thing:
        x0, y0, x1, y1 = map(float, thing["cell"])
        return x0, y0, x1, y1
    x0, y0, x1, y1 = (float(thing[side]) for side in ("x0", "y0", "x1", "y1"))
    white = _ABOUT_BLOCK * min(x1 - x0, y1 - y0)
    return x0 - white, y0 - white, x1 + white, y1 + white


def _holds_any(cell: Box, places: Sequence[Sequence[float]]) -> bool:
    return any(cell[0] <= x < cell[2] and cell[1] <= y < cell[3] for x, y in places)

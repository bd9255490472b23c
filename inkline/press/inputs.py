"""A digest of all that a picture depends on, by which a run knows what it needs not draw again."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from inkline.drawing import Drawing, Leaves, Mark, Stroke
from inkline.ink.form.letters import Letters
from inkline.ink.master import master_key
from inkline.ink.setup import times_again
from inkline.ink.style import Style

_PICTURE_VERSION = 1
"""Raised only when all buyers' pictures are meant to be made again; a newer inkline alone redraws
nothing."""
_DECIMALS = 6
"""Coordinates are told apart to a millionth of a px, which no picture shows and which no two
platforms disagree on."""


def drawing_digest(
    drawing: Drawing, *, number: int, again: Mapping[str, int], style: Mapping[str, Any], ppi: float
) -> str:
    """The digest of a stamp's exact drawing, style, number and what is drawn again on it."""
    digest = hashlib.blake2b(digest_size=16)
    own = again_in(drawing, again)
    head = [
        _PICTURE_VERSION,
        drawing.name,
        drawing.canvas,
        drawing.sheet_px,
        number,
        own,
        style,
        ppi,
    ]
    digest.update(json.dumps(head, sort_keys=True).encode())
    for layer in drawing.layers:
        digest.update(layer.name.encode())
        for mark in layer.marks:
            _add_mark(digest, mark)
    return digest.hexdigest()


def again_in(drawing: Drawing, again: Mapping[str, int]) -> dict[str, int]:
    """What of `again` concerns `drawing`.

    That is its parts, itself, what it belongs to, and drawings that it shares with other stamps.
    """
    own = {
        name: count for name, count in again.items() if f"{name}/".startswith(f"{drawing.name}/")
    }
    own |= {
        name: count for name, count in again.items() if f"{drawing.name}/".startswith(f"{name}/")
    }
    return own | {name: count for name, count in again.items() if _is_shared(name, drawing)}


def _is_shared(name: str, drawing: Drawing) -> bool:
    """Whether `name` is that of a drawing elsewhere that marks of this one share."""
    return any(f"{mark.name}/".startswith(f"{name}/") for mark in drawing.marks)


def _add_mark(digest: hashlib.blake2b, mark: Mark) -> None:
    head: list[Any] = [mark.name, mark.group, mark.role, *_rounded_values(mark.origin)]
    if isinstance(mark, Stroke):
        numbers = [mark.width_px, *mark.room_px, *mark.crossings]
        head += [mark.cap, mark.shared, mark.closed, *_rounded_values(numbers)]
    outlines = (mark.points,) if isinstance(mark, Stroke) else mark.contours
    digest.update(json.dumps(head).encode())
    for points in outlines:
        digest.update(len(points).to_bytes(4, "little"))
        digest.update(_rounded_points(points).tobytes())
    if isinstance(mark, Stroke) and mark.profile is not None:
        digest.update(np.round(mark.profile, _DECIMALS).astype("<f8").tobytes())
    if isinstance(mark, Stroke) and mark.cuts is not None:
        cuts = np.array([(cut.reach, cut.lean) for cut in mark.cuts])
        digest.update(np.round(cuts, _DECIMALS).astype("<f8").tobytes())


def _rounded_values(values: Any) -> list[float]:
    return [round(float(value), _DECIMALS) + 0.0 for value in values]


def _rounded_points(points: NDArray[np.float64]) -> NDArray[np.float64]:
    return np.asarray(
        np.round(points, _DECIMALS) + 0.0, dtype="<f8"
    )  # + 0.0 turns a negative zero into a plain one


def style_digest(values: Mapping[str, Any]) -> str:
    """A digest of a style's values: equal for equal values, whatever the order."""
    return hashlib.blake2b(json.dumps(values, sort_keys=True).encode(), digest_size=16).hexdigest()


def sheet_digest(version: int, *parts: Any) -> str:
    """The digest of a sheet: the version of its setting and the values that it is made from."""
    return hashlib.blake2b(json.dumps([version, *parts]).encode(), digest_size=16).hexdigest()


_DECIMALS = 6


_DRAWN_VERSION = 1
"""Raised only when all pictures are meant to be made again."""


def ink_keys(
    drawing: Drawing,
    style: Style,
    *,
    number: int,
    again: Mapping[str, int] | None = None,
    cut_style: Style | None = None,
) -> list[str]:
    """The keys of the masters of a drawing's marks, as the engine has them."""
    px_per_mm = drawing.sheet_px / style.drawn_at
    keys, asked = [], again or {}
    for leaves in Leaves:
        marks = drawing.marks_that_leave(leaves)
        own = (cut_style or style) if leaves is Leaves.WHITE else style
        letters = Letters(marks, own, number=number, again=asked, px_per_mm=px_per_mm)
        keys += [
            master_key(
                mark,
                own,
                number=number,
                again=times_again(mark.name, asked),
                px_per_mm=px_per_mm,
                letter=letters.strokes_with(mark),
            )
            for mark in marks
        ]
    return keys


def ink_digest(drawing: Drawing, style: Style, *, number: int, what: Sequence[object]) -> str:
    """The digest of a drawing's ink, of its place, and of `what` else decides its file."""
    scale = round(drawing.sheet_px / style.drawn_at, _DECIMALS)
    places = [[round(value, _DECIMALS) + 0.0 for value in mark.origin] for mark in drawing.marks]
    facts = [
        _DRAWN_VERSION,
        drawing.canvas,
        scale,
        list(what),
        places,
        ink_keys(drawing, style, number=number),
    ]
    return hashlib.blake2b(json.dumps(facts).encode(), digest_size=16).hexdigest()

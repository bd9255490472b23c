"""What PDF files are made of: operators that fill outlines, numbers, names, and the file.

ISO 32000-1, 7.3 and 8.5. Objects, streams and cross references are pikepdf's.
"""

from __future__ import annotations

import io
import re
from collections.abc import Iterable, Sequence
from decimal import Decimal

import pikepdf

from inkline.geometry.fitting import FittedOutline

_DECIMALS = 3
"""Of a point: 0.4 um, finer than any device."""


def path_operators(outlines: Sequence[FittedOutline]) -> str:
    """The operators that fill `outlines` by the non-zero rule, in their own units."""
    return "".join(part for outline in outlines for part in _path(outline)) + (
        "f\n" if outlines else ""
    )


def _path(outline: FittedOutline) -> Iterable[str]:
    nodes = [numbers_text(node) for node in outline.nodes.tolist()]
    handles = outline.handles.reshape(-1, 4).tolist()
    yield f"{nodes[0]} m\n"
    last = len(nodes) - 1
    for index, straight in enumerate(outline.straight.tolist()):
        end = nodes[0] if index == last else nodes[index + 1]
        if not straight:
            yield f"{numbers_text(handles[index])} {end} c\n"
        elif index < last:  # the last straight piece is drawn by closing the path
            yield f"{end} l\n"
    yield "h\n"


def colour_operator(colour: str) -> str:
    """The operator that fills with the colour `#rrggbb`."""
    parts = (int(colour[index : index + 2], 16) / 255 for index in (1, 3, 5))
    return f"{numbers_text(parts)} rg"


def numbers_text(values: Iterable[float], *, decimals: int = _DECIMALS) -> str:
    """Numbers with a space between."""
    return " ".join(number_text(float(value), decimals=decimals) for value in values)


def number_text(value: float, *, decimals: int = _DECIMALS) -> str:
    """A real number as PDF writes it: never with an exponent, and as short as may be."""
    text = f"{value:.{decimals}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text in {"", "-0"} else text


def name_of(key: str) -> str:
    """`key` as a name may be written: letters and digits only."""
    return re.sub(r"[^A-Za-z0-9]", "", key) or "F"


def array_of(values: Iterable[float], *, decimals: int = _DECIMALS) -> pikepdf.Array:
    """Numbers as an array, as short as `number_text` writes them."""
    return pikepdf.Array([Decimal(number_text(float(one), decimals=decimals)) for one in values])


def saved_bytes(file: pikepdf.Pdf) -> bytes:
    """The whole file: the same objects give the same bytes, without date or chance."""
    data = io.BytesIO()
    file.save(
        data,
        min_version="1.7",
        deterministic_id=True,
        object_stream_mode=pikepdf.ObjectStreamMode.disable,
    )
    return data.getvalue()

"""SVG files of filled outlines, in pixels of the picture (W3C Recommendation SVG 1.1)."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from xml.sax.saxutils import escape

import numpy as np
from numpy.typing import NDArray

from inkline.geometry.fitting import FittedOutline

_STEPS = 100
"""Steps in a px to which coordinates are rounded: half a step, 0.005 px, is what rounding adds to a
fit of 0.1 px."""
ROUNDING_PX = 0.75 / _STEPS
"""The farthest that rounding moves a point, a little over half a step's diagonal."""


def svg_bytes(
    outlines: Sequence[FittedOutline], *, size: tuple[int, int], title: str, note: str
) -> bytes:
    """The SVG file of `outlines`, black on nothing; equal outlines give equal bytes.

    They are filled by the non-zero rule.

    Args:
        outlines: in px, y down; holes wound the other way than what they are in.
        size: width and height in px.
        title: what it is, for people and screen readers.
        note: what else should be known of it.
    """
    width, height = size
    path = f'<path d="{path_data(outlines)}"/>\n' if outlines else ""
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}" height="{height}" viewBox="0 0 '
        f'{width} {height}">\n'
        f"<title>{escape(title)}</title>\n<desc>{escape(note)}</desc>\n{path}</svg>\n"
    ).encode()


def path_data(outlines: Sequence[FittedOutline]) -> str:
    """The outlines as one path's data, rounded to a hundredth of a px.

    Each piece is relative to the point before, without adding up errors.
    """
    return "".join(part for outline in outlines for part in _parts(outline))


def _parts(outline: FittedOutline) -> Iterator[str]:
    nodes = _steps(outline.nodes)
    handles = _steps(outline.handles)
    nexts = np.roll(nodes, -1, axis=0)
    pieces = (
        np.concatenate((handles - nodes[:, None], (nexts - nodes)[:, None]), axis=1)
        .reshape(-1, 6)
        .tolist()
    )
    x, y = nodes[0].tolist()
    yield f"M{_numbers_text((x, y))}"
    last = len(pieces) - 1
    for index, (piece, straight) in enumerate(zip(pieces, outline.straight.tolist(), strict=True)):
        if not straight:
            yield f"c{_numbers_text(piece)}"
        elif index < last:  # the last straight piece is drawn by closing the path
            yield f"l{_numbers_text(piece[4:])}"
    yield "z"


def _steps(points: NDArray[np.float64]) -> NDArray[np.int64]:
    return np.rint(points * _STEPS).astype(np.int64)


def _numbers_text(values: Sequence[int]) -> str:
    """The numbers in px, with no more between them than path data needs.

    A minus sign parts two numbers as well as a space.
    """
    texts = [_number(value) for value in values]
    return texts[0] + "".join(text if text[0] == "-" else f" {text}" for text in texts[1:])


@lru_cache(maxsize=1 << 16)
def _number(steps: int) -> str:
    whole, part = divmod(abs(steps), _STEPS)
    sign = "-" if steps < 0 else ""
    if not part:
        return f"{sign}{whole}"
    return f"{sign}{whole or ''}.{part:02d}".rstrip("0")

"""The edges of ink in a picture, to a part of a pixel."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, cast

import contourpy
import numpy as np
from PIL import Image, ImageDraw

from inkline.geometry.arrays import Floats, Grey, Points

if TYPE_CHECKING:
    from inkline.artwork.picture.rules import FoundRule

_MIDDLE = 127.5
_MOST_PX_AT_ONCE, _LEAST_BAND = 8_000_000, 64
"""Pixels that are followed at once, and the fewest rows of them."""
_AROUND_RULE_PX = 1.25
"""How far about a rule its own soft edge reaches."""


def ink_contours(coverage: Grey | Floats) -> list[Points]:
    """Closed contours about the ink, each `(n, 2)` in px without a repeated point.

    Outer ones have a positive area by the page's own coordinates, holes a negative one. Pixel
    (0, 0) covers [0, 1) x [0, 1), and ink ends at the canvas's edge.

    Args:
        coverage: 0 to 255, `(height, width)`; beyond that where it was mended.
    """
    rows, columns = np.flatnonzero(coverage.any(axis=1)), np.flatnonzero(coverage.any(axis=0))
    if not len(rows):
        return []
    corner = np.array([columns[0], rows[0]], dtype=np.float64)
    inked = coverage[rows[0] : rows[-1] + 1, columns[0] : columns[-1] + 1]
    padded = cast("Grey | Floats", np.pad(inked, 1))
    return [
        line[:-1] - 0.5 + corner
        for line in _closed_lines(padded)
        if len(line) > 3  # the pad is one pixel
    ]


def _closed_lines(padded: Grey | Floats) -> Iterator[Points]:
    """Lines of half coverage, each with its first point repeated; none meets the rim.

    They are followed in bands of rows, as coordinates take 33 bytes a pixel. Bands share a row, on
    which both cross it at the same places to the last bit; there their pieces are joined.
    """
    height, width = padded.shape
    band = max(_LEAST_BAND, _MOST_PX_AT_ONCE // width)
    pieces: dict[tuple[float, float], Points] = {}
    for top in range(0, height - 1, band):
        rows = padded[top : top + band + 1]
        generator = contourpy.contour_generator(
            x=np.arange(width),
            y=np.arange(top, top + len(rows)),
            z=rows,
            line_type=contourpy.LineType.Separate,
        )
        for line in cast("list[Points]", generator.lines(_MIDDLE)):
            if (line[0] == line[-1]).all():
                yield line
            else:
                pieces[_place(line[0])] = line
    while pieces:
        _, line = pieces.popitem()
        chain = [line]
        while _place(chain[-1][-1]) != _place(line[0]):
            chain.append(pieces.pop(_place(chain[-1][-1])))
        yield np.concatenate([*(one[:-1] for one in chain), line[:1]])


def _place(point: Points) -> tuple[float, float]:
    return float(point[0]), float(point[1])


def without_rules(coverage: Grey, rules: Sequence[FoundRule]) -> Grey:
    """The picture without the ink of `rules`."""
    height, width = coverage.shape
    mask = Image.new("1", (width, height))
    pencil = ImageDraw.Draw(mask)
    for rule in rules:
        along = rule.points[1] - rule.points[0]
        along = along / np.hypot(*along)
        across = np.array([-along[1], along[0]])
        side, end = 0.5 * rule.width + _AROUND_RULE_PX, _AROUND_RULE_PX
        start, stop = rule.points[0] - end * along, rule.points[1] + end * along
        corners = [
            start + side * across,
            stop + side * across,
            stop - side * across,
            start - side * across,
        ]
        pencil.polygon([(float(x) - 0.5, float(y) - 0.5) for x, y in corners], fill=1)
    left = coverage.copy()
    left[np.asarray(mask)] = 0
    return left

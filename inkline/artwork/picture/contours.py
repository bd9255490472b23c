"""The edges of ink in a picture, to a part of a pixel."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, cast

import contourpy
import numpy as np
from PIL import Image, ImageDraw

from inkline.geometry.arrays import Grey, Points

if TYPE_CHECKING:
    from inkline.artwork.picture.rules import FoundRule

_MIDDLE = 127.5
_AROUND_RULE_PX = 1.25
"""How far about a rule its own soft edge reaches."""


def ink_contours(coverage: Grey) -> list[Points]:
    """Closed contours about the ink, each `(n, 2)` in px without a repeated point.

    Outer ones have a positive area by the page's own coordinates, holes a negative one. Pixel
    (0, 0) covers [0, 1) x [0, 1), and ink ends at the canvas's edge.

    Args:
        coverage: uint8 `(height, width)`.
    """
    rows, columns = np.flatnonzero(coverage.any(axis=1)), np.flatnonzero(coverage.any(axis=0))
    if not len(rows):
        return []
    corner = np.array([columns[0], rows[0]], dtype=np.float64)
    inked = coverage[rows[0] : rows[-1] + 1, columns[0] : columns[-1] + 1]
    padded = np.pad(inked, 1)
    generator = contourpy.contour_generator(z=padded, line_type=contourpy.LineType.Separate)
    lines = cast("list[Points]", generator.lines(_MIDDLE))
    return [
        line[:-1] - 0.5 + corner
        for line in lines
        if len(line) > 3  # the pad is one pixel
    ]


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

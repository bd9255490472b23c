"""A font's outlines as strokes of a pen: centrelines, with the outline's own width along them.

Three steps: the outline's middle line (`tracing.axis`), the ways of a pen along it
(`tracing.joins`), and the order and direction of a hand (`tracing.order`). Here they are put
together, smoothed, and given in em.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

import numpy as np
import scipy

from inkline.geometry.arrays import Floats, Points
from inkline.geometry.polygon import bounds, signed_area
from inkline.geometry.polyline import arc_lengths, at_arc_lengths
from inkline.lettering.face import Glyph, GlyphStroke
from inkline.tracing.axis import axis_from_contours
from inkline.tracing.joins import paths_from_axis
from inkline.tracing.order import in_hand_order
from inkline.tracing.pieces import Path

_STEP = 0.1
"""Distance of a traced stroke's points, in widths.
1/800 of the width off a curve whose radius is one width."""
_FINEST = 120.0
"""Hairlines have no more than so many points along the larger side of their glyph.
1/15000 of it off a bowl of a quarter of its size."""
_SMOOTHED_OVER = 0.5
"""Centrelines are smoothed by parabolas over this many widths.
That leaves curves as they are and takes out the grain of the sampling."""
_EVENED_OVER = 1.0
"""Widths are averaged over this many widths of the stroke: a pen's pressure has no steps."""
_FULLER = 1.08
"""A dot is at most this much wider than the disc that fits it."""

_USUAL_COUNTS = {
    1: "01236789" + "CIJLOSUVWZ" + "celosvwz",
    2: "45" + "DGMNPQTXY" + "abdfghijnpqrtuxy",
    3: "ABEFHKR" + "km",
}
USUAL_STROKES = {
    character: count for count, characters in _USUAL_COUNTS.items() for character in characters
}
"""How many strokes a hand needs for the plain form of each character.
Common practice of writing lessons, no source."""


def traced_glyph(glyph: Glyph) -> Glyph:
    """The glyph as strokes instead of contours, with the outline's width at every point.

    One without ink comes back as it is.

    Strokes have round ends that touch the outline's; their order and direction are a hand's. Ink
    that is as wide as long becomes a press of the pen.

    Args:
        glyph: united contours in em, outer ones of positive area, as `Font` gives them.

    Cost: about 10 ms.
    """
    if not glyph.contours:
        return glyph
    strokes = traced_strokes(glyph.contours)
    return replace(glyph, strokes=strokes, contours=())


def traced_strokes(
    contours: Sequence[Points], *, finest: float = _FINEST
) -> tuple[GlyphStroke, ...]:
    """The strokes that make united contours, in the contours' own unit; see `traced_glyph`.

    They have at most `finest` points along the larger side of it all.
    """
    axis = axis_from_contours(contours)
    step = max(_STEP * axis.width, float(np.ptp(axis.edge.data, axis=0).max()) / finest)
    paths = in_hand_order(
        [_smoothed_path(path, step) for path in paths_from_axis(axis)], width=axis.width
    )
    strokes = [
        GlyphStroke(points=path.points, closed=path.closed, widths_em=2.0 * path.radii)
        for path in paths
    ]
    presses = [_press(np.array([x, y]), radius, contours) for x, y, radius in axis.presses.tolist()]
    return (*strokes, *presses)


def _smoothed_path(path: Path, step: float) -> Path:
    """A path at even steps, without the grain of the sampling, its corners kept."""
    if path.closed and not path.corners:
        closed = np.concatenate((path.points, path.points[:1]))
        points, radii = _even_points(closed, np.append(path.radii, path.radii[0]), step)
        points, radii = points[:-1], radii[:-1]
        return replace(
            path, points=_smoothed_points(points, "wrap"), radii=_averaged_radii(radii, "wrap")
        )
    stops = [0, *path.corners, len(path.points) - 1]
    points, radii = path.points, path.radii
    if path.closed:
        points, radii = np.roll(points, -stops[1], axis=0), np.roll(radii, -stops[1])
        points, radii = np.concatenate((points, points[:1])), np.append(radii, radii[0])
        stops = [at - stops[1] for at in stops[1:-1]] + [len(points) - 1]
    parts = [_even_points(points[a : b + 1], radii[a : b + 1], step) for a, b in pairwise(stops)]
    lines = [_with_exact_ends(_smoothed_points(part[0], "interp"), part[0]) for part in parts]
    counts = np.cumsum([len(line) - 1 for line in lines])
    points = np.concatenate([lines[0], *(line[1:] for line in lines[1:])])
    radii = np.concatenate([parts[0][1], *(part[1][1:] for part in parts[1:])])
    corners = tuple(int(at) for at in counts[:-1])
    if path.closed:
        return replace(
            path,
            points=points[:-1],
            radii=_averaged_radii(radii[:-1], "wrap"),
            corners=(0, *corners),
        )
    return replace(path, points=points, radii=_averaged_radii(radii, "nearest"), corners=corners)


def _even_points(points: Points, radii: Floats, step: float) -> tuple[Points, Floats]:
    lengths = arc_lengths(points)
    wanted = np.linspace(0.0, lengths[-1], max(2, int(np.ceil(lengths[-1] / step)) + 1))
    return at_arc_lengths(points, lengths, wanted), np.interp(wanted, lengths, radii)


def _smoothed_points(points: Points, mode: str) -> Points:
    n_points = 2 * round(0.5 * _SMOOTHED_OVER / _STEP) + 1
    if len(points) < n_points:
        return points
    from scipy.signal import savgol_filter  # noqa: PLC0415 - slow to import; wanted only here

    return np.asarray(savgol_filter(points, n_points, 2, axis=0, mode=mode))


def _with_exact_ends(points: Points, exact: Points) -> Points:
    """The points with the first and the last where they belong."""
    return np.concatenate((exact[:1], points[1:-1], exact[-1:]))


def _averaged_radii(radii: Floats, mode: str) -> Floats:
    n_points = 2 * round(0.5 * _EVENED_OVER / _STEP) + 1
    return np.asarray(scipy.ndimage.uniform_filter1d(radii, min(n_points, len(radii)), mode=mode))


def _press(centre: Points, radius: float, contours: Sequence[Points]) -> GlyphStroke:
    """A dot with the ink of the contour that it lies in."""
    areas = [signed_area(contour) for contour in contours if _is_in_box(centre, contour)]
    ink = min((area for area in areas if area > 0.0), default=0.0)
    fuller = float(np.clip(np.sqrt(ink / np.pi), radius, _FULLER * radius))
    return GlyphStroke(points=np.array([centre, centre]), widths_em=np.full(2, 2.0 * fuller))


def _is_in_box(point: Points, contour: Points) -> bool:
    x0, y0, x1, y1 = bounds([contour])
    return bool(x0 <= point[0] <= x1 and y0 <= point[1] <= y1)

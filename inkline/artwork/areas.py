"""Areas of paths: what a path encloses, what a line covers, and what of a line an area holds."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pyclipper

from inkline.artwork.model import TOLERANCE_PX, FillRule, LineCap, LineJoin, Pen, Subpath
from inkline.errors import InputError
from inkline.geometry.arrays import Floats, Points
from inkline.geometry.clipping import STEPS, add_closed, off_grid, on_grid

_MANY_POINTS, _SAMPLES, _MOST_PAIRS = 3_000, 100, 2_000_000
"""Shapes of more points are looked over before they are filled, by so many of their sides, of which
fewer are taken where that makes more pairs."""
_MOST_CROSSINGS = 1_000_000
"""Beyond so many crossings of a shape with itself it takes longer to fill than anybody waits."""
_FILL_TYPES = {
    FillRule.NONZERO: pyclipper.PFT_NONZERO,
    FillRule.EVENODD: pyclipper.PFT_EVENODD,
}
_JOINS = {
    LineJoin.MITER: pyclipper.JT_MITER,
    LineJoin.ROUND: pyclipper.JT_ROUND,
    LineJoin.BEVEL: pyclipper.JT_SQUARE,
}
_ENDS = {
    LineCap.BUTT: pyclipper.ET_OPENBUTT,
    LineCap.ROUND: pyclipper.ET_OPENROUND,
    LineCap.SQUARE: pyclipper.ET_OPENSQUARE,
}


def enclosed_area(subpaths: Sequence[Subpath], rule: FillRule) -> tuple[Points, ...]:
    """The simple contours of what `subpaths` enclose, open ones closed by a straight line.

    Outer contours have a positive area by the page's own coordinates, holes a negative one.

    Raises:
        InputError: they cross themselves so often that it would take very long.
    """
    runs = [run.points for run in subpaths if len(run.points) > 2]
    if sum(map(len, runs)) > _MANY_POINTS and _n_crossings(runs) > _MOST_CROSSINGS:
        raise InputError("a shape of the artwork crosses itself a million times, and isn't filled")
    clipper = pyclipper.Pyclipper()
    if not _add(clipper, [run.points for run in subpaths], pyclipper.PT_SUBJECT):
        return ()
    fill = _FILL_TYPES[rule]
    return _contours(clipper.Execute(pyclipper.CT_UNION, fill, fill))


def _n_crossings(runs: Sequence[Points]) -> float:
    """About how often closed runs cross themselves and each other, by some of their sides."""
    starts = np.concatenate(runs)
    ends = np.concatenate([np.roll(points, -1, axis=0) for points in runs])
    n_some = min(_SAMPLES, max(_MOST_PAIRS // len(starts), 8))
    some = np.linspace(0, len(starts) - 1, n_some).astype(int)

    def side(a: Points, b: Points, c: Points) -> Floats:
        """On which side of lines from `a` to `b` points `c` lie."""
        return np.asarray(
            (b[..., 0] - a[..., 0]) * (c[..., 1] - a[..., 1])
            - (b[..., 1] - a[..., 1]) * (c[..., 0] - a[..., 0])
        )

    one, other = starts[some, None], ends[some, None]
    crosses = (side(one, other, starts) * side(one, other, ends) < 0.0) & (
        side(starts, ends, one) * side(starts, ends, other) < 0.0
    )
    return 0.5 * float(np.count_nonzero(crosses)) * len(starts) / len(some)


def stroked_area(subpaths: Sequence[Subpath], pen: Pen) -> tuple[Points, ...]:
    """The simple contours of what a pen covers along `subpaths`, without regard to its dashes."""
    offset = pyclipper.PyclipperOffset(pen.miter_limit, TOLERANCE_PX * STEPS)
    n_added = 0
    for run in subpaths:
        end = pyclipper.ET_CLOSEDLINE if run.closed else _ENDS[pen.cap]
        points = run.points if len(run.points) > 1 else np.repeat(run.points, 2, axis=0)
        try:
            offset.AddPath(_steps_of(points), _JOINS[pen.join], end)
        except pyclipper.ClipperException:
            continue
        n_added += 1
    return _contours(offset.Execute(0.5 * pen.width * STEPS)) if n_added else ()


def lines_within(run: Subpath, area: Sequence[Points]) -> tuple[Subpath, ...]:
    """The parts of a line that lie within an area; one that lies in it whole is kept as it is."""
    points = np.concatenate((run.points, run.points[:1])) if run.closed else run.points
    clipper = pyclipper.Pyclipper()
    try:
        clipper.AddPath(_steps_of(points), pyclipper.PT_SUBJECT, False)
    except pyclipper.ClipperException:
        return ()
    if not _add(clipper, area, pyclipper.PT_CLIP):
        return ()
    fill = pyclipper.PFT_NONZERO
    tree = clipper.Execute2(pyclipper.CT_INTERSECTION, fill, fill)
    parts = [np.array(part, np.float64) / STEPS for part in pyclipper.OpenPathsFromPolyTree(tree)]
    lengths = [float(np.hypot(*np.diff(part, axis=0).T).sum()) for part in parts]
    whole = float(np.hypot(*np.diff(points, axis=0).T).sum())
    if abs(sum(lengths) - whole) <= 2.0 / STEPS * len(points):
        return (run,)
    return tuple(Subpath(points=part, closed=False) for part in parts)


def _steps_of(points: Points) -> list[list[int]]:
    """The points of a line, which may be fewer than three, in steps of the grid."""
    rounded: list[list[int]] = np.rint(points * STEPS).astype(np.int64).tolist()
    return rounded


def _add(clipper: pyclipper.Pyclipper, contours: Sequence[Points], kind: int) -> int:
    """How many of the contours were taken; those without area are none."""
    return sum(add_closed(clipper, path, kind) for path in on_grid(contours))


def _contours(paths: Sequence[list[list[int]]]) -> tuple[Points, ...]:
    return off_grid(path for path in paths if len(path) >= 3)

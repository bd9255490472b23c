"""Whether two pictures of one stamp differ by hand, by edge, or are of different things."""

from __future__ import annotations

import numpy as np
import scipy

from inkline.geometry.arrays import Bools, Floats, Grey
from inkline.proof.changes import telling_window

_STRAY_SHARE = 0.006
"""No hand strays farther from its place than this share of the picture's longer side."""
_LEAST_WITHIN, _LEAST_FOUND = 0.95, 0.7
"""Another picture altogether has less of its ink within a px or two of the first's, and has ink
near less of that. Another drawing of the same stamp has ink near nearly all of it; one of which
much is erased has none elsewhere."""
_WITHIN_PX = 2.0
_BY_HAND = 0.5
"""Share of a small difference from which on marks that moved, rather than edges, explain it."""
_WINDOW_SHARE = 1 / 60
"""Hands wander over longer stretches than this share of the sheet's width, edges over shorter."""
_LEAST_WINDOW_PX = 8.0
_EDGE_SHARE = 2.5e-4
"""Edges alone move outlines by less than this share of the sheet's width on the mean: three
times what twice the raggedness of the usual style makes, a third of what another hand does."""
_BLUR_PX = 1.0


def is_of_something_else(got: Grey, expected: Grey) -> bool:
    """Whether `got` shows something else than `expected`, be it drawn by whatever hand."""
    one, other = got >= 128, expected >= 128
    reach = max(_STRAY_SHARE * max(got.shape), 3.0)
    return (
        _share_near(one, other, _WITHIN_PX) < _LEAST_WITHIN
        and _share_near(other, one, reach) < _LEAST_FOUND
    )


def _share_near(one: Bools, other: Bools, reach_px: float) -> float:
    """What share of the ink of `one` lies within reach of that of `other`."""
    n_inked = int(np.count_nonzero(one))
    if not n_inked or not other.any():
        return 0.0
    far = scipy.ndimage.distance_transform_edt(~other)
    return float((far[one] <= reach_px).mean())


def differs_by_edge(got: Grey, expected: Grey, *, sheet_px: float) -> bool:
    """Whether edges alone differ: rougher or smoother, along a path that is the same.

    Where a path moves, both its edges move over a stretch: the difference is the slope of the ink
    times a shift that changes slowly (Lucas and Kanade's equation in a window). What that leaves
    unexplained is the edges' own.
    """
    window_px = max(_WINDOW_SHARE * sheet_px, _LEAST_WINDOW_PX)
    edge_px = _EDGE_SHARE * sheet_px
    part = telling_window(got, expected)
    got, expected = got[part], expected[part]
    soft = scipy.ndimage.gaussian_filter(expected / 255.0, _BLUR_PX)
    change = scipy.ndimage.gaussian_filter(got / 255.0, _BLUR_PX) - soft
    steps = sum(float(np.abs(slope).sum()) for slope in np.gradient(soft))
    if float(np.abs(change).sum()) > edge_px * steps:
        return False
    return _share_of_shifts(soft, change, window_px) < _BY_HAND


def _share_of_shifts(soft: Floats, change: Floats, window_px: float) -> float:
    """What share of `change` slowly changing shifts of `soft` explain, 0 to 1."""
    down, right = (np.asarray(slope) for slope in np.gradient(soft))

    def about(values: Floats) -> Floats:
        return np.asarray(scipy.ndimage.gaussian_filter(values, window_px))

    a, b, c = about(right * right), about(right * down), about(down * down)
    p, q = about(right * change), about(down * change)
    small = 1e-3 * float((a + c).max()) + 1e-12
    a, c = a + small, c + small
    det = a * c - b * b
    x, y = (c * p - b * q) / det, (a * q - b * p) / det
    left = change - x * right - y * down
    return 1.0 - float((left * left).sum() / max(float((change * change).sum()), 1e-12))


def roughness_ratio(got: Grey, expected: Grey) -> float:
    """How much longer the outline of `got` is: a rougher one is longer along the same path."""
    one, other = (
        float(np.hypot(*np.gradient(scipy.ndimage.gaussian_filter(grey / 255.0, 0.5))).sum())
        for grey in (got, expected)
    )
    return one / max(other, 1e-12)

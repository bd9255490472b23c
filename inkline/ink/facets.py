"""Facets: the straight cuts that a gouge or a knife leaves along an edge. Lengths in mm."""

from __future__ import annotations

import numpy as np

from inkline.geometry.arrays import Floats, Indices, Points

# In curves a facet turns by this much, however short that makes it.
_TURN = np.deg2rad(26.0)
# Facets end before or behind their even places by this share of one, as a standard deviation.
_PLAY, _PLAY_LIMIT = 0.16, 2.0
_FEWEST = 6


def facet_ends(along: Points, length: float, draws: Floats, *, facets: float) -> Indices:
    """Indices of the points of a contour between which it is cut straight, ascending.

    They lie `facets` apart on the mean, closer in curves, and at its corners.

    Args:
        along: unit tangents of the smooth contour at equal steps, `(n, 2)`.
        length: of the contour.
        draws: normal deviates, as many as there are points or fewer, for where facets end.
        facets: length of a facet on a straight edge.
    """
    n_points = len(along)
    ahead = np.roll(along, -1, axis=0)
    crosses = along[:, 0] * ahead[:, 1] - along[:, 1] * ahead[:, 0]
    turns = np.abs(np.arctan2(crosses, (along * ahead).sum(axis=1)))
    shares = np.cumsum(length / n_points / facets + turns / _TURN)
    n_facets = max(round(float(shares[-1])), _FEWEST)
    play = np.clip(np.resize(draws, n_facets), -_PLAY_LIMIT, _PLAY_LIMIT)
    ends = (np.arange(n_facets) + 0.5 + _PLAY * play) / n_facets
    return np.unique(np.searchsorted(shares, ends * shares[-1]).clip(0, n_points - 1))


def farthest_facet(facets: float) -> float:
    """How far a facet may leave the curve that it cuts, mm: length times turn over eight."""
    return float(facets * _TURN / 8.0)

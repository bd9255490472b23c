"""What an edge does at most, and how lively it is. Lengths are in mm.

`roughening` roughens contours by it.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from inkline.geometry.arrays import Floats
from inkline.geometry.roots import root_between
from inkline.ink.facets import farthest_facet
from inkline.ink.noise import bent_values
from inkline.ink.style import Edge

# Edge noise passes unchanged to three of its local standard deviations and never passes four.
NOISE_KNEE, NOISE_LIMIT = 3.0, 4.0
# With its mood it passes unchanged to four standard deviations of the whole, and never passes six.
LIVELY_KNEE, LIVELY_LIMIT = 4.0, 6.0
# Displacement passes unchanged up to this share of the half width, and never reaches the half
# width.
FEATURE_KNEE, FEATURE_LIMIT = 0.7, 0.95
# The raggedness comes and goes within this many standard deviations of its logarithm.
_MOOD_KNEE, _MOOD_LIMIT = 1.6, 2.2
# Below this share of the half width raggedness is never limited; its gain against the limit is at
# most the second.
_HARMLESS_SHARE, _LARGEST_GAIN = 0.02, 1.6


def is_quiet(edge: Edge) -> bool:
    """Whether the edge leaves contours as they are."""
    return not any(
        (edge.raggedness, edge.softening, edge.spread, edge.events, edge.creep, edge.facets)
    )


def gain_of(edge: Edge, half_width: float) -> float:
    """By how much the raggedness of a stroke of `half_width` is raised to be as large as asked."""
    return _limiter_gain(round(edge.raggedness / half_width, 4), edge.liveliness)


@lru_cache(maxsize=256)
def _limiter_gain(share: float, liveliness: float) -> float:
    """By how much raggedness is raised to keep its mean square under the limit by the half width.

    Solves E[bent(g s n m)^2] = s^2 for Gaussian n and its mood m by nested quadrature; at most
    `_LARGEST_GAIN`, beyond which the stroke is too thin for the raggedness asked for.

    Args:
        share: raggedness over half width, s.
        liveliness: of the mood.
    """
    if share <= _HARMLESS_SHARE and liveliness == 0.0:
        return 1.0
    nodes, weights = np.polynomial.hermite_e.hermegauss(61)
    weights = np.multiply.outer(weights, weights) / weights.sum() ** 2
    factors = np.multiply.outer(
        bent_values(nodes, knee=NOISE_KNEE, limit=NOISE_LIMIT), moods(nodes, liveliness)
    )
    factors = bent_values(factors, knee=LIVELY_KNEE, limit=LIVELY_LIMIT)
    if share <= _HARMLESS_SHARE:
        return float(1.0 / np.sqrt((weights * factors**2).sum()))

    def excess(gain: float) -> float:
        kept = bent_values(gain * share * factors, knee=FEATURE_KNEE, limit=FEATURE_LIMIT)
        return float((weights * kept**2).sum()) - share**2

    if excess(_LARGEST_GAIN) <= 0.0:
        return _LARGEST_GAIN
    return root_between(excess, 0.9, _LARGEST_GAIN, tolerance=1e-4)


def largest_offset(edge: Edge, half_width: float) -> float:
    """The farthest that the edge of a stroke of `half_width` ever moves outwards, mm."""
    gain = gain_of(edge, half_width)
    highest = (
        NOISE_LIMIT
        if edge.liveliness == 0.0
        else min(NOISE_LIMIT * _mood_peak(edge.liveliness), LIVELY_LIMIT)
    )
    events = edge.event_size if edge.events else 0.0
    rough = highest * gain * edge.raggedness
    moved = min(rough + edge.spread + edge.creep + events, FEATURE_LIMIT * half_width)
    return float(moved + farthest_facet(edge.facets))


def moods(noise: Floats, liveliness: float) -> Floats:
    """A factor that comes and goes, mean square 1."""
    if liveliness == 0.0:
        return np.ones_like(noise)
    return np.asarray(
        np.exp(liveliness * bent_values(noise, knee=_MOOD_KNEE, limit=_MOOD_LIMIT))
        / _mood_scale(liveliness)
    )


def _mood_peak(liveliness: float) -> float:
    """The largest factor by which the raggedness ever exceeds its standard deviation."""
    return float(np.exp(liveliness * _MOOD_LIMIT) / _mood_scale(liveliness)) if liveliness else 1.0


@lru_cache(maxsize=64)
def _mood_scale(liveliness: float) -> float:
    """Root mean square of the unscaled factor for unit Gaussian noise, by quadrature."""
    nodes, weights = np.polynomial.hermite_e.hermegauss(101)
    squares = np.exp(2.0 * liveliness * bent_values(nodes, knee=_MOOD_KNEE, limit=_MOOD_LIMIT))
    return float(np.sqrt(np.dot(weights, squares) / weights.sum()))

"""The edge, where ink meets paper: closed contours in, roughened closed contours out.

Lengths are in mm.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from inkline.geometry.arrays import Floats, Points
from inkline.geometry.polyline import (
    closed_arc_lengths,
    contour_tangents,
    normals_of,
    resampled_contour,
)
from inkline.geometry.union import union_of_contours
from inkline.ink.noise import bent_values, ring_deviates, ring_mood, ring_noise
from inkline.ink.style import Edge

# Contours shorter than this are debris of a union.
_DEBRIS_MM = 0.16
# Contours are roughened at this step: fine against the shortest correlation length of the shipped
# styles, and a little over a pixel where a sheet of 84 mm stands on a canvas of 2500 px.
EDGE_STEP_MM = 0.04
# Edge noise passes unchanged to three of its local standard deviations and never passes four.
_NOISE_KNEE, _NOISE_LIMIT = 3.0, 4.0
# With its mood it passes unchanged to four standard deviations of the whole, and never passes six.
_LIVELY_KNEE, _LIVELY_LIMIT = 4.0, 6.0
# Displacement passes unchanged up to this share of the half width, and never reaches the half
# width.
_FEATURE_KNEE, _FEATURE_LIMIT = 0.7, 0.95
# The raggedness comes and goes over this length, within this many standard deviations of its
# logarithm.
_MOOD_LENGTH_MM = 2.5
_MOOD_KNEE, _MOOD_LIMIT = 1.6, 2.2
# Ink creeps where a fine noise stands this many standard deviations out, along fibres that lie this
# way across the page.
_CREEP_CORRELATION_MM, _CREEP_THRESHOLD, _CREEP_LIMIT = 0.09, 1.1, 2.0
_FIBRE_RAD = np.deg2rad(25.0)
# Most events on one contour; more would be raggedness.
_MOST_EVENTS = 600
# Below this share of the half width raggedness is never limited; its gain against the limit is at
# most the second.
_HARMLESS_SHARE, _LARGEST_GAIN = 0.02, 1.6


def is_quiet(edge: Edge) -> bool:
    """Whether the edge leaves contours as they are."""
    return not any((edge.raggedness, edge.softening, edge.spread, edge.events, edge.creep))


def inked_contours(
    contours: tuple[Points, ...], edge: Edge, generator: np.random.Generator, *, half_width: float
) -> tuple[Points, ...]:
    """`contours` as ink leaves them on paper: corners softened, ink spread, the edge rough.

    Args:
        contours: simple closed contours, outer ones positive where y points up.
        edge: the edge.
        generator: the stream of this stroke's edge.
        half_width: half the stroke's nominal width, mm; the edge never moves as far.

    Returns:
        Simple contours.
    """
    if is_quiet(edge):
        return contours
    whole = (contour for contour in contours if closed_arc_lengths(contour)[-1] > _DEBRIS_MM)
    rough = [_rough_contour(contour, edge, generator, half_width) for contour in whole]
    if all(is_plain for _, is_plain in rough):
        return tuple(points for points, _ in rough)
    return union_of_contours([points for points, _ in rough])


def _rough_contour(
    contour: Points, edge: Edge, generator: np.random.Generator, half_width: float
) -> tuple[Points, bool]:
    """One contour roughened, and whether it surely does not cross itself."""
    sampled = resampled_contour(contour, EDGE_STEP_MM)
    smooth = _softened_contour(sampled, edge.softening)
    if float(closed_arc_lengths(smooth)[-1]) < 0.5 * float(closed_arc_lengths(sampled)[-1]):
        smooth = sampled  # so small that softening would swallow it
    tangents = contour_tangents(smooth)
    length = float(closed_arc_lengths(smooth)[-1])
    offsets = (
        _edge_offsets(len(smooth), length, edge, generator, half_width=half_width) + edge.spread
    )
    offsets += _creep(tangents, length, edge, generator)
    offsets += _events(len(smooth), length, edge, generator)
    offsets = bent_values(
        offsets, knee=_FEATURE_KNEE * half_width, limit=_FEATURE_LIMIT * half_width
    )
    moved = smooth - normals_of(tangents) * offsets[:, None]
    return moved, _keeps_its_order(moved, smooth, tangents)


def _keeps_its_order(moved: Points, smooth: Points, tangents: Points) -> bool:
    """Whether a moved contour surely crosses itself nowhere.

    It still runs forwards everywhere and is too straight to meet itself elsewhere.

    True only for long thin contours such as rules: two sides, each a graph over the line.
    Everything else is united to be sure.
    """
    ahead = ((np.roll(moved, -1, axis=0) - moved) * tangents).sum(axis=1)
    spread = np.ptp(smooth, axis=0)
    is_rule = bool(spread.min() < 0.05 * spread.max())
    return is_rule and bool((ahead > 0.0).all())


def _softened_contour(contour: Points, radius: float) -> Points:
    """The contour, sampled at equal steps, with its corners rounded to about `radius`.

    By a Gaussian along its length.

    What the smoothing takes from convex curves it gives back once (the smoothing is applied to its
    own loss), so that stems keep their weight.
    """
    if radius == 0.0:
        return contour
    step = float(closed_arc_lengths(contour)[-1]) / len(contour)
    frequencies = np.fft.rfftfreq(len(contour), d=step)
    gauss = np.exp(-0.5 * (2.0 * np.pi * frequencies * 0.5 * radius) ** 2)
    kept = gauss * (2.0 - gauss)
    return np.asarray(
        np.fft.irfft(np.fft.rfft(contour, axis=0) * kept[:, None], n=len(contour), axis=0)
    )


def _edge_offsets(
    n_points: int, length: float, edge: Edge, generator: np.random.Generator, *, half_width: float
) -> Floats:
    """The raggedness at `n_points` equal steps around a contour, mm along the outward normal.

    Its standard deviation is `edge.raggedness` in the mean of drawings, however lively it is.
    """
    noise = ring_noise(
        generator, n_points, length, correlation=edge.correlation, exponent=edge.exponent
    )
    noise = bent_values(noise, knee=_NOISE_KNEE, limit=_NOISE_LIMIT)
    mood = ring_mood(generator, n_points, length, correlation=_MOOD_LENGTH_MM)
    gain = _limiter_gain(round(edge.raggedness / half_width, 4), edge.liveliness)
    lively = bent_values(
        noise * _moods(mood, edge.liveliness), knee=_LIVELY_KNEE, limit=_LIVELY_LIMIT
    )
    return np.asarray(gain * edge.raggedness * lively)


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
    from scipy.optimize import brentq  # noqa: PLC0415 - slow to import, and wanted only here

    nodes, weights = np.polynomial.hermite_e.hermegauss(61)
    weights = np.multiply.outer(weights, weights) / weights.sum() ** 2
    factors = np.multiply.outer(
        bent_values(nodes, knee=_NOISE_KNEE, limit=_NOISE_LIMIT), _moods(nodes, liveliness)
    )
    factors = bent_values(factors, knee=_LIVELY_KNEE, limit=_LIVELY_LIMIT)
    if share <= _HARMLESS_SHARE:
        return float(1.0 / np.sqrt((weights * factors**2).sum()))

    def excess(gain: float) -> float:
        kept = bent_values(gain * share * factors, knee=_FEATURE_KNEE, limit=_FEATURE_LIMIT)
        return float((weights * kept**2).sum()) - share**2

    if excess(_LARGEST_GAIN) <= 0.0:
        return _LARGEST_GAIN
    return float(brentq(excess, 0.9, _LARGEST_GAIN, xtol=1e-4))


def _creep(tangents: Points, length: float, edge: Edge, generator: np.random.Generator) -> Floats:
    """How far ink creeps outwards along the paper's fibres, mm.

    It creeps here and there, and only where the edge faces along them.
    """
    if edge.creep == 0.0:
        ring_deviates(generator, len(tangents))
        return np.zeros(len(tangents))
    noise = ring_noise(
        generator, len(tangents), length, correlation=_CREEP_CORRELATION_MM, exponent=1.0
    )
    facing = np.abs(tangents @ np.array([-np.sin(_FIBRE_RAD), np.cos(_FIBRE_RAD)]))
    out = np.clip((noise - _CREEP_THRESHOLD) / (_CREEP_LIMIT - _CREEP_THRESHOLD), 0.0, 1.0)
    return np.asarray(edge.creep * facing * out)


def _events(n_points: int, length: float, edge: Edge, generator: np.random.Generator) -> Floats:
    """Blobs and drags outwards and nicks inwards, mm.

    There are a few to the centimetre, each of its own size.
    """
    n_events = min(int(generator.poisson(edge.events * length / 10.0)), _MOST_EVENTS)
    if n_events == 0 or edge.event_size == 0.0:
        return np.zeros(n_points)
    places = generator.random(n_events) * length
    sizes = edge.event_size * (0.35 + 0.65 * generator.random(n_events))
    widths = sizes * generator.uniform(1.0, 2.6, n_events)
    kinds = generator.random(n_events)
    along = np.arange(n_points) * (length / n_points)
    apart = (along[:, None] - places + 0.5 * length) % length - 0.5 * length
    tail = np.where((kinds > 0.75) & (apart > 0.0), 5.0, 1.0)
    signs = np.where(kinds < 0.35, -0.8, 1.0)
    moved = (np.exp(-((apart / (widths * tail)) ** 2)) * (sizes * signs)).sum(axis=1)
    return np.asarray(np.clip(moved, -edge.event_size, edge.event_size))


def largest_offset(edge: Edge, half_width: float) -> float:
    """The farthest that the edge of a stroke of `half_width` ever moves outwards, mm."""
    gain = _limiter_gain(round(edge.raggedness / half_width, 4), edge.liveliness)
    highest = (
        _NOISE_LIMIT
        if edge.liveliness == 0.0
        else min(_NOISE_LIMIT * _mood_peak(edge.liveliness), _LIVELY_LIMIT)
    )
    events = edge.event_size if edge.events else 0.0
    rough = highest * gain * edge.raggedness
    return float(min(rough + edge.spread + edge.creep + events, _FEATURE_LIMIT * half_width))


def _moods(noise: Floats, liveliness: float) -> Floats:
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

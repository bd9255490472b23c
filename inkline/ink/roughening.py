"""Contours roughened as ink leaves them on paper, all of a drawing at once. Lengths are in mm.

Contours of as many points under the same edge are rows of one array, so that each step is one call
for all of them. No row depends on the others: each has its own stream, and what is summed is summed
along the row.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from inkline.geometry.arrays import Bools, Floats, Points
from inkline.geometry.polyline import closed_arc_lengths, resampled_contour
from inkline.geometry.union import union_of_contours
from inkline.ink.edge import (
    FEATURE_KNEE,
    FEATURE_LIMIT,
    LIVELY_KNEE,
    LIVELY_LIMIT,
    NOISE_KNEE,
    NOISE_LIMIT,
    gain_of,
    is_quiet,
    moods,
)
from inkline.ink.facets import facet_ends
from inkline.ink.noise import bent_values, ring_moods, ring_noises
from inkline.ink.style import Edge

EDGE_STEP_MM = 0.04
"""Contours are roughened at this step.

Fine against the shortest correlation length of the shipped styles, and a little over a pixel where
a sheet of 84 mm stands on a canvas of 2500 px.
"""
# Contours shorter than this are debris of a union.
_DEBRIS_MM = 0.16
# The raggedness comes and goes over this length.
_MOOD_LENGTH_MM = 2.5
# Ink creeps where a fine noise stands this many standard deviations out, along fibres that lie this
# way across the page.
_CREEP_CORRELATION_MM, _CREEP_THRESHOLD, _CREEP_LIMIT = 0.09, 1.1, 2.0
_FIBRE_RAD = np.deg2rad(25.0)
# Most events on one contour; more would be raggedness.
_MOST_EVENTS = 600


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Clean:
    """A mark whose edge is to be drawn.

    Attributes:
        contours: simple closed contours, outer ones positive where y points up.
        edge: the edge.
        stream: the stream of this mark's edge, at its beginning.
        half_width: half the mark's nominal width; the edge never moves as far.
    """

    contours: tuple[Points, ...]
    edge: Edge
    stream: np.random.Generator
    half_width: float


def roughened_marks(marks: Sequence[Clean]) -> list[tuple[Points, ...]]:
    """The contours of each mark as ink leaves them on paper; simple ones again.

    Corners are softened, ink is spread, the edge is rough.
    """
    rings = [
        _Ring(mark=index, points=resampled_contour(contour, EDGE_STEP_MM))
        for index, mark in enumerate(marks)
        if not is_quiet(mark.edge)
        for contour in mark.contours
        if closed_arc_lengths(contour)[-1] > _DEBRIS_MM
    ]
    classes = [_softened_rows(places, rings, marks) for places in _places_by_class(rings, marks)]
    for rows in classes:
        for place, length in zip(rows.places, rows.lengths.tolist(), strict=True):
            rings[place].length = length
    for ring in rings:  # in their order: those of one mark draw from one stream
        mark = marks[ring.mark]
        ring.chances = _chances(mark.stream, len(ring.points), ring.length, mark.edge)
    for rows in classes:
        _roughen(rows, [rings[place] for place in rows.places], marks)
    own: list[list[_Ring]] = [[] for _ in marks]
    for ring in rings:
        own[ring.mark].append(ring)
    return [
        mark.contours if is_quiet(mark.edge) else _simple_contours(mine)
        for mark, mine in zip(marks, own, strict=True)
    ]


@dataclass(slots=True, kw_only=True, eq=False)
class _Ring:
    """One contour of a mark on its way.

    Attributes:
        mark: index of the mark.
        points: at equal steps, at first as it is, at last as ink leaves it.
        length: when it is softened.
        chances: what is drawn for it.
        is_plain: whether it surely doesn't cross itself.
    """

    mark: int
    points: Points
    length: float = 0.0
    chances: _Chances | None = None
    is_plain: bool = False


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Chances:
    """What is drawn for one contour of n points.

    Attributes:
        waves, moods, creeping: normal deviates of the modes of three noises, `(n // 2, 2)` each.
        level: that of the mood of the whole contour.
        events: place, size, width and kind of each, `(4, k)`.
    """

    waves: Floats
    moods: Floats
    level: float
    creeping: Floats
    events: Floats


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Rows:
    """Contours of as many points under one edge.

    Attributes:
        places: of their rings among all.
        edge: their edge.
        points: softened, `(k, n, 2)`.
        lengths: of each, `(k,)`.
    """

    places: Sequence[int]
    edge: Edge
    points: Points
    lengths: Floats


def _places_by_class(rings: Sequence[_Ring], marks: Sequence[Clean]) -> Iterator[list[int]]:
    """Places of rings that have as many points and the same edge."""
    classes: dict[tuple[int, Edge], list[int]] = defaultdict(list)
    for place, ring in enumerate(rings):
        classes[len(ring.points), marks[ring.mark].edge].append(place)
    yield from classes.values()


def _simple_contours(rings: Sequence[_Ring]) -> tuple[Points, ...]:
    """The contours of one mark, united where they might cross."""
    contours = [ring.points for ring in rings]
    return tuple(contours) if all(ring.is_plain for ring in rings) else union_of_contours(contours)


def _softened_rows(places: list[int], rings: Sequence[_Ring], marks: Sequence[Clean]) -> _Rows:
    """Contours, sampled at equal steps, with corners rounded to about the edge's radius.

    By a Gaussian along their lengths.

    What the smoothing takes from convex curves it gives back once (the smoothing is applied to its
    own loss), so that stems keep their weight. What is so small that it would swallow it stays.
    """
    sampled = np.stack([rings[place].points for place in places])
    edge, n_points, lengths = marks[rings[places[0]].mark].edge, sampled.shape[1], _around(sampled)
    if edge.softening == 0.0:
        return _Rows(places=places, edge=edge, points=sampled, lengths=lengths)
    per_mm = 1.0 / (n_points * (lengths / n_points))
    frequencies = np.arange(n_points // 2 + 1) * per_mm[:, None]
    gauss = np.exp(-0.5 * (2.0 * np.pi * frequencies * 0.5 * edge.softening) ** 2)
    modes = np.fft.rfft(sampled, axis=1) * (gauss * (2.0 - gauss))[:, :, None]
    smooth = np.fft.irfft(modes, n=n_points, axis=1)
    swallowed = _around(smooth) < 0.5 * lengths
    smooth[swallowed] = sampled[swallowed]
    return _Rows(places=places, edge=edge, points=smooth, lengths=_around(smooth))


def _around(rows: Points) -> Floats:
    """Lengths of closed contours, `(k, n, 2)` to `(k,)`."""
    steps = np.roll(rows, -1, axis=1) - rows
    return np.asarray(np.cumsum(np.hypot(steps[:, :, 0], steps[:, :, 1]), axis=1)[:, -1])


def _chances(stream: np.random.Generator, n_points: int, length: float, edge: Edge) -> _Chances:
    """What is drawn for a contour; a part that is switched off draws all the same.

    So what comes after it stays as it was.
    """
    n_modes = n_points // 2
    normals = stream.standard_normal(6 * n_modes + 1)
    waves, moody, creeping = (
        part.reshape(n_modes, 2)
        for part in (
            normals[: 2 * n_modes],
            normals[2 * n_modes : 4 * n_modes],
            normals[4 * n_modes + 1 :],
        )
    )
    return _Chances(
        waves=waves,
        moods=moody,
        level=float(normals[4 * n_modes]),
        creeping=creeping,
        events=_drawn_events(stream, length, edge),
    )


def _drawn_events(stream: np.random.Generator, length: float, edge: Edge) -> Floats:
    """Place, size, width and kind of blobs, drags and nicks, `(4, k)`.

    There are a few to the centimetre, each of its own size.
    """
    n_events = min(int(stream.poisson(edge.events * length / 10.0)), _MOST_EVENTS)
    if n_events == 0 or edge.event_size == 0.0:
        return np.zeros((4, 0))
    places = stream.random(n_events) * length
    sizes = edge.event_size * (0.35 + 0.65 * stream.random(n_events))
    widths = sizes * stream.uniform(1.0, 2.6, n_events)
    return np.stack((places, sizes, widths, stream.random(n_events)))


def _roughen(rows: _Rows, rings: Sequence[_Ring], marks: Sequence[Clean]) -> None:
    """Gives `rings`, those of `rows`, their rough points, and says which don't cross themselves."""
    along = _tangents(rows.points)
    normals = np.stack((-along[:, :, 1], along[:, :, 0]), axis=2)
    half_widths = np.array([marks[ring.mark].half_width for ring in rings])
    chances = [ring.chances for ring in rings if ring.chances is not None]
    offsets = _edge_offsets(rows, chances, half_widths) + rows.edge.spread
    offsets += _creep(rows, chances, along)
    for row, (own, length) in enumerate(zip(chances, rows.lengths.tolist(), strict=True)):
        if own.events.shape[1]:
            offsets[row] += _events(offsets.shape[1], length, own.events, rows.edge.event_size)
    offsets = bent_values(
        offsets,
        knee=(FEATURE_KNEE * half_widths)[:, None],
        limit=(FEATURE_LIMIT * half_widths)[:, None],
    )
    moved = rows.points - normals * offsets[:, :, None]
    plain = _keep_their_order(moved, rows.points, along).tolist()
    for ring, points, is_plain in zip(rings, moved, plain, strict=True):
        ring.points, ring.is_plain = points, is_plain
    if rows.edge.facets > 0.0:
        for row, (ring, own) in enumerate(zip(rings, chances, strict=True)):
            length, draws = float(rows.lengths[row]), own.creeping.reshape(-1)
            ends = facet_ends(along[row], length, draws, facets=rows.edge.facets)
            ring.points, ring.is_plain = ring.points[ends], False


def _tangents(rows: Points) -> Points:
    """Unit tangents of closed contours by central differences, `(k, n, 2)`.

    Where a contour turns back on itself exactly, the segment that arrives is taken.
    """
    before = np.roll(rows, 1, axis=1)
    spans = np.roll(rows, -1, axis=1) - before
    lengths = np.hypot(spans[:, :, 0], spans[:, :, 1])
    flat = lengths <= 1e-12 * (1.0 + lengths.max(axis=1))[:, None]
    if flat.any():
        spans = np.where(flat[:, :, None], rows - before, spans)
        lengths = np.hypot(spans[:, :, 0], spans[:, :, 1])
    return np.asarray(spans / np.maximum(lengths, 1e-300)[:, :, None])


def _keep_their_order(moved: Points, smooth: Points, along: Points) -> Bools:
    """Which moved contours surely cross themselves nowhere.

    They still run forwards everywhere and are too straight to meet themselves elsewhere.

    True only for long thin contours such as rules: two sides, each a graph over the line.
    Everything else is united to be sure.
    """
    steps = np.roll(moved, -1, axis=1) - moved
    ahead = steps[:, :, 0] * along[:, :, 0] + steps[:, :, 1] * along[:, :, 1]
    # Column by column: numpy is ten times slower along the middle of three axes.
    wide, high = (np.ptp(smooth[:, :, axis], axis=1) for axis in (0, 1))
    are_rules = np.minimum(wide, high) < 0.05 * np.maximum(wide, high)
    return np.asarray(are_rules & (ahead > 0.0).all(axis=1))


def _edge_offsets(rows: _Rows, chances: Sequence[_Chances], half_widths: Floats) -> Floats:
    """The raggedness at equal steps around contours, mm along the outward normal, `(k, n)`.

    Its standard deviation is `edge.raggedness` in the mean of drawings, however lively it is.
    """
    edge, n_points = rows.edge, rows.points.shape[1]
    noise = ring_noises(
        np.stack([own.waves for own in chances]),
        n_points,
        rows.lengths,
        correlation=edge.correlation,
        exponent=edge.exponent,
    )
    noise = bent_values(noise, knee=NOISE_KNEE, limit=NOISE_LIMIT)
    if edge.liveliness > 0.0:
        mood = ring_moods(
            np.stack([own.moods for own in chances]),
            np.array([own.level for own in chances]),
            n_points,
            rows.lengths,
            correlation=_MOOD_LENGTH_MM,
        )
        noise = noise * moods(mood, edge.liveliness)
    lively = bent_values(noise, knee=LIVELY_KNEE, limit=LIVELY_LIMIT)
    gains = np.array([gain_of(edge, half) for half in half_widths.tolist()])
    return np.asarray((gains * edge.raggedness)[:, None] * lively)


def _creep(rows: _Rows, chances: Sequence[_Chances], along: Points) -> Floats:
    """How far ink creeps outwards along the paper's fibres, mm, `(k, n)`.

    It creeps here and there, and only where the edge faces along them.
    """
    edge, n_points = rows.edge, rows.points.shape[1]
    if edge.creep == 0.0:
        return np.zeros(rows.points.shape[:2])
    noise = ring_noises(
        np.stack([own.creeping for own in chances]),
        n_points,
        rows.lengths,
        correlation=_CREEP_CORRELATION_MM,
        exponent=1.0,
    )
    facing = np.abs(along[:, :, 1] * np.cos(_FIBRE_RAD) - along[:, :, 0] * np.sin(_FIBRE_RAD))
    out = np.clip((noise - _CREEP_THRESHOLD) / (_CREEP_LIMIT - _CREEP_THRESHOLD), 0.0, 1.0)
    return np.asarray(edge.creep * facing * out)


def _events(n_points: int, length: float, events: Floats, largest: float) -> Floats:
    """Blobs and drags outwards and nicks inwards around one contour, mm, `(n,)`."""
    places, sizes, widths, kinds = events
    along = np.arange(n_points) * (length / n_points)
    apart = (along[:, None] - places + 0.5 * length) % length - 0.5 * length
    tail = np.where((kinds > 0.75) & (apart > 0.0), 5.0, 1.0)
    signs = np.where(kinds < 0.35, -0.8, 1.0)
    moved = (np.exp(-((apart / (widths * tail)) ** 2)) * (sizes * signs)).sum(axis=1)
    return np.asarray(np.clip(moved, -largest, largest))

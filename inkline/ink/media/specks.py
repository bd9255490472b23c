"""Specks: small spots of ink that fall beside a stroke. Lengths in mm."""

from __future__ import annotations

import numpy as np

from inkline.geometry.arrays import Floats, Points
from inkline.geometry.polyline import arc_lengths, at_arc_lengths, normals_of, tangents
from inkline.geometry.stitching import united_shapes
from inkline.ink.media.paper_values import Paper

# A speck is a polygon of this many corners, its radius wavering by the second.
_N_CORNERS, _WAVER = 14, 0.16
_MOST_SPECKS = 4000
# Slivers stand so many in a bundle, against one another by so much along their edge, and lean from
# it by up to the last, a slope.
_BUNDLE, _STAGGER_MM, _LEAN = 3, 0.7, 0.07


def specks_beside(
    path: Points,
    half_widths: Floats,
    paper: Paper,
    generator: np.random.Generator,
    *,
    outside_only: bool = False,
) -> tuple[Points, ...]:
    """Contours of the specks beside a stroke; none unless `paper.specks` asks for them.

    Most are small and near: sizes fall off like those of spatter, and distance as its square.

    Args:
        path: the drawn centreline, `(n, 2)`.
        half_widths: half width at each of its points, `(n,)`.
        paper: the paper.
        generator: the stream of this stroke's paper.
        outside_only: whether the path goes around a shape, and they fall outside it.
    """
    if paper.specks == 0.0 or paper.speck_size == 0.0:
        return ()
    lengths = arc_lengths(path)
    n_specks = min(int(generator.poisson(paper.specks * lengths[-1] / 10.0)), _MOST_SPECKS)
    if n_specks == 0:
        return ()
    along = generator.random(n_specks) * lengths[-1]
    radii = paper.speck_size * (0.25 + 0.75 * generator.random(n_specks) ** 3)
    beyond = paper.speck_reach * generator.random(n_specks) ** 2
    sides = np.where(generator.random(n_specks) < 0.5, -1.0, 1.0)
    if paper.speck_length > 1.0:
        along, beyond, sides = _in_bundles(along, beyond, sides)
    if outside_only:
        sides = np.full(n_specks, -1.0)
    across = normals_of(tangents(path))
    normals = np.column_stack([np.interp(along, lengths, across[:, axis]) for axis in (0, 1)])
    away = np.interp(along, lengths, half_widths) + radii + beyond
    centres = at_arc_lengths(path, lengths, along) + normals * (sides * away)[:, None]
    if paper.speck_length > 1.0:
        return tuple(_slivers(generator, centres, normals, radii, paper.speck_length))
    return tuple(_spots(generator, centres, radii))


def slivers_around(
    contours: tuple[Points, ...], paper: Paper, generator: np.random.Generator
) -> tuple[Points, ...]:
    """Contours of the slivers that stand around a shape; none where specks are spots.

    Args:
        contours: of the shape, positive where they hold ink.
        paper: the paper.
        generator: the stream of this shape's paper.
    """
    if paper.speck_length <= 1.0 or not contours:
        return ()
    around = max(contours, key=lambda contour: float(np.ptp(contour, axis=0).max()))
    path = np.concatenate((around, around[:1]))
    return specks_beside(path, np.zeros(len(path)), paper, generator, outside_only=True)


def with_specks(contours: tuple[Points, ...], specks: tuple[Points, ...]) -> tuple[Points, ...]:
    """`contours` united with specks; those that touch nothing are only added."""
    points = np.concatenate((*contours, *specks))
    sizes = np.array([len(contour) for contour in (*contours, *specks)])
    firsts = np.cumsum(sizes) - sizes
    ends = np.arange(1, len(points) + 1)
    ends[firsts + sizes - 1] = firsts
    ahead = points[ends] - points
    spots = np.array(specks)
    middles = spots.mean(axis=1)
    apart_x, apart_y = (spots - middles[:, None]).transpose(2, 0, 1)
    reaches = np.hypot(apart_x, apart_y).max(axis=1)
    x, y = points[:, 0] - middles[:, :1], points[:, 1] - middles[:, 1:]
    along = np.clip(-(x * ahead[:, 0] + y * ahead[:, 1]) / (ahead**2).sum(axis=1), 0.0, 1.0)
    apart = (x + along * ahead[:, 0]) ** 2 + (y + along * ahead[:, 1]) ** 2
    near = apart <= np.square(reaches)[:, None]
    start = firsts[len(contours) :]
    for number, first in enumerate(start):
        near[number, first : first + len(specks[number])] = False
    above = y > 0.0
    crossed = (above != above[:, ends]) & (
        (x * ahead[:, 1] - y * ahead[:, 0]) * np.where(ahead[:, 1] > 0.0, 1.0, -1.0) > 0.0
    )
    touching = near.any(axis=1) | (np.count_nonzero(crossed[:, : start[0]], axis=1) % 2 == 1)
    met = [[speck] for speck, touches in zip(specks, touching, strict=True) if touches]
    alone = [speck for speck, touches in zip(specks, touching, strict=True) if not touches]
    return (*(united_shapes([contours, *met]) if met else contours), *alone)


def _spots(generator: np.random.Generator, centres: Points, radii: Floats) -> Floats:
    """Specks: nearly discs, positive where y points up, nowhere beyond their radii, `(n, k, 2)`."""
    angles = np.linspace(0.0, 2.0 * np.pi, _N_CORNERS, endpoint=False)
    chances = generator.random((len(centres), 2 + _N_CORNERS))
    phases, depths = chances[:, :1], chances[:, 1:2]
    wavering = (
        1.0 - _WAVER * (1.0 + depths * np.sin(2.0 * angles + 2.0 * np.pi * phases)) * chances[:, 2:]
    )
    around = np.column_stack((np.cos(angles), np.sin(angles)))
    return np.asarray(centres[:, None] + (radii[:, None] * wavering)[:, :, None] * around)


def _in_bundles(along: Floats, beyond: Floats, sides: Floats) -> tuple[Floats, Floats, Floats]:
    """Where specks lie if they stand beside one another, some in a bundle."""
    number = np.arange(len(along))
    first = number - number % _BUNDLE
    staggered = along[first] + _STAGGER_MM * (along - along.mean()) / max(np.ptp(along), 1e-9)
    return staggered, beyond[first] + (beyond - beyond[first]) * 0.5, sides[first]


def _slivers(
    generator: np.random.Generator, centres: Points, normals: Points, radii: Floats, length: float
) -> Floats:
    """Slivers across `normals`, up to `length` times as long as wide; positive as specks are.

    `(n, k, 2)`.
    """
    ends = np.linspace(-1.0, 1.0, _N_CORNERS // 2)
    halves = radii * length * generator.uniform(0.4, 1.0, len(radii))
    wide = radii[:, None] * np.sqrt(1.0 - 0.96 * ends**2)
    upper, lower = wide * generator.uniform(0.35, 1.0, (2, len(radii), len(ends)))
    leans = generator.uniform(-_LEAN, _LEAN, len(radii))
    along = halves[:, None] * np.concatenate((ends, ends[::-1]))
    across = np.concatenate((-lower, upper[:, ::-1]), axis=1) + leans[:, None] * along
    ahead = np.column_stack((normals[:, 1], -normals[:, 0]))
    return np.asarray(
        centres[:, None]
        + along[:, :, None] * ahead[:, None]
        + across[:, :, None] * normals[:, None]
    )


def farthest_speck(paper: Paper) -> float:
    """How far beyond a stroke's half width specks may reach, mm."""
    if paper.specks == 0.0:
        return 0.0
    half = paper.speck_size * paper.speck_length if paper.speck_length > 1.0 else 0.0
    return 2.0 * paper.speck_size + paper.speck_reach + half

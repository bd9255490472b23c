"""Outlines drawn around: near the exact way, closed, and no two alike."""

from dataclasses import replace

import numpy as np
import pytest
import shapely

from inkline.drawing import Cap, Drawing, Layer, Role, Stroke
from inkline.geometry.polyline import arc_lengths
from inkline.ink.around import drawn_outline
from inkline.ink.bound import reach_mm
from inkline.ink.engine import draw
from inkline.ink.hand import sampled_path
from inkline.ink.pose import drawn_pose
from inkline.ink.style import EXACT, Edge, Hand, Nib
from inkline.ink.together import drawn_alone

HAND = Hand(drift=0.12, drift_length=6.0, stray=0.4, tremor=0.005)
STILL = drawn_pose(np.random.default_rng(1), Hand(), bend=0.0, bend_length=6.0)


def ring(radius=4.0, overlap=0.06):
    angles = np.linspace(0.0, 2.0 * np.pi * (1.0 + overlap), 400)
    return np.column_stack((np.cos(angles), np.sin(angles))) * radius


def rounded(side=8.0, radius=1.0):
    """A square with round corners, anticlockwise on the page.

    It runs from the middle of its upper side and over its start.
    """
    quarter = np.linspace(0.0, np.pi / 2.0, 20)
    half = side / 2.0 - radius
    arcs = [
        np.column_stack((np.cos(at + quarter), np.sin(at + quarter))) * radius + np.array(centre)
        for at, centre in zip(
            np.arange(4) * np.pi / 2.0,
            [(half, half), (-half, half), (-half, -half), (half, -half)],
            strict=True,
        )
    ]
    once = np.concatenate((*arcs[3:], *arcs[:3]))
    return np.concatenate(([(0.0, -side / 2.0)], once, [(-1.0, -side / 2.0)]))


def drawn(points, seed, hand=HAND):
    return drawn_alone(
        drawn_outline(
            sampled_path(points), STILL, hand, own=np.random.default_rng(seed), reference=1.0
        )
    )


def outline(name, points, width_px=10.0):
    return Stroke(
        name=name,
        group=name,
        role=Role.BLOCK,
        points=points,
        width_px=width_px,
        cap=Cap.ROUND,
        origin=(0.0, 0.0),
    )


@pytest.mark.parametrize("points", [ring(), rounded()], ids=["ring", "box"])
def test_a_hand_at_rest_draws_the_exact_way(points):
    path = drawn(points, 1, Hand(stray=0.4))
    assert np.array_equal(path.points, sampled_path(points).points)
    assert path.exact_length == pytest.approx(arc_lengths(points)[-1], abs=1e-9)


@pytest.mark.parametrize("points", [ring(), rounded()], ids=["ring", "box"])
def test_no_point_strays_further_than_the_hand_may(points):
    free = replace(HAND, drift=1.0, stray=0.3)
    exact = sampled_path(points).points
    farthest = max(
        np.hypot(*(drawn(points, seed, free).points - exact).T).max() for seed in range(20)
    )
    assert 0.25 < farthest <= 0.3 + 1e-12


def test_ends_come_inside_and_outside_their_starts_and_no_two_alike():
    """How far apart the way passes its own start for the first and the second time.

    Both are distances from the middle; the first is taken from the second.
    """
    overlap = 0.06
    misses = []
    for seed in range(60):
        path = drawn(ring(overlap=overlap), seed)
        away = np.hypot(*path.points.T)
        shares = path.lengths / path.lengths[-1]
        misses.append(
            np.interp(1.0, shares, away) - np.interp(1.0 - 1.0 / (1.0 + overlap), shares, away)
        )
    misses = np.array(misses)
    assert len(np.unique(np.round(misses, 4))) > 55
    assert 0.25 < (misses > 0.0).mean() < 0.75
    assert 0.1 < misses.std() < 0.35


def test_rings_have_no_corners_and_boxes_four_that_differ():
    """Least distance from the exact corner's middle.

    The hand does nothing but take corners its own way.
    """
    apexes = np.array([(1, 1), (-1, 1), (-1, -1), (1, -1)]) * (3.0 + np.sqrt(0.5))
    cuts = []
    for seed in range(40):
        moved = drawn(rounded(), seed).points
        cuts.append([np.hypot(*(moved - apex).T).min() for apex in apexes])
    cuts = np.array(cuts)
    assert (cuts.std(axis=1) > 0.005).all()
    assert np.hypot(*(drawn(ring(), 3, replace(HAND, drift_length=1000.0)).points).T).std() < 0.25


def test_corners_are_cut_rather_than_widened():
    """Corners' middles lie inwards in the mean over many drawings.

    They do so by about a tenth of the corners' radius of 1 mm.
    """
    exact = sampled_path(rounded()).points
    apexes = [int(np.argmax(exact @ way)) for way in ((1, -1), (1, 1), (-1, 1), (-1, -1))]
    moves = np.array([drawn(rounded(), seed).points[apexes] - exact[apexes] for seed in range(200)])
    inwards = -(moves * exact[apexes]).sum(axis=2) / np.hypot(*exact[apexes].T)
    assert 0.05 < inwards.mean() < 0.15


def test_ink_keeps_within_the_bound_that_the_style_states():
    style = replace(
        EXACT,
        name="t",
        hand=HAND,
        nib=Nib(pressure=0.1, touchdown=0.1, lift=-0.2, ends="round"),
        edge=Edge(raggedness=0.02),
    )
    px_per_mm = 2500.0 / style.drawn_at
    points = rounded() * px_per_mm + 200.0
    exact = shapely.LineString(points)
    marks = tuple(outline(f"t/blocks/r1c{n}", points) for n in range(12))
    drawing = Drawing(
        name="t", canvas=(400, 400), sheet_px=2500.0, layers=(Layer(name="blocks", marks=marks),)
    )
    inked = draw(drawing, style, 3)
    allowed = reach_mm(style, Role.BLOCK, width_mm=10.0 / px_per_mm) * px_per_mm
    farthest = max(
        shapely.distance(exact, shapely.points(contour)).max()
        for mark in inked.marks
        for contour in mark.contours
    )
    assert 0.4 * allowed < farthest <= allowed
    assert len({mark.contours[0].tobytes() for mark in inked.marks}) == 12


def test_outlines_are_closed():
    """The ink of each has a hole: it surrounds its middle."""
    style = replace(EXACT, name="t", hand=HAND)
    points = ring() * (2500.0 / style.drawn_at) + 200.0
    marks = tuple(outline(f"t/blocks/r1c{n}", points) for n in range(20))
    drawing = Drawing(
        name="t", canvas=(400, 400), sheet_px=2500.0, layers=(Layer(name="blocks", marks=marks),)
    )
    for mark in draw(drawing, style, 3).marks:
        largest = max(
            (shapely.Polygon(contour) for contour in mark.contours), key=lambda one: one.area
        )
        holes = [shapely.Polygon(contour) for contour in mark.contours]
        inner = [
            one
            for one in holes
            if one.contains(shapely.Point(200.0, 200.0)) and one.area < largest.area
        ]
        assert inner

"""Edges cut in facets, and slivers that a gouge left standing."""

import numpy as np
import pytest
from scipy import ndimage

from ink_scenes import box, drawing, rule
from inkline.ink.engine import draw
from inkline.ink.facets import facet_ends, farthest_facet
from inkline.ink.media.specks import farthest_speck
from inkline.ink.style import style_from_dict
from inkline.raster.compose import render

PX_PER_MM = 2500 / 84


def cut(**parts):
    return style_from_dict({"drawn_at": "84 mm", **parts}, where="test")


@pytest.mark.parametrize("radius", [0.5, 3.0, 40.0])
def test_facets_leave_a_circle_by_no_more_than_is_said(radius):
    """The sagitta of a chord, R (1 - cos(turn / 2)), from elementary geometry."""
    angles = np.arange(4000) / 4000 * 2.0 * np.pi
    circle = radius * np.column_stack((np.cos(angles), np.sin(angles)))
    along = np.column_stack((-np.sin(angles), np.cos(angles)))
    still = np.zeros(50)
    ends = facet_ends(along, 2.0 * np.pi * radius, still, facets=1.2)
    corners = circle[ends]
    middles = 0.5 * (corners + np.roll(corners, -1, axis=0))
    sagittas = radius - np.hypot(middles[:, 0], middles[:, 1])
    assert sagittas.max() <= farthest_facet(1.2) * 1.02
    steps = np.hypot(*(np.roll(corners, -1, axis=0) - corners).T)
    assert steps.mean() == pytest.approx(min(1.2, steps.mean()), rel=0.02)
    turns = 2.0 * np.pi / len(ends)
    assert turns == pytest.approx(1.2 / radius / (1.0 + 1.2 / radius / np.deg2rad(26.0)), rel=0.1)


def test_an_edge_cut_in_facets_is_straight_between_them():
    style = cut(edge={"raggedness": "30 um", "correlation": "700 um", "facets": "1.2 mm"})
    scene = drawing("t", [rule("t/g/1", (30.0, 60.0), (1170.0, 60.0))], canvas=(1200, 120))
    (mark,) = draw(scene, style, 3).marks
    (contour,) = mark.contours
    steps = np.hypot(*(np.roll(contour, -1, axis=0) - contour).T) / PX_PER_MM
    assert np.median(steps) == pytest.approx(1.2, rel=0.25)
    assert np.ptp(contour[:, 1]) > 21.0  # it is as rough as without them


def slivers_of(number):
    """A block with slivers; labels of what stands beside it, and the picture."""
    style = cut(
        paper={"specks": 6.0, "speck_size": "60 um", "speck_length": 14.0, "speck_reach": "0.5 mm"}
    )
    grey = render(
        draw(drawing("t", [box("t/b", 60, 60, 340, 260)], canvas=(400, 320)), style, number)
    )
    labels, count = ndimage.label(grey > 0, np.ones((3, 3)))
    return grey, [np.argwhere(labels == one) for one in range(1, count + 1)]


def test_slivers_stand_around_a_block_and_are_long():
    reach = farthest_speck(
        cut(
            paper={
                "specks": 6.0,
                "speck_size": "60 um",
                "speck_length": 14.0,
                "speck_reach": "0.5 mm",
            }
        ).paper
    )
    lengths, widths = [], []
    for number in range(4):
        _, pieces = slivers_of(number)
        pieces.sort(key=len)
        for piece in pieces[:-1]:
            spans = np.sqrt(np.maximum(np.linalg.eigvalsh(np.cov(piece.T)), 1.0 / 12.0) * 12.0)
            widths.append(spans[0])
            lengths.append(spans[1])
            beyond = np.maximum(np.maximum(60 - piece, piece - (260, 340)), 0)
            assert np.hypot(*beyond.T).max() <= reach * PX_PER_MM + 1.0
    assert len(lengths) > 8
    assert np.median(np.array(lengths) / np.array(widths)) > 4.0

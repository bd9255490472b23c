"""From inked marks to one picture."""

from types import SimpleNamespace

import numpy as np

from inkline.raster.compose import render


def box(x0, y0, x1, y1):
    return np.array([(x0, y0), (x0, y1), (x1, y1), (x1, y0)], dtype=float)


def inked(*marks, canvas=(12, 9)):
    return SimpleNamespace(canvas=canvas, marks=[SimpleNamespace(contours=contours, tooth=None) for contours in marks])


def test_no_marks_make_a_black_picture():
    picture = render(inked())
    assert picture.shape == (9, 12)
    assert picture.dtype == np.uint8
    assert not picture.any()


def test_marks_side_by_side_are_both_full():
    picture = render(inked((box(1, 1, 4, 4),), (box(6, 2, 11, 8), box(8, 4, 9, 6)[::-1])))
    assert (picture[1:4, 1:4] == 255).all()
    assert picture.sum() == 255 * (9 + 30 - 2)


def test_overlapping_marks_are_one_union_without_seams():
    picture = render(inked((box(1, 1, 6, 5),), (box(4.5, 2, 11, 8),), (box(4.5, 2, 7, 3),)))
    assert (picture[1:5, 1:6] == 255).all()
    assert (picture[2:8, 6:11] == 255).all()
    assert picture[6, 4] == 128


def test_crossing_rules_meet_as_a_union():
    """Against the areas worked out by hand: two bars with level and upright edges at quarters of a pixel."""
    picture = render(inked((box(0, 3.25, 12, 5.75),), (box(4.25, 0, 6.75, 9),)))
    assert picture[3, 4] == round(255 * (1 - 0.25 * 0.25))
    assert picture[5, 6] == round(255 * (1 - 0.25 * 0.25))
    assert picture[3, 5] == 255
    assert picture[3, 1] == round(255 * 0.75)

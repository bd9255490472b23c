"""Lengths, transforms and view boxes of SVG files, against values worked by hand."""

import numpy as np
import pytest

from inkline.artwork.maps import keeps_shape, moved, scale_of
from inkline.artwork.svg.units import (
    fitted_box,
    length_from_text,
    number_from_text,
    transform_from_text,
    view_box,
)


@pytest.mark.parametrize(
    ("text", "px"),
    [
        ("12", 12.0),
        ("1in", 96.0),
        ("2.54cm", 96.0),
        ("25.4mm", 96.0),
        ("72pt", 96.0),
        ("6pc", 96.0),
        ("101.6Q", 96.0),
        ("50%", 100.0),
        ("2em", 20.0),
        ("1ex", 5.0),
        ("-.5e1px", -5.0),
    ],
)
def test_lengths_are_those_of_css(text, px):
    """CSS Values and Units 3, 5 and 6."""
    assert length_from_text(text, 7.0, whole=200.0, font_size=10.0) == pytest.approx(px)


@pytest.mark.parametrize("text", [None, "", "wide", "3 lightyears", "4 5"])
def test_what_is_no_length_is_as_usual(text):
    assert length_from_text(text, 7.0, whole=200.0, font_size=10.0) == 7.0


def test_numbers_may_be_shares():
    assert number_from_text("40%", 1.0) == pytest.approx(0.4)
    assert number_from_text("1e40", 1.0) == 1e9
    assert number_from_text("none", 1.0) == 1.0


@pytest.mark.parametrize(
    ("text", "point"),
    [
        ("translate(3 4)", (4.0, 6.0)),
        ("translate(3)", (4.0, 2.0)),
        ("scale(2,3)", (2.0, 6.0)),
        ("rotate(90)", (-2.0, 1.0)),
        ("rotate(90, 1, 2)", (1.0, 2.0)),
        ("rotate(.25turn)", (-2.0, 1.0)),
        ("skewX(45)", (3.0, 2.0)),
        ("skewY(45)", (1.0, 3.0)),
        ("matrix(1,2,3,4,5,6)", (12.0, 16.0)),
        ("translate(10)scale(2)", (12.0, 4.0)),
        ("none", (1.0, 2.0)),
    ],
)
def test_transforms_move_a_point(text, point):
    """(1, 2), by CSS Transforms 1, 11 and 12."""
    assert np.allclose(moved(np.array([[1.0, 2.0]]), transform_from_text(text))[0], point)


@pytest.mark.parametrize("text", ["rotate(1 2)", "spin(3)", "scale(2) and more", "matrix(1 2)"])
def test_a_wrong_transform_is_none(text):
    assert transform_from_text(text) is None


def test_maps_that_turn_and_mirror_keep_shapes():
    assert keeps_shape(transform_from_text("rotate(31) scale(2) scale(-1 1)"))
    assert not keeps_shape(transform_from_text("scale(2 2.1)"))
    assert not keeps_shape(transform_from_text("skewX(5)"))
    assert scale_of(transform_from_text("scale(2 8)")) == pytest.approx(4.0)


def test_a_view_box_needs_an_area():
    assert view_box("0 1,2 3") == (0.0, 1.0, 2.0, 3.0)
    assert view_box("0 0 0 3") is None
    assert view_box(None) is None


@pytest.mark.parametrize(
    ("how", "corner", "far"),
    [
        (None, (0.0, 25.0), (100.0, 75.0)),
        ("xMidYMin", (0.0, 0.0), (100.0, 50.0)),
        ("xMaxYMax meet", (0.0, 50.0), (100.0, 100.0)),
        ("none", (0.0, 0.0), (100.0, 100.0)),
        ("xMinYMid slice", (0.0, 0.0), (200.0, 100.0)),
        ("nonsense", (0.0, 25.0), (100.0, 75.0)),
    ],
)
def test_boxes_are_fitted(how, corner, far):
    """A box of 20 by 10 from (1, 1) in a viewport of 100 by 100."""
    matrix = fitted_box((1.0, 1.0, 20.0, 10.0), (100.0, 100.0), how)
    placed = moved(np.array([[1.0, 1.0], [21.0, 11.0]]), matrix)
    assert np.allclose(placed, [corner, far])

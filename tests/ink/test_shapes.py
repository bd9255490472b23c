"""Blocks as a hand moves them: as large as laid out, whatever bends them."""

from dataclasses import replace

import numpy as np
import pytest

from inkline.drawing import Drawing, Layer, Role, Shape
from inkline.geometry.polygon import total_area
from inkline.ink.engine import draw
from inkline.styles.files import load_style, style_path

SIDE = 66.0


def block(x, y, name):
    square = np.array([[0.0, 0.0], [SIDE, 0.0], [SIDE, SIDE], [0.0, SIDE]])
    return Shape(
        name=name,
        group=name,
        role=Role.BLOCK,
        contours=(square + np.array([x, y]),),
        origin=(x + SIDE / 2, y + SIDE / 2),
    )


@pytest.mark.parametrize("drift", [1.0, 3.0])
def test_a_bent_block_keeps_its_area(drift):
    style = load_style(style_path("quick-note", where="style"))
    hand = replace(style.hand, drift=drift * style.hand.drift, stray=drift * style.hand.stray)
    smooth = replace(style.edge, raggedness=0.0, liveliness=0.0, fillet=0.0, softening=0.0)
    blocks = tuple(
        block(20.0 + 80.0 * column, 20.0 + 80.0 * row, f"b/{row}-{column}")
        for row in range(7)
        for column in range(7)
    )
    layers = (Layer(name="blocks", marks=blocks),)
    drawing = Drawing(name="b", canvas=(600, 600), sheet_px=600.0, layers=layers)
    inked = draw(drawing, replace(style, hand=hand, edge=smooth), 101)
    areas = np.array([abs(total_area(mark.contours)) for mark in inked.marks]) / SIDE**2
    assert len(areas) == 49
    assert np.abs(areas - 1.0).max() < 0.035
    assert np.ptp(areas) > 0.02

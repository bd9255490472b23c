"""The pictures of a guide: the finished month, and each stamp as it is drawn."""

import numpy as np
import pypdfium2
import pytest

from inkline.ink.engine import draw
from inkline.ink.style import EXACT
from inkline.kit.letters import face_of
from inkline.kit.papers.guide_pictures import Ink, example_of
from inkline.kit.product import catalogue
from inkline.kit.recipe.loading import default_recipe
from inkline.kit.stamps.measures import layout_of
from inkline.output.pdf import PdfPage, PlacedFigure, pdf_bytes
from inkline.pages.pdf_letters import figure_of
from inkline.raster.compose import render

RECIPE = default_recipe()


def plans_of(recipe):
    return {plan.name: plan for plan in catalogue(recipe, face_of(recipe))}


@pytest.fixture(scope="module")
def plans():
    return plans_of(RECIPE)


def test_the_picture_is_the_finished_month(plans):
    example = example_of(RECIPE, plans, Ink(style=EXACT, number=0), year=2027)
    # January 2027 begins on a Friday, and from Sunday it reaches into a sixth week (Python's
    # calendar).
    assert [layer.plan.name for layer in example.layers] == [
        "standard/blocks-6",
        "standard/blocks-head",
        "standard/grid-6-head",
        "standard/dates-6",
        "standard/weekdays-sunday",
    ]
    assert [layer.plan.name for layer in example.words] == ["words/month-01", "words/year-2027"]
    grid = example.layers[2]
    left, top, right, bottom = grid.box
    layout = layout_of(RECIPE, RECIPE.formats[0])
    outer, half = layout.headed_grid(6).outer_box, layout.heavy / 2
    assert (left, top) == pytest.approx((outer[0] - half, outer[1] - half), abs=0.5)
    assert (right, bottom) == pytest.approx((outer[2] + half, outer[3] + half), abs=0.5)
    assert example.box == pytest.approx(grid.box)


def test_the_figure_of_a_stamp_is_its_exact_drawing(plans):
    plan = plans["standard/dates-6"]
    placed = PlacedFigure(
        figure=figure_of(plan.drawing()), at=(0.0, 0.0), scale=0.1, colour="#000000"
    )
    page = PdfPage(size=(250.0, 250.0), items=(placed,))
    document = pypdfium2.PdfDocument(pdf_bytes([page], fonts={}, title="T", language="en"))
    got = 255.0 - np.asarray(
        document[0].render(scale=5.0, grayscale=True).to_pil().convert("L"), dtype=float
    )
    exact = (
        render(draw(plan.drawing(), EXACT, 0))
        .astype(float)
        .reshape(1250, 2, 1250, 2)
        .mean(axis=(1, 3))
    )
    # A contour strays by 0.4 px of 2500 at most, a fifth of a px here, and PDFium's edges are a
    # little coarse.
    assert abs(got.sum() / exact.sum() - 1.0) < 0.005
    assert np.abs(got - exact).mean() < 0.5
    assert np.abs(got - exact).max() < 90.0

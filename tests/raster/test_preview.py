"""Pictures that a page shows while a style is changed: the same lines as the whole drawing."""

from dataclasses import replace

import numpy as np
import pytest
from PIL import Image
from scipy import ndimage

from ink_scenes import box, numeral_stroke, rule, small_grid
from inkline.drawing import Drawing, Layer, Leaves
from inkline.ink.engine import draw
from inkline.ink.inked import scaled_canvas
from inkline.kit.product import KitOrder
from inkline.kit.recipe.loading import default_recipe
from inkline.raster import preview
from inkline.raster.compose import render
from inkline.raster.preview import Preview
from inkline.styles.files import load_style, style_files

STYLES = {name: load_style(path) for name, path in style_files().items()}
NUMBER = 20_270


@pytest.fixture(scope="module")
def plans():
    return KitOrder(recipe=default_recipe()).open().kit.plans


def reduced(grey, side):
    """The mean of what each pixel of a smaller picture covers."""
    return np.asarray(Image.fromarray(grey).resize((side, side), Image.Resampling.BOX))


@pytest.mark.parametrize(
    ("stamp", "style"),
    [
        ("standard/grid-6-head", "round-pen"),
        ("standard/grid-6-head", "chalk"),
        ("standard/dates-3", "dip-pen"),
    ],
)
def test_a_small_preview_shows_the_same_lines(plans, stamp, style):
    drawing = plans[stamp].drawing()
    held = Preview(drawing, NUMBER)
    small = held.picture(STYLES[style], scale=900 / 2500)
    inked = held.inked(STYLES[style])
    whole = reduced(held.picture(STYLES[style]), 900)
    assert small.shape == whole.shape == (900, 900)
    near = ndimage.binary_dilation((small > 0) | (whole > 0), np.ones((5, 5)))
    assert np.abs(small.astype(int) - whole)[near].mean() < 5.0  # the grain of chalk
    for mark in inked.marks:
        low, high = (
            np.vectorize(round)(end * 0.36)
            for end in (
                np.min([contour.min(axis=0) for contour in mark.contours], axis=0),
                np.max([contour.max(axis=0) for contour in mark.contours], axis=0),
            )
        )
        part = small[low[1] : high[1] + 1, low[0] : high[0] + 1].sum(dtype=np.int64)
        wanted = whole[low[1] : high[1] + 1, low[0] : high[0] + 1].sum(dtype=np.int64)
        assert part == pytest.approx(wanted, rel=0.1)
        assert part > 0


@pytest.mark.parametrize("style", ["round-pen", "charcoal"])
def test_the_whole_preview_is_the_picture(style):
    held, layout = Preview(small_grid(), NUMBER), small_grid()
    calm = replace(STYLES[style], edge=replace(STYLES[style].edge, raggedness=0.01))
    for one in (STYLES[style], calm, STYLES[style]):
        assert np.array_equal(held.picture(one), render(draw(layout, one, NUMBER)))


def test_what_is_cut_out_is_cut_out_of_a_preview():
    layout = Drawing(
        name="t/cut",
        canvas=(700, 500),
        sheet_px=2500.0,
        layers=(
            Layer(name="blocks", marks=(box("t/b", 100, 100, 500, 400),)),
            Layer(
                name="numerals",
                marks=(numeral_stroke("t/d/1", [(300, 150), (300, 350)], width_px=60.0),),
                leaves=Leaves.WHITE,
            ),
        ),
    )
    held, style = Preview(layout, NUMBER), STYLES["round-pen"]
    assert np.array_equal(held.picture(style), render(draw(layout, style, NUMBER)))
    half = held.picture(style, scale=0.5)
    assert half[125, 150] == 0
    assert half[125, 100] == 255
    halved = render(draw(layout, style, NUMBER)).reshape(250, 2, 350, 2).mean(axis=(1, 3))
    assert np.abs(half - halved).max() < 2.0


def test_outlines_are_united_only_where_a_contour_changed(monkeypatch):
    style, united = STYLES["round-pen"], []
    monkeypatch.setattr(
        preview,
        "outlines_of",
        lambda inked, make=preview.outlines_of: united.append(1) or make(inked),
    )
    held = Preview(small_grid(), NUMBER)
    held.picture(style)
    held.picture(style, scale=0.3)
    assert len(united) == 1
    held.picture(replace(style, edge=replace(style.edge, fillet=0.2)))
    held.picture(replace(style, drawn_at=80.0))
    assert len(united) == 3


def test_a_preview_has_whole_pixels_and_one_at_least():
    assert scaled_canvas((700, 500), 0.333) == (233, 166)
    assert scaled_canvas((700, 5), 0.01) == (7, 1)
    held = Preview(
        Drawing(
            name="t",
            canvas=(70, 50),
            sheet_px=2500.0,
            layers=(Layer(name="all", marks=(rule("t/1", (5, 25), (65, 25)),)),),
        ),
        NUMBER,
    )
    assert held.picture(STYLES["round-pen"], scale=0.01).shape == (1, 1)

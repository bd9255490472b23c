"""How far ink lies from the exact stroke, against the bound that the style states.

The distance is read off pictures.
"""

import dataclasses
import functools

import numpy as np
import pytest
import shapely

from ink_scenes import LIVELY, SHEET_PX, drawing, numeral_stroke, rule
from inkline.drawing import Role
from inkline.ink.bound import reach_mm
from inkline.ink.engine import draw
from inkline.ink.style import style_from_dict
from inkline.raster.compose import render
from inkline.styles.files import load_style, style_files


def solid(style):
    """The style without a tooth and without specks.

    A tooth only ever takes ink away, and specks are held to their own test.
    """
    return dataclasses.replace(
        style, paper=dataclasses.replace(style.paper, dryness=0.0, specks=0.0)
    )


STYLES = {"test": style_from_dict(LIVELY, where="test")} | {
    name: solid(load_style(path)) for name, path in style_files().items()
}
# Half the diagonal of a pixel: ink may lie in its corner only.
PIXEL_PX = 0.71
TIGHT_SHARE = 0.6
N_DRAWINGS = 200
WIDTH_PX = 20.83
SWEEP = np.linspace(-2.2, 2.2, 50)
BOWL = np.column_stack((150.0 + 70.0 * np.cos(SWEEP), 150.0 + 70.0 * np.sin(SWEEP)))


@functools.lru_cache(maxsize=1)
def scenes():
    """A rule as long as those of a grid, and the bowl of a numeral.

    A longer rule strays further.
    """
    level = drawing(
        "t", [rule("t/1", (100.3, 80.4), (2400.3, 80.4), width_px=WIDTH_PX)], canvas=(2500, 160)
    )
    bowl = drawing(
        "t",
        [numeral_stroke("t/3/1", BOWL, origin=(150.0, 220.0), width_px=WIDTH_PX)],
        canvas=(300, 300),
    )
    return {"rule": level, "bowl": bowl}


def lengthened(style, stroke):
    """The exact stroke, at both ends of a rule longer by what its style lets it run over."""
    points = np.array(stroke.points)
    if stroke.role is Role.RULE:
        over = style.hand.run_over * SHEET_PX / style.drawn_at
        points = (
            points
            + np.outer([-1.0, 1.0], (points[1] - points[0]) / np.hypot(*(points[1] - points[0])))
            * over
        )
    return shapely.LineString(points)


@functools.lru_cache(maxsize=32)
def farthest_px(name, kind):
    """Distances in px of the farthest inked pixel's centre from the exact stroke, one a drawing."""
    style, scene = STYLES[name], scenes()[kind]
    stroke = next(scene.marks)
    away = distances(lengthened(style, stroke), scene.canvas)
    # Wherever a hair might reach, it must be on the picture.
    assert min(away[0].min(), away[-1].min(), away[:, 0].min(), away[:, -1].min()) > bound_px(
        style, stroke
    )
    return np.array(
        [away[render(draw(scene, style, number)) > 0].max() for number in range(N_DRAWINGS)]
    )


def distances(line, canvas):
    """Distance of every pixel's centre from `line`, `(height, width)`."""
    columns, rows = np.meshgrid(np.arange(canvas[0]) + 0.5, np.arange(canvas[1]) + 0.5)
    return shapely.distance(line, shapely.points(columns, rows))


def bound_px(style, stroke):
    px = SHEET_PX / style.drawn_at
    return reach_mm(style, stroke.role, width_mm=stroke.width_px / px) * px


@pytest.mark.parametrize("kind", ["rule", "bowl"])
@pytest.mark.parametrize("name", STYLES)
def test_no_ink_lies_beyond_the_bound_that_the_style_states(name, kind):
    stroke = next(scenes()[kind].marks)
    assert farthest_px(name, kind).max() <= bound_px(STYLES[name], stroke) + PIXEL_PX


@pytest.mark.parametrize("kind", ["rule", "bowl"])
@pytest.mark.parametrize("name", STYLES)
def test_the_bound_is_tight(name, kind):
    """Over 200 drawings the largest distance is at least 60 % of it."""
    stroke = next(scenes()[kind].marks)
    assert farthest_px(name, kind).max() >= TIGHT_SHARE * bound_px(STYLES[name], stroke)


@pytest.mark.parametrize("name", ["round-pen", "chalk"])
def test_specks_lie_within_the_bound(name):
    base = STYLES[name]
    paper = dataclasses.replace(base.paper, specks=6.0, speck_size=0.2, speck_reach=0.8)
    style = dataclasses.replace(base, paper=paper)
    scene = scenes()["bowl"]
    stroke = next(scene.marks)
    away = distances(shapely.LineString(stroke.points), scene.canvas)
    farthest = max(away[render(draw(scene, style, number)) > 0].max() for number in range(40))
    assert farthest <= bound_px(style, stroke) + PIXEL_PX
    assert farthest > bound_px(base, stroke)

"""A recipe with values usual for calendar stamps (common practice, no source), worked out by hand.

Units: a point is 1/72 inch (CSS Values and Units; PostScript), so 5 pt at 300 ppi are 20.833 px and
75 pt are 312.5 px.
"""

from functools import cache
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from shapely import box, union_all

from inkline.kit.letters import face_of
from inkline.kit.product import catalogue
from inkline.kit.recipe.loading import recipe_from_text

RECIPE = """
version = 1
title = "Check values"
number = 7
[canvas]
side = "2500 px"
ppi = 300
margin = "40 px"
[formats.planner]
cell = 1.0
weekday_row = 1.0
rule = "5 pt"
frame = 1.0
block_inset = "10 px"
block_corner = "10 px"
numeral = "75 pt"
gap = "30 px"
"""


@cache
def kit():
    recipe = recipe_from_text(RECIPE, source="values.toml", folder=Path())
    return {plan.name: plan for plan in catalogue(recipe, face_of(recipe))}


def lines_of_grid(stamp):
    lines = kit()[stamp].geometry()["lines"]
    across = [line for line in lines if line["from"][1] == line["to"][1]]
    down = [line for line in lines if line["from"][0] == line["to"][0]]
    assert len(across) + len(down) == len(lines)
    return across, down


def test_six_weeks_with_weekdays_have_eight_rules_each_way():
    across, down = lines_of_grid("planner/grid-6-head")
    assert (len(across), len(down)) == (8, 8)


def test_rules_of_five_points_are_20_833_px():
    across, down = lines_of_grid("planner/grid-6-head")
    for line in across + down:
        assert line["width_px"] == pytest.approx(20.833333333333332, abs=1e-12)


def test_seven_columns_are_equal():
    _, down = lines_of_grid("planner/grid-6-head")
    widths = np.diff([line["from"][0] for line in down])
    assert len(widths) == 7
    assert np.ptp(widths) < 1e-9
    assert widths[0] == pytest.approx((2500 - 80) / 7, abs=1e-9)


def test_all_seven_rows_are_equal_squares():
    across, down = lines_of_grid("planner/grid-6-head")
    heights = np.diff([line["from"][1] for line in across])
    assert np.ptp(heights) < 1e-9
    assert heights[0] == pytest.approx(down[1]["from"][0] - down[0]["from"][0], abs=1e-9)


def test_the_layout_fills_the_canvas_to_its_margin():
    across, down = lines_of_grid("planner/grid-6-head")
    assert [across[0]["from"][1], down[0]["from"][0]] == pytest.approx([40, 40], abs=1e-9)
    assert [across[-1]["from"][1], down[-1]["from"][0]] == pytest.approx([2460, 2460], abs=1e-9)
    half = 5 * 300 / 72 / 2
    assert across[0]["from"][0] == pytest.approx(40 - half, abs=1e-9)
    assert across[0]["to"][0] == pytest.approx(2460 + half, abs=1e-9)


def test_blocks_are_set_in_by_ten_pixels_with_equal_gaps():
    boxes = (
        kit()["planner/blocks-6"].geometry()["boxes"]
        + kit()["planner/blocks-head"].geometry()["boxes"]
    )
    assert len(boxes) == 49
    assert {one["radius"] for one in boxes} == {10.0}
    xs = sorted({(round(one["x0"], 6), round(one["x1"], 6)) for one in boxes})
    ys = sorted({(round(one["y0"], 6), round(one["y1"], 6)) for one in boxes})
    assert (len(xs), len(ys)) == (7, 7)
    for sides in (xs, ys):
        assert [after[0] - before[1] for before, after in pairwise(sides)] == pytest.approx(
            [20] * 6, abs=1e-5
        )
        assert (sides[0][0] - 40, 2460 - sides[-1][1]) == pytest.approx((10, 10), abs=1e-5)


def test_numerals_of_75_points_have_an_em_of_312_5_px():
    (size,) = {text.size for text in kit()["planner/dates-1"].content.setting()}
    assert size.em_px == pytest.approx(312.5, abs=1e-9)
    (width,) = {mark.width_px for mark in kit()["planner/dates-1"].drawing().marks}
    assert width == pytest.approx(size.height_px / 7.3)


def test_numerals_stand_in_the_upper_left():
    for one in kit()["planner/dates-4"].geometry()["glyphs"]:
        x0, y0, x1, y1 = one["cell"]
        left, top, right, bottom = one["ink"]
        assert 0 < left - x0 < x1 - right or len(one["text"]) == 2
        assert 0 < top - y0 < y1 - bottom


def test_all_months_run_to_31_with_six_rows_when_they_begin_late():
    # ceil((offset + 31) / 7) rows.
    for offset, rows in enumerate([5, 5, 5, 5, 5, 6, 6]):
        glyphs = kit()[f"planner/dates-{offset + 1}"].geometry()["glyphs"]
        assert [one["text"] for one in glyphs] == [str(day) for day in range(1, 32)]
        assert len({one["cell"][1] for one in glyphs}) == rows


def test_a_margin_moved_by_a_pixel_leaves_numerals_of_a_type_size_as_they_are():
    text = RECIPE.replace("40 px", "41 px")
    recipe = recipe_from_text(text, source="values.toml", folder=Path())
    moved = {plan.name: plan for plan in catalogue(recipe, face_of(recipe))}["planner/dates-2"]
    before = list(kit()["planner/dates-2"].drawing().marks)
    for one, other in zip(moved.drawing().marks, before, strict=True):
        assert one.origin != other.origin
        assert np.allclose(one.points - one.origin, other.points - other.origin, atol=1e-9)


def test_the_dates_and_the_grid_leave_white_between_them():
    across, down = lines_of_grid("planner/grid-6-head")
    rules = union_all(
        [
            box(x0, y0 - 10.5, x1, y0 + 10.5)
            for (x0, y0), (x1, _) in [(one["from"], one["to"]) for one in across]
        ]
        + [
            box(x0 - 10.5, y0, x0 + 10.5, y1)
            for (x0, y0), (_, y1) in [(one["from"], one["to"]) for one in down]
        ]
    )
    for one in kit()["planner/dates-7"].geometry()["glyphs"]:
        assert not box(*one["ink"]).intersects(rules)

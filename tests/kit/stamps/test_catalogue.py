"""The default kit, exactly: names, registration, and what stands where."""

import calendar
import pickle
from functools import cache
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
import shapely
from shapely import LineString, Polygon, box, union_all

from faces import scullery, shipped_family
from inkline.calendar.months import dates_number, month_length
from inkline.drawing import Cap, Role, Shape, Stroke
from inkline.errors import InputError
from inkline.kit.letters import face_of
from inkline.kit.product import catalogue
from inkline.kit.recipe.loading import default_recipe, load_recipe, recipe_from_text
from inkline.kit.stamps.catalogue import plan_by_name, plan_makers, stamp_names

FORMATS = ("standard", "tall")
FAMILIES = (
    "clothesline",
    "errand",
    "mantelpiece",
    "porchlight",
    "scullery",
    "stairwell",
    "woodshed",
)
SIDE, SAFE = 2500, 24


@cache
def default_plans():
    return {plan.name: plan for plan in catalogue(default_recipe(), scullery())}


def area_of(mark):
    """A mark's exact shape by GEOS."""
    if isinstance(mark, Stroke):
        if mark.profile is not None:
            halves = 0.5 * mark.width_px * mark.profile
            discs = shapely.buffer(shapely.points(mark.points), halves, quad_segs=64)
            return union_all(shapely.convex_hull(shapely.union(discs[:-1], discs[1:])))
        cap = "flat" if mark.cap is Cap.BUTT else "round"
        return LineString(mark.points).buffer(mark.width_px / 2, cap_style=cap, quad_segs=64)
    filled = Polygon(mark.contours[0])
    for contour in mark.contours[1:]:
        filled = filled.symmetric_difference(Polygon(contour))
    return filled


def marks_under(plan, prefix):
    return [mark for mark in plan.drawing().marks if mark.name.startswith(f"{prefix}/")]


def test_the_default_kit_has_these_stamps():
    parts = [
        "grid-5",
        "grid-6",
        "grid-5-head",
        "grid-6-head",
        "blocks-5",
        "blocks-6",
        "blocks-head",
    ]
    parts += [f"dates-{number}" for number in range(1, 8)] + ["weekdays-sunday", "weekdays-monday"]
    words = [f"month-{number:02d}" for number in range(1, 13)] + [
        f"digit-{digit}" for digit in range(10)
    ]
    words += [f"year-{year}" for year in range(2027, 2032)]
    names = [f"{shape}/{part}" for shape in FORMATS for part in parts] + [
        f"words/{word}" for word in words
    ]
    assert list(default_plans()) == names
    assert stamp_names(default_recipe(), scullery()) == tuple(names)
    assert all(plan.file == f"{plan.name}.png" for plan in default_plans().values())


def test_kinds_formats_and_canvases():
    for name, plan in default_plans().items():
        shape, part = name.split("/")
        expected = {"grid": "grid", "blocks": "blocks", "dates": "dates"}.get(
            part.split("-")[0], "words"
        )
        assert plan.kind == expected
        assert plan.format == (None if shape == "words" else shape)
        assert plan.sheet_px == SIDE
        assert plan.format is None or plan.canvas == (SIDE, SIDE)


def test_names_of_marks_are_unique_in_the_kit_and_begin_with_their_stamps():
    names = [mark.name for plan in default_plans().values() for mark in plan.drawing().marks]
    assert len(set(names)) == len(names)
    for plan in default_plans().values():
        assert all(mark.name.startswith(plan.name + "/") for mark in plan.drawing().marks)


def test_examples_of_names():
    plans = default_plans()
    for stamp, mark in [
        ("tall/grid-5", "tall/grid-5/across-3"),
        ("tall/grid-5", "tall/grid-5/down-1"),
        ("tall/blocks-5", "tall/blocks-5/r2c4"),
        ("tall/blocks-head", "tall/blocks-head/c7"),
        ("tall/dates-3", "tall/dates-3/17/1"),
        ("tall/weekdays-sunday", "tall/weekdays-sunday/tue/1"),
        ("words/month-02", "words/month-02/1"),
    ]:
        assert mark in {one.name for one in plans[stamp].drawing().marks}


@pytest.mark.parametrize("shape", FORMATS)
def test_rules_are_strokes_that_say_where_they_cross_and_how_far_they_may_run(shape):
    for part in ("grid-5", "grid-6", "grid-5-head", "grid-6-head"):
        plan = default_plans()[f"{shape}/{part}"]
        marks = list(plan.drawing().marks)
        lines = plan.geometry()["lines"]
        assert len(marks) == len(lines)
        for mark, line in zip(marks, lines, strict=True):
            assert (mark.role, mark.cap, mark.group) == (Role.RULE, Cap.BUTT, mark.name)
            assert [list(point) for point in mark.points] == [line["from"], line["to"]]
            assert mark.width_px == line["width_px"]
            assert mark.origin == tuple(line["from"])
            assert mark.shared == f"{plan.name}/{mark.name.split('/')[2].split('-')[0]}"
            axis = 0 if mark.shared.endswith("across") else 1
            expected = (line["from"][axis] - SAFE, SIDE - SAFE - line["to"][axis])
            assert mark.room_px == pytest.approx(expected, abs=1e-9)
            assert min(mark.room_px) > 0
            others = [one for one in marks if one.shared != mark.shared]
            crossed = [mark.origin[axis] + length for length in mark.crossings]
            assert crossed == pytest.approx([one.points[0][axis] for one in others], abs=1e-9)


@pytest.mark.parametrize("shape", FORMATS)
def test_all_grids_of_a_format_have_the_same_cells(shape):
    plans = default_plans()
    rules = {
        part: {
            mark.name.split("/")[2]: mark.points
            for mark in plans[f"{shape}/{part}"].drawing().marks
        }
        for part in ("grid-5", "grid-6", "grid-5-head", "grid-6-head")
    }
    for number in range(1, 9):
        xs = {lines[f"down-{number}"][0, 0] for lines in rules.values()}
        assert len(xs) == 1
    six = [rules["grid-6"][f"across-{number}"][0, 1] for number in range(1, 8)]
    assert [rules["grid-5"][f"across-{number}"][0, 1] for number in range(1, 7)] == six[:6]
    assert [rules["grid-6-head"][f"across-{number}"][0, 1] for number in range(2, 9)] == six
    assert [rules["grid-5-head"][f"across-{number}"][0, 1] for number in range(2, 8)] == six[:6]
    left, right = rules["grid-6-head"]["down-1"][0, 0], rules["grid-6-head"]["down-8"][0, 0]
    top, bottom = rules["grid-6-head"]["across-1"][0, 1], rules["grid-6-head"]["across-8"][0, 1]
    assert left + right == pytest.approx(SIDE, abs=1e-9)
    assert top + bottom == pytest.approx(SIDE, abs=1e-9)
    assert min(left, top) == pytest.approx(60, abs=1e-9)
    assert six[0] - top == pytest.approx((six[1] - six[0]) / 2, abs=1e-9)
    assert (six[1] - six[0]) / ((right - left) / 7) == pytest.approx(
        1.0 if shape == "standard" else 1.25, abs=1e-12
    )


@pytest.mark.parametrize("shape", FORMATS)
def test_the_weights_of_rules(shape):
    # Targets chosen by eye: inner rules 0.6 to 0.75 of a numeral's stem, the frame 1.4 times
    # heavier.
    plans = default_plans()
    plain = {line["width_px"] for line in plans[f"{shape}/grid-6"].geometry()["lines"]}
    framed = sorted(
        {round(line["width_px"], 9) for line in plans[f"{shape}/grid-6-head"].geometry()["lines"]}
    )
    (stem,) = {mark.width_px for mark in plans[f"{shape}/dates-1"].drawing().marks}
    (inner,) = plain
    assert framed == pytest.approx([inner, 1.4 * inner])
    assert 0.6 <= inner / stem <= 0.75


@pytest.mark.parametrize("shape", FORMATS)
def test_a_grid_is_the_union_of_its_rules_and_stays_from_the_edge(shape):
    for part in ("grid-5", "grid-6-head"):
        plan = default_plans()[f"{shape}/{part}"]
        drawn = union_all([area_of(mark) for mark in plan.drawing().marks])
        lines = plan.geometry()["lines"]
        boxes = []
        for line in lines:
            (x0, y0), (x1, y1), half = line["from"], line["to"], line["width_px"] / 2
            boxes.append(
                box(x0, y0 - half, x1, y1 + half) if y0 == y1 else box(x0 - half, y0, x1 + half, y1)
            )
        assert drawn.symmetric_difference(union_all(boxes)).area < 1e-6
        outer = box(*drawn.bounds)
        assert outer.boundary.difference(drawn.boundary.buffer(1e-9)).length < 1e-6
        assert box(SAFE, SAFE, SIDE - SAFE, SIDE - SAFE).contains(drawn)


@pytest.mark.parametrize("shape", FORMATS)
def test_blocks_are_set_in_equally_on_the_grids_cells(shape):
    plans = default_plans()
    xs = [line["from"][0] for line in plans[f"{shape}/grid-6"].geometry()["lines"][7:]]
    ys = [line["from"][1] for line in plans[f"{shape}/grid-6-head"].geometry()["lines"][:8]]
    inset = 26
    for part, rows in (("blocks-5", ys[1:7]), ("blocks-6", ys[1:8]), ("blocks-head", ys[0:2])):
        boxes = plans[f"{shape}/{part}"].geometry()["boxes"]
        cells = [(x0, y0, x1, y1) for y0, y1 in pairwise(rows) for x0, x1 in pairwise(xs)]
        assert len(boxes) == len(cells)
        for one, (x0, y0, x1, y1) in zip(boxes, cells, strict=True):
            found = (one["x0"] - x0, one["y0"] - y0, x1 - one["x1"], y1 - one["y1"])
            assert found == pytest.approx((inset,) * 4, abs=1e-9)
            assert one["radius"] == pytest.approx((xs[1] - xs[0]) / 10, abs=1e-9)


def test_blocks_are_drawn_as_their_boxes_say():
    plan = default_plans()["tall/blocks-6"]
    for mark, one in zip(plan.drawing().marks, plan.geometry()["boxes"], strict=True):
        assert isinstance(mark, Shape)
        assert (mark.role, mark.group, mark.origin) == (
            Role.BLOCK,
            mark.name,
            (one["x0"], one["y0"]),
        )
        inner = box(*(one[key] for key in ("x0", "y0", "x1", "y1"))).buffer(-one["radius"])
        exact = inner.buffer(one["radius"], quad_segs=500)
        assert area_of(mark).hausdorff_distance(exact) < 0.0025


@pytest.mark.parametrize("shape", FORMATS)
@pytest.mark.parametrize("week_start", [0, 6])
def test_the_right_dates_stamp_puts_every_day_where_pythons_calendar_does(shape, week_start):
    for year, month in [(2027, 2), (2027, 8), (2028, 2), (2031, 6)]:
        plan = default_plans()[f"{shape}/dates-{dates_number(year, month, week_start=week_start)}"]
        cells = {one["text"]: one["cell"] for one in plan.geometry()["glyphs"]}
        columns = sorted({cell[0] for cell in cells.values()})
        rows = sorted({cell[1] for cell in cells.values()})
        assert len(columns) == 7
        for row, week in enumerate(
            calendar.Calendar(firstweekday=week_start).monthdayscalendar(year, month)
        ):
            for column, day in enumerate(week):
                assert day == 0 or cells[str(day)][:2] == [columns[column], rows[row]]
        assert len(cells) == 31 >= month_length(year, month)


@pytest.mark.parametrize("shape", FORMATS)
def test_dates_stand_in_the_grids_cells(shape):
    lines = default_plans()[f"{shape}/grid-6"].geometry()["lines"]
    xs, ys = [line["from"][0] for line in lines[7:]], [line["from"][1] for line in lines[:7]]
    for number in range(1, 8):
        for one in default_plans()[f"{shape}/dates-{number}"].geometry()["glyphs"]:
            row, column = divmod(number + int(one["text"]) - 2, 7)
            assert one["cell"] == [xs[column], ys[row], xs[column + 1], ys[row + 1]]


@pytest.mark.parametrize("shape", FORMATS)
def test_ink_in_the_manifest_is_the_ink_of_the_marks(shape):
    for stamp in (f"{shape}/dates-4", f"{shape}/weekdays-sunday"):
        plan = default_plans()[stamp]
        labels = plan.content.labels
        for label, one in zip(labels, plan.geometry()["glyphs"], strict=True):
            drawn = union_all([area_of(mark) for mark in marks_under(plan, f"{stamp}/{label}")])
            assert one["ink"] == pytest.approx(drawn.bounds, abs=0.01)
            assert box(*one["cell"]).contains(box(*one["ink"]))


@pytest.mark.parametrize(("shape", "share"), [("standard", 0.5), ("tall", 0.34)])
def test_a_numerals_height_is_its_share_of_the_cell(shape, share):
    ink = {
        one["text"]: one["ink"] for one in default_plans()[f"{shape}/dates-1"].geometry()["glyphs"]
    }
    cell = default_plans()[f"{shape}/dates-1"].geometry()["glyphs"][0]["cell"]
    assert ink["7"][3] - ink["7"][1] == pytest.approx(share * (cell[2] - cell[0]), rel=0.002)
    for text, (_, top, _, bottom) in ink.items():
        # Round figures overshoot a little, top and bottom.
        assert bottom - top == pytest.approx(share * (cell[2] - cell[0]), rel=0.05), text


@pytest.mark.parametrize("shape", FORMATS)
def test_numerals_of_a_row_share_a_baseline_and_stand_apart_from_their_blocks(shape):
    plan = default_plans()[f"{shape}/dates-1"]
    blocks = {
        (one["x0"], one["y0"]) for one in default_plans()[f"{shape}/blocks-6"].geometry()["boxes"]
    }
    baselines = {}
    for mark in plan.drawing().marks:
        row = (int(mark.name.split("/")[2]) - 1) // 7
        baselines.setdefault(row, set()).add(round(mark.origin[1], 9))
    assert all(len(one) == 1 for one in baselines.values())
    whites = []
    for one in plan.geometry()["glyphs"]:
        cell, ink = one["cell"], one["ink"]
        (block,) = [(x, y) for x, y in blocks if cell[0] < x < cell[2] and cell[1] < y < cell[3]]
        whites.append((ink[0] - block[0]) / (cell[2] - cell[0]))
        above = (ink[1] - block[1]) / (cell[2] - cell[0])
        assert 0.05 < above < 0.14
    # About 0.06 of the cell (chosen by eye) at the numeral's outermost point.
    assert 0.04 < min(whites) <= max(whites) < 0.12
    assert 0.05 < np.mean(whites) < 0.1


@pytest.mark.parametrize("family", FAMILIES)
@pytest.mark.parametrize("shape", FORMATS)
def test_numerals_of_every_family_stand_within_their_blocks(shape, family):
    """Clear of all four edges, on the days that begin a month first and last in its week."""
    makers = plan_makers(default_recipe(), shipped_family(family))
    blocks = makers[f"{shape}/blocks-6"]().geometry()["boxes"]
    glyphs = [one for n in (1, 7) for one in makers[f"{shape}/dates-{n}"]().geometry()["glyphs"]]
    assert len(glyphs) == 2 * 31
    for one in glyphs:
        (x0, y0, x1, y1), ink = one["cell"], one["ink"]
        (block,) = [box for box in blocks if x0 < box["x0"] < x1 and y0 < box["y0"] < y1]
        sides = (
            ink[0] - block["x0"],
            ink[1] - block["y0"],
            block["x1"] - ink[2],
            block["y1"] - ink[3],
        )
        assert min(sides) > 0.05 * (x1 - x0), one["text"]


@pytest.mark.parametrize(("day", "first"), [("sunday", "SUN"), ("monday", "MON")])
@pytest.mark.parametrize("shape", FORMATS)
def test_weekdays_are_centred_over_their_columns(shape, day, first):
    glyphs = default_plans()[f"{shape}/weekdays-{day}"].geometry()["glyphs"]
    assert glyphs[0]["text"] == first
    assert len(glyphs) == 7
    heads = default_plans()[f"{shape}/grid-6-head"].geometry()["lines"]
    heights = []
    for one, line in zip(glyphs, heads[8:], strict=False):
        x0, y0, x1, y1 = one["cell"]
        assert x0 == line["from"][0]
        assert (y0, y1) == (heads[0]["from"][1], heads[1]["from"][1])
        assert one["ink"][0] - x0 == pytest.approx(x1 - one["ink"][2], abs=1e-9)
        assert one["ink"][0] - x0 > 0.1 * (x1 - x0)
        # Round letters reach further, and letters stand a little off their line.
        assert one["ink"][1] - y0 == pytest.approx(y1 - one["ink"][3], abs=0.012 * (y1 - y0))
        heights.append(one["ink"][3] - one["ink"][1])
    assert max(heights) / min(heights) < 1.06


def test_words_have_tight_canvases_of_one_height_a_set():
    plans = default_plans()
    margin = 40
    for prefix, count in (("month", 12), ("digit", 10), ("year", 5)):
        found = [plan for name, plan in plans.items() if name.startswith(f"words/{prefix}-")]
        assert len(found) == count
        assert len({plan.canvas[1] for plan in found}) == 1
        baselines = {round(mark.origin[1], 9) for plan in found for mark in plan.drawing().marks}
        assert len(baselines) == 1
        for plan in found:
            (one,) = plan.geometry()["glyphs"]
            width, height = plan.canvas
            x0, y0, x1, y1 = one["ink"]
            assert one["cell"] == [0, 0, width, height]
            assert x0 == pytest.approx(width - x1, abs=1e-9)
            assert margin <= x0 < margin + 0.5 + 1e-9
            assert min(y0, height - y1) >= margin
            drawn = union_all([area_of(mark) for mark in plan.drawing().marks])
            assert one["ink"] == pytest.approx(drawn.bounds, abs=0.01)


def test_words_say_what_they_are_called():
    texts = {
        name: plan.geometry()["glyphs"][0]["text"]
        for name, plan in default_plans().items()
        if "words/" in name
    }
    assert (texts["words/month-02"], texts["words/digit-7"], texts["words/year-2028"]) == (
        "FEBRUARY",
        "7",
        "2028",
    )
    # One letter height through the set: the flat letters of all words are as high as the recipe
    # says, 8 % of 2500 px.
    ink = default_plans()["words/digit-7"].geometry()["glyphs"][0]["ink"]
    assert ink[3] - ink[1] == pytest.approx(200, rel=0.01)


def test_one_plan_is_the_catalogues_own():
    for name in ("tall/dates-3", "tall/grid-5-head", "standard/blocks-head", "words/year-2030"):
        alone, listed = plan_by_name(default_recipe(), scullery(), name), default_plans()[name]
        assert alone.geometry() == listed.geometry()
        for mine, other in zip(alone.drawing().marks, listed.drawing().marks, strict=True):
            assert mine.name == other.name
            parts = (
                (mine.points, other.points)
                if isinstance(mine, Stroke)
                else (mine.contours[0], other.contours[0])
            )
            assert np.array_equal(*parts)


def test_a_stamp_that_is_not_in_the_kit_is_refused_with_the_nearest():
    with pytest.raises(
        InputError, match='there is no stamp "tall/date-3"; did you mean "tall/dates-3"'
    ):
        plan_by_name(default_recipe(), scullery(), "tall/date-3")


def test_grids_and_blocks_can_be_sent_to_another_process():
    plan = default_plans()["tall/grid-6-head"]
    assert pickle.loads(pickle.dumps(plan)).geometry() == plan.geometry()  # noqa: S301


def test_everything_grows_with_the_canvas():
    twice = recipe_from_text(
        'version = 1\nnumber = 1\n[canvas]\nside = "5000 px"\n', source="x", folder=Path()
    )
    for name in ("tall/dates-3", "standard/grid-6-head", "tall/blocks-5"):
        large = list(plan_by_name(twice, scullery(), name).drawing().marks)
        small = list(default_plans()[name].drawing().marks)
        for one, other in zip(large, small, strict=True):
            assert one.name == other.name
            assert np.array(one.origin) == pytest.approx(2 * np.array(other.origin), abs=1e-6)
            if isinstance(one, Stroke):
                assert one.points == pytest.approx(2 * other.points, abs=1e-6)
                assert one.width_px == pytest.approx(2 * other.width_px)


def test_a_margin_moved_by_a_pixel_only_moves_words_that_stand_alone():
    text = 'version = 1\nnumber = 1\n[words]\nmargin = "41 px"\n'
    moved = plan_by_name(
        recipe_from_text(text, source="x", folder=Path()), scullery(), "words/month-05"
    )
    for one, other in zip(
        moved.drawing().marks, default_plans()["words/month-05"].drawing().marks, strict=True
    ):
        assert np.allclose(one.points - one.origin, other.points - other.origin, atol=1e-9)


@pytest.mark.parametrize(
    "path", sorted(Path(__file__).parents[1].glob("data/*.toml")), ids=lambda p: p.stem
)
def test_example_recipes_fit(path):
    recipe = load_recipe(path)
    plans = catalogue(recipe, face_of(recipe))
    assert len(plans) == 16 * len(recipe.formats) + 22 + len(recipe.words.years)

"""Marked days: rings, dots and lines in register with the dates and clear of the rules."""

from functools import cache
from pathlib import Path

import numpy as np
import pytest
import shapely

from faces import scullery
from inkline.calendar.months import dates_number
from inkline.drawing import Role, Shape
from inkline.kit.recipe.loading import recipe_from_text
from inkline.kit.stamps.catalogue import plan_makers
from inkline.kit.stamps.marks import marks_by_month
from inkline.kit.stamps.measures import layout_of

HEAD = 'version = 1\ntitle = "t"\nnumber = 5\n[canvas]\nside = "2500 px"\n'
ALL_DAYS = "".join(f'"2027-03-{day:02d}" = "{{}}"\n' for day in range(1, 32))
MARKS = ("ring", "dot", "underline")
FORMATS = {
    "standard": "",
    "tall": "",
    "wide": "",
    "strip": "",
    "low": 'level = "bottom"\nside = "right"\n',
    "mid": 'side = "centre"\nlevel = "middle"\n',
}


@cache
def kit(marks, formats="[formats.standard]\n", years="[2027]"):
    text = f"{HEAD}{formats}[words]\nyears = {years}\n[marks]\n{marks}"
    recipe = recipe_from_text(text, source="one.toml", folder=Path())
    return recipe, plan_makers(recipe, scullery())


def stamps(makers):
    return [name for name in makers if "/marks-" in name]


def ink_of(plan):
    """Each mark's exact ink by shapely, by its day."""
    found = {}
    for mark in plan.drawing().marks:
        if isinstance(mark, Shape):
            ink = shapely.Polygon(mark.contours[0])
        else:
            ink = shapely.LineString(mark.points).buffer(mark.width_px / 2, quad_segs=16)
        label = mark.name.split("/")[2]
        found[label] = shapely.union_all([ink, found[label]]) if label in found else ink
    return found


def test_there_is_a_stamp_for_each_month_with_marks_and_each_week_start():
    recipe, makers = kit(
        '"2027-03-08" = "ring"\n"05-01" = "dot"\n',
        "[formats.tall]\n[formats.strip]\n",
        "[2027, 2028]",
    )
    months = ["2027-03", "2027-05", "2028-05"]
    expected = [f"tall/marks-{month}-{start}" for month in months for start in ("sunday", "monday")]
    assert stamps(makers) == expected + [f"strip/marks-{month}" for month in months]
    assert {makers[name]().kind for name in stamps(makers)} == {"marks"}
    assert list(marks_by_month(recipe)) == [(2027, 3), (2027, 5), (2028, 5)]


def test_a_mark_of_its_own_year_needs_no_year_of_the_kit():
    assert stamps(kit('"2033-03-08" = "ring"\n')[1]) == [
        "standard/marks-2033-03-sunday",
        "standard/marks-2033-03-monday",
    ]


def test_a_29_february_of_every_year_is_marked_in_leap_years():
    recipe, _ = kit('"02-29" = "ring"\n', years='["2027-2032"]')
    assert list(marks_by_month(recipe)) == [(2028, 2), (2032, 2)]


@pytest.mark.parametrize("shows", ["week", "day", "small"])
def test_undated_formats_and_small_months_have_none(shows):
    assert stamps(kit('"2027-03-08" = "ring"\n', f"[formats.{shows}]\n")[1]) == []


def test_a_day_may_be_marked_twice():
    _, makers = kit('"2027-03-08" = "ring"\n"03-08" = "dot"\n"03-09" = "dot"\n')
    plan = makers["standard/marks-2027-03-monday"]()
    assert plan.content.labels == ("8-dot", "8-ring", "9")
    assert [glyph["text"] for glyph in plan.geometry()["glyphs"]] == ["dot", "ring", "dot"]
    assert [mark.name for mark in plan.drawing().marks] == [
        f"{plan.name}/{one}/1" for one in ("8-dot", "8-ring", "9")
    ]


def format_text(name):
    return f"[formats.{name}]\n{FORMATS[name]}"


@pytest.mark.parametrize("by", MARKS)
@pytest.mark.parametrize("shape", FORMATS)
def test_marks_are_in_the_cells_of_their_days_and_clear_of_the_rules(shape, by):
    recipe, makers = kit(ALL_DAYS.format(*[by] * 31), format_text(shape))
    layout = layout_of(recipe, recipe.formats[0])
    strip = shape == "strip"
    number = 31 if strip else dates_number(2027, 3, week_start=0)
    dates = {g["text"]: g for g in makers[f"{shape}/dates-{number}"]().geometry()["glyphs"]}
    plan = makers[f"{shape}/marks-2027-03" + ("" if strip else "-monday")]()
    inks = ink_of(plan)
    assert list(inks) == list(dates)
    for glyph, (day, ink) in zip(plan.geometry()["glyphs"], inks.items(), strict=True):
        cell = dates[day]["cell"]
        assert glyph["cell"] == list(cell)
        assert glyph["ink"] == pytest.approx(ink.bounds, abs=0.1)
        room = shapely.box(*cell).buffer(
            -(layout.edge_of_marks + 0.029 * layout.cell_width), join_style="mitre"
        )
        assert room.buffer(0.02).contains(ink), (day, ink.bounds, cell)


def numerals_of(makers, stamp):
    """Each numeral's exact ink by shapely."""
    parts = {}
    for mark in makers[stamp]().drawing().marks:
        line = shapely.LineString(mark.points).buffer(mark.width_px / 2, quad_segs=16)
        parts.setdefault(mark.name.split("/")[2], []).append(line)
    return {day: shapely.union_all(lines) for day, lines in parts.items()}


@pytest.mark.parametrize("shape", ["standard", "tall", "wide", "strip"])
def test_a_ring_goes_round_its_numeral_and_over_its_start(shape):
    _, makers = kit(ALL_DAYS.format(*["ring"] * 31), format_text(shape))
    strip = shape == "strip"
    number = 31 if strip else dates_number(2027, 3, week_start=0)
    numerals = numerals_of(makers, f"{shape}/dates-{number}")
    starts = set()
    for mark in makers[f"{shape}/marks-2027-03" + ("" if strip else "-monday")]().drawing().marks:
        numeral, ink = (
            numerals[mark.name.split("/")[2]],
            shapely.LineString(mark.points).buffer(mark.width_px / 2),
        )
        inside = shapely.Polygon(max(ink.interiors, key=lambda ring: shapely.Polygon(ring).area))
        if shape in ("tall", "strip"):
            assert inside.contains(numeral)  # it touches nothing where there is room
        assert shapely.intersection(inside, numeral).area > 0.985 * numeral.area
        centre = np.array(inside.centroid.coords[0])
        turns = np.unwrap(np.arctan2(*(mark.points - centre).T[::-1]))
        assert 2 * np.pi + 0.2 < abs(turns[-1] - turns[0]) < 2 * np.pi + 0.9
        assert (
            turns[-1] < turns[0]
        )  # anticlockwise on the page, as most right hands draw it: common practice, no source
        starts.add(round(turns[0], 6))
        assert mark.role is Role.RULE
        assert 0 < np.max(np.abs(np.diff(mark.points, 2, axis=0))) < 1.0
    assert len(starts) == 31


@pytest.mark.parametrize("shape", ["standard", "tall", "strip", "mid"])
def test_lines_and_dots_stand_beneath_their_numerals(shape):
    for by in ("dot", "underline"):
        _, makers = kit(ALL_DAYS.format(*[by] * 31), format_text(shape))
        strip = shape == "strip"
        number = 31 if strip else dates_number(2027, 3, week_start=0)
        numerals = numerals_of(makers, f"{shape}/dates-{number}")
        for day, ink in ink_of(
            makers[f"{shape}/marks-2027-03" + ("" if strip else "-monday")]()
        ).items():
            left, _, right, foot = numerals[day].bounds
            assert ink.bounds[1] > foot
            assert 0.5 * (ink.bounds[0] + ink.bounds[2]) == pytest.approx(
                0.5 * (left + right), abs=0.2 * (right - left)
            )
            if by == "underline" and not strip:
                assert ink.bounds[0] < left < right < ink.bounds[2]


def test_where_there_is_no_room_beneath_a_dot_stands_beside():
    _, makers = kit(ALL_DAYS.format(*["dot"] * 31), '[formats.low]\nlevel = "bottom"\ngap = 0.06\n')
    numerals = numerals_of(makers, f"low/dates-{dates_number(2027, 3, week_start=0)}")
    for day, ink in ink_of(makers["low/marks-2027-03-monday"]()).items():
        assert ink.distance(numerals[day]) > 3.0
        assert ink.bounds[0] > numerals[day].bounds[2] or ink.bounds[3] < numerals[day].bounds[1]


def test_blots_are_round_and_no_two_alike():
    _, makers = kit(ALL_DAYS.format(*["dot"] * 31))
    shapes = [
        mark.contours[0] for mark in makers["standard/marks-2027-03-monday"]().drawing().marks
    ]
    outlines = set()
    for contour in shapes:
        blot = shapely.Polygon(contour)
        assert blot.is_valid
        assert 4 * np.pi * blot.area / blot.length**2 > 0.97  # 1 is a circle
        outlines.add(tuple(np.round(contour[:3] - contour.mean(axis=0), 3).ravel()))
    assert len(outlines) == len(shapes)


def test_marks_are_the_same_each_time_and_others_for_another_number():
    first, second = (
        kit.__wrapped__('"2027-03-08" = "ring"\n')[1]["standard/marks-2027-03-monday"]()
        for _ in range(2)
    )
    points = [next(plan.drawing().marks).points for plan in (first, second)]
    assert np.array_equal(*points)
    head = HEAD.replace("number = 5", "number = 6")
    text = f'{head}[formats.standard]\n[marks]\n"2027-03-08" = "ring"\n'
    recipe = recipe_from_text(text, source="one.toml", folder=Path())
    other = plan_makers(recipe, scullery())["standard/marks-2027-03-monday"]()
    assert not np.array_equal(points[0], next(other.drawing().marks).points)


def test_days_of_a_shared_cell_are_marked_there_too():
    # May 2027 has six rows from Sunday, with 23/30 and 24/31, and from Monday, with 24/31 (by
    # Python's calendar).
    shared = '[formats.tall]\nsixth_week = "shared"\n'
    _, makers = kit('"2027-05-30" = "underline"\n"2027-05-03" = "dot"\n', shared)
    assert stamps(makers) == [
        "tall/marks-2027-05-sunday",
        "tall/marks-2027-05-sunday-shared",
        "tall/marks-2027-05-monday",
    ]
    dates = {g["text"]: g for g in makers["tall/dates-7-shared"]().geometry()["glyphs"]}
    marks = makers["tall/marks-2027-05-sunday-shared"]().geometry()["glyphs"]
    assert [glyph["cell"] for glyph in marks] == [dates["3"]["cell"], dates["23/30"]["cell"]]
    alone = makers["tall/marks-2027-05-sunday"]().geometry()["glyphs"]
    assert alone[0] == marks[0]
    assert alone[1]["cell"][1] > marks[1]["cell"][1]
    assert stamps(kit('"2027-05-03" = "dot"\n', shared)[1]) == [
        "tall/marks-2027-05-sunday",
        "tall/marks-2027-05-monday",
    ]


@pytest.mark.parametrize("direction", ["left to right", "right to left"])
@pytest.mark.parametrize("shape", ["standard", "tall"])
@pytest.mark.parametrize("by", ["dot", "underline"])
def test_in_a_shared_cell_dots_and_lines_keep_off_the_stroke(by, shape, direction):
    marks = "".join(f'"2027-05-{day}" = "{by}"\n' for day in (23, 24, 30, 31))
    formats = f'[formats.{shape}]\nsixth_week = "shared"\n'
    text = f'{HEAD}{formats}[words]\ndirection = "{direction}"\nyears = [2027]\n[marks]\n{marks}'
    makers = plan_makers(recipe_from_text(text, source="one.toml", folder=Path()), scullery())
    cells = numerals_of(makers, f"{shape}/dates-7-shared")
    for day, ink in ink_of(makers[f"{shape}/marks-2027-05-sunday-shared"]()).items():
        for label in ("23", "30", "23-30", "24", "31", "24-31"):
            assert ink.distance(cells[label]) > 2.0, (day, label)

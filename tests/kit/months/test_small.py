"""Small months before and after a finished month, in empty cells with the right dates.

They are the kit's own stamps of them.
"""

import calendar
import re
from functools import cache
from pathlib import Path

import pytest

from inkline.kit.letters import face_of
from inkline.kit.months.recipe import months_recipe
from inkline.kit.months.small import neighbour_cells, neighbour_notes
from inkline.kit.product import catalogue, months_catalogue
from inkline.kit.recipe.loading import recipe_from_text
from inkline.kit.stamps.month import calendar_month

STARTS = {"sunday": 6, "monday": 0, "saturday": 5}
TEXT = """version = 1
number = 4
[canvas]
side = "700 px"
[formats.standard]
{}
[formats.small]
"""


@cache
def plans_of(year, month, start="monday", shape=""):
    recipe = recipe_from_text(TEXT.format(shape), source="x", folder=Path())
    months = months_recipe(recipe, ((year, month),), formats=(), week_start=start)
    return {plan.name: plan for plan in months_catalogue(months, face_of(recipe))}


@pytest.mark.parametrize("n_rows", [5, 6])
@pytest.mark.parametrize("start", STARTS)
def test_no_day_stands_in_the_cells_of_small_months(start, n_rows):
    # Python's calendar lays out the 28 kinds of months, which 28 years hold.
    for year in range(2001, 2029):
        for month in range(1, 13):
            weeks = calendar.Calendar(STARTS[start]).monthdayscalendar(year, month)
            days = {
                (row, column)
                for row, week in enumerate(weeks)
                for column, day in enumerate(week)
                if day
            }
            shared = {(row - 1, column) if row >= n_rows else (row, column) for row, column in days}
            cells = neighbour_cells(calendar_month(year, month, start=start), n_rows=n_rows)
            assert shared.isdisjoint(cells)
            assert all(0 <= row < n_rows and 0 <= column < 7 for row, column in cells)


@pytest.mark.parametrize(("year", "month"), [(2027, 1), (2027, 5), (2027, 12)])
def test_they_show_the_months_around(year, month):
    plans = plans_of(year, month)
    before = (year, month - 1) if month > 1 else (year - 1, 12)
    after = (year, month + 1) if month < 12 else (year + 1, 1)
    for layer, (its_year, its_month) in (("before", before), ("after", after)):
        texts = [
            one["text"]
            for one in plans[f"{year}-{month:02d}-standard/{layer}"].geometry()["glyphs"]
        ]
        days = calendar.monthrange(its_year, its_month)[1]
        assert texts == [
            calendar.month_abbr[its_month].upper(),
            *"MTWTFSS",
            *map(str, range(1, days + 1)),
        ]


@pytest.mark.parametrize(
    "shape",
    [
        "",
        'sixth_week = "shared"\nnumeral = 0.4',
        "cell = 0.7\nnumeral = 0.3\ngap = 0.12\nblock_corner = 0",
    ],
)
def test_they_stay_clear_of_the_rules(shape):
    plans = plans_of(2027, 5, shape=shape)
    lines = plans["2027-05-standard/grid"].geometry()["lines"]
    downs = [line for line in lines if "/down-" in line["name"]]
    for layer in ("before", "after"):
        inks = [one["ink"] for one in plans[f"2027-05-standard/{layer}"].geometry()["glyphs"]]
        left, right = min(ink[0] for ink in inks), max(ink[2] for ink in inks)
        for line in downs:
            half = line["width_px"] / 2.0
            assert right <= line["from"][0] - half or left >= line["from"][0] + half


def test_they_are_the_stamps_of_the_kit_reduced():
    plans = plans_of(2027, 5)
    small = recipe_from_text(TEXT.format(""), source="x", folder=Path())
    kit = {plan.name: plan for plan in catalogue(small, face_of(small))}
    april = kit["small/month-4-30-monday"].drawing()  # 1 April 2027 is a Thursday
    reduced = plans["2027-05-standard/before"].drawing()
    scale = reduced.sheet_px / april.sheet_px
    own = {mark.name: mark for mark in april.marks}
    shown = {mark.name: mark for mark in reduced.marks if "/name-" not in mark.name}
    assert shown.keys() == own.keys()
    for name, mark in shown.items():
        assert mark.width_px == pytest.approx(own[name].width_px * scale, rel=1e-9)
        assert mark.points - mark.origin == pytest.approx(
            (own[name].points - own[name].origin) * scale, abs=1e-9
        )


def test_without_small_months_in_the_recipe_there_are_none():
    recipe = recipe_from_text(
        TEXT.split("[formats.small]", maxsplit=1)[0].format(""), source="x", folder=Path()
    )
    months = months_recipe(recipe, ((2027, 5),), formats=(), week_start="monday")
    assert not [
        plan.name
        for plan in months_catalogue(months, face_of(recipe))
        if plan.name.endswith(("before", "after"))
    ]


def test_small_months_too_small_to_read_are_told_and_the_size_that_is_suggested_does():
    text = "version = 1\nnumber = 5\n[formats.tall]\nused_at = {}\n[formats.small]\n"

    def notes(used_at):
        recipe = recipe_from_text(text.format(used_at), source="a.toml", folder=Path())
        return list(neighbour_notes(recipe, face_of(recipe)))

    (note,) = notes(25)
    assert note.startswith("tall: the small months that stand in empty cells of finished months")
    holds = re.search(r"used_at = ([\d.]+) holds", note)[1]
    assert notes(holds) == []
    assert notes(float(holds) - 1)


def test_kits_without_small_months_are_told_nothing_of_them():
    recipe = recipe_from_text("version = 1\nnumber = 5\n", source="a.toml", folder=Path())
    assert list(neighbour_notes(recipe, face_of(recipe))) == []

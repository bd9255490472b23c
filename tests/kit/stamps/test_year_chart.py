"""Which stamps fit a month, over the whole 400-year cycle.

They are held against Python's calendar and against the kit's own catalogue.
"""

import calendar
from dataclasses import replace
from itertools import product
from pathlib import Path

import pytest

from inkline.kit.letters import face_of
from inkline.kit.recipe.choices import Dates, Header, SixthWeek, WeekNumbers
from inkline.kit.recipe.loading import default_recipe, recipe_from_text
from inkline.kit.stamps.catalogue import stamp_names
from inkline.kit.stamps.month import Offer, calendar_month, offers_of
from inkline.kit.stamps.shared import pairs_in_one_cell
from inkline.kit.stamps.year_chart import chart_names, month_chart, year_chart

SUNDAY, MONDAY, SATURDAY = 6, 0, 5
STARTS = (SUNDAY, MONDAY, SATURDAY)
START_OF = {SUNDAY: "sunday", MONDAY: "monday", SATURDAY: "saturday"}
PLAIN = Offer(
    weeks=(5, 6),
    header=Header.BOTH,
    takes=1,
    dates=Dates.TO_31,
    sixth_week=SixthWeek.OWN_ROW,
    week_numbers=WeekNumbers.NONE,
)
CYCLE = [(year, month) for year in range(2001, 2401) for month in range(1, 13)]


def one(offer, year, month, week_start=MONDAY):
    month_shown = calendar_month(year, month, start=START_OF[week_start])
    return month_chart(offer, month_shown, name="March")


@pytest.mark.parametrize("week_start", STARTS)
def test_the_stamps_of_every_month_of_the_cycle_make_pythons_calendar(week_start):
    python = calendar.Calendar(firstweekday=week_start)
    for year, month in CYCLE:
        rows = python.monthdayscalendar(year, month)
        chart = one(PLAIN, year, month, week_start)
        numerals = {
            day: divmod(chart.column - 1 + day - 1, 7)
            for day in range(1, 32)
            if day not in chart.way.erase
        }
        assert numerals == {
            day: (row, column)
            for row, days in enumerate(rows)
            for column, day in enumerate(days)
            if day
        }
        assert chart.way.dates == f"dates-{chart.column}"
        assert chart.way.grid == f"grid-{max(5, len(rows))}"
        assert chart.rows == len(rows)


@pytest.mark.parametrize(
    ("week_start", "by_grid"), [(MONDAY, 1030), (SUNDAY, 1027), (SATURDAY, 1030)]
)
def test_months_of_six_rows(week_start, by_grid):
    # Follows from the calendar rule (computed, no source); every year has two to four of them.
    grids = [one(PLAIN, year, month, week_start).way.grid for year, month in CYCLE]
    assert grids.count("grid-6") == by_grid
    years = [grids[first : first + 12].count("grid-6") for first in range(0, len(grids), 12)]
    assert set(years) == {2, 3, 4}


def test_the_form_of_a_line():
    # 2027 begins on a Friday; its March has 31 days from a Monday, and its January reaches into a
    # sixth week from Sunday.
    assert one(PLAIN, 2027, 3).line() == "March: grid-5 + dates-1 + name"
    assert (
        month_chart(PLAIN, calendar_month(2027, 1, start="sunday"), name="January").line()
        == "January: grid-6 + dates-6 + name"
    )


@pytest.mark.parametrize(
    ("month", "erase"), [(1, ()), (2, (29, 30, 31)), (4, (31,)), (12, ())]
)  # fmt: skip
def test_what_to_erase(month, erase):
    assert one(PLAIN, 2027, month).way.erase == erase
    assert one(PLAIN, 2028, 2).way.erase == (30, 31)


def test_exact_dates_need_no_erasing():
    exact, both = replace(PLAIN, dates=Dates.EXACT), replace(PLAIN, dates=Dates.BOTH)
    for year, month in CYCLE[:48]:
        days = calendar.monthrange(year, month)[1]
        chart = one(exact, year, month)
        assert (chart.way.dates, chart.way.erase) == (f"dates-{chart.column}-{days}", ())
        expected = f"dates-{chart.column}" + ("" if days == 31 else f"-{days}")
        assert one(both, year, month).way == replace(chart.way, dates=expected)


def test_four_rows_where_there_is_such_a_grid():
    # February 2027 is four weeks from Monday (computed).
    assert one(replace(PLAIN, weeks=(4, 5, 6)), 2027, 2).way.grid == "grid-4"
    assert one(PLAIN, 2027, 2).way.grid == "grid-5"


def test_a_sixth_week_that_shares_the_fifth_row():
    shared = replace(PLAIN, weeks=(5,), sixth_week=SixthWeek.SHARED)
    chart = one(shared, 2027, 5)  # from Monday, May 2027 begins on a Saturday
    assert (chart.way.grid, chart.way.dates, chart.way.shares) == (
        "grid-5",
        "dates-6-shared",
        ((24, 31),),
    )
    assert chart.instead is None
    chart = one(replace(shared, weeks=(5, 6)), 2027, 8)  # from Monday, August begins on a Sunday
    assert (chart.way.dates, chart.way.shares, chart.way.erase) == (
        "dates-7-shared",
        ((23, 30), (24, 31)),
        (),
    )
    assert (chart.instead.grid, chart.instead.dates) == ("grid-6", "dates-7")
    chart = one(shared, 2030, 9)  # 30 days from a Sunday
    assert (chart.way.dates, chart.way.shares, chart.way.erase) == (
        "dates-7-shared",
        ((23, 30),),
        (31,),
    )
    assert one(shared, 2027, 3).way.dates == "dates-1"
    chart = one(replace(shared, dates=Dates.EXACT), 2030, 9)
    assert (chart.way.dates, chart.way.shares, chart.way.erase) == (
        "dates-7-30-shared",
        ((23, 30),),
        (),
    )


@pytest.mark.parametrize("week_start", STARTS)
def test_shared_days_stand_under_one_another_in_pythons_calendar(week_start):
    python = calendar.Calendar(firstweekday=week_start)
    for year, month in CYCLE[:336]:
        rows = python.monthdayscalendar(year, month)
        if len(rows) == 6:
            pairs = tuple((above, day) for above, day in zip(rows[4], rows[5], strict=True) if day)
            offset = one(PLAIN, year, month, week_start).column - 1
            assert pairs_in_one_cell(offset, calendar.monthrange(year, month)[1]) == pairs


def test_a_kit_without_a_sixth_row_says_so():
    chart = one(replace(PLAIN, weeks=(5,)), 2027, 5)
    assert chart.way.grid == ""
    assert chart.line() == "March: dates-6 + name"
    assert chart.notes == ("six rows are needed",)


def test_what_else_there_is_to_know():
    shared = replace(PLAIN, weeks=(5,), sixth_week=SixthWeek.SHARED)
    assert one(PLAIN, 2027, 3).notes == ()
    assert one(PLAIN, 2027, 2).notes == ("erase 29–31",)
    assert one(PLAIN, 2028, 2).notes == ("erase 30, 31",)
    assert one(shared, 2027, 8).notes == ("23/30, 24/31 in one cell",)
    assert one(shared, 2030, 9).notes == ("erase 31", "23/30 in one cell")


def test_takes_and_heads_are_part_of_the_name():
    offer = replace(PLAIN, takes=3, header=Header.WITH)
    grids = [one(offer, 2027, month).way.grid for month in (1, 2, 3, 4)]
    assert grids == ["grid-5-head-a", "grid-5-head-b", "grid-5-head-c", "grid-5-head-a"]


def test_week_numbers_stand_between_dates_and_name():
    assert (
        one(replace(PLAIN, week_numbers=WeekNumbers.ISO), 2027, 2).line()
        == "March: grid-5 + dates-1 + weeks-05 + name"
    )


def test_a_year_of_the_default_kit():
    recipe = default_recipe()
    ((offer, formats),) = offers_of(recipe).items()
    assert formats == ("standard", "tall")
    chart = year_chart(offer, 2027, start="monday", names=chart_names("de"), formats=formats)
    assert [month.name for month in chart.months][:3] == ["Januar", "Februar", "März"]
    assert [month.month for month in chart.months] == list(range(1, 13))
    assert chart.months[2].line() == "März: grid-5 + dates-1 + name"


RECIPE = """
version = 1
number = 7
[words]
years = [2027]
[formats.standard]
{lines}
"""


@pytest.mark.parametrize(
    ("weeks", "dates", "sixth", "takes", "header"),
    [
        ("[5, 6]", "to 31", "own row", 1, "both"),
        ("[4, 5, 6]", "to 31", "own row", 2, "with"),
        ("[5, 6]", "exact", "own row", 1, "both"),
        ("[5, 6]", "both", "own row", 1, "both"),
        ("[5]", "exact", "shared", 1, "without"),
        ("[5, 6]", "both", "shared", 3, "both"),
        ("[5]", "to 31", "shared", 1, "both"),
    ],
)
def test_every_stamp_that_a_chart_names_is_in_the_kit(weeks, dates, sixth, takes, header):
    lines = (
        f'weeks = {weeks}\ndates = "{dates}"\nsixth_week = "{sixth}"\ntakes = {takes}\n'
        f'header = "{header}"\n'
    )
    recipe = recipe_from_text(RECIPE.format(lines=lines), source="r.toml", folder=Path())
    names = set(stamp_names(recipe, face_of(recipe)))
    ((offer, _),) = offers_of(recipe).items()
    for year, month, week_start in product(
        (2026, 2027, 2028, 2029, 2030), range(1, 13), recipe.starts.values()
    ):
        chart = one(offer, year, month, week_start)
        ways = [chart.way] + ([chart.instead] if chart.instead else [])
        for stem in [part for way in ways for part in (way.grid, way.dates)]:
            assert f"standard/{stem}" in names
        assert f"words/month-{month:02d}" in names


def test_a_year_without_the_calendar_is_refused():
    with pytest.raises(ValueError, match="between 1583 and 9999, not 1200"):
        year_chart(PLAIN, 1200, start="monday", names=chart_names("en"))

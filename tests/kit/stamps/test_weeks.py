"""Week numbers beside the rows of months."""

import calendar
import datetime as dt
from functools import cache
from itertools import product
from pathlib import Path

import pytest

from faces import scullery
from inkline.calendar.weeks import WeekCount, row_weeks
from inkline.kit.papers.charts import kit_charts
from inkline.kit.recipe.choices import WeekNumbers
from inkline.kit.recipe.loading import recipe_from_text
from inkline.kit.stamps.catalogue import plan_makers
from inkline.kit.stamps.place import place_of
from inkline.kit.stamps.weeks import margin_lack, narrow_canvas, weeks_name

HEAD = 'version = 1\ntitle = "t"\nnumber = 5\n[canvas]\nside = "2500 px"\n'
YEARS = range(2027, 2032)
MARGIN = 'margin = ["2.4 %", "2.4 %", "2.4 %", "7 %"]\n'
STARTS = {"sunday": 6, "monday": 0, "saturday": 5}


@cache
def kit(keys, rest=""):
    recipe = recipe_from_text(
        f"{HEAD}{rest}[formats.tall]\n{keys}", source="one.toml", folder=Path()
    )
    return recipe, plan_makers(recipe, scullery())


def place_from(keys, rest=""):
    recipe, _ = kit(keys, rest)
    shape = recipe.formats[0]
    return place_of(recipe, shape, scullery())


def columns_of(keys, rest=""):
    """What stands on each stamp of week numbers, top to bottom."""
    found = {}
    for name, make in kit(keys, rest)[1].items():
        if name.startswith("tall/weeks-"):
            glyphs = make().geometry()["glyphs"]
            assert [glyph["cell"][1] for glyph in glyphs] == sorted(
                glyph["cell"][1] for glyph in glyphs
            )
            found[name.removeprefix("tall/")] = tuple(int(glyph["text"]) for glyph in glyphs)
    return found


def iso_rows(year, month, start):
    """The ISO week of each row's Thursday, by Python's datetime."""
    weeks = calendar.Calendar(firstweekday=start).monthdatescalendar(year, month)
    return tuple(
        next(day for day in week if day.weekday() == 3).isocalendar().week for week in weeks
    )


def us_rows(year, month):
    """Weeks from Sunday, counted from the week of 1 January.

    Python's %U is the reference, whose week 1 begins on the first Sunday.

    Week 1 holds 1 January: common practice, no source.
    """
    more = 0 if dt.date(year, 1, 1).weekday() == 6 else 1
    weeks = calendar.Calendar(firstweekday=6).monthdatescalendar(year, month)
    inside = (next(day for day in week if (day.year, day.month) == (year, month)) for week in weeks)
    return tuple(int(day.strftime("%U")) + more for day in inside)


def stems_for(counted, year, month, start, length):
    stem = weeks_name(counted, year, month, week_start=start).stem
    return stem, f"{stem}-{length}-rows"


@pytest.mark.parametrize("start", STARTS)
def test_every_month_finds_its_own_iso_column(start):
    keys, rest = f'week_numbers = "iso"\n{MARGIN}', f'[calendar]\nweek_starts = ["{start}"]\n'
    columns, counted, used = (
        columns_of(keys, rest),
        kit(keys, rest)[0].formats[0].week_numbers,
        set(),
    )
    for year in YEARS:
        for month in range(1, 13):
            weeks = iso_rows(year, month, STARTS[start])
            plain, exact = stems_for(counted, year, month, STARTS[start], len(weeks))
            assert columns[plain][: len(weeks)] == weeks
            assert weeks in (columns[plain], columns.get(exact))
            used.add(exact if weeks == columns.get(exact) else plain)
    assert used == set(columns)
    assert len(set(columns.values())) == len(columns)


@pytest.mark.parametrize("weeks", [(5,), (5, 6), (4, 5, 6)])
def test_no_week_number_hangs_below_the_grid_that_a_chart_names(weeks):
    # Rows by Python's datetime. Where two weeks share the last row, the first one's number stands.
    keys = f'week_numbers = "iso"\nweeks = {list(weeks)}\nsixth_week = "shared"\n{MARGIN}'
    recipe, columns = kit(keys)[0], columns_of(keys)
    charted = {"monday": 0, "sunday": 6}
    found = set()
    for chart in kit_charts(recipe, range(2027, 2037), starts=charted, language="en"):
        for month in chart.months:
            rows = int(month.way.grid.split("-")[1])
            numbers = iso_rows(month.year, month.month, charted[chart.start])[:rows]
            if month.weeks:
                assert columns[month.weeks][: len(numbers)] == numbers
                assert len(columns[month.weeks]) <= rows
                found.add(month.rows)
            else:
                assert month.year not in YEARS
    assert found == {4, 5, 6}


def test_every_month_finds_its_own_us_column():
    keys, rest = f'week_numbers = "us"\n{MARGIN}', '[calendar]\nweek_starts = ["sunday"]\n'
    columns, counted = columns_of(keys, rest), kit(keys, rest)[0].formats[0].week_numbers
    for year in YEARS:
        for month in range(1, 13):
            weeks = us_rows(year, month)
            plain, exact = stems_for(counted, year, month, 6, len(weeks))
            assert columns[plain][: len(weeks)] == weeks
            assert weeks in (columns[plain], columns.get(exact))
    assert columns["weeks-49-of-54"] == (49, 50, 51, 52, 53, 54)


def test_names_and_numbers_of_2027():
    columns = columns_of(f'week_numbers = "iso"\n{MARGIN}', "[words]\nyears = [2027]\n")
    # By Python's isocalendar: February 2027 has weeks 5 to 8 from Monday, from Sunday also week 9
    # with its 28th.
    assert columns["weeks-05"] == (5, 6, 7, 8, 9)
    assert columns["weeks-05-4-rows"] == (5, 6, 7, 8)
    assert columns["weeks-53-of-53"][:2] == (53, 1)
    assert columns["weeks-48"] == (48, 49, 50, 51, 52)


def test_without_week_numbers_there_are_none():
    assert columns_of(MARGIN) == {}


@pytest.mark.parametrize("shows", ["strip", "week", "day", "small"])
def test_only_months_have_them(shows):
    text = f'{HEAD}[formats.{shows}]\nweek_numbers = "iso"\n'
    recipe = recipe_from_text(text, source="one.toml", folder=Path())
    assert not any("/weeks-" in name for name in plan_makers(recipe, scullery()))


@pytest.mark.parametrize("level", ["top", "middle", "bottom"])
@pytest.mark.parametrize("direction", ["left to right", "right to left"])
def test_they_hang_beside_their_rows_and_move_nothing(direction, level):
    sides = '["2.4 %", "7 %", "2.4 %", "7 %"]'
    keys = f'level = "{level}"\nmargin = {sides}\n'
    rest = f'[words]\nyears = [2027]\ndirection = "{direction}"\n'
    place = place_from(f'week_numbers = "iso"\n{keys}', rest)
    _, makers = kit(f'week_numbers = "iso"\n{keys}', rest)
    plain = kit(keys, rest)[1]
    assert makers["tall/grid-6"]().geometry() == plain["tall/grid-6"]().geometry()
    assert makers["tall/dates-6"]().geometry() == plain["tall/dates-6"]().geometry()
    assert margin_lack(place) < 0
    dates = {g["text"]: g for g in makers["tall/dates-1"]().geometry()["glyphs"]}
    outer = place.layout.full_grid.outer_box
    plan = makers["tall/weeks-05"]()
    assert plan.canvas == place.layout.canvas
    for row, glyph in enumerate(plan.geometry()["glyphs"]):
        first = dates[str(7 * row + 1)]
        cell, hung, off = glyph["cell"], place.layout.hanging_cell(row), place.layout.heavy / 2
        inner = outer[0] - off if direction == "left to right" else outer[2] + off
        assert sorted([cell[0], cell[2]]) == sorted(
            [inner, hung[0] if direction == "left to right" else hung[2]]
        )
        assert cell[0] <= glyph["ink"][0]
        assert glyph["ink"][2] <= cell[2]
        assert glyph["cell"][1::2] == first["cell"][1::2]
        x0, y0, x1, y1 = glyph["ink"]
        if direction == "left to right":
            assert 0 < outer[0] - x1 < 0.12 * place.layout.cell_width
            assert x0 > place.layout.safe
        else:
            assert 0 < x0 - outer[2] < 0.12 * place.layout.cell_width
            assert x1 < place.layout.side - place.layout.safe
        middle = 0.5 * (first["ink"][1] + first["ink"][3])
        assert 0.5 * (y0 + y1) == pytest.approx(middle, abs=0.02 * place.layout.cell_width)


@pytest.mark.parametrize("share", [0.12, 0.2])
def test_their_height_is_a_share_of_the_cells_width(share):
    keys = f'week_numbers = "iso"\nweek_numeral = {share}\n{MARGIN}'
    place = place_from(keys)
    glyphs = kit(keys)[1]["tall/weeks-17"]().geometry()["glyphs"]
    (high,) = (g["ink"][3] - g["ink"][1] for g in glyphs if g["text"] == "17")
    assert high == pytest.approx(share * place.layout.cell_width, rel=0.01)


def test_dates_may_be_padded_and_week_numbers_are_not():
    columns = kit(f'week_numbers = "iso"\ndates_as = "01"\n{MARGIN}')[1]
    assert columns["tall/weeks-05"]().geometry()["glyphs"][0]["text"] == "5"


def test_on_a_narrow_canvas_rows_line_up_with_the_grids():
    keys = 'week_numbers = "iso"\nweek_numbers_in = "narrow"\n'
    place = place_from(keys)
    width, height = narrow_canvas(place)
    assert height == place.layout.canvas[1]
    hung = kit(f'week_numbers = "iso"\n{keys.splitlines()[1].replace("narrow", "margin")}\n')[1]
    for name, make in kit(keys)[1].items():
        if not name.startswith("tall/weeks-"):
            continue
        plan, beside = make(), hung[name]()
        assert plan.canvas == (width, height)
        assert plan.sheet_px == place.layout.side
        margin = place.recipe.px(place.recipe.words.margin)
        pairs = zip(plan.geometry()["glyphs"], beside.geometry()["glyphs"], strict=True)
        for narrow, wide in pairs:
            assert narrow["ink"][1::2] == pytest.approx(wide["ink"][1::2], abs=1e-9)
            assert narrow["cell"][0::2] == [0.0, float(width)]
            assert 0.7 * margin < narrow["ink"][0]
            assert narrow["ink"][2] < width - 0.7 * margin
        marks, others = plan.drawing().marks, beside.drawing().marks
        assert [mark.name for mark in marks] == [mark.name for mark in others]


def test_a_margin_that_is_too_narrow_is_known():
    keys = 'week_numbers = "iso"\ncell = 1.0\nmargin = ["60 px", "60 px", "60 px", "{} px"]\n'
    lack = margin_lack(place_from(keys.format(60)))
    assert lack > 0
    assert margin_lack(place_from(keys.format(60 + 1.2 * lack))) < 0
    assert margin_lack(place_from(keys.format(60 + 0.8 * lack))) > 0


def test_a_number_in_its_row_is_one_drawing():
    _, makers = kit(f'week_numbers = "iso"\n{MARGIN}', "[words]\nyears = [2027]\n")
    whole = {mark.name: mark for mark in makers["tall/weeks-05"]().drawing().marks}
    short = {mark.name: mark for mark in makers["tall/weeks-05-4-rows"]().drawing().marks}
    assert set(short) == {name for name in whole if int(name.split("/")[2]) < 9}
    assert all(mark.origin == whole[name].origin for name, mark in short.items())
    assert makers["tall/weeks-05"]().content.labels == ("5", "6", "7", "8", "9")
    assert makers["tall/weeks-05"]().kind == "words"


@pytest.mark.parametrize("counted", [WeekNumbers.ISO, WeekNumbers.US])
def test_months_with_one_name_have_the_same_numbers(counted):
    seen = {}
    for year, month, week_start in product(range(2000, 2400), range(1, 13), (6, 0, 5)):
        stem = weeks_name(counted, year, month, week_start=week_start).stem
        numbers = row_weeks(year, month, week_start=week_start, count=WeekCount(counted.value))
        longest = seen.setdefault(stem, numbers)
        assert all(one == other for one, other in zip(longest, numbers, strict=False))
        seen[stem] = max(longest, numbers, key=len)
        assert int(stem[6:8]) == numbers[0]


def test_names_of_known_months():
    # 2026 has 53 ISO weeks, and 2028 touches 54 weeks from Sunday (computed).
    assert weeks_name(WeekNumbers.ISO, 2027, 2, week_start=STARTS["monday"]).stem == "weeks-05"
    assert (
        weeks_name(WeekNumbers.ISO, 2026, 12, week_start=STARTS["monday"]).stem == "weeks-49-of-53"
    )
    assert (
        weeks_name(WeekNumbers.ISO, 2027, 1, week_start=STARTS["monday"]).stem == "weeks-53-of-53"
    )
    assert weeks_name(WeekNumbers.ISO, 2027, 12, week_start=STARTS["monday"]).stem == "weeks-48"
    assert weeks_name(WeekNumbers.US, 2027, 12, week_start=STARTS["sunday"]).stem == "weeks-49"
    assert (
        weeks_name(WeekNumbers.US, 2028, 12, week_start=STARTS["sunday"]).stem == "weeks-49-of-54"
    )
    assert weeks_name(WeekNumbers.NONE, 2027, 12, week_start=STARTS["sunday"]) is None

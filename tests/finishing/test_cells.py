"""Grids that are found among lines, and what is set into their cells, against places by hand."""

import calendar

import numpy as np
import pytest

from inkline.errors import InputError
from inkline.finishing.cells import found_grid
from inkline.finishing.dates import filled_cells, filling_from_text
from inkline.finishing.lines import PenLine
from inkline.lettering.families import family_path
from inkline.lettering.family import open_family


def line(x0, y0, x1, y1, width=3.0):
    points = np.array([[x0, y0], [x1, y1]], dtype=np.float64)
    return PenLine(points=points, width=width, closed=False, is_round=False)


def grid_lines(columns=7, rows=5, *, x=100.0, y=200.0, wide=80.0, high=60.0):
    right, bottom = x + columns * wide, y + rows * high
    return [line(x + i * wide, y, x + i * wide, bottom) for i in range(columns + 1)] + [
        line(x, y + j * high, right, y + j * high) for j in range(rows + 1)
    ]


def test_a_grid_is_found():
    grid = found_grid(grid_lines())
    assert (grid.columns, grid.rows) == (7, 5)
    assert grid.size == (80.0, 60.0)
    assert grid.cell(0) == (101.5, 201.5, 178.5, 258.5)
    assert grid.cell(8) == (181.5, 261.5, 258.5, 318.5)


def test_a_row_of_another_height_is_no_part_of_it():
    sides = [line(100 + 80 * i, 170, 100 + 80 * i, 200) for i in range(8)]
    header = [line(100, 170, 660, 170), *sides]
    grid = found_grid([*grid_lines(), *header])
    assert (grid.columns, grid.rows) == (7, 5)
    assert grid.down[0] == 200.0


def test_short_lines_among_the_cells_do_not_matter():
    grid = found_grid([*grid_lines(), line(120, 225, 170, 225), line(300, 210, 300, 240)])
    assert (grid.columns, grid.rows) == (7, 5)


def test_sides_drawn_in_parts_are_whole():
    parts = [line(100, 200 + 60 * j, 100, 260 + 60 * j) for j in range(5)]
    grid = found_grid([*grid_lines()[1:], *parts])
    assert (grid.columns, grid.rows) == (7, 5)


def test_a_cell_that_lacks_a_side_is_no_cell():
    lines = grid_lines(3, 3)
    del lines[3]  # the right side of the last column
    assert found_grid(lines).columns == 2


@pytest.mark.parametrize(
    "lines",
    [
        [],
        [line(0, 0, 100, 0)],
        grid_lines(1, 1),
        [line(0, 0, 100, 30), line(0, 40, 100, 70), line(0, 0, 30, 100), line(50, 0, 80, 100)],
    ],
)
def test_other_lines_make_none(lines):
    assert found_grid(lines) is None


@pytest.mark.parametrize("month", range(1, 13))
@pytest.mark.parametrize("week_start", [0, 5, 6])
def test_months_begin_where_pythons_calendar_has_them(month, week_start):
    filling = filling_from_text(f"dates=2027-{month:02d}", week_start=week_start)
    first, days = calendar.monthrange(2027, month)
    assert (filling.first, filling.last) == (1, days)
    assert filling.offset == (first - week_start) % 7
    weeks = calendar.Calendar(week_start).monthdayscalendar(2027, month)
    assert filling.rows == len(weeks)


@pytest.mark.parametrize(
    "text",
    [
        *("dates=2027", "dates=2027-13", "dates=0027-01", "numerals=5-2", "numerals=0-0", "31", ""),
        *("dates=2027-02 numerals=1-9", "blocks=a", "blocks", "dates=2027-02 weekdays weekdays"),
    ],
)
def test_what_is_neither_is_refused(text):
    with pytest.raises(InputError, match="what goes into cells"):
        filling_from_text(text, week_start=6)


def marks(grid, text):
    face = open_family(family_path("scullery"))
    filling = filling_from_text(text, week_start=0)
    return filled_cells(grid, filling, face, name="plan", file="plan.svg").ink


def test_every_numeral_stands_in_its_own_cell():
    """February 2027 begins on a Monday."""
    grid = found_grid(grid_lines())
    names = set()
    for mark in marks(grid, "dates=2027-02"):
        number = int(mark.name.split("/")[2])
        names.add(number)
        x0, y0, x1, y1 = grid.cell(number - 1)
        half = 0.5 * mark.width_px
        assert np.all(mark.points.min(axis=0) - half > (x0, y0))
        assert np.all(mark.points.max(axis=0) + half < (x1, y1))
    assert names == set(range(1, 29))


@pytest.mark.parametrize(
    ("grid", "text", "sentence"),
    [
        (None, "numerals=1-9", "no grid of equal cells was found to set 1-9 into"),
        (found_grid(grid_lines(6, 5)), "dates=2027-02", "needs 7 columns, and there are 6 x 5"),
        (
            found_grid(grid_lines(7, 4)),
            "dates=2027-03",
            "2027-03 needs 5 rows, and there are 7",
        ),
        (found_grid(grid_lines(7, 4)), "numerals=1-31", "1-31 needs 5 rows"),
        (found_grid(grid_lines(7, 4)), "blocks=3,29", "3,29 needs 5 rows"),
        (found_grid(grid_lines(7, 5)), "dates=2027-02 blocks=29", "in the cells of 1 to 28, not"),
        (found_grid(grid_lines(6, 5)), "weekdays", "a week needs 7 columns"),
        (found_grid(grid_lines(7, 5, y=4.0)), "weekdays", "no room for weekdays above"),
        (found_grid(grid_lines()), "weekdays=xx-nowhere", "xx-nowhere"),
    ],
)
def test_what_does_not_fit_is_refused(grid, text, sentence):
    with pytest.raises(InputError, match=sentence):
        marks(grid, text)


def test_weekdays_stand_over_the_middles_of_their_columns():
    """In the order of the week that was asked for, and within their columns."""
    grid = found_grid(grid_lines())
    assert filling_from_text("weekdays", week_start=6).weekdays[:2] == ("Sun", "Mon")
    assert filling_from_text("weekdays=fr", week_start=0).weekdays[0] == "lun."
    found = {}
    for mark in marks(grid, "weekdays dates=2027-02"):
        if "weekday" in mark.name:
            found.setdefault(mark.name.split("/")[2], []).append(mark.points)
    assert list(found) == [f"weekday-{column}" for column in range(1, 8)]
    for column, outlines in enumerate(found.values()):
        points = np.concatenate(outlines)
        low, high = points.min(axis=0), points.max(axis=0)
        assert grid.across[column] < low[0] < high[0] < grid.across[column + 1]
        assert 0.5 * (low[0] + high[0]) == pytest.approx(140.0 + 80.0 * column, abs=3.0)
        assert high[1] < grid.down[0] - 1.5


def test_numerals_on_blocks_are_white():
    """August 2027 begins on a Sunday: its 1st is the seventh cell of a week from Monday on."""
    grid = found_grid(grid_lines(7, 6))
    filling = filling_from_text("blocks=1,8-9 dates=2027-08", week_start=0)
    face = open_family(family_path("scullery"))
    cells = filled_cells(grid, filling, face, name="plan", file="plan.svg")
    blocks = {mark.name.split("/")[2]: mark for mark in cells.ink if "block" in mark.name}
    assert list(blocks) == ["block-1", "block-8", "block-9"]
    x0, y0, x1, y1 = grid.cell(6)
    assert blocks["block-1"].contours[0].min(axis=0) == pytest.approx((x0 + 3.0, y0 + 3.0))
    assert blocks["block-1"].contours[0].max(axis=0) == pytest.approx((x1 - 3.0, y1 - 3.0))
    assert {mark.name.split("/")[2] for mark in cells.white} == {"1", "8", "9"}

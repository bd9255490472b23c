"""The chart of a year as a picture, read back from its pixels."""

import calendar
from dataclasses import replace
from itertools import product

import numpy as np
import pytest

from charts import MONDAY, RECIPE, STARTS, chart, counted, look, pixels
from inkline.kit.papers import chart_png
from inkline.kit.papers.charts import kit_charts
from inkline.kit.recipe.choices import Dates, Header, SixthWeek, WeekNumbers
from inkline.pages.palette import DAY, ERASED_DAY
from inkline.styles.files import load_style, style_path


@pytest.mark.parametrize(
    ("year", "start", "mirrored"), [(2027, "monday", False), (2028, "sunday", True)]
)
def test_the_little_months_show_pythons_calendar(year, start, mirrored):
    python = calendar.Calendar(firstweekday=STARTS[start])
    for month in chart(year, start).months:
        boxes = dict(chart_png.little_month(month, mirrored=mirrored))
        days = {box for box, colour in boxes.items() if colour == DAY}
        expected = set()
        for row, week in enumerate(python.monthdayscalendar(year, month.month)):
            for column, day in enumerate(week):
                x = 16 * (6 - column if mirrored else column)
                expected |= {(x, 16 * row, x + 12, 16 * row + 12)} if day else set()
        assert days == expected
        assert len(boxes) == 31


def test_a_picture_is_as_large_as_a_telephone_and_shows_every_day():
    picture = pixels(chart_png.chart_png(chart(), look()))
    assert picture.shape == (1920, 1080, 3)
    # 365 days of 12 x 12 px, and the 29th to 31st of February and four 31sts to be erased.
    assert counted(picture, DAY) == 365 * 144
    assert counted(picture, ERASED_DAY) > 7 * 144
    lettered = (picture == [0x27, 0x34, 0x3D]).all(axis=2)
    rows = np.flatnonzero(lettered.any(axis=1))
    assert rows[0] == pytest.approx(190 - 112, abs=3)


def test_months_are_inked_in_the_kits_style():
    exact = chart_png.chart_png(chart(), look())
    style = load_style(style_path("dry-pencil", where="test"))
    drawn, again = (chart_png.chart_png(chart(), look(style)) for _ in range(2))
    assert drawn == again
    assert drawn != exact


@pytest.mark.parametrize("counted_by", list(WeekNumbers))
def test_no_letter_of_a_picture_is_lower_than_32_px(counted_by):
    seen, shape = look(), RECIPE.formats[0]
    for header, takes, dates, sixth in product(Header, (1, 3), Dates, SixthWeek):
        format_ = replace(
            shape,
            header=header,
            takes=takes,
            dates=dates,
            sixth_week=sixth,
            week_numbers=counted_by,
        )
        recipe = replace(
            RECIPE, formats=(format_,), words=replace(RECIPE.words, years=(2026, 2027, 2028))
        )
        charts = kit_charts(recipe, [2026], starts={"monday": MONDAY}, language="en")
        for month in charts[0].months:
            for line in chart_png._month_lines(month, 0, seen):
                if line.text:
                    width = chart_png._width(line.text, seen) * line.height / chart_png._SMALL
                    assert line.height * min(1.0, line.room / width) >= 32.0, line.text


def test_where_week_numbers_stand_if_a_line_is_too_long():
    seen = look()
    short, long, longer = (
        replace(chart().months[3], weeks=weeks)
        for weeks in ("weeks-13", "weeks-13-of-53", "weeks-13-of-53-5-rows")
    )
    assert chart_png._stamps_and_notes(short, seen, rooms=(790.0, 400.0)) == (
        "grid-5 + dates-4 + weeks-13 + name",
        "erase 31",
    )
    assert chart_png._stamps_and_notes(long, seen, rooms=(790.0, 600.0)) == (
        "grid-5 + dates-4 + name",
        "erase 31  + weeks-13-of-53",
    )
    assert chart_png._stamps_and_notes(longer, seen, rooms=(900.0, 400.0)) == (
        "grid-5 + dates-4 + weeks-13-of-53-5-rows",
        "erase 31",
    )
    assert chart_png._stamps_and_notes(longer, seen, rooms=(100.0, 100.0))[0] == "grid-5 + dates-4"

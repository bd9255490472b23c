"""Small months, whole in one stamp."""

import calendar
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from faces import scullery
from inkline.drawing import Role
from inkline.kit.recipe.loading import recipe_from_text
from inkline.kit.stamps.catalogue import plan_makers
from inkline.kit.stamps.measures import layout_of

HEAD = 'version = 1\ntitle = "t"\nnumber = 5\n[canvas]\nside = "2500 px"\n'
STARTS = {"sunday": 6, "monday": 0, "saturday": 5}
ALL_STARTS = '[calendar]\nweek_starts = ["sunday", "monday", "saturday"]\n'


@cache
def kit(keys="", rest=""):
    recipe = recipe_from_text(
        f"{HEAD}{rest}[formats.small]\n{keys}", source="one.toml", folder=Path()
    )
    return recipe, plan_makers(recipe, scullery())


def months(makers):
    return [name.removeprefix("small/") for name in makers if name.startswith("small/")]


def test_there_is_one_for_each_layout_and_week_start():
    expected = [
        f"month-{n}-{days}-{start}"
        for start in ("sunday", "monday")
        for n in range(1, 8)
        for days in (28, 29, 30, 31)
    ]
    assert months(kit()[1]) == expected
    assert months(kit('dates = "both"\n')[1]) == expected
    assert months(kit('dates = "to 31"\n')[1]) == [name for name in expected if "-31-" in name]


@pytest.mark.parametrize("direction", ["left to right", "right to left"])
@pytest.mark.parametrize("start", STARTS)
def test_every_small_month_is_as_pythons_calendar_has_it(start, direction):
    _, makers = kit(rest=f'{ALL_STARTS}[words]\ndirection = "{direction}"\n')
    first_letters = "MTWTFSS"
    columns = None
    for offset in range(7):
        for days in (28, 29, 30, 31):
            weekday = (STARTS[start] + offset) % 7
            year, month = next(
                (y, m)
                for y in range(2000, 2400)
                for m in range(1, 13)
                if calendar.monthrange(y, m) == (weekday, days)
            )
            lines = calendar.Calendar(firstweekday=STARTS[start]).monthdayscalendar(year, month)
            glyphs = makers[f"small/month-{offset + 1}-{days}-{start}"]().geometry()["glyphs"]
            letters, dates = glyphs[:7], {int(glyph["text"]): glyph["cell"] for glyph in glyphs[7:]}
            columns = columns or [glyph["cell"][0] for glyph in letters]
            assert columns == sorted(columns, reverse=direction == "right to left")
            assert [glyph["cell"][0] for glyph in letters] == columns
            assert [g["text"] for g in letters] == [
                first_letters[(STARTS[start] + n) % 7] for n in range(7)
            ]
            rows = sorted({cell[1] for cell in dates.values()})
            assert len(rows) == len(lines)
            for row, line in enumerate(lines):
                for column, day in enumerate(line):
                    assert day == 0 or dates[day][:2] == [columns[column], rows[row]]
            assert max(dates) == days


def test_the_first_row_is_under_the_letters_whatever_the_month():
    _, makers = kit()
    tops = {
        makers[f"small/month-{n}-30-monday"]().geometry()["glyphs"][7]["cell"][1]
        for n in range(1, 8)
    }
    assert len(tops) == 1
    letter = makers["small/month-1-30-monday"]().geometry()["glyphs"][0]
    assert letter["cell"][3] == pytest.approx(tops.pop(), abs=1e-9)


def test_the_canvas_is_the_layouts_and_ink_stays_in_its_cells():
    recipe, makers = kit()
    layout = layout_of(recipe, recipe.formats[0])
    plan = makers["small/month-7-31-sunday"]()
    assert plan.canvas == layout.canvas
    assert plan.kind == "dates"
    for glyph in plan.geometry()["glyphs"]:
        (x0, y0, x1, y1), cell = glyph["ink"], glyph["cell"]
        assert cell[0] < x0 < x1 < cell[2]
        assert cell[1] < y0 < y1 < cell[3]
        assert 0.5 * (x0 + x1) == pytest.approx(
            0.5 * (cell[0] + cell[2]), abs=0.06 * layout.cell_width
        )


def test_letters_and_days_are_one_drawing_on_all_small_months():
    _, makers = kit()
    plan, other = makers["small/month-3-30-monday"](), makers["small/month-3-28-monday"]()
    weekdays = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
    assert plan.content.labels == (*weekdays, *(str(day) for day in range(1, 31)))
    marks, others = ({mark.name: mark for mark in one.drawing().marks} for one in (plan, other))
    assert set(others) < set(marks)
    assert all(np.array_equal(mark.points, marks[name].points) for name, mark in others.items())
    names = {name.rpartition("/")[0] for name in marks}
    dates = {f"small/dates-3/{day}" for day in range(1, 31)}
    assert names == dates | {f"small/weekdays-monday/{day}" for day in weekdays}
    assert {mark.role for name, mark in marks.items() if "dates" in name} == {Role.NUMERAL}
    assert {mark.role for name, mark in marks.items() if "weekdays" in name} == {Role.WORD}


def test_small_use_makes_both_heavier():
    pens = {}
    for keys in ("", "used_at = 12\n"):
        plan = kit(keys)[1]["small/month-3-30-monday"]()
        marks = list(plan.drawing().marks)
        pens[keys] = [
            {mark.width_px for mark in marks if mark.role is role}
            for role in (Role.WORD, Role.NUMERAL)
        ]
        assert plan.raggedness == (0.5 if keys else 1.0)
    for usual, small in zip(*pens.values(), strict=True):
        assert small.pop() == pytest.approx(1.3 * usual.pop(), rel=0.01)


def test_other_languages_have_letters_of_their_own_and_the_same_dates():
    _, makers = kit(rest='[words]\nlanguage = ["en", "de"]\n')
    assert len(months(makers)) == 4 * 28
    english, german = (makers[f"small/month-3-30-monday{end}"]() for end in ("", "-de"))
    # German weekdays in one letter, by CLDR: M D M D F S S.
    assert "".join(g["text"] for g in german.geometry()["glyphs"][:7]) == "MDMDFSS"
    assert german.geometry()["glyphs"][7:] == english.geometry()["glyphs"][7:]
    own = {mark.name for mark in german.drawing().marks} - {
        mark.name for mark in english.drawing().marks
    }
    assert {name.split("/")[1] for name in own} == {"weekdays-monday-de"}

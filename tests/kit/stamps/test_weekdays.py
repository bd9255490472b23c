"""Rows of weekdays.

Which day stands over which column or day, how large, and in which languages.
"""

import calendar
from functools import cache
from itertools import pairwise
from pathlib import Path

import pytest

from faces import arabic, scullery, shipped_family
from inkline.calendar.names import (
    LetterCase,
    NameWidth,
    month_names,
    weekday_letters,
    weekday_names,
)
from inkline.drawing import Stroke
from inkline.kit.letters import face_of
from inkline.kit.product import catalogue
from inkline.kit.recipe.loading import default_recipe, recipe_from_text
from inkline.kit.stamps.catalogue import plan_by_name, stamp_names
from inkline.kit.stamps.measures import layout_of
from inkline.kit.stamps.place import place_of
from inkline.kit.stamps.weekdays import (
    all_weekday_texts,
    weekday_rows,
    weekday_size_of,
    weekday_texts,
)
from inkline.lettering.face import Figures
from inkline.lettering.setting import FIT_HEIGHT, FIT_INK, FIT_WIDTH, line_ink, word_line

HEAD = "version = 1\nnumber = 5\n"
FAMILIES = (
    "clothesline",
    "scullery",
    "stairwell",
    "errand",
    "mantelpiece",
    "porchlight",
    "woodshed",
)
# Languages that the families are drawn for; glyphs/README.md names them.
LANGUAGES = "ca cs da de en es et eu fi fr ga hr hu id is it lt lv nb nl pl pt ro sk sl sv tr vi"
ALL_FORMATS = (
    "[formats.standard]\n[formats.strip]\n[formats.week]\n[formats.day]\n[formats.small]\n"
)


@cache
def read(text):
    return recipe_from_text(HEAD + text, source="one.toml", folder=Path())


def placed(text, name, of=scullery):
    return plan_by_name(read(text), of(), name).content.setting()


def rows_of(text, shape):
    return [
        name
        for name in stamp_names(read(text), scullery())
        if name.startswith(f"{shape}/weekdays-")
    ]


def test_which_rows_there_are():
    text = f'[calendar]\nweek_starts = ["monday", "saturday"]\n{ALL_FORMATS}'
    assert rows_of(text, "standard") == ["standard/weekdays-monday", "standard/weekdays-saturday"]
    assert rows_of(text, "week") == ["week/weekdays-monday", "week/weekdays-saturday"]
    days = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
    assert rows_of(text, "strip") == [f"strip/weekdays-from-{day}" for day in days]
    assert rows_of(text, "day") == []
    assert rows_of(text, "small") == []


def test_the_letters_of_a_strip_are_those_of_its_days_in_every_month_of_the_gregorian_cycle():
    recipe = read("[formats.strip]\n")
    (shape,) = recipe.formats
    letters = tuple(weekday_texts(recipe, shows=shape.shows).values())
    texts = {}
    place = place_of(recipe, shape, scullery())
    for name, cells in weekday_rows(place):
        stem = name.stem
        texts[stem] = {label: weekday_texts(recipe, shows=shape.shows)[day] for label, day in cells}
        assert list(texts[stem]) == [str(day) for day in range(1, 32)]
    stems = list(texts)
    for year in range(2000, 2400):
        for month in range(1, 13):
            first, length = calendar.monthrange(year, month)
            for day in (1, 2, 15, length):
                assert texts[stems[first]][str(day)] == letters[calendar.weekday(year, month, day)]


@pytest.mark.parametrize("size", ["", "columns = 16\nrows = 2\n", "columns = 8\nrows = 4\n"])
def test_a_strips_letters_stand_over_their_cells(size):
    text = f"[formats.strip]\n{size}"
    recipe = read(text)
    layout = layout_of(recipe, recipe.formats[0])
    letters = placed(text, "strip/weekdays-from-thu")
    assert [one.line.text for one in letters[:5]] == ["T", "F", "S", "S", "M"]
    grid = layout.headed_grid()
    for day, one in enumerate(letters, start=1):
        assert one.label == str(day)
        above, below = one.cell, grid.day_cell(day, offset=0)
        assert (above[0], above[2], above[3]) == (below[0], below[2], pytest.approx(below[1]))
        assert one.ink[0] - above[0] == pytest.approx(above[2] - one.ink[2], abs=1e-9)
    names = [
        mark.name
        for mark in plan_by_name(recipe, scullery(), "strip/weekdays-from-thu").drawing().marks
    ]
    assert len(set(names)) == len(names)


def test_strips_have_one_letter_whatever_other_rows_have():
    text = '[words]\nweekdays = "wide"\n[formats.standard]\n[formats.strip]\n'
    assert {len(one.line.text) for one in placed(text, "strip/weekdays-from-mon")} == {1}
    assert placed(text, "standard/weekdays-monday")[0].line.text == "MONDAY"


def test_a_weeks_days_stand_in_its_first_seven_cells_in_reading_order():
    text = "[formats.week]\n"
    recipe = read(text)
    grid = layout_of(recipe, recipe.formats[0]).headed_grid()
    days = placed(text, "week/weekdays-sunday")
    assert [one.label for one in days] == ["sun", "mon", "tue", "wed", "thu", "fri", "sat"]
    for index, one in enumerate(days):
        row, column = divmod(index, grid.n_columns)
        assert one.cell == grid.header_cell(column, row=row)
    assert days[0].cell[0] < days[1].cell[0]
    assert days[0].cell[1] == days[1].cell[1] < days[2].cell[1]


@pytest.mark.parametrize("start", ["sunday", "monday", "saturday"])
def test_a_mirrored_week_begins_at_the_right(start):
    head = f'[calendar]\nweek_starts = ["{start}"]\n[formats.standard]\n'
    plain = placed(head, f"standard/weekdays-{start}")
    turned = placed(f'{head}[words]\ndirection = "right to left"\n', f"standard/weekdays-{start}")
    assert [one.label for one in turned] == [one.label for one in plain]
    assert [one.cell for one in turned] == [one.cell for one in reversed(plain)]
    assert all(one.cell[0] > other.cell[0] for one, other in pairwise(turned))


def test_an_arabic_week_begins_at_the_right_by_itself():
    days = placed(
        '[words]\nlanguage = "ar"\n[formats.standard]\n', "standard/weekdays-sunday", arabic
    )
    # Sunday in Arabic by CLDR, from memory.
    assert days[0].line.text == "الأحد"
    assert days[0].cell[0] == max(one.cell[0] for one in days)


def test_all_rows_of_a_format_have_one_size_whatever_their_language():
    text = '[words]\nlanguage = ["en", "de", "fr"]\nweekdays = "wide"\n[formats.standard]\n'
    names = rows_of(text, "standard")
    assert len(names) == 6
    sizes = {one.size for name in names for one in placed(text, name)}
    assert len(sizes) == 1
    widest = max(one.ink[2] - one.ink[0] for name in names for one in placed(text, name))
    recipe = read(text)
    layout = layout_of(recipe, recipe.formats[0])
    assert widest == pytest.approx(FIT_WIDTH * layout.cell_width, rel=1e-9)
    assert len(all_weekday_texts(recipe, recipe.formats[0])) == 21


def test_short_letters_are_as_high_as_their_row_allows():
    text = '[words]\nweekdays = "one letter"\n[formats.standard]\n'
    recipe = read(text)
    layout = layout_of(recipe, recipe.formats[0])
    (size,) = {one.size for one in placed(text, "standard/weekdays-monday")}
    assert size.height_px == pytest.approx(FIT_HEIGHT * layout.header_height)


@pytest.mark.parametrize("weekdays", ["one letter", "two letters", "abbreviated"])
def test_letters_without_capitals_are_centred_by_their_ink_and_stay_in_their_row(weekdays):
    text = f'[words]\nlanguage = "ar"\nweekdays = "{weekdays}"\n[formats.standard]\n'
    recipe = read(text)
    layout = layout_of(recipe, recipe.formats[0])
    days = placed(text, "standard/weekdays-monday", arabic)
    top, bottom = min(one.ink[1] for one in days), max(one.ink[3] for one in days)
    _, above, _, below = days[0].cell
    assert top - above == pytest.approx(below - bottom, abs=1e-9)
    assert bottom - top <= FIT_INK * layout.header_height + 1e-9
    assert len({one.baseline[1] for one in days}) == 1
    assert max(one.ink[2] - one.ink[0] for one in days) <= FIT_WIDTH * layout.cell_width + 1e-9


def test_asked_for_sizes_are_kept():
    text = '[words]\nlanguage = ["en", "hu"]\n[formats.standard]\nweekday = 0.3\n'
    recipe = read(text)
    (shape,) = recipe.formats
    place = place_of(recipe, shape, scullery())
    assert weekday_size_of(place).height_px == pytest.approx(0.3 * place.layout.header_height)


# Names from CLDR by way of Babel.
@pytest.mark.parametrize("family", FAMILIES)
@pytest.mark.parametrize("language", LANGUAGES.split())
def test_families_can_write_every_name(language, family):
    names = []
    for case in LetterCase:
        for width in NameWidth:
            names += month_names(language, width=width, case=case)
            names += weekday_names(language, width=width, case=case)
        for count in (1, 2, 3):
            names += weekday_letters(language, count=count, case=case)
    for name in set(names):
        face = shipped_family(family)
        line = word_line(face, name, Figures.LINING)
        placed, _ = face.placed_glyphs(line.text, figures=Figures.LINING)
        assert {item.letter for item in placed if item.glyph.has_ink} == {
            index for index, letter in enumerate(line.text) if not letter.isspace()
        }


def test_rows_of_all_kinds_of_format_can_be_planned_in_two_languages():
    text = f'[words]\nlanguage = ["en", "cs"]\n{ALL_FORMATS}'
    made = [plan for plan in catalogue(read(text), scullery()) if "/weekdays-" in plan.name]
    assert len(made) == 2 * (2 + 7 + 2)
    for plan in made:
        for one in plan.content.setting():
            x0, y0, x1, y1 = one.cell
            assert x0 < one.ink[0]
            assert one.ink[2] < x1
            assert y0 < one.ink[3] < y1
            assert one.ink[:2] == pytest.approx(
                (
                    line_ink(one.line, one.size)[0] + one.baseline[0],
                    line_ink(one.line, one.size)[1] + one.baseline[1],
                )
            )


@pytest.mark.parametrize("shape", ["standard", "tall"])
def test_one_pen_or_two_give_a_whole_picture(shape):
    """Weekdays at least 15 px heavy, and all pens near those of rule and frame (by eye)."""
    recipe = default_recipe()
    face = face_of(recipe)
    widths = {
        name: {
            mark.width_px
            for mark in plan_by_name(recipe, face, f"{shape}/{name}").drawing().marks
            if isinstance(mark, Stroke)
        }
        for name in ("grid-6-head", "dates-3", "weekdays-sunday")
    }
    rule, frame = sorted(widths["grid-6-head"])
    (numeral,), (letter,) = widths["dates-3"], widths["weekdays-sunday"]
    assert letter >= 15.0
    for pen in (numeral, letter):
        assert min(abs(pen / rule - 1.0), abs(pen / frame - 1.0)) < 0.08

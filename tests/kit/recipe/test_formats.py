"""The formats of a recipe."""

import pytest
from recipe_texts import LEAST, fault_of, faults_of, read

from inkline.kit.recipe.choices import Side
from inkline.kit.recipe.loading import default_recipe


def test_formats_named_are_the_formats_drawn():
    assert [one.name for one in default_recipe().formats] == ["standard", "tall"]
    assert [one.name for one in read("[formats.tall]\n").formats] == ["tall"]
    broad, tall = read("[formats.broad]\ncell = 0.7\n[formats.tall]\n").formats
    assert (broad.cell, broad.rule) == (0.7, default_recipe().formats[0].rule)
    assert tall == default_recipe().formats[1]


def test_too_many_formats_are_refused():
    fault = fault_of("".join(f"[formats.a{index}]\n" for index in range(13)))
    assert fault.sentence == "formats must hold at most 12 tables, not 13"


def test_what_is_said_for_each_format_holds_where_its_own_table_is_silent():
    standard, tall = read(
        '[each_format]\nrule = "1 %"\nstem = 9\n[formats.standard]\nstem = 6\n[formats.tall]\n'
    ).formats
    assert (str(standard.rule), standard.stem) == ("1 %", 6)
    assert (str(tall.rule), tall.stem) == ("1 %", 9)
    assert tall.cell == default_recipe().formats[1].cell
    assert [str(one.rule) for one in read('[each_format]\nrule = "1 %"\n').formats] == [
        "1 %",
        "1 %",
    ]


def test_numerals_shifted_in_each_format_are_joined_by_a_format_s_own():
    text = (
        '[each_format.shift]\n"17" = ["1 px", "0 px"]\n"4" = ["1 px", "0 px"]\n'
        '[formats.tall.shift]\n"4" = ["9 px", "0 px"]\n'
    )
    (tall,) = read(text).formats
    assert [(one, str(right)) for one, right, _ in tall.shift] == [("17", "1 px"), ("4", "9 px")]


def test_a_fault_in_what_holds_for_each_format_is_told_once():
    text = '[each_format]\nnumerl = 3\nrule = "9 kg"\n[formats.standard]\n[formats.tall]\n'
    assert [str(fault) for fault in faults_of(LEAST + text)] == [
        'evenings.toml, line 4: there is no key "numerl" in [each_format]; did you mean "numeral"?',
        (
            'evenings.toml, line 5: each_format.rule must be a length such as "5 pt", "0.4 mm" or '
            '"1.5 %", not "9 kg"'
        ),
    ]


def test_what_suits_one_format_and_not_another_is_told_where_it_stands():
    fault = fault_of("[each_format]\ncolumns = 31\n[formats.strip]\n[formats.tall]\n")
    assert str(fault) == (
        "evenings.toml, line 4: formats.tall.columns must be 7 in a month, not 31"
    )


def test_a_format_s_values_go_by_what_it_shows_else_by_its_name():
    strip, small, week, other = read(
        '[formats.strip]\n[formats.corner]\nshows = "small"\n[formats.week]\nshows = '
        '"month"\n[formats.other]\n'
    ).formats
    assert (strip.shows, strip.columns, strip.height) == ("strip", 31, "fit")
    assert (small.shows, small.height, small.dates) == ("small", "fit", "exact")
    assert (week.shows, week.columns, week.cell) == ("month", other.columns, other.cell)


@pytest.mark.parametrize(
    ("body", "weeks"),
    [
        ("", (5, 6)),
        ('dates = "to 31"', (5, 6)),
        ('dates = "exact"', (4, 5, 6)),
        ('dates = "both"', (4, 5, 6)),
        ('dates = "exact"\nweeks = [6]', (6,)),
        ('dates = "exact"\nweeks = 5', (5,)),
    ],
)
def test_dates_that_end_with_the_month_have_grids_of_four_rows(body, weeks):
    assert read(f"[formats.one]\n{body}\n").formats[0].weeks == weeks


def test_one_value_may_stand_where_a_list_of_them_is_asked_for():
    text = (
        '[calendar]\nweek_starts = <"monday">\n[formats.one]\nweeks = <6>\n'
        'block_omit = <"r1c1">\n[words]\nyears = <"2027-2031">\nspans = <"2027-2028">\n'
        'captions = <"Notes">\n'
    )
    one, listed = (
        read(text.replace("<", opened).replace(">", closed))
        for opened, closed in (("", ""), ("[", "]"))
    )
    assert one == listed
    assert one.words.years == (2027, 2028, 2029, 2030, 2031)
    short = read('[formats.one]\nside = "center"\n[words]\nyears = 2030\n')
    assert (short.formats[0].side, short.words.years) == (Side.CENTRE, (2030,))

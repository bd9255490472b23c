"""Cells, gutters and blocks that don't fit, and strokes that would vanish.

They are told before anything is drawn, with what would do.
"""

import re
from pathlib import Path

import pytest

from faces import scullery
from inkline.kit.product import catalogue
from inkline.kit.recipe.loading import recipe_from_text
from inkline.kit.stamps.faults.every import recipe_faults, recipe_notes
from inkline.kit.stamps.faults.use import LEAST_STROKE

ONE = "[formats.a]\n"


def read(text):
    return recipe_from_text("version = 1\nnumber = 1\n" + text, source="dusk.toml", folder=Path())


def sentences(text):
    return [str(fault) for fault in recipe_faults(read(text), scullery())]


@pytest.mark.parametrize(
    ("text", "sentence", "remedy"),
    [
        (
            f'{ONE}margin = ["3 %", "1 %", "3 %", "3 %"]',
            (
                r"line 4: formats\.a\.margin must be at least (\S+) px for the frame of a to stay "
                r"24 px from the edge, as canvas\.safe says, not 1 % \(25 px\)"
            ),
            f'{ONE}margin = ["3 %", "{{}} px", "3 %", "3 %"]',
        ),
        (
            "[formats.day]\nrows = 48\ncell = 4.9\nheight = 'fit'",
            (
                r"line 5: formats\.day\.cell must be at most (\S+) for the canvas to be no higher "
                r"than 20000 px, not 4\.9"
            ),
            "[formats.day]\nrows = 48\ncell = {}\nheight = 'fit'\nblock_corner = 0",
        ),
        (
            f"{ONE}row_gutter = 0.02",
            (
                r"line 4: formats\.a\.row_gutter must be 0, or at least (\S+) for white to stay "
                r"between the rules at its sides, not 0\.02"
            ),
            f"{ONE}row_gutter = {{}}\nnumeral = 0.4",
        ),
        (
            f'{ONE}column_gutter = "0.2 %"\nnumeral = 0.4',
            (
                r'line 4: formats\.a\.column_gutter must be 0, or at least "(\S+) px" for white '
                r".*, not 0\.2 % \(5 px\)"
            ),
            f'{ONE}column_gutter = "{{}} px"\nnumeral = 0.4',
        ),
        (
            f"{ONE}block_inset = 0.45",
            (
                r"line 4: formats\.a\.block_inset must be at most (\S+), or \S+ px, for the blocks "
                r"to keep a quarter of .*, not 0\.45"
            ),
            f"{ONE}block_inset = {{}}\nblock_corner = 0",
        ),
        (
            f'{ONE}block_fill = "outlined"\nblock_line = "3 %"',
            (
                r"line 5: formats\.a\.block_line must be at most (\S+) px, a quarter of the "
                r"smallest block, not 3 % \(75 px\)"
            ),
            f'{ONE}block_fill = "outlined"\nblock_line = "{{}} px"',
        ),
        (
            f'{ONE}block_omit = ["r7c1", "r1c1", "c3"]',
            (
                r"line 4: formats\.a\.block_omit must name blocks of a, and there is none called "
                r'"r7c1"; did you mean "(\S+)"\?'
            ),
            f'{ONE}block_omit = ["{{}}"]',
        ),
        (
            f'{ONE}used_at = "12 %"\nrule = "0.2 %"',
            (
                r"line 5: formats\.a\.rule: the rules would be 0\.6 px wide at 12 %, at which this "
                r'format is used, and vanish; rule = "(\S+) %" holds'
            ),
            f'{ONE}used_at = "12 %"\nrule = "{{}} %"',
        ),
        (
            '[formats.tall]\nused_at = "13 %"\nstem = 16',
            (
                r"line 5: formats\.tall\.stem: the strokes of the numerals would be .* px wide at "
                r"13 %, .*; stem = (\S+) holds"
            ),
            '[formats.tall]\nused_at = "13 %"\nstem = {}',
        ),
    ],
)
def test_what_does_not_fit_is_said_and_what_is_suggested_fits(text, sentence, remedy):
    found = [re.fullmatch(rf"dusk\.toml, {sentence}", said) for said in sentences(text)]
    (match,) = [one for one in found if one]
    assert sentences(remedy.format(match[1])) == []


def test_margins_that_leave_nothing_are_told():
    (said,) = sentences(f'{ONE}margin = "40 %"\nheight = 0.5')
    assert said.startswith(
        "dusk.toml, line 4: formats.a.margin: the margins leave no room for cells; "
    )


def test_gutters_that_leave_nothing_are_told():
    (said,) = sentences(f'{ONE}column_gutter = "18 %"')
    assert said.startswith(
        "dusk.toml, line 4: formats.a.column_gutter: the gutters leave no room for cells; "
    )


def test_without_a_stated_use_thin_strokes_are_drawn_and_told():
    recipe = read(f'{ONE}rule = "0.1 %"')
    (note,) = recipe_notes(recipe, scullery())
    assert (
        note == "a: the rules would be 0.62 px wide at 25 %, at which this format is used, and "
        'vanish; rule = "0.16 %" holds'
    )
    assert catalogue(recipe, scullery())


def test_letters_that_no_use_makes_heavy_enough_need_a_larger_canvas():
    text = '[canvas]\nside = "{}"\n[words]\nweekdays = "wide"\n[formats.tall]\nweekday_stem = 7.7\n'
    notes = [
        note for note in recipe_notes(read(text.format("600 px")), scullery()) if "weekdays" in note
    ]
    (side,) = [
        match[1]
        for note in notes
        if (match := re.search(r'; canvas\.side = "(\d+ px)" holds$', note))
    ]
    assert not recipe_notes(read(text.format(side)), scullery())
    larger = [
        note
        for note in recipe_notes(read(text.format("1000 px")), scullery())
        if "weekdays" in note
    ]
    (use,) = [
        float(match[1])
        for note in larger
        if (match := re.search(r"; used_at = (\S+) holds$", note))
    ]
    assert not recipe_faults(read(text.format("1000 px") + f"used_at = {use}"), scullery())


def test_the_default_kit_is_told_nothing():
    assert recipe_notes(read(""), scullery()) == ()


def test_a_rule_that_holds_is_as_wide_as_the_thinnest_that_reads():
    rule = read(f'{ONE}used_at = "20 %"\nrule = "{LEAST_STROKE / 0.2:g} px"')
    assert not recipe_faults(rule, scullery())


def test_a_wide_weekday_of_any_language_is_told():
    said = sentences(f'{ONE}weekday = 0.4\n[words]\nlanguage = ["en", "pt_BR"]\nweekdays = "wide"')
    (fault,) = [one for one in said if "formats.a.weekday must" in one]
    assert re.search(
        r'must be at most \S+, or "fit", for (SEGUNDA|QUINTA|TERÇA|QUARTA)-FEIRA to fit its place, '
        r"not 0\.4",
        fault,
    )


def test_letters_missing_in_any_language_are_told():
    (said,) = sentences(f'{ONE}[words]\nlanguage = ["en", "hi"]')
    assert "words.language needs letters that are missing" in said


@pytest.mark.parametrize("way", [r'week_numbers_in = "narrow"', r"margin = \[[^]]+\]"])
@pytest.mark.parametrize("direction", ["left to right", "right to left"])
def test_week_numbers_that_do_not_fit_the_margin_are_told_with_ways_that_do(way, direction):
    words = f'\n[words]\ndirection = "{direction}"'
    (said,) = sentences(f'[formats.standard]\nweek_numbers = "iso"{words}')
    side = "left" if direction == "left to right" else "right"
    assert (
        f"line 4: formats.standard.week_numbers: the margin at the {side} of standard is " in said
    )
    remedy = re.search(way, said)[0]
    left = [
        one
        for one in sentences(f'[formats.standard]\nweek_numbers = "iso"\n{remedy}{words}')
        if "margin at" in one
    ]
    assert left == []


def test_week_numbers_that_fit_the_margin_are_told_nothing():
    assert sentences('[formats.tall]\nweek_numbers = "us"') == []


def test_a_day_that_no_year_has_is_told():
    (note,) = recipe_notes(
        read('[words]\nyears = [2027]\n[marks]\n"02-29" = "ring"\n"02-28" = "dot"'), scullery()
    )
    assert note == 'marks: no year of the kit has a day "02-29", so nothing is marked there'
    assert (
        recipe_notes(read('[words]\nyears = [2028]\n[marks]\n"02-29" = "ring"'), scullery()) == ()
    )

"""Recipes that are read, and sentences about those that cannot be."""

from dataclasses import replace

import pytest
from recipe_texts import fault_of, faults_of, read

from inkline.calendar.names import LetterCase
from inkline.kit.recipe.choices import (
    BlockEdge,
    BlockFill,
    BlockForm,
    Blocks,
    ColumnsRun,
    Dates,
    DatesAs,
    Drawings,
    GapFrom,
    Guests,
    Header,
    Level,
    MonthNames,
    Shows,
    Side,
    SixthWeek,
    Sizes,
    Split,
    WeekdayNames,
    WeekNumbers,
    WeekNumbersIn,
)
from inkline.kit.recipe.model import FormatRecipe, WordsRecipe
from inkline.lettering.families import family_names
from inkline.lettering.writing import Way
from inkline.styles.files import load_style, style_path
from inkline.units import Length, Unit


def test_every_value_arrives():
    recipe = read(
        """title = "Dusk"
[canvas]
side = "10 cm"
ppi = 254
margin = "5 mm"
safe = "10 px"
[formats.tall]
cell = 1.5
weekday_row = 1
rule = "5 pt"
frame = 2
block_inset = "1 %"
block_corner = "12 px"
numeral = "75 pt"
stem = 9
gap = 0.2
weekday = 0.4
weekday_stem = 6
[words]
language = "de_AT"
letters = "as written"
months = "abbreviated"
weekdays = "wide"
years = [1999]
height = "1 in"
stem = 5
margin = "3 px"
[lettering]
figures = "tabular"
[style]
name = "dip-pen"
edge = { raggedness = "9 um" }
[again]
"tall/dates-3/17" = 2
"""
    )
    assert (recipe.title, recipe.side_px, recipe.ppi) == ("Dusk", 1000, 254)
    assert recipe.px(recipe.margin) == pytest.approx(50, abs=1e-12)
    assert recipe.safe == Length(10, Unit.PX)
    (tall,) = recipe.formats
    assert tall == FormatRecipe(
        name="tall",
        evenness=0.4,  # what the format has where a recipe says nothing
        cell=1.5,
        weekday_row=1.0,
        rule=Length(5, Unit.PT),
        frame=2.0,
        block_inset=Length(1, Unit.PERCENT),
        block_corner=Length(12, Unit.PX),
        numeral=Length(75, Unit.PT),
        stem=9.0,
        stems_asked=frozenset({"stem", "weekday_stem"}),
        gap=0.2,
        weekday=0.4,
        weekday_stem=6.0,
        # What any format has where a recipe says nothing, as `inkline recipe --explain` tells it.
        gap_from=GapFrom.NEAREST,
        side=Side.START,
        level=Level.TOP,
        used_at=25.0,
        shift=(),
        shows=Shows.MONTH,
        weeks=(5, 6),
        columns=7,
        rows=6,
        column_gutter=0.0,
        row_gutter=0.0,
        margin="canvas",
        height=1.0,
        header=Header.BOTH,
        takes=1,
        blocks=Blocks.PLAIN,
        block_form=BlockForm.BOX,
        block_fill=BlockFill.FILLED,
        block_edge=BlockEdge.DRAWN,
        block_line=Length(0.42, Unit.PERCENT),
        block_omit=(),
        dates_as=DatesAs.PLAIN,
        dates=Dates.TO_31,
        split=Split.NONE,
        sixth_week=SixthWeek.OWN_ROW,
        shared_numeral=0.6,
        week_numbers=WeekNumbers.NONE,
        week_numbers_in=WeekNumbersIn.MARGIN,
        week_numeral=0.16,
    )
    assert recipe.words == WordsRecipe(
        languages=("de_AT",),
        letters=LetterCase.AS_WRITTEN,
        months=MonthNames.ABBREVIATED,
        weekdays=WeekdayNames.WIDE,
        years=(1999,),
        height=Length(1, Unit.INCH),
        stem=5.0,
        stems_asked=frozenset({"stem"}),
        margin=Length(3, Unit.PX),
        spacing=0.0,
        spans=(),
        captions=(),
        sizes=Sizes.SAME_HEIGHT,
        direction=ColumnsRun.BY_LANGUAGE,
    )
    assert (recipe.way, recipe.guests, recipe.drawings) == (Way.AUTO, Guests.NONE, Drawings.EACH)
    assert (recipe.swaps, recipe.axes, recipe.marks, recipe.edition) == ((), (), (), "")
    assert (recipe.week_starts, recipe.numbering) == (("sunday", "monday"), "latn")
    assert recipe.file_pattern == "{name}"
    assert recipe.figures == "tabular"
    assert recipe.style_name == "dip-pen"
    pen = load_style(style_path("dip-pen", where=""))
    raggedness = recipe.style.edge.raggedness
    assert raggedness == pytest.approx(0.009, rel=1e-15)
    assert recipe.style == replace(pen, edge=replace(pen.edge, raggedness=raggedness))
    assert recipe.again == {"tall/dates-3/17": 2}


def test_all_faults_come_together_with_their_lines():
    faults = faults_of(
        """version = 1
titel = "x"
[canvas]
side = "10 m"
margin = "-3 px"
[formats.tall]
numerl = 3
rule = "70 kg"
[words]
language = "klingon"
years = [
  2027,
  27,
]
[cavas]
"""
    )
    assert [(fault.line, fault.key) for fault in faults] == [
        (2, "titel"),
        (4, "canvas.side"),
        (5, "canvas.margin"),
        (7, "formats.tall.numerl"),
        (8, "formats.tall.rule"),
        (10, "words.language"),
        (11, "words.years"),
        (15, "cavas"),
        (0, "number"),
    ]
    assert str(faults[0]) == (
        'evenings.toml, line 2: there is no key "titel" at the top of a recipe; did you mean '
        '"title"?'
    )
    assert str(faults[-1]) == (
        "evenings.toml: number is required, a whole number from 0 to 999999999, and is missing"
    )


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("titel = 1", 'there is no key "titel" at the top of a recipe; did you mean "title"?'),
        ("zzzzzz = 1", 'there is no key "zzzzzz" at the top of a recipe'),
        ("[formats.tall]\ngab = 1", 'there is no key "gab" in [formats.tall]; did you mean "gap"?'),
        ("title = 3", "title must be a text of at most 80 letters on one line, not 3"),
        ('title = "a\\nb"', 'title must be a text of at most 80 letters on one line, not "a\\nb"'),
        (f'title = "{"a" * 81}"', "title must be a text of at most 80 letters on one line, not"),
        ("canvas = 3", "canvas must be a table, begun by a line [canvas]"),
        ("formats = 3", "formats must be a table, begun by a line [formats]"),
        ("formats.tall = 3", "formats.tall must be a table, begun by a line [formats.tall]"),
        ("[formats.Tall]", "a format's name must be up to 32 small letters"),
        ("[formats.words]", 'and be none of files, masters, words, not "words"'),
        (
            '[canvas]\nside = "3 %"',
            "canvas.side must be a length with a unit, not the percentage 3 %",
        ),
        (
            '[canvas]\nside = "10 m"',
            'canvas.side must be a length such as "2500 px" or "20 cm", not "10 m"',
        ),
        (
            '[canvas]\nside = "1000 cm"',
            "canvas.side must lie between 100 px and 20000 px, not 1000 cm (118110 px)",
        ),
        (
            '[canvas]\nside = "20001 px"',
            "canvas.side must lie between 100 px and 20000 px, not 20001 px",
        ),
        (
            "[canvas]\nside = 2500",
            'canvas.side must be a length such as "2500 px" or "20 cm", not 2500',
        ),
        ("[canvas]\nppi = 0", "canvas.ppi must be a number from 30 to 4800, not 0"),
        ("[canvas]\nppi = nan", "canvas.ppi must be a number from 30 to 4800, not nan"),
        ("[canvas]\nppi = true", "canvas.ppi must be a number from 30 to 4800, not true"),
        (
            '[canvas]\nmargin = "-1 px"',
            "canvas.margin must lie between 0 px and 1000 px on this canvas, not -1 px",
        ),
        (
            '[canvas]\nmargin = "1 m"',
            'canvas.margin must be a length such as "5 pt", "0.4 mm" or "1.5 %", not "1 m"',
        ),
        (
            '[formats.a]\nrule = "9 mm"',
            "formats.a.rule must lie between 0.5 px and 100 px on this canvas, not 9 mm (106",
        ),
        (
            "[formats.a]\nnumeral = -2",
            'formats.a.numeral must be a share from 0.02 to 3 or a length such as "75 pt", not',
        ),
        (
            '[formats.a]\nnumeral = "75"',
            "formats.a.numeral must be a share of the cell's width such as 0.3 or a length",
        ),
        (
            '[formats.a]\nnumeral = "9 in"',
            "formats.a.numeral must lie between 2.5 px and 1250 px on this canvas, not 9 in",
        ),
        (
            '[formats.a]\ngap = "-1 pt"',
            "formats.a.gap must lie between 0 px and 1250 px on this canvas, not -1 pt",
        ),
        (
            '[formats.a]\nweekday = "big"',
            'formats.a.weekday must be "fit" or a share from 0.05 to 1, not "big"',
        ),
        (
            "[formats.a]\nweekday = 2",
            'formats.a.weekday must be "fit" or a share from 0.05 to 1, not 2',
        ),
        ('[words]\nletters = "big"', 'words.letters must be "capitals" or "as written", not "big"'),
        ("[words]\nmonths = 3", 'words.months must be "wide" or "abbreviated" or "both", not 3'),
        ('[words]\nlanguage = "klingon"', "words.language must be a language as CLDR names it"),
        (
            "[words]\nyears = true",
            (
                "words.years must be a list of at most 50 years such as [2027, 2028] or "
                '["2027-2031"], not true'
            ),
        ),
        (
            f"[words]\nyears = {list(range(2000, 2051))}",
            "words.years must be a list of at most 50 years",
        ),
        ("[words]\nyears = [2027, 27]", "words.years must hold years from 1583 to 9999, not 27"),
        ("[words]\nyears = [2027.5]", "words.years must hold years from 1583 to 9999, not 2027.5"),
        (
            "[words]\nyears = [2027, 2028, 2027]",
            "words.years must hold each year once, not 2027 2 times",
        ),
        (
            '[lettering]\nfont = "no.ttf"',
            "lettering.font must be a font file, and there is none at no.ttf",
        ),
        (
            '[lettering]\nfamily = "no"',
            f'"{family_names()[-1]}", or a UFO folder ending in .ufo, not "no"',
        ),
        (
            "[style]\nname = 3",
            "style.name must be a text of at most 1024 letters on one line, not 3",
        ),
        (
            '[again]\n"tall/dates-3/17" = 0',
            'again."tall/dates-3/17" must be a whole number from 1 to 1000000, not 0',
        ),
        (
            '[again]\n"tall/dates-3/17" = true',
            'again."tall/dates-3/17" must be a whole number from 1 to 1000000, not true',
        ),
    ],
)
def test_one_fault_is_one_sentence(text, sentence):
    fault = fault_of(text)
    assert sentence in fault.sentence
    assert "\n" not in fault.sentence
    assert fault.line == text.count("\n") + 3
    assert str(fault) == f"evenings.toml, line {fault.line}: {fault.sentence}"


@pytest.mark.parametrize("number", ["1.5", "-1", "1_000_000_000", "true", '"7"'])
def test_a_drawing_number_is_a_whole_number_of_nine_digits(number):
    (fault,) = faults_of(f"version = 1\nnumber = {number}\n")
    assert fault.sentence.startswith("number must be a whole number from 0 to 999999999, not ")


def test_lengths_are_judged_on_the_recipes_own_canvas():
    assert read('[canvas]\nside = "5000 px"\nmargin = "1900 px"\n').side_px == 5000
    assert (
        "between 0 px and 400 px"
        in fault_of('[canvas]\nside = "1000 px"\nmargin = "500 px"').sentence
    )


def test_a_length_with_a_comma_is_told_with_its_point():
    fault = fault_of('[formats.a]\nrule = "0,4 mm"\n')
    assert fault.sentence.endswith('not "0,4 mm"; numbers are written with a point: "0.4 mm"')
    assert "with a point" not in fault_of('[formats.a]\nrule = "0,4 ells"\n').sentence


def test_px_are_told_as_people_count_them():
    fault = fault_of('[canvas]\nside = "1181 px"\n[formats.a]\nrule = "9 mm"\n')
    assert fault.sentence == (
        "formats.a.rule must lie between 0.236 px and 47.2 px on this canvas, not 9 mm (106 px)"
    )


def test_a_day_on_which_no_week_begins_is_not_taken_for_another():
    fault = fault_of('[calendar]\nweek_starts = ["tuesday"]\n')
    assert fault.sentence.endswith('not "tuesday"')
    fault = fault_of('[calendar]\nweek_starts = ["Mondy"]\n')
    assert fault.sentence.endswith('did you mean "monday"?')

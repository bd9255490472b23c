import os
import pickle
import pkgutil
import re
from concurrent.futures import ThreadPoolExecutor
from dataclasses import fields, replace
from pathlib import Path

import pytest

from inkline.calendar.names import LetterCase
from inkline.chance import DEFAULT_NUMBER, LARGEST_NUMBER
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
from inkline.kit.recipe.key import FORMATS
from inkline.kit.recipe.keys import KEYS, TABLES, keys_of
from inkline.kit.recipe.loading import (
    default_recipe,
    load_recipe,
    recipe_from_text,
    recipes_from_text,
)
from inkline.kit.recipe.model import FormatRecipe, WordsRecipe
from inkline.kit.recipe.text import (
    EVERYDAY,
    TABLE_EXAMPLES,
    TO_CHECK,
    TO_DRAW,
    TO_EXPLAIN,
    recipe_text,
)
from inkline.lettering.writing import Way
from inkline.press.shop import Workshop
from inkline.source.faults import RecipeError
from inkline.styles.files import load_style, style_path
from inkline.units import Length, Unit

LEAST = f"version = 1\nnumber = {DEFAULT_NUMBER}\n"


def read(text, folder=Path()):
    return recipe_from_text(LEAST + text, source="evenings.toml", folder=folder)


def faults_of(text):
    with pytest.raises(RecipeError) as caught:
        recipe_from_text(text, source="evenings.toml", folder=Path())
    return caught.value.faults


def fault_of(text):
    """The one fault of a recipe whose third line is the first of `text`."""
    (fault,) = faults_of(LEAST + text)
    return fault


def test_the_printed_recipe_says_what_holds_without_it():
    assert default_recipe() == recipe_from_text(LEAST, source="x", folder=Path())
    assert default_recipe().number == DEFAULT_NUMBER


def test_the_printed_recipe_has_every_key_and_the_sentences_of_everyday_ones():
    text = recipe_text(5)
    flat = " ".join(text.replace("\n# ", " ").split())
    named = {
        name
        for line in re.findall(r"More keys here: ((?:.*,\s*#?\s*)*.*)", text)
        for name in re.split(r"[\s,#]+", line)
    }
    for key in KEYS:
        if key.name in EVERYDAY.get(key.table, ()):
            assert f"\n{key.name} = " in text
            assert " ".join(key.sentence.split()) in flat
        else:
            assert key.name in named or key.table == "names"
    for table, sentence in TABLES.items():
        assert f"[{table}]" in text or f"[{table}." in text
        assert sentence in flat
    assert max(len(line) for line in text.splitlines()) <= 110
    assert len(text.splitlines()) < 130


def test_whoever_explains_a_recipe_its_lines_stay_where_they_are():
    """Faults of the default recipe name lines that are those of the recipe that a person has."""
    theirs = recipe_text(5, to_draw="draw", to_explain=f"explain {60 * '.'}", to_check="check")
    assert theirs.startswith("# The recipe of a stamp kit. Change what you like and run: draw\n")
    assert theirs.splitlines()[4:] == recipe_text(5).splitlines()[4:]


@pytest.mark.parametrize("place", [TO_DRAW, TO_EXPLAIN.partition("(")[0], TO_CHECK])
def test_what_a_recipe_of_the_library_names_is_there(place):
    assert callable(pkgutil.resolve_name(place))


def test_what_is_everyday_is_a_key():
    assert {
        table: names
        for table, names in EVERYDAY.items()
        if not {key.name for key in keys_of(table)} >= {*names}
    } == {}


def test_examples_in_the_printed_recipe_can_be_used_as_they_stand():
    """Without the mark before them, as a person would try them; each table by itself, since they are not one kit."""
    lines = [
        line.removeprefix("# ")
        for line in recipe_text(5).splitlines()
        if re.match(r'# (\[|"|[a-z_.]+ = )', line)
    ]
    starts = [index for index, line in enumerate(lines) if line.startswith("[")]
    blocks = ["\n".join(lines[a:b]) for a, b in zip(starts, [*starts[1:], None], strict=True)]
    assert len(blocks) == len(TABLE_EXAMPLES)
    for block in blocks:
        assert recipes_from_text(f"{LEAST}{block}\n", source="x", folder=Path())


def test_the_printed_recipe_carries_its_number():
    assert recipe_from_text(recipe_text(123), source="x", folder=Path()).number == 123


@pytest.mark.parametrize("number", [-1, LARGEST_NUMBER + 1])
def test_a_number_out_of_range_is_not_printed(number):
    with pytest.raises(
        ValueError, match=f"a drawing number must lie between 0 and 999999999, not {number}"
    ):
        recipe_text(number)


def test_values_have_the_schemas_names():
    assert {field.name for field in fields(FormatRecipe)} == {
        key.name for key in keys_of(FORMATS)
    } | {"name"}
    names = {"languages" if key.name == "language" else key.name for key in keys_of("words")}
    assert {field.name for field in fields(WordsRecipe)} == names


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
        gap=0.2,
        weekday=0.4,
        weekday_stem=6.0,
        # What any format has where a recipe says nothing, as `inkline recipe --explain` tells it.
        gap_from=GapFrom.RULES,
        side=Side.LEFT,
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


def test_formats_named_are_the_formats_drawn():
    assert [one.name for one in default_recipe().formats] == ["standard", "tall"]
    assert [one.name for one in read("[formats.tall]\n").formats] == ["tall"]
    broad, tall = read("[formats.broad]\ncell = 0.7\n[formats.tall]\n").formats
    assert (broad.cell, broad.rule) == (0.7, default_recipe().formats[0].rule)
    assert tall == default_recipe().formats[1]


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
        'evenings.toml, line 2: there is no key "titel" at the top of a recipe; do you mean '
        '"title"?'
    )
    assert str(faults[-1]) == (
        "evenings.toml: number is required, a whole number from 0 to 999999999, and is missing"
    )


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("titel = 1", 'there is no key "titel" at the top of a recipe; do you mean "title"?'),
        ("zzzzzz = 1", 'there is no key "zzzzzz" at the top of a recipe'),
        ("[formats.tall]\ngab = 1", 'there is no key "gab" in [formats.tall]; do you mean "gap"?'),
        ("title = 3", "title must be a text of at most 80 letters on one line, not 3"),
        ('title = "a\\nb"', 'title must be a text of at most 80 letters on one line, not "a\\nb"'),
        (f'title = "{"a" * 81}"', "title must be a text of at most 80 letters on one line, not"),
        ("canvas = 3", "canvas must be a table, begun by a line [canvas]"),
        ("formats = 3", "formats must be a table, begun by a line [formats]"),
        ("formats.tall = 3", "formats.tall must be a table, begun by a line [formats.tall]"),
        ("[formats.Tall]", "a format's name must be up to 32 small letters"),
        ("[formats.words]", 'and be none of masters, words, not "words"'),
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
            "canvas.side must lie between 100 px and 20000 px, not 1000 cm (1.181e+05 px)",
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
            "[words]\nyears = 2027",
            (
                "words.years must be a list of at most 50 years such as [2027, 2028] or "
                '["2027-2031"], not 2027'
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
            '"scullery", "stairwell", or a UFO folder ending in .ufo, not "no"',
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


@pytest.mark.parametrize(
    ("version", "rest"),
    [
        ("2", "2; a newer inkline may read it"),
        ("0", "0"),
        ("1.0", "1.0"),
        ("true", "true"),
        ('"1"', '"1"'),
        ("[1]", "[1]"),
    ],
)
def test_another_version_is_the_only_fault_told(version, rest):
    (fault,) = faults_of(f"version = {version}\nnumber = -3\ntitel = 3\n")
    assert (fault.line, fault.key) == (1, "version")
    assert fault.sentence == f"version must be 1, the one that this inkline reads, not {rest}"


def test_a_missing_version_is_one_fault_among_others():
    missing, number = sorted(faults_of("number = -1\n"), key=lambda fault: fault.line)
    assert missing.sentence == "version is required at the top, as version = 1, and is missing"
    assert number.key == "number"


def test_too_many_formats_are_refused():
    fault = fault_of("".join(f"[formats.a{index}]\n" for index in range(13)))
    assert fault.sentence == "formats must hold at most 12 tables, not 13"


def test_lengths_are_judged_on_the_recipes_own_canvas():
    assert read('[canvas]\nside = "5000 px"\nmargin = "1900 px"\n').side_px == 5000
    assert (
        "between 0 px and 400 px"
        in fault_of('[canvas]\nside = "1000 px"\nmargin = "500 px"').sentence
    )


def test_text_that_is_not_toml_is_refused_with_its_line():
    (fault,) = faults_of("version = 1\nnumber =\n")
    assert (fault.line, fault.sentence[:21]) == (2, "this is not TOML: Inv")


def test_a_bottomless_list_is_refused():
    (fault,) = faults_of("version = " + "[" * 100_000)
    assert "nested too deeply" in fault.sentence or "not TOML" in fault.sentence


def test_a_recipe_is_loaded_from_its_file(tmp_path):
    font = tmp_path / "letters.ttf"
    font.write_bytes(b"")
    path = tmp_path / "evenings.toml"
    path.write_text(LEAST + 'title = "Dusk"\n[lettering]\nfont = "letters.ttf"\n')
    recipe = load_recipe(path)
    assert (recipe.title, recipe.font, recipe.source) == ("Dusk", font, "evenings.toml")


def test_other_editors_line_ends_and_marks_are_read(tmp_path):
    path = tmp_path / "evenings.toml"
    path.write_bytes(b"\xef\xbb\xbf" + LEAST.replace("\n", "\r\n").encode() + b'titel = "x"\r\n')
    with pytest.raises(RecipeError, match=r"evenings\.toml, line 3: there is no key"):
        load_recipe(path)


def test_files_that_are_no_recipes_are_refused(tmp_path):
    path = tmp_path / "evenings.toml"
    with pytest.raises(
        RecipeError,
        match=r"evenings\.toml: the recipe cannot be read \(No such file or directory\)",
    ):
        load_recipe(path)
    path.write_bytes(b"\xff\xfe\x00")
    with pytest.raises(
        RecipeError, match=r"evenings\.toml: a recipe must be text in UTF-8, and this file is not"
    ):
        load_recipe(path)
    path.write_bytes(b"#" * 1_000_001)
    with pytest.raises(
        RecipeError,
        match="a recipe must be a text of at most 1000000 bytes, and this file is larger",
    ):
        load_recipe(path)


def test_an_error_survives_the_way_between_processes():

    with pytest.raises(RecipeError) as caught:
        read("titel = 1")
    again = pickle.loads(pickle.dumps(caught.value))  # noqa: S301
    assert (str(again), again.faults) == (str(caught.value), caught.value.faults)
    recipe = default_recipe()
    assert pickle.loads(pickle.dumps(recipe)) == recipe  # noqa: S301


@pytest.mark.parametrize(
    "path", sorted(Path(__file__).parents[1].glob("data/*.toml")), ids=lambda p: p.stem
)
def test_example_recipes_can_be_read(path):
    assert load_recipe(path).title.startswith("Evenings")


def test_a_style_file_is_seen_from_the_recipe_s_folder(tmp_path):
    (tmp_path / "lines").mkdir()
    (tmp_path / "lines" / "mine.toml").write_text('based_on = "dip-pen"\n')
    (tmp_path / "recipe.toml").write_text(
        'version = 1\nnumber = 1\n[style]\nname = "lines/mine.toml"\n'
    )
    assert load_recipe(tmp_path / "recipe.toml").style_name == str(tmp_path / "lines" / "mine.toml")


def test_the_examples_of_drawing_again_are_names_of_the_default_kit():
    """They stand commented out; without the mark each must be taken, as a person would try it."""
    text = recipe_text(7)
    examples = [
        line
        for line in text.split("[again]\n")[1].split("\n\n")[0].splitlines()
        if line.startswith('# "')
    ]
    again = "\n".join(line.removeprefix("# ") for line in examples)
    recipe = read(f"[again]\n{again}\n")
    assert dict(recipe.again) == {
        "tall/dates-3/17": 1,
        "standard/grid-6/down-3": 1,
        "standard/blocks-5/r5c4": 1,
    }
    assert len(Workshop(recipe).plans) == 59


@pytest.mark.parametrize(
    "key",
    [
        ".".join("a" * 400_000),
        '"a".' * 100 + "b",
        "[" + ".".join("a" * 100) + "]\nb",
        ".".join("a" * 20),
    ],
)
def test_keys_without_end_are_refused(key):
    (fault,) = faults_of(f"{LEAST}{key} = 1\n")
    assert fault.sentence == "this is not a recipe: its lists are nested too deeply"


@pytest.mark.parametrize(
    ("number", "shown"),
    [
        ("9" * 5000, "a number of thousands of digits"),
        ("0x" + "f" * 40, "a whole number of more than 64 bits"),
    ],
)
def test_numbers_without_end_are_refused(number, shown):
    (fault,) = faults_of(f"version = 1\nnumber = {number}\n")
    assert fault.sentence == f"this is not a recipe: it holds {shown}"


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no named pipes")
def test_a_recipe_may_come_through_a_pipe(tmp_path):
    path = tmp_path / "pipe"
    os.mkfifo(path)
    with ThreadPoolExecutor(1) as pool:
        pool.submit(path.write_text, LEAST)
        assert load_recipe(path).number == DEFAULT_NUMBER


def test_a_place_that_no_system_can_hold_is_told():
    with pytest.raises(RecipeError, match=r"the recipe cannot be read \(embedded null"):
        load_recipe(Path("a\0b"))

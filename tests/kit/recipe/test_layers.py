"""Recipes over one another: what extends what, and several kits from one file."""

from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from inkline.chance import number_of_kit
from inkline.errors import Action, Remedy
from inkline.kit.recipe.file import Layers
from inkline.kit.recipe.layers import layers_over
from inkline.kit.recipe.loading import (
    load_recipe,
    load_recipes,
    recipe_from_text,
    recipes_from_text,
)
from inkline.source.faults import RecipeError
from inkline.source.places import FileLine
from inkline.styles.files import load_style, style_path

HEAD = "version = 1\nnumber = 7\n"


@pytest.fixture
def write(tmp_path):
    def written(name, text):
        path = tmp_path / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
        return path

    return written


def read(text):
    return recipe_from_text(text, source="evenings.toml", folder=Path())


def faults_of(given):
    with pytest.raises(RecipeError) as caught:
        load_recipes(given) if isinstance(given, Path) else recipes_from_text(
            given, source="evenings.toml", folder=Path()
        )
    return [str(fault) for fault in caught.value.faults]


def fault_of(given):
    (fault,) = faults_of(given)
    return fault


# Extending


def test_what_a_recipe_leaves_out_is_as_in_the_one_that_it_extends(write):
    write(
        "base.toml",
        HEAD
        + 'title = "Base"\n[formats.tall]\ncell = 1.5\nrule = "1 %"\n[formats.tall.shift]\n"17" '
        '= ["3 px", "0 px"]\n'
        '[words]\nlanguage = "de"\n[style]\nname = "dip-pen"\n[style.hand]\ndrift = "90 '
        'um"\ntremor = "20 um"\n[again]\n"tall/grid-5" = 2\n',
    )
    recipe = load_recipe(
        write(
            "line.toml",
            'version = 1\nextends = "base.toml"\ntitle = "Line"\n[formats.tall]\nrule = "2 '
            '%"\n[formats.tall.shift]\n"4" = ["1 px", "1 px"]\n'
            '[formats.wide]\n[style.hand]\ndrift = "50 um"\n[again]\n"tall/grid-6" = 3\n',
        )
    )
    tall, wide = recipe.formats
    assert (recipe.title, recipe.number, recipe.words.language) == ("Line", 7, "de")
    assert (tall.name, tall.cell, str(tall.rule)) == ("tall", 1.5, "2 %")
    assert [text for text, *_ in tall.shift] == ["17", "4"]
    assert wide.name == "wide"
    assert recipe.style_name == "dip-pen"
    pen = load_style(style_path("dip-pen", where=""))
    assert recipe.style == replace(pen, hand=replace(pen.hand, drift=0.05, tremor=0.02))
    assert recipe.again == {"tall/grid-5": 2, "tall/grid-6": 3}


def test_a_chain_is_followed_and_the_nearest_value_holds(write):
    write("lines/first.toml", HEAD + 'title = "First"\n[canvas]\nppi = 600\nside = "1000 px"\n')
    write(
        "second.toml",
        'version = 1\nextends = "lines/first.toml"\ntitle = "Second"\n[canvas]\nside = "1200 px"\n',
    )
    recipe = load_recipe(write("third.toml", 'version = 1\nextends = "second.toml"\nnumber = 9\n'))
    assert (recipe.title, recipe.number, recipe.ppi, recipe.side_px) == ("Second", 9, 600, 1200)


def test_a_recipe_that_extends_and_says_nothing_is_the_other_recipe(write):
    write("base.toml", HEAD + "[formats.wide]\ncell = 0.8\n")
    assert load_recipe(write("line.toml", 'version = 1\nextends = "base.toml"\n')) == load_recipe(
        write("copy.toml", HEAD + "[formats.wide]\ncell = 0.8\n")
    )


def test_a_format_of_the_other_recipe_is_taken_out(write):
    write("base.toml", HEAD + "[formats.standard]\n[formats.tall]\ncell = 1.5\n[formats.wide]\n")
    line = write(
        "line.toml",
        'version = 1\nextends = "base.toml"\n[formats]\ntall = "none"\n[formats.small]\n',
    )
    assert [one.name for one in load_recipe(line).formats] == ["standard", "wide", "small"]
    again = write("again.toml", 'version = 1\nextends = "line.toml"\n[formats.tall]\n')
    assert {one.name: one.cell for one in load_recipe(again).formats}["tall"] == 1.25


def test_a_usual_format_is_taken_out_of_a_recipe_that_names_none():
    assert [one.name for one in read(HEAD + '[formats]\ntall = "none"\n').formats] == ["standard"]


def test_what_is_not_there_cannot_be_taken_out(write):
    write("base.toml", HEAD + "[formats.wide]\n")
    line = write("line.toml", 'version = 1\nextends = "base.toml"\n[formats]\nwid = "none"\n')
    assert fault_of(line) == (
        'line.toml, line 4: formats.wid = "none" takes out a format, and there is none of that '
        'name; did you mean "wide"?'
    )
    assert fault_of(HEAD + '[formats]\nstandard = "none"\ntall = "none"\n') == (
        'evenings.toml, line 3: formats must leave a format to draw, and all of them are "none"'
    )
    assert fault_of(HEAD + '[formats]\ntall = "non"\n') == (
        "evenings.toml, line 4: formats.tall must be a table, begun by a line [formats.tall], or "
        '"none"'
    )


def test_a_fault_names_the_file_and_line_where_the_value_stands(write):
    write(
        "base.toml",
        HEAD + '[canvas]\nside = "3 %"\n[formats.tall]\nrule = "70 kg"\ncell = 99\n[words]\n',
    )
    line = write(
        "line.toml",
        'version = 1\nextends = "base.toml"\n[formats.tall]\ncell = 98\nstem = '
        '99\n[words]\nlanguage = "xx-no"\n',
    )
    assert faults_of(line) == [
        "base.toml, line 4: canvas.side must be a length with a unit, not the percentage 3 %",
        (
            'base.toml, line 6: formats.tall.rule must be a length such as "5 pt", "0.4 mm" or '
            '"1.5 %", not "70 kg"'
        ),
        "line.toml, line 4: formats.tall.cell must be a number from 0.02 to 5, not 98",
        "line.toml, line 5: formats.tall.stem must be a number from 3 to 40, not 99",
        (
            'line.toml, line 7: words.language must be a language as CLDR names it, such as "en", '
            '"de" or "pt_BR", not \'xx-no\''
        ),
    ]


def test_a_table_may_replace_a_value_and_a_value_a_table(write):
    write("base.toml", HEAD + "canvas = 3\n[words]\nyears = [2027]\n")
    assert (
        load_recipe(
            write("line.toml", 'version = 1\nextends = "base.toml"\n[canvas]\nppi = 600\n')
        ).ppi
        == 600
    )
    bad = write("bad.toml", 'version = 1\nextends = "base.toml"\nwords = 4\n[canvas]\n')
    assert fault_of(bad) == "bad.toml, line 3: words must be a table, begun by a line [words]"


def test_places_are_seen_from_the_file_that_names_them(write, tmp_path):
    write("lines/fonts/letters.ttf", "")
    write("lines/mine.toml", 'based_on = "dip-pen"\n')
    write("lines/mine.ufo/metainfo.plist", "")
    write(
        "lines/base.toml",
        HEAD
        + '[lettering]\nfont = "fonts/letters.ttf"\nfamily = "mine.ufo"\n[lettering.swap]\n"4" = '
        '"my-four.glif"\n'
        '"7" = "their.ufo:seven"\n"5" = "five.open"\n[style]\nname = "mine.toml"\n',
    )
    recipe = load_recipe(
        write(
            "line.toml",
            'version = 1\nextends = "lines/base.toml"\n[lettering.swap]\n"9" = "my-nine.glif"\n',
        )
    )
    lines = tmp_path / "lines"
    assert recipe.font == lines / "fonts" / "letters.ttf"
    assert recipe.family == str(lines / "mine.ufo")
    assert recipe.style_name == str(lines / "mine.toml")
    assert dict(recipe.swaps) == {
        "4": str(lines / "my-four.glif"),
        "7": f"{lines / 'their.ufo'}:seven",
        "5": "five.open",
        "9": "my-nine.glif",
    }
    assert recipe.folder == tmp_path


@pytest.mark.parametrize("names", [("a",), ("a", "b"), ("a", "b", "c")])
def test_a_circle_is_refused_by_name(write, names):
    for name, base in zip(names, (*names[1:], names[0]), strict=True):
        write(f"{name}.toml", f'{HEAD}extends = "{base}.toml"\n')
    ring = " extends ".join(f"{name}.toml" for name in (*names, names[0]))
    path = write(
        f"{names[0]}.toml", f'{HEAD}extends = "{names[1] if len(names) > 1 else names[0]}.toml"\n'
    )
    assert (
        fault_of(path)
        == f"{names[-1]}.toml, line 3: extends: a recipe may not extend itself, as here: {ring}"
    )


def test_eight_may_stand_beneath_one_and_no_more(write):
    write("r0.toml", HEAD + 'title = "Lowest"\n')
    paths = [
        write(f"r{index}.toml", f'version = 1\nextends = "r{index - 1}.toml"\n')
        for index in range(1, 10)
    ]
    assert load_recipe(paths[7]).title == "Lowest"
    assert (
        fault_of(paths[8])
        == "r1.toml, line 2: extends: at most 8 recipes may stand beneath one, and here are more"
    )


@pytest.mark.parametrize(
    ("given", "sentence"),
    [
        (
            '"gone.toml"',
            (
                "extends must be the place of another recipe file, seen from this one's folder, "
                "and there is none at {}/gone.toml"
            ),
        ),
        (
            '"."',
            (
                "extends must be the place of another recipe file, seen from this one's folder, "
                "and there is none at {}"
            ),
        ),
        (
            "3",
            "extends must be the place of another recipe file, seen from this one's folder, not 3",
        ),
        (
            '["a.toml"]',
            (
                "extends must be the place of another recipe file, seen from this one's folder, "
                'not ["a.toml"]'
            ),
        ),
        (
            '"a\\u0000b"',
            (
                "extends must be the place of another recipe file, seen from this one's folder, "
                'not "a\\x00b"'
            ),
        ),
        (
            '"~nobody-of-this-name/x.toml"',
            (
                "extends must be the place of another recipe file, seen from this one's folder, "
                "and there is none at {}/~nobody-of-this-name/x.toml"
            ),
        ),
    ],
)
def test_what_is_no_recipe_cannot_be_extended(write, tmp_path, given, sentence):
    assert (
        fault_of(write("line.toml", f"{HEAD}extends = {given}\n"))
        == f"line.toml, line 3: {sentence.format(tmp_path)}"
    )


def test_a_name_too_long_for_a_file_is_told(write):
    assert "and there is none at" in fault_of(
        write("line.toml", f'{HEAD}extends = "{"a" * 1000}"\n')
    )


def test_every_file_of_a_chain_says_its_version(write):
    write("base.toml", "number = 7\n")
    line = write("line.toml", 'version = 1\nextends = "base.toml"\n')
    assert (
        fault_of(line)
        == "base.toml: version is required at the top, as version = 1, and is missing"
    )
    write("base.toml", "version = 2\nnumber = -7\n")
    assert (
        fault_of(line)
        == "base.toml, line 1: version must be 1, the one that this inkline reads, not 2; a "
        "newer inkline may read it"
    )


def test_a_base_that_is_no_toml_is_told_by_its_own_name(write):
    write("base.toml", "version = 1\nnumber =\n")
    assert fault_of(write("line.toml", 'version = 1\nextends = "base.toml"\n')).startswith(
        "base.toml, line 2: this is not TOML: "
    )


# Several kits from one file

KITS = (
    HEAD
    + """title = "Base"
[formats.standard]
[formats.tall]
[kits.english]
[kits.german]
title = "Deutsch"
number = 8
words.language = "de"
[kits.german.formats]
tall = "none"
"""
)


def test_each_kit_is_laid_over_the_rest_of_its_file():
    kits = recipes_from_text(KITS, source="evenings.toml", folder=Path())
    assert list(kits) == ["english", "german"]
    english, german = kits.values()
    assert (english.title, english.number, english.words.language, english.kit) == (
        "Base",
        number_of_kit(7, "english"),  # one of its own, lest the two be siblings
        "en",
        "english",
    )
    assert (german.title, german.number, german.words.language, german.kit) == (
        "Deutsch",
        8,
        "de",
        "german",
    )
    assert [one.name for one in english.formats] == ["standard", "tall"]
    assert [one.name for one in german.formats] == ["standard"]


def test_a_file_without_kits_is_one_recipe_without_a_name(write):
    path = write("one.toml", HEAD)
    assert load_recipes(path) == {"": load_recipe(path)}


def test_one_kit_of_several_is_asked_for_by_its_name(write):
    path = write("kits.toml", KITS)
    assert load_recipe(path, kit="german").title == "Deutsch"
    with pytest.raises(
        RecipeError,
        match=r'^kits\.toml, line 6: this recipe holds several kits, "english", "german"$',
    ) as several:
        load_recipe(path)
    assert several.value.remedies == (Remedy(action=Action.NAME_THE_KIT),)
    with pytest.raises(
        RecipeError,
        match=r'^kits\.toml, line 6: there is no kit "germn" in this recipe: it holds "english", '
        r'"german"; did you mean "german"\?$',
    ):
        load_recipe(path, kit="germn")
    with pytest.raises(
        RecipeError,
        match=r'^one\.toml: there is no kit "german" in this recipe: it has no \[kits\]$',
    ):
        load_recipe(write("one.toml", HEAD), kit="german")


def test_a_file_of_one_kit_is_that_kit(write):
    path = write("kits.toml", "version = 1\n[kits.only]\nnumber = 5\n")
    assert (load_recipe(path).number, load_recipe(path).kit) == (5, "only")


def test_kits_of_a_base_are_kits_of_what_extends_it(write):
    write("base.toml", KITS)
    kits = load_recipes(
        write(
            "line.toml",
            'version = 1\nextends = "base.toml"\ntitle = "Line"\n[kits.german.words]\nletters = '
            '"as written"\n[kits.fine]\n',
        )
    )
    assert {name: one.title for name, one in kits.items()} == {
        "english": "Line",
        "german": "Deutsch",
        "fine": "Line",
    }
    assert (kits["german"].words.language, kits["german"].words.letters) == ("de", "as written")


def test_faults_of_kits_are_told_once_and_where_they_stand():
    text = (
        HEAD + 'titel = "x"\n[kits.a.canvas]\nside = "3 %"\n[kits.b]\nnumber = '
        "-1\n[kits.b.formats.tall]\ncel = 1\n"
    )
    assert faults_of(text) == [
        (
            'evenings.toml, line 3: there is no key "titel" at the top of a recipe; did you mean '
            '"title"?'
        ),
        "evenings.toml, line 5: canvas.side must be a length with a unit, not the percentage 3 %",
        "evenings.toml, line 7: number must be a whole number from 0 to 999999999, not -1",
        'evenings.toml, line 9: there is no key "cel" in [formats.tall]; did you mean "cell"?',
    ]


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("kits = 3", "line 3: kits must be a table of kits, each begun by a line [kits.NAME]"),
        ("[kits]\na = 3", "line 4: kits.a must be a table, begun by a line [kits.a]"),
        (
            "[kits.A]",
            (
                "line 3: a kit's name must be up to 32 small letters a to z, digits and hyphens "
                'and must begin with a letter, not "A"'
            ),
        ),
        (
            "[kits.a]\nversion = 1",
            "line 4: kits.a.version must stand at the top of the file, for all its kits",
        ),
        (
            '[kits.a]\nextends = "b.toml"',
            "line 4: kits.a.extends must stand at the top of the file, for all its kits",
        ),
        (
            "[kits.a.kits.b]",
            "line 3: kits.a.kits must stand at the top of the file, for all its kits",
        ),
        (
            "".join(f"[kits.a{index}]\n" for index in range(25)),
            "line 3: kits must hold at most 24 tables, not 25",
        ),
    ],
)
def test_kits_that_are_none_are_told(text, sentence):
    assert fault_of(HEAD + text) == f"evenings.toml, {sentence}"


# Laws

NAMES = st.sampled_from(["a", "b", "c"])


TREES = st.recursive(
    st.integers(0, 9), lambda inner: st.dictionaries(NAMES, inner, max_size=3), max_leaves=8
)


TABLES = st.dictionaries(NAMES, TREES, max_size=3)


def layers(values, source):
    places = {path: FileLine(source=source, line=1) for path, _ in paths(values)}
    return Layers(values=values, places=places, source=source, folder=Path())


def paths(values, above=()):
    for name, value in values.items():
        yield ".".join((*above, name)), value
        if isinstance(value, dict):
            yield from paths(value, (*above, name))


@given(low=TABLES, high=TABLES)
@settings(max_examples=80, deadline=None)
def test_every_value_is_that_of_the_layer_which_its_place_names(low, high):
    below, above = layers(low, "low"), layers(high, "high")
    laid = layers_over(below, above)
    found = dict(paths(laid.values))
    assert set(laid.places) == set(found)
    for path, value in found.items():
        said = dict(paths(high if laid.places[path].source == "high" else low))
        assert path in said
        assert isinstance(value, dict) or said[path] == value
        assert laid.places[path].source == "high" or path not in dict(paths(high))


@given(low=TABLES, middle=TABLES, high=TABLES)
@settings(max_examples=60, deadline=None)
def test_layers_may_be_joined_from_either_end(low, middle, high):
    one, two, three = layers(low, "1"), layers(middle, "2"), layers(high, "3")
    left, right = (
        layers_over(layers_over(one, two), three),
        layers_over(one, layers_over(two, three)),
    )
    # Where the middle holds a plain value over a table, it cuts the lowest off from the highest;
    # joined from the other end it has already been replaced itself. So only trees of tables alone
    # are compared.
    if not any(not isinstance(value, dict) for _, value in paths(middle)):
        assert left.values == right.values


@given(values=TABLES)
@settings(max_examples=40, deadline=None)
def test_nothing_over_a_layer_leaves_it_as_it_is(values):
    assert layers_over(layers(values, "1"), layers({}, "2")).values == values
    assert layers_over(layers(values, "1"), layers(values, "2")).values == values


def test_a_base_in_another_folder_is_called_by_the_way_to_it(write):
    write("lines/base.toml", HEAD + "title = 3\n")
    assert fault_of(
        write("mine/base.toml", 'version = 1\nextends = "../lines/base.toml"\n')
    ).startswith("../lines/base.toml, line 3: title must")
    (write("lines/bytes.toml", "").parent / "bytes.toml").write_bytes(b"\xff")
    assert fault_of(
        write("mine/line.toml", 'version = 1\nextends = "../lines/bytes.toml"\n')
    ).startswith("../lines/bytes.toml: a recipe must be text")

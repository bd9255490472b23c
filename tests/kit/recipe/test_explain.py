"""Keys in words, by path or bare name; what is no key, with the nearest that is."""

import tomllib

import pytest

from inkline.errors import InputError
from inkline.kit.recipe.explain import ALL, entries, explanation_lines, schema_path
from inkline.kit.recipe.keys import KEYS, TABLES
from inkline.styles.files import style_fields


def test_every_key_of_recipes_and_styles_has_an_entry():
    assert set(entries()) == {key.path for key in KEYS} | {f"style.{key}" for key in style_fields()}


@pytest.mark.parametrize("path", list(entries()))
def test_a_key_is_explained_by_its_path_and_by_its_name(path):
    entry = entries()[path]
    lines = explanation_lines(path)
    flat = " ".join(" ".join(lines).split())
    assert lines[0] == path
    for part in (entry.about, entry.allowed, entry.default):
        assert " ".join(part.split()) in flat
    assert max(map(len, lines)) <= 100 or max(lines, key=len).strip() in entry.example[-1]
    if entry.name not in TABLES:  # that name means the table
        assert lines[0] in explanation_lines(entry.name)


@pytest.mark.parametrize("path", list(entries()))
def test_its_example_is_toml_that_sets_the_key(path):
    entry = entries()[path]
    values = tomllib.loads("\n".join(entry.example))
    assert "\n".join(explanation_lines(path)).count("Write:") == 1
    for name in path.replace(
        "formats.", "formats.standard." if "standard" in str(entry.example) else "formats.NAME."
    ).split("."):
        assert name in values
        values = values[name]


def test_a_key_in_full():
    assert explanation_lines("canvas.margin") == [
        "canvas.margin",
        "    From the edge of the canvas to the middle of the outermost rules.",
        (
            '    Allowed:  a length from 0 % to 40 % of the canvas side, such as "5 pt", "0.4 mm" '
            'or "1.5 %"'
        ),
        '    Default:  "2.4 %"',
        "    Write:    [canvas]",
        '              margin = "2.4 %"',
    ]


def test_defaults_are_told_for_each_format():
    (line,) = [line for line in explanation_lines("formats.cell") if "Default:" in line]
    assert (
        line == "    Default:  1.0, 1.25 in tall, 0.7 in wide, 1.6 in strip, 0.5 in week, 0.07 in "
        "day, 0.8 in small"
    )


def test_a_name_that_several_tables_have_is_explained_for_each():
    assert [line for line in explanation_lines("margin") if not line.startswith(" ") and line] == [
        "canvas.margin",
        "formats.margin",
        "words.margin",
    ]


@pytest.mark.parametrize(
    ("asked", "path"),
    [
        ("formats.tall.numeral", "formats.numeral"),
        ("each_format.numeral", "formats.numeral"),
        ("kits.german.words.language", "words.language"),
        ("kits.german.formats.tall.numeral", "formats.numeral"),
        ("[canvas]", "canvas"),
        (" Numeral ", "numeral"),
        ("formats.standard.shift.17", "formats.shift"),
        ("lettering.swap.4", "lettering.swap"),
        ("again.tall/dates-3/17", "again"),
        ("marks.2027-03-08", "marks"),
    ],
)
def test_a_key_may_be_asked_for_as_it_stands_in_a_recipe(asked, path):
    assert schema_path(asked) == path
    assert explanation_lines(asked) == explanation_lines(path)


def test_values_of_styles_may_be_asked_for_without_their_table():
    assert (
        explanation_lines("hand.drift")
        == explanation_lines("style.hand.drift")
        == explanation_lines("drift")
    )
    assert explanation_lines("hand") == explanation_lines("style.hand")
    assert explanation_lines("hand")[1] == "    where the point goes"


@pytest.mark.parametrize("table", TABLES)
def test_a_table_is_explained_with_its_keys(table):
    lines = explanation_lines(table)
    assert lines[0] == f"[{table}]"
    assert " ".join(TABLES[table].split()) in " ".join(" ".join(lines).split())
    own = "formats" if table == "each_format" else table
    assert {line for line in lines[1:] if line and not line.startswith(" ")} == {
        path for path, entry in entries().items() if entry.table == own
    }


def test_all_is_everything():
    lines = explanation_lines(ALL)
    assert set(entries()) <= set(lines)
    assert {f"[{table}]" for table in TABLES} <= set(lines)


@pytest.mark.parametrize(
    ("asked", "rest"),
    [
        ("numral", '"numral"; did you mean "numeral"?'),
        ("canvas.margn", '"canvas.margn"; did you mean "canvas.margin"?'),
        ("style.hand.drft", '"style.hand.drft"; did you mean "style.hand.drift"?'),
        ("zzzz", '"zzzz"'),
        (".", '"."'),
        ("formats.", '"formats."; did you mean "formats"?'),
    ],
)
def test_what_is_no_key_is_told(asked, rest):
    with pytest.raises(InputError) as caught:
        explanation_lines(asked)
    assert str(caught.value) == f"a recipe has no key and no table called {rest}"


def test_nothing_asked_is_the_top_of_a_recipe():
    assert explanation_lines("")[0] == "At the top of a recipe"
    assert "extends" in explanation_lines("")


def test_the_table_of_styles_names_the_tables_of_their_parts():
    text = " ".join(" ".join(explanation_lines("style")).split())
    assert (
        "style.hand (where the point goes), style.nib (how wide the ink is along the stroke)"
        in text
    )

"""Recipes damaged at random, in letters and in structure: a recipe comes, or its faults.

Never another error.
"""

import copy
import tomllib
from functools import cache
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from inkline.kit.recipe.file import Layers
from inkline.kit.recipe.key import FORMATS
from inkline.kit.recipe.keys import KEYS, TABLES
from inkline.kit.recipe.layers import kits_in
from inkline.kit.recipe.loading import load_recipes, recipes_from_text
from inkline.kit.recipe.model import Recipe
from inkline.kit.recipe.reading import read_recipe
from inkline.kit.recipe.text import EXAMPLES, recipe_text
from inkline.source.faults import RecipeError

SHARED = Path(__file__).parents[3] / "shared" / "recipes"
PIECES = [
    "[",
    "]",
    "[[",
    "]]",
    "{",
    "}",
    '"',
    "'",
    '"""',
    "=",
    ".",
    ",",
    "#",
    "\n",
    "\r",
    "\t",
    "\\u0000",
    "\\",
    "\x00",
    "\ufeff",
    "é",
    "0",
    "9" * 40,
]
PIECES += [
    "1e999",
    "nan",
    "-inf",
    "0x" + "f" * 70,
    "1_0",
    "true",
    "2027-02-30",
    "12:00:00",
    "[kits.a]",
    "[formats.tall]",
    '[formats]\ntall = "none"',
]
PIECES += [
    "a." * 30,
    "[" * 30,
    'extends = "x.toml"',
    "version = 2",
    "number = -1",
    '"17" = ["1 px", "1 px"]',
    " %",
    "px",
    "\u2028",
    "\N{KHMER DIGIT ONE}",
]
EVERY_KEY = """version = 1
number = 5
[marks]
"2027-03-08" = "ring"
[again]
"tall/dates-3/17" = 1
[style]
name = "dip-pen"
[style.hand]
drift = "90 um"
[formats.tall.shift]
"17" = ["3 px", "-1 px"]
[lettering.swap]
"4" = "four.open"
[kits.one]
[kits.two.words]
language = ["ar", "de"]
"""


@cache
def texts():
    return [
        EVERY_KEY,
        recipe_text(5),
        *(path.read_text(encoding="utf-8") for path in sorted(SHARED.glob("*.toml"))),
    ]


def is_told(faults):
    return bool(faults) and all(
        fault.sentence and fault.sentence.isprintable() and len(str(fault)) < 900
        for fault in faults
    )


def outcome(read):
    """The recipes that `read` gives, or the error that it raises."""
    try:
        return read()
    except RecipeError as error:
        return error


def check(found):
    if isinstance(found, RecipeError):
        assert is_told(found.faults)
    else:
        assert found
        assert all(isinstance(recipe, Recipe) for recipe in found.values())


def from_text(text):
    return recipes_from_text(text, source="dusk.toml", folder=Path("/nowhere"))


@given(data=st.data())
@settings(max_examples=120, deadline=None)
def test_letters_put_in_taken_out_or_swapped_give_a_recipe_or_its_faults(data):
    text = data.draw(st.sampled_from(texts()))
    for _ in range(data.draw(st.integers(1, 4))):
        start = data.draw(st.integers(0, len(text)))
        end = min(len(text), start + data.draw(st.integers(0, 30)))
        text = (
            text[:start]
            + data.draw(st.one_of(st.sampled_from(PIECES), st.text(max_size=6)))
            + text[end:]
        )
    check(outcome(lambda: from_text(text)))


@given(data=st.data())
@settings(max_examples=60, deadline=None)
def test_lines_moved_doubled_or_dropped_give_a_recipe_or_its_faults(data):
    lines = data.draw(st.sampled_from(texts())).split("\n")
    for _ in range(data.draw(st.integers(1, 6))):
        line = data.draw(st.sampled_from(lines))
        lines.insert(data.draw(st.integers(0, len(lines))), line)
        lines.pop(data.draw(st.integers(0, len(lines) - 1)))
    check(outcome(lambda: from_text("\n".join(lines))))


@given(st.binary(max_size=60))
@settings(max_examples=30, deadline=None)
def test_files_of_any_bytes_give_a_recipe_or_its_faults(tmp_path_factory, data):
    path = tmp_path_factory.mktemp("any") / "dusk.toml"
    path.write_bytes(b"version = 1\nnumber = 1\n" + data)
    check(outcome(lambda: load_recipes(path)))


SCALARS = st.one_of(
    st.booleans(),
    st.integers(-(2**63), 2**63),
    st.floats(),
    st.text(max_size=12),
    st.sampled_from(
        [
            *(word for key in KEYS for word in key.choices),
            *map(str, EXAMPLES.values()),
            "5 pt",
            "1e400 mm",
            "none",
            "~x/y",
            "x" * 400,
        ]
    ),
    st.dates(),
    st.times(),
    st.datetimes(),
)
NAMES = st.one_of(
    st.sampled_from(
        [
            *TABLES,
            *(key.name for key in KEYS),
            "standard",
            "tall",
            "strip",
            "hand",
            "edge",
            "drift",
            "17",
            "a",
            "extends",
            "x.y",
            "",
        ]
    ),
    st.text(max_size=5),
)
VALUES = st.recursive(
    SCALARS,
    lambda inner: st.one_of(st.lists(inner, max_size=4), st.dictionaries(NAMES, inner, max_size=3)),
    max_leaves=6,
)


def tables_in(values):
    yield values
    for value in values.values():
        if isinstance(value, dict):
            yield from tables_in(value)


@given(data=st.data())
@settings(max_examples=120, deadline=None)
def test_any_value_in_any_place_gives_a_recipe_or_its_faults(data):
    values = copy.deepcopy(data.draw(st.sampled_from([tomllib.loads(text) for text in texts()])))
    for _ in range(data.draw(st.integers(1, 4))):
        table = data.draw(st.sampled_from(list(tables_in(values))))
        names = NAMES if not table else st.one_of(NAMES, st.sampled_from(list(table)))
        table[data.draw(names)] = data.draw(VALUES)
    layers = Layers(values=values, places={}, source="dusk.toml", folder=Path("/nowhere"))
    for name, one in kits_in(layers).items():
        read = read_recipe(one, kit=name)
        assert (read.recipe is not None) if not read.faults else is_told(read.faults)


@given(data=st.data())
@settings(max_examples=120, deadline=None)
def test_chains_of_damaged_files_give_a_recipe_or_its_faults(tmp_path_factory, data):
    folder = tmp_path_factory.mktemp("chain")
    names = ["a.toml", "b.toml", "c.toml"]
    for name in names:
        lines = data.draw(
            st.lists(
                st.sampled_from([line for text in texts() for line in text.split("\n")]),
                max_size=12,
            )
        )
        above = data.draw(
            st.sampled_from([*names, "gone.toml", "", ".", "~", "c.toml/x", "\\u0000"])
        )
        head = [
            "version = 1",
            *(["number = 1"] if data.draw(st.booleans()) else []),
            f'extends = "{above}"',
        ]
        (folder / name).write_text("\n".join([*head, *lines]), encoding="utf-8")
    check(outcome(lambda: load_recipes(folder / "a.toml")))


def test_the_recipe_to_be_damaged_is_a_good_one():
    assert list(from_text(EVERY_KEY)) == ["one", "two"]
    assert set(tomllib.loads(EVERY_KEY)) | {FORMATS} <= {"version", "number", *TABLES}

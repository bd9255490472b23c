"""The published schema against its standard, and against what the reader of recipes takes.

Reference: JSON Schema, draft 2020-12, as the independent library jsonschema reads it.
"""

import json
import tomllib
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from inkline.kit.recipe import kinds
from inkline.kit.recipe.explain import entries
from inkline.kit.recipe.file import Layers
from inkline.kit.recipe.formats import default_values
from inkline.kit.recipe.json_schema import recipe_schema, recipe_schema_text
from inkline.kit.recipe.key import FORMATS
from inkline.kit.recipe.keys import EXTENDS, KEYS, TABLES
from inkline.kit.recipe.layers import kits_in
from inkline.kit.recipe.reading import read_recipe
from inkline.kit.recipe.text import EXAMPLES, recipe_text

SHARED = Path(__file__).parents[3] / "shared"
KEYS_BY_PATH = {key.path: key for key in KEYS if key.name not in ("version", EXTENDS)}


@cache
def validator():
    return Draft202012Validator(recipe_schema())


def schema_takes(values):
    return validator().is_valid(values)


def reader_takes(values):
    layers = Layers(values=values, places={}, source="x", folder=Path())
    return not any(read_recipe(kit).faults for kit in kits_in(layers).values())


def recipe_with(path, value, **others):
    """A recipe that says `value` at `path` and otherwise only what it must."""
    *tables, name = path.split(".")
    tables = ["formats", "standard"] if tables == [FORMATS] else tables
    values = {"version": 1, "number": 1}
    table = values
    for one in tables:
        table = table.setdefault(one, {})
    table |= {**others, name: value}
    return values


def test_it_is_a_schema_by_the_standard_and_the_published_file_is_what_is_made():
    Draft202012Validator.check_schema(recipe_schema())
    published = (SHARED / "recipe.schema.json").read_text(encoding="utf-8")
    assert published == recipe_schema_text(), (
        "make it again: inkline recipe schema > shared/recipe.schema.json"
    )
    assert json.loads(published) == recipe_schema()


@pytest.mark.parametrize(
    "path", sorted((SHARED / "recipes").glob("*.toml")), ids=lambda path: path.stem
)
def test_good_recipes_are_valid(path):
    assert schema_takes(tomllib.loads(path.read_text(encoding="utf-8")))


def test_the_printed_recipe_is_valid():
    assert schema_takes(tomllib.loads(recipe_text(5)))


def properties(path):
    schema = recipe_schema()
    *tables, name = path.split(".")
    at = schema
    for table in tables:
        at = (
            schema["$defs"]["format" if table == FORMATS else table]
            if at is schema
            else at["properties"][table]
        )
    return at["properties"][name]


def test_every_key_is_described_with_its_range_choices_and_default():
    for path, entry in entries().items():
        found = properties(path)
        assert entry.about in found["description"]
        assert entry.allowed in found["description"]
    for key in KEYS:
        found = properties(key.path)
        assert found.get("default") == key.default
        assert set(key.choices) <= set(json.dumps(found, ensure_ascii=False).split('"'))
        if key.kind in (kinds.WHOLE, kinds.NUMBER):
            assert (found["minimum"], found["maximum"]) == (key.low, key.high)


def test_every_table_is_there():
    assert set(TABLES) <= set(recipe_schema()["properties"])


@pytest.mark.parametrize(
    "path", [path for path, key in KEYS_BY_PATH.items() if key.table != "" or key.name != "number"]
)
def test_defaults_are_taken_by_both(path):
    key = KEYS_BY_PATH[path]
    for name in ("standard", *key.defaults):
        value = default_values(name, None)[key.name] if key.table == FORMATS else key.default
        values = recipe_with(path, value)
        if key.table == FORMATS:
            values[FORMATS] = {name: values[FORMATS].pop("standard")}
        assert schema_takes(values)
        assert reader_takes(values)


NEEDED = {"formats.shows": {"columns": 31, "rows": 1}, "formats.weeks": {}}
"""What else an example of a key needs."""
NO_SUCH_FILE = {"lettering.family", "lettering.font", "files.licence_file", "guide.sentences"}
"""Their examples name files of the reader's own."""


@pytest.mark.parametrize("path", [path for path in EXAMPLES if path in KEYS_BY_PATH])
def test_examples_are_taken_by_both(path):
    values = recipe_with(path, EXAMPLES[path], **NEEDED.get(path, {}))
    assert schema_takes(values)
    assert reader_takes(values) or path in NO_SUCH_FILE


WORDS = sorted(
    {word for key in KEYS for word in key.choices}
    | {
        "",
        "x",
        "1 pt",
        "2 %",
        "0.4mm",
        "5",
        "5 furlongs",
        "-1 %",
        "2027-2028",
        "2028-2027",
        "27-28",
        "r5c4",
        "c0",
        "{name}",
    }
    | {
        "{nam}",
        "{name",
        "{{name}}",
        "{name}-{days}",
        "en",
        "e",
        "de",
        "scullery",
        "round-pen",
        "dip-pen",
        "1e400 mm",
        "fit",
        "canvas",
    }
)
NUMBERS = st.one_of(
    st.integers(-3, 60),
    st.sampled_from([1582, 1583, 2027, 9999, 10_000, 10**9]),
    st.floats(-2, 60, width=16),
    st.just(2.5),
)
SCALARS = st.one_of(NUMBERS, st.sampled_from(WORDS), st.booleans())
VALUES = st.one_of(
    SCALARS,
    st.lists(SCALARS, max_size=5),
    st.lists(st.sampled_from(["1 %", "2 pt"]), min_size=3, max_size=5),
    st.dictionaries(
        st.sampled_from(["17", "31", "32", "wght", "4", "ab"]),
        st.one_of(SCALARS, st.just(["1 px", "2 px"])),
        max_size=2,
    ),
)
EITHER_WAY = {
    # what only a file, a list of languages, or other keys can tell
    *("lettering.family", "lettering.font", "lettering.swap", "style.name", "words.language"),
    "files.licence_file",
    # a month's columns are seven, and strips hold a month; shared sixth weeks need a grid of five
    # rows
    *("guide.language", "guide.sentences"),
    *("formats.columns", "formats.shows", "formats.sixth_week", "formats.weeks"),
}
"""Keys of which the schema says less than the reader, so that only what the reader takes is
compared."""


def beyond_schema(key, value):
    """Whether a schema cannot know that the reader refuses `value`.

    So it is with lengths out of range, years out of order, and whole numbers written as 5.0.
    """
    flat = (
        value
        if isinstance(value, list)
        else list(value.values())
        if isinstance(value, dict)
        else [value]
    )
    flat = [inner for one in flat for inner in (one if isinstance(one, list) else [one])]
    texts = [one for one in flat if isinstance(one, str)]
    with_unit = any(text[-1:] in "%mtx" for text in texts)
    whole_floats = any(isinstance(one, float) and one == int(one) for one in flat)
    measured = key.kind in (
        kinds.LENGTH,
        kinds.SIDE,
        kinds.SHARE_OR_LENGTH,
        kinds.MARGIN,
        kinds.PERCENT,
        kinds.SHIFTS,
    )
    years = key.kind in (kinds.YEARS, kinds.SPANS) and bool(texts)
    return whole_floats or years or (measured and with_unit)


@pytest.mark.parametrize("path", KEYS_BY_PATH)
@given(data=st.data())
@settings(max_examples=25, deadline=None)
def test_the_schema_and_the_reader_agree(path, data):
    key, value = KEYS_BY_PATH[path], data.draw(VALUES)
    values = recipe_with(path, value)
    taken = reader_takes(values)
    if taken:
        assert schema_takes(values)
    elif path not in EITHER_WAY and not beyond_schema(key, value):
        assert not schema_takes(values)


@pytest.mark.parametrize(
    "values",
    [
        {"number": 1},
        {"version": 1},
        {"version": 2, "number": 1},
        {"version": 1, "number": 1, "titel": "x"},
        {"version": 1, "number": 1, "canvas": 3},
        {"version": 1, "number": 1, "formats": {"Tall": {}}},
        {"version": 1, "number": 1, "formats": {"words": {}}},
        {"version": 1, "number": 1, "formats": {"tall": 3}},
        {"version": 1, "number": 1, "each_format": {"numerl": 1}},
        {"version": 1, "number": 1, "kits": {"a": {"version": 1}}},
        {"version": 1, "number": 1, "kits": {"A": {}}},
        {"version": 1, "number": 1, "kits": {f"a{index}": {} for index in range(25)}},
        {"version": 1, "number": 1, "marks": {"2027-3-8": "ring"}},
        {"version": 1, "number": 1, "marks": {"03-08": "star"}},
        {"version": 1, "number": 1, "again": {"tall/dates-3": 0}},
        {"version": 1, "number": 1, "style": {"hand": {"drft": "3 um"}}},
        {"version": 1, "number": 1, "style": {"hand": {"drift": "3 px"}}},
        {"version": 1, "number": 1, "style": {"hand": {"pinned": 2}}},
        {"version": 1, "number": 1, "style": {"nib": {"ends": "square"}}},
        {"version": 1, "number": 1, "style": {"hand": 3}},
    ],
)
def test_both_refuse(values):
    assert not schema_takes(values)
    if (
        values.get("version") == 1 and "number" in values
    ):  # the version is checked as a file is opened
        assert not reader_takes(values)


@pytest.mark.parametrize(
    "values",
    [
        {
            "version": 1,
            "kits": {"a": {"number": 1}, "b": {"number": 2, "formats": {"tall": "none"}}},
        },
        {"version": 1, "number": 1, "formats": {"tall": "none"}},
        {"version": 1, "number": 1, "each_format": {"numeral": 0.3}, "formats": {"tall": {}}},
        {"version": 1, "number": 1, "marks": {"2028-02-29": "ring", "02-29": "dot"}},
        {"version": 1, "number": 1, "again": {"tall/dates-3": 2}},
        {
            "version": 1,
            "number": 1,
            "style": {
                "hand": {"drift": "90 um", "speed": "4 cm/s", "tilt": "1 deg", "pinned": 0.1}
            },
        },
    ],
)
def test_both_take(values):
    assert schema_takes(values)
    assert reader_takes(values)


def style_values():
    return [
        entry.path.removeprefix("style.")
        for entry in entries().values()
        if entry.path.startswith("style.") and entry.name != "name"
    ]


@pytest.mark.parametrize("path", style_values())
@given(
    value=st.one_of(
        st.sampled_from(
            ["30 um", "0.1 mm", "20 mm/s", "2 deg", "own", "tapered", "1 px", "2 %", "x", "3"]
        ),
        NUMBERS,
        st.booleans(),
    )
)
@settings(max_examples=10, deadline=None)
def test_the_schema_and_the_reader_agree_on_styles(path, value):
    part, _, name = path.rpartition(".")
    table = {part: {name: value}} if part else {name: value}
    values = {"version": 1, "number": 1, "style": {"name": "round-pen", **table}}
    # Units are the schema's business; how long a length with a good unit may be, or what fits
    # together, is the reader's.
    if reader_takes(values):
        assert schema_takes(values)
    elif not isinstance(value, str) and path not in (
        "hand.run_over_share",
        "hand.fall_short_share",
    ):
        assert not schema_takes(values)

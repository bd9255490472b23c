"""The layout on the page: faults with what mends them, kits, languages, fonts, moved numerals."""

import tomllib

import pytest

from inkline.desk.editing import value_at
from tests.desk.conftest import RECIPE

TABLE = "[formats.standard]\ncell = 1.0\n"
WEEKS = '[formats.standard]\nweek_numbers = "iso"\nmargin = ["30 px", "12 px", "12 px", "12 px"]\n'


def recipe_with(format_lines):
    return RECIPE.replace(TABLE, f"{TABLE}{format_lines}\n")


FAULTY = {
    "numeral": recipe_with("numeral = 1.2"),
    "gap": recipe_with("gap = 0.0"),
    "rule": recipe_with('rule = "60 px"'),
    "shared numeral": recipe_with('sixth_week = "shared"\nshared_numeral = 1.0\nnumeral = 0.4'),
    "inset": recipe_with('block_inset = "40 px"'),
    "inset as a share": recipe_with("block_inset = 0.45"),
    "corner": recipe_with('block_corner = "90 px"'),
    "gutter": recipe_with('column_gutter = "1 px"'),
    "gutter as a share": recipe_with("column_gutter = 0.01"),
    "weekday": recipe_with("weekday = 1.0"),
    "cell": recipe_with("").replace("cell = 1.0", "cell = 40"),
    "words": RECIPE.replace("[words]\n", '[words]\nheight = "400 px"\n'),
    "margin": RECIPE.replace("[canvas]\n", '[canvas]\nmargin = "1 px"\n'),
    "stem": recipe_with("used_at = 10\nstem = 30"),
    "week numbers": RECIPE.replace(TABLE, WEEKS),
    "cut": recipe_with('blocks = "cut"\ngap_from = "rules"\ngap = 0.15\nnumeral = 0.56'),
}


def pressed(client, faults):
    """What is left once the first fix of the first of `faults` is made."""
    if not faults:
        return []
    return client.post("/mend", json=faults[0]["fixes"][0]).json()["faults"]


@pytest.mark.parametrize("text", FAULTY.values(), ids=FAULTY)
def test_each_fix_mends_its_fault(client, desk, text):
    desk.document.put(text)
    faults = client.get("/state").json()["faults"]
    fixes = [(fault, fix) for fault in faults for fix in fault["fixes"]]
    assert fixes
    for fault, fix in fixes:
        came = client.post("/mend", json=fix)
        assert came.status_code == 200, came.text
        left = came.json()["faults"]
        assert fault["sentence"] not in {one["sentence"] for one in left}
        for _ in range(3):  # what is within its range may still be too much for the rest
            left = pressed(client, [one for one in left if one["key"] == fix["key"]])
        assert fix["key"] not in {one["key"] for one in left}
        desk.document.put(text)


def test_a_key_is_as_usual_again(client, desk):
    desk.document.put(recipe_with("numeral = 0.4"))
    client.post("/mend", json={"key": "formats.standard.numeral", "value": None})
    assert value_at(desk.document.text, ("formats", "standard", "numeral")) is None


@pytest.mark.parametrize(
    "asked",
    [
        {"key": "formats.standard.nothing", "value": "1"},
        {"key": "style.edge", "value": "1"},
        {"key": "formats.standard.numeral", "value": "[["},
        {"key": "formats.standard.numeral", "value": 3},
        {"key": 7},
    ],
)
def test_what_mends_nothing_is_refused(client, desk, asked):
    before = desk.document.text
    assert client.post("/mend", json=asked).status_code == 422
    assert desk.document.text == before


def test_languages_are_offered_and_taken(client, desk):
    (row,) = (
        row
        for table in client.get("/layout").json()
        for row in table["rows"]
        if row["way"] == ["words", "language"]
    )
    assert {"German", "Vietnamese", "Greek"} <= set(row["named"].values())
    came = client.post("/set", json={"way": row["way"], "typed": ["en", "de"]})
    assert came.status_code == 200
    assert tomllib.loads(desk.document.text)["words"]["language"] == ["en", "de"]
    assert any("-de" in one["name"] for one in came.json()["stamps"])


def test_notes_are_told(client, desk):
    desk.document.put(f"{RECIPE}\n[formats.tal]\n")
    remarks = client.get("/remarks").json()
    assert any('"tall"' in note for note in remarks["notes"])
    assert remarks["licences"] == []


def test_a_font_is_kept_beside_the_recipe_and_says_its_licence(client, desk, font_file):
    data = font_file.read_bytes()
    folder = desk.document.path.parent
    for wanted in ("my letters.ttf", "my letters.ttf"):
        came = client.post("/font", content=data, headers={"x-inkline-file": "My%20Letters.TTF"})
        assert came.status_code == 200, came.text
        assert value_at(desk.document.text, ("lettering", "font")).lower() == wanted
    (kept,) = folder.glob("*.[tT]*[fF]")
    assert kept.read_bytes() == data
    (said,) = client.get("/remarks").json()["licences"]
    assert "The licence text decides" in said
    kept.write_bytes(b"another")
    client.post("/font", content=data, headers={"x-inkline-file": "My%20Letters.TTF"})
    assert kept.read_bytes() == b"another"
    assert len(list(folder.glob("*.[tT]*[fF]"))) == 2


@pytest.mark.parametrize(
    ("name", "data"),
    [
        ("letters.ttf", b"no font at all"),
        ("letters.exe", b"MZ"),
        ("../../away.ttf", b""),
        ("", b""),
    ],
)
def test_what_is_no_font_is_refused_and_not_kept(client, desk, name, data):
    before = desk.document.text, sorted(desk.document.path.parent.iterdir())
    came = client.post("/font", content=data, headers={"x-inkline-file": name})
    assert came.status_code == 422
    assert came.json()["sentence"]
    assert (desk.document.text, sorted(desk.document.path.parent.iterdir())) == before


def test_a_numeral_is_moved_and_comes_back(client, desk):
    name = "standard/dates-3/17"
    before = desk.document.text
    for _ in range(2):
        state = client.post("/nudge", json={"name": name, "right": 1, "lower": -1}).json()
    assert state["shifts"] == {"standard/17": [2.0, -2.0]}
    assert value_at(desk.document.text, ("formats", "standard", "shift", "17")) == ["2 px", "-2 px"]
    state = client.post("/nudge", json={"name": name, "right": -2, "lower": 2}).json()
    assert state["shifts"] == {}
    assert tomllib.loads(desk.document.text) == tomllib.loads(before)
    client.post("/nudge", json={"name": name, "right": 1, "lower": 0})
    assert client.post("/put-back", json={"name": name}).json()["shifts"] == {}


@pytest.mark.parametrize(
    "asked",
    [
        {"name": "standard/grid-5/rules", "right": 1, "lower": 0},
        {"name": "17", "right": 1, "lower": 0},
        {"name": "standard/dates-3/17", "right": 1e9, "lower": 0},
        {"name": "standard/dates-3/17", "right": "1", "lower": 0},
    ],
)
def test_only_numerals_are_moved_and_not_far(client, desk, asked):
    before = desk.document.text
    assert client.post("/nudge", json=asked).status_code == 422
    assert desk.document.text == before


def test_another_form_is_taken_everywhere(client):
    forms = client.post("/forms", json={"characters": "4"}).json()
    form = forms["4"][0]
    state = client.post("/form", json={"character": "4", "form": form}).json()
    assert state["faults"] == []
    assert state["swaps"] == {"4": form}
    assert client.post("/forms", json={"characters": "4"}).json() == forms
    assert client.post("/form", json={"character": "4", "form": None}).json()["swaps"] == {}


def test_a_kit_among_several_is_looked_at_and_turned(client, desk):
    kits = '\n[kits.plain]\ntitle = "Plain"\n\n[kits.dark]\ntitle = "Dark"\n'
    desk.document.put(f"{RECIPE}{kits}[kits.dark.formats.standard]\nnumeral = 0.3\n")
    state = client.post("/kit", json={"name": "dark"}).json()
    assert (state["kits"], state["kit"], state["title"]) == (["plain", "dark"], "dark", "Dark")
    client.post("/set", json={"way": ["formats", "standard", "numeral"], "typed": "0.35"})
    client.post("/set", json={"way": ["formats", "standard", "gap"], "typed": "0.12"})
    said = tomllib.loads(desk.document.text)
    assert said["kits"]["dark"]["formats"]["standard"]["numeral"] == 0.35
    assert said["formats"]["standard"]["gap"] == 0.12
    assert client.post("/kit", json={"name": "none"}).status_code == 422

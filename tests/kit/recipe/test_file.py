"""Recipe files: what can be read at all, and what is said of the rest."""

import os
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from recipe_texts import LEAST, faults_of

from inkline.chance import DEFAULT_NUMBER
from inkline.kit.recipe.file import own_layer
from inkline.kit.recipe.loading import load_recipe
from inkline.source.faults import RecipeError


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


@pytest.mark.parametrize(
    "path", sorted(Path(__file__).parents[1].glob("data/*.toml")), ids=lambda p: p.stem
)
def test_example_recipes_can_be_read(path):
    assert load_recipe(path).title.startswith("Evenings")


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


@pytest.mark.parametrize(
    ("line", "sentence"),
    [
        ("gap = 0,15", "numbers are written with a point: gap = 0.15, not 0,15"),
        ("words.height=-1,5", "numbers are written with a point: words.height = -1.5, not -1,5"),
    ],
)
def test_a_comma_for_a_point_is_told(line, sentence):
    with pytest.raises(RecipeError) as caught:
        own_layer(f"version = 1\n[formats.one]\n{line}\n", source="a.toml", folder=Path())
    (fault,) = caught.value.faults
    assert (fault.line, fault.sentence) == (3, sentence)


def test_other_commas_are_no_points():
    for line in ("gap = 0,1,2", 'gap = "0",15', "gap = 2027,2028x"):
        with pytest.raises(RecipeError, match="this is not TOML"):
            own_layer(f"version = 1\n{line}\n", source="a.toml", folder=Path())

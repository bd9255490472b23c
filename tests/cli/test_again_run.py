"""Other drawings from the command line: shown, refused, taken into the recipe."""

import tomllib

import pytest

from inkline.cli.running import run

RECIPE = """\
version = 1
number = 31
[canvas]
side = "300 px"   # small
[formats.standard]
"""
NAME = "standard/dates-3/17"


@pytest.fixture
def recipe(tmp_path):
    path = tmp_path / "harbour.toml"
    path.write_text(RECIPE)
    return path


def test_a_sheet_is_written_once(tmp_path, recipe, said):
    out = tmp_path / "choices.png"
    assert run(["again", NAME, str(recipe), "--show", "2", "-o", str(out)]) == 0
    assert "as drawn 0, 1; 0 is what the recipe has now" in " ".join(said()[0])
    before = out.read_bytes()
    assert run(["again", NAME, str(recipe), "-o", str(out)]) == 2
    assert "exists already" in " ".join(said()[1])
    assert out.read_bytes() == before


def test_one_is_taken_and_comments_stay(recipe, said):
    assert run(["again", NAME, str(recipe), "--take", "4"]) == 0
    assert f'says "{NAME}" = 4 under [again] now' in " ".join(said()[0])
    text = recipe.read_text()
    assert "# small" in text
    assert tomllib.loads(text)["again"] == {NAME: 4}
    assert run(["again", NAME, str(recipe), "--take", "0"]) == 0
    assert tomllib.loads(recipe.read_text()) == tomllib.loads(RECIPE)


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        ([NAME], "--out: a picture's name is required"),
        ([NAME, "-o", "choices.jpg"], "must end in .png"),
        (["standard/dates-3/99", "--take", "2"], "is called"),
        ([NAME, "--show", "99"], "--show"),
    ],
)
def test_what_cannot_be_done_is_refused(recipe, said, words, sentence):
    name, *options = words
    assert run(["again", name, str(recipe), *options]) == 2
    assert sentence in " ".join(said()[1])
    assert recipe.read_text() == RECIPE


def test_there_must_be_a_recipe_to_write_into(said):
    assert run(["again", NAME, "--take", "2"]) == 2
    assert "no recipe to write into" in " ".join(said()[1])

"""`inkline recipe` as a person meets it.

It gives a recipe to start from, explains keys, and looks recipes over.
"""

import json
import re
import tomllib

import pytest

from inkline.cli import commands
from inkline.cli.running import run
from inkline.kit.check import check_recipe_file
from inkline.kit.recipe.explain import explanation_lines
from inkline.kit.recipe.json_schema import recipe_schema
from inkline.kit.recipe.loading import load_recipe
from inkline.kit.recipe.text import recipe_text

HEAD = "version = 1\nnumber = 7\n"


def test_help_names_what_it_does(said):
    assert run(["recipe", "--help"]) == 0
    out = "\n".join(said()[0])
    for word in (
        "--out",
        "--explain",
        "check",
        "schema",
        "inkline recipe --explain numeral",
        "inkline recipe check my-recipe.toml",
    ):
        assert word in out


def test_a_key_is_explained(said):
    assert run(["recipe", "--explain", "canvas.margin"]) == 0
    assert said() == (explanation_lines("canvas.margin"), [])


def test_all_keys_are_explained(said):
    assert run(["recipe", "--explain", "all"]) == 0
    out, err = said()
    assert (out, err) == (explanation_lines("all"), [])


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        (
            ["--explain", "numral"],
            'a recipe has no key and no table called "numral"; did you mean "numeral"?',
        ),
        (
            ["--explain", "numeral", "-o", "x.toml"],
            "--explain and -o are two wishes; give one of them",
        ),
        (["--explain"], "Option '--explain' requires an argument."),
        (["check"], "Missing argument 'RECIPE.toml...'."),
        (["chek"], "No such command 'chek'"),
    ],
)
def test_what_a_person_gets_wrong_is_one_line(said, arguments, sentence):
    assert run(["recipe", *arguments]) == 2
    out, err = said()
    assert (out, len(err)) == ([], 1)
    assert err[0].startswith(f"inkline: {sentence}")


def test_a_good_recipe_is_told_with_what_it_will_hold(tmp_path, said):
    path = tmp_path / "dusk.toml"
    path.write_text(recipe_text(5))
    (kit,) = check_recipe_file(path).kits
    parts = ", ".join(f"{number} in {folder}" for folder, number in kit.stamps.items())
    assert run(["recipe", "check", str(path)]) == 0
    sentence = f'dusk.toml: all is well; "A year of evenings" will hold 59 stamps: {parts}'
    (line,), err = said()
    assert err == []
    assert re.fullmatch(re.escape(sentence) + r"; to draw them takes about \d+ (s|min)", line)


def test_kits_are_told_one_by_one(tmp_path, said):
    path = tmp_path / "dusk.toml"
    path.write_text(HEAD + '[formats.standard]\n[kits.one]\n[kits.two]\ntitle = "Two"\n')
    assert run(["recipe", "check", str(path)]) == 0
    (one, two), err = said()
    assert err == []
    assert one.startswith('dusk.toml, kit one: all is well; "A year of evenings" will hold ')
    assert two.startswith('dusk.toml, kit two: all is well; "Two" will hold ')


def test_a_good_recipe_is_well(tmp_path, said):
    path = tmp_path / "dusk.toml"
    path.write_text(HEAD + 'title = "Dusk"\n[formats.standard]\n')
    assert run(["recipe", "check", str(path)]) == 0
    out, err = said()
    assert (len(out), err) == (1, [])
    assert out[0].startswith('dusk.toml: all is well; "Dusk" will hold ')


def test_all_faults_of_all_files_are_lines(tmp_path, said):
    (tmp_path / "a.toml").write_text(HEAD + 'titel = "x"\n[style.hand]\ndrift = 3\n')
    (tmp_path / "b.toml").write_text(HEAD + "[formats.standard]\nweekday = 1.0\n")
    (tmp_path / "c.toml").write_text(HEAD + "[formats.standard]\n")
    files = [str(tmp_path / name) for name in ("a.toml", "b.toml", "c.toml", "gone.toml")]
    assert run(["recipe", "check", *files]) == 2
    out, err = said()
    assert [line.split(":")[0] for line in out] == ["c.toml"]
    assert [line.split(": ")[1] for line in err] == [
        "a.toml, line 3",
        "a.toml, line 5",
        "a.toml",
        "b.toml, line 4",
        "gone.toml",
    ]
    assert (
        err[0]
        == 'inkline: a.toml, line 3: there is no key "titel" at the top of a recipe; did you mean '
        '"title"?'
    )
    assert err[2] == "inkline: a.toml: layout and letters are looked at once these are mended"
    assert err[3].startswith("inkline: b.toml, line 4: formats.standard.weekday must be at most 0.")
    assert "the recipe cannot be read" in err[4]


def test_a_printed_recipe_says_how_to_go_on_and_has_the_lines_of_the_default_one(capsys):
    assert run(["recipe"]) == 0
    printed = capsys.readouterr().out.splitlines()
    assert printed[:4] == [
        (
            "# The recipe of a stamp kit. Change what you like and run: inkline kit THIS-FILE -o "
            "FOLDER"
        ),
        (
            "# Keep the version and the drawing number; every other value holds without its line "
            "too, so delete at will."
        ),
        (
            "# What a key does and what it may be: inkline recipe --explain KEY (or: all). To look "
            "a recipe over, nothing"
        ),
        "# drawn: inkline recipe check THIS-FILE",
    ]
    assert len(printed) == len(recipe_text(5).splitlines())


def test_the_schema_is_printed(said):
    assert run(["recipe", "schema"]) == 0
    assert json.loads("\n".join(said()[0])) == recipe_schema()


def test_a_recipe_is_still_printed_without_a_wish(said):
    assert run(["recipe"]) == 0
    assert tomllib.loads("\n".join(said()[0]))["version"] == 1
    assert "check" in commands.recipe.commands


def test_a_recipe_is_printed_with_a_number_of_its_own(said):
    assert run(["recipe"]) == 0
    first = tomllib.loads("\n".join(said()[0]))
    assert run(["recipe"]) == 0
    second = tomllib.loads("\n".join(said()[0]))
    assert first["number"] != second["number"]
    assert 1 <= first["number"] <= 999_999_999


def test_a_recipe_is_written_and_never_over_another_file(tmp_path, said):
    file = tmp_path / "mine.toml"
    assert run(["recipe", "-o", str(file)]) == 0
    assert load_recipe(file).number > 0
    assert f"Wrote {file}" in said()[0][0]
    text = file.read_text()
    assert run(["recipe", "-o", str(file)]) == 2
    out, err = said()
    assert (out, len(err)) == ([], 1)
    assert "exists already and is left as it is" in err[0]
    assert file.read_text() == text


def test_a_recipe_that_cannot_be_written_is_a_failure(tmp_path, said):
    assert run(["recipe", "-o", str(tmp_path / "no" / "such" / "folder.toml")]) == 1
    assert "could not be written" in said()[1][0]

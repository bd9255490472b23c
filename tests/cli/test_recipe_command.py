"""`inkline recipe` as a person meets it: a recipe to start from, keys explained, and recipes looked over."""

import json
import tomllib

import pytest

from inkline.cli import commands
from inkline.cli.running import run
from inkline.kit.recipe.explain import explanation_lines
from inkline.kit.recipe.json_schema import recipe_schema
from inkline.kit.recipe.text import recipe_text

HEAD = "version = 1\nnumber = 7\n"


def said(capsys):
    out, err = capsys.readouterr()
    return out.splitlines(), err.splitlines()


def test_help_names_what_it_does(capsys):
    assert run(["recipe", "--help"]) == 0
    out = "\n".join(said(capsys)[0])
    for word in (
        "--out",
        "--explain",
        "check",
        "schema",
        "inkline recipe --explain numeral",
        "inkline recipe check my-recipe.toml",
    ):
        assert word in out


def test_a_key_is_explained(capsys):
    assert run(["recipe", "--explain", "canvas.margin"]) == 0
    assert said(capsys) == (explanation_lines("canvas.margin"), [])


def test_all_keys_are_explained(capsys):
    assert run(["recipe", "--explain", "all"]) == 0
    out, err = said(capsys)
    assert (out, err) == (explanation_lines("all"), [])


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        (
            ["--explain", "numral"],
            'a recipe has no key and no table called "numral"; do you mean "numeral"?',
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
def test_what_a_person_gets_wrong_is_one_line(capsys, arguments, sentence):
    assert run(["recipe", *arguments]) == 2
    out, err = said(capsys)
    assert (out, len(err)) == ([], 1)
    assert err[0].startswith(f"inkline: {sentence}")


def test_a_good_recipe_is_well(tmp_path, capsys):
    path = tmp_path / "dusk.toml"
    path.write_text(HEAD + 'title = "Dusk"\n[formats.standard]\n')
    assert run(["recipe", "check", str(path)]) == 0
    out, err = said(capsys)
    assert (len(out), err) == (1, [])
    assert out[0].startswith('dusk.toml: all is well; "Dusk" will hold ')


def test_all_faults_of_all_files_are_lines(tmp_path, capsys):
    (tmp_path / "a.toml").write_text(HEAD + 'titel = "x"\n[style.hand]\ndrift = 3\n')
    (tmp_path / "b.toml").write_text(HEAD + "[formats.standard]\nweekday = 1.0\n")
    (tmp_path / "c.toml").write_text(HEAD + "[formats.standard]\n")
    files = [str(tmp_path / name) for name in ("a.toml", "b.toml", "c.toml", "gone.toml")]
    assert run(["recipe", "check", *files]) == 2
    out, err = said(capsys)
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
        == 'inkline: a.toml, line 3: there is no key "titel" at the top of a recipe; do you mean '
        '"title"?'
    )
    assert err[2] == "inkline: a.toml: layout and letters are looked at once these are mended"
    assert err[3].startswith("inkline: b.toml, line 4: formats.standard.weekday must be at most 0.")
    assert "the recipe cannot be read" in err[4]


def test_a_printed_recipe_says_how_to_go_on_and_has_the_lines_of_the_default_one(capsys):
    assert run(["recipe"]) == 0
    printed = capsys.readouterr().out.splitlines()
    assert printed[:4] == [
        "# The recipe of a stamp kit. Change what you like and run: inkline kit THIS-FILE -o FOLDER",
        (
            "# Keep the version and the drawing number; every other value holds without its line "
            "too, so delete at will."
        ),
        (
            "# What a key does and what it may be: inkline recipe --explain KEY (or: all). To look a "
            "recipe over, nothing"
        ),
        "# drawn: inkline recipe check THIS-FILE",
    ]
    assert len(printed) == len(recipe_text(5).splitlines())


def test_the_schema_is_printed(capsys):
    assert run(["recipe", "schema"]) == 0
    assert json.loads("\n".join(said(capsys)[0])) == recipe_schema()


def test_a_recipe_is_still_printed_without_a_wish(capsys):
    assert run(["recipe"]) == 0
    assert tomllib.loads("\n".join(said(capsys)[0]))["version"] == 1
    assert "check" in commands.recipe.commands

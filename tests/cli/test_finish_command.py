"""`inkline finish` as it is typed: what it says, and how it ends."""

import json
import re

import pytest
from click.testing import CliRunner
from PIL import Image

from inkline.cli.commands import inkline

PLAN = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="40mm" viewBox="0 0 60 40">'
    '<title>Tides</title>\n<g id="box"><rect x="5" y="5" width="50" height="30" fill="none" '
    'stroke="#000"/></g>\n<image href="a.png"/></svg>'
)


@pytest.fixture
def plan(tmp_path):
    file = tmp_path / "plan.svg"
    file.write_text(PLAN)
    return file


def said(*words):
    result = CliRunner().invoke(inkline, ["finish", *map(str, words)])
    return result.exit_code, result.output


def test_explaining_says_what_was_found_and_draws_nothing(plan):
    code, text = said(plan, "--explain")
    assert code == 0
    assert 'plan.svg "Tides": 709 x 472 px' in text
    assert "4 straight lines" in text
    assert "layers: box" in text
    assert "<image>, line 3: pictures within the file are left out" in text
    assert "--plain draws what comes nearest" in text
    assert [path.name for path in plan.parent.iterdir()] == ["plan.svg"]


def test_what_is_left_out_alike_is_told_in_one_line(plan):
    texts = '<text font-family="serif" font-weight="700">a</text>' * 2
    plan.write_text(PLAN.replace("</svg>", f"{texts}\n{texts}</svg>"))
    _, text = said(plan, "--explain")
    assert re.search(r"<text> font-family, <text> font-weight, lines \d, \d: letters are", text)


def test_a_run_says_what_was_drawn_and_what_is_left_out(plan, tmp_path):
    folder = tmp_path / "inked"
    code, text = said(plan, "-o", folder, "--across", 300, "--number", 7)
    assert code == 0
    assert "1 stamp in" in text
    assert "plan.svg: <image>, line 3" in text
    assert f"Next: look at {folder / 'plan.png'}." in text
    assert "everybody's" not in text
    assert "1 unchanged" in said(plan, "-o", folder, "--across", 300, "--number", 7)[1]


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        ([], "where it goes is missing"),
        (["--ppi", "300", "--across", "90", "--explain"], "say one of them"),
        (["--font", "a.ttf", "--glyphs", "errand", "--explain"], "say one of them"),
    ],
)
def test_what_does_not_go_together_is_refused(plan, words, sentence):
    code, text = said(plan, *words)
    assert code == 2
    assert sentence in text


def test_a_size_on_paper_is_no_size_in_px(plan):
    result = CliRunner().invoke(inkline, ["finish", str(plan), "--explain", "--drawn-at", "3 px"])
    assert result.exit_code != 0
    assert "a length on paper" in str(result.exception)


def test_what_was_found_is_drawn_with_its_names(plan, tmp_path):
    code, text = said(plan, "--explain", "-o", tmp_path / "out")
    assert code == 0
    assert "found.png shows it: 4 names stand on it" in text
    assert [path.name for path in (tmp_path / "out").iterdir()] == ["found.png"]
    with Image.open(tmp_path / "out" / "found.png") as picture:
        assert picture.size == (709, 472)
        colours = {colour for _, colour in picture.getcolors(100_000)}
    assert {(0x2F, 0x6D, 0xB3), (0x1D, 0x2B, 0x36)} <= colours
    code, text = said(plan, "--explain", "-o", tmp_path / "out")
    assert code != 0


def test_what_no_pen_draws_is_drawn_plainly_where_that_is_said(plan, tmp_path):
    plan.write_text(PLAN.replace('"a.png"', '"a.png" x="9" y="9" width="9" height="9"'))
    assert "4 straight lines" in said(plan, "--explain")[1]
    code, text = said(plan, "--explain", "--plain")
    assert code == 0
    assert "8 straight lines" in text
    assert "--plain draws" not in text
    assert "<image>, line 3: the frame of a picture is drawn in its place" in text
    recipe = tmp_path / "tides.toml"
    recipe.write_text(
        'version = 1\nnumber = 7\n[finish]\nfiles = ["plan.svg"]\nbeyond_ink = "plain"\n'
    )
    assert "8 straight lines" in said(recipe, "--explain")[1]


@pytest.mark.usefixtures("plan")
def test_a_recipe_says_what_options_can_not(tmp_path):
    recipe = tmp_path / "tides.toml"
    recipe.write_text(
        'version = 1\nnumber = 7\ntitle = "Tides"\n[style]\nname = "dip-pen"\n[finish]\n'
        'files = ["plan.svg"]\nsplit = "layers"\nppi = 96\n[finish.parts.box]\nink = "exact"\n'
        '[files]\nforms = ["svg"]\n'
    )
    code, text = said(recipe, "-o", tmp_path / "out")
    assert code == 0, text
    assert "everybody's" not in text
    manifest = json.loads((tmp_path / "out" / "manifest.json").read_text())
    assert (manifest["title"], manifest["number"]) == ("Tides", 7)
    assert manifest["style"]["name"] == "dip-pen"
    assert manifest["files"] == {"forms": ["svg"]}
    assert [one["name"] for one in manifest["stamps"]] == ["plan/box"]
    with Image.open(tmp_path / "out" / "plan" / "box.png") as picture:
        assert picture.getcolors() is not None  # exact: black, white and few greys


@pytest.mark.usefixtures("plan")
@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("", "finish.files must name the artwork"),
        ('files = ["plam.svg"]', "line 4: finish.files must name files, and there is no"),
        ('files = ["plan.svg"]\ngrund = "clear"', 'no key "grund" in [finish]; did you mean "gro'),
        (
            'files = ["plan.svg"]\n[finish.parts.box]\nstile = "chalk"',
            'line 6: finish.parts of "box": stile is no key of a part; did you mean "style"',
        ),
        (
            'files = ["plan.svg"]\n[finish.parts.box]\nfirmness = 2',
            "firmness must be a number from 0 to 1, not 2",
        ),
        (
            'files = ["plan.svg"]\n[finish.parts.box]\nink = "exakt"',
            'ink must be "drawn", "exact" or "left out", not "exakt"; did you mean "exact"',
        ),
        (
            'files = ["plan.svg"]\n[finish.parts.box]\nstyle = "chlak"',
            "there is no style 'chlak'; did you mean 'chalk'",
        ),
        ('files = ["plan.svg"]\ndrawn_at = "3 px"', "must be a length on paper"),
        ('files = ["plan.svg"]\n[finish.parts.bx]\nink = "exact"', 'did you mean "box"'),
        ('files = ["plan.svg"]\nparts = 3', "finish.parts must be a table of at most"),
        ('files = ["plan.svg"]\nparts.box = 3', 'must have a table for "box", not 3'),
    ],
)
def test_what_is_wrong_with_a_recipe_is_told(tmp_path, text, sentence):
    recipe = tmp_path / "tides.toml"
    recipe.write_text(f"version = 1\nnumber = 7\n[finish]\n{text}\n")
    result = CliRunner().invoke(inkline, ["finish", str(recipe), "--explain"])
    assert result.exit_code != 0
    assert sentence in result.output + str(result.exception)

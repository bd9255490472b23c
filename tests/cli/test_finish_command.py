"""`inkline finish` as it is typed: what it says, and how it ends."""

import pytest
from click.testing import CliRunner

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
    assert [path.name for path in plan.parent.iterdir()] == ["plan.svg"]


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

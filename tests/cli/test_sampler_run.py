"""`inkline sampler` as a person meets it; what the sheets hold is tested in tests/kit."""

import sys

import pytest
from PIL import Image

from inkline.cli.running import run
from inkline.progress import Step
from inkline.sampler import requests as orders
from inkline.styles.files import style_files


@pytest.fixture
def asked(monkeypatch):
    """What the sheets were asked for, in place of drawing them."""
    seen = []

    def sheet(*what, number, listener):
        listener(Step(name="x", done=1, total=1))
        seen.append((*what, number))
        return b"sheet"

    monkeypatch.setattr(orders, "specimens_png", sheet)
    monkeypatch.setattr(orders, "matrix_png", sheet)
    return seen


def test_a_sheet_is_drawn_and_never_over_a_file(tmp_path, said):
    file = tmp_path / "sheet.png"
    assert run(["sampler", "round-pen", "-o", str(file), "--vary", "firmness.block=0..1:2"]) == 0
    out, err = said()
    assert err == []
    assert out[:2] == ["1 of 2  round-pen", "2 of 2  round-pen"]
    assert out[2].startswith(f"round-pen at 2 settings on {file} (")
    with Image.open(file) as sheet:
        assert sheet.size[0] >= 1000
    assert [path.name for path in tmp_path.iterdir()] == ["sheet.png"]
    data = file.read_bytes()
    assert run(["sampler", "round-pen", "-o", str(file)]) == 2
    assert said()[1] == [
        f"inkline: {file} exists already and is left as it is; choose another name"
    ]
    assert file.read_bytes() == data


def test_without_a_style_all_are_shown_the_usual_one_first(tmp_path, said, asked):
    assert run(["sampler", "-o", str(tmp_path / "all.png")]) == 0
    ((styles, number),) = asked
    names = [style.name for style in styles]
    assert (names[0], number) == ("round-pen", 20270)
    assert sorted(names) == sorted(style_files())
    assert said()[0][1].startswith(f"{len(names)} styles on ")


def test_styles_may_be_files_and_keep_their_order(tmp_path, said, asked):
    file = tmp_path / "mine.toml"
    file.write_text('based_on = "dip-pen"\n')
    assert (
        run(["sampler", str(file), "chalk", "-o", str(tmp_path / "two.png"), "--number", "7"]) == 0
    )
    ((styles, number),) = asked
    assert ([style.name for style in styles], number) == (["mine", "chalk"], 7)
    assert said()[0][1].startswith("2 styles on ")


def test_two_values_are_varied(tmp_path, said, asked):
    ranges = ["--vary", "edge.raggedness=5um..60um:6", "--vary", "hand.drift=0um..200um:4"]
    assert run(["sampler", "chalk", "-o", str(tmp_path / "m.png"), *ranges]) == 0
    ((style, varies, _),) = asked
    assert (style.name, [vary.key for vary in varies]) == (
        "chalk",
        ["edge.raggedness", "hand.drift"],
    )
    assert said()[0][1].startswith("chalk at 6 x 4 settings on ")


def test_a_terminal_shows_how_far_it_is(tmp_path, capsys, asked, monkeypatch):
    monkeypatch.setattr(sys.stdout, "isatty", lambda: True, raising=False)
    assert run(["sampler", "chalk", "-o", str(tmp_path / "one.png")]) == 0
    assert len(asked) == 1
    assert "Drawing" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        (["round-pan"], "STYLE: there is no style 'round-pan'; did you mean 'round-pen'?"),
        (["--vary", "edge.spread=0um..9um:3"], "--vary needs exactly one style to vary, not none"),
        (
            ["chalk", "dip-pen", "--vary", "edge.spread=0um..9um:3"],
            "--vary needs exactly one style to vary, not 2",
        ),
        (
            ["chalk", "--vary", "edge.spread=0..9um:3"],
            "--vary: edge.spread: a length needs a number and a unit",
        ),
        (
            ["chalk", "--vary", "edge.spread=0um..9um:99"],
            "a count of steps from 2 to 12 is required, not 99",
        ),
        (
            ["chalk", "--number", "-1"],
            "--number: a whole number from 0 to 999999999 is required, not -1",
        ),
    ],
)
def test_what_cannot_be_drawn_is_said_in_one_line(tmp_path, arguments, sentence, said, asked):
    file = tmp_path / "sheet.png"
    assert run(["sampler", *arguments, "-o", str(file)]) == 2
    out, err = said()
    assert (out, len(err)) == ([], 1)
    assert sentence in err[0]
    assert not asked
    assert not file.exists()


def test_more_than_two_values_are_too_many(tmp_path, said):
    ranges = [
        part
        for key in ("edge.spread", "edge.creep", "edge.fillet")
        for part in ("--vary", f"{key}=0um..9um:2")
    ]
    assert run(["sampler", "chalk", "-o", str(tmp_path / "m.png"), *ranges]) == 2
    assert "at most 2 values can be varied on one sheet, not 3" in said()[1][0]


def test_a_sheet_needs_a_place_and_a_picture_s_name(tmp_path, said):
    assert run(["sampler", "chalk"]) == 2
    assert "--out" in said()[1][0]
    assert run(["sampler", "chalk", "-o", str(tmp_path / "sheet.jpg")]) == 2
    assert "--out: a sheet's name must end in .png, not " in said()[1][0]


@pytest.mark.usefixtures("asked")
def test_a_folder_that_is_not_there_is_a_failure(tmp_path, said):
    assert run(["sampler", "chalk", "-o", str(tmp_path / "no" / "sheet.png")]) == 1
    assert "could not be written" in said()[1][0]

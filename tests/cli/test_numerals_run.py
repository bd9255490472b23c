"""`inkline numerals` as a person meets it; what a set holds is tested in tests/kit."""

import os
from pathlib import Path

import font_roboto
import pytest
from PIL import Image

from inkline.cli import numerals_run
from inkline.cli.numerals_run import report_lines
from inkline.cli.running import run
from inkline.folder.kept import Foreign
from inkline.lettering.writing import Way
from inkline.numerals.permission import Permission
from inkline.numerals.product import SetReport
from inkline.numerals.request import Ground, NumeralRequest
from inkline.progress import Step
from inkline.units import length_from_text

ROBOTO = str(font_roboto.font_files["Roboto"])


def report(folder, **changes):
    plain = {
        "n_texts": 2,
        "drawn": ("a.png",),
        "unchanged": (),
        "kept": (),
        "left_over": (),
        "font_file": None,
        "notes": (),
    }
    return SetReport(folder=folder, **plain | changes)


@pytest.fixture
def asked(monkeypatch):
    """What sets were asked for, in place of drawing them."""
    seen = []

    def drawn(order, folder, *, foreign, listener):
        listener(Step(name="digits/7", done=1, total=1))
        seen.append((order, folder, foreign))
        return report(folder)

    monkeypatch.setattr(numerals_run, "draw_numerals", drawn)
    return seen


@pytest.fixture(autouse=True)
def _no_waiting_for_the_disk(monkeypatch):
    monkeypatch.setattr(os, "fsync", lambda _: None)


def test_a_set_is_drawn(tmp_path, said):
    folder = tmp_path / "set"
    arguments = [
        "numerals",
        "-o",
        str(folder),
        "--list",
        "7,11",
        "--height",
        "40px",
        "--otf",
        "Pier Figures",
    ]
    assert run(arguments) == 0
    out, err = said()
    assert err == []
    assert out[:2] == ["1 of 4  digits/7", "2 of 4  numerals/11"]
    assert out[2:4] == ["3 of 4  PierFigures", "4 of 4  overview"]
    assert out[4].startswith(f"2 pictures and as many outlines in {folder}: 6 drawn (")
    assert out[5] == f"Next: look at {folder / 'overview.png'}."
    assert out[6].startswith(f"To use the font, open {folder / 'PierFigures.otf'} and install it")
    with Image.open(folder / "digits/7.png") as picture:
        assert 50 <= picture.size[1] <= 80
    assert run(arguments) == 0
    assert ": 6 unchanged (" in said()[0][0]


def test_without_options_it_is_the_usual_set(tmp_path, asked):
    assert run(["numerals", "-o", str(tmp_path)]) == 0
    assert asked == [(NumeralRequest(), tmp_path, Foreign.REFUSE)]


def test_every_option_reaches_the_order(tmp_path, asked):
    arguments = (
        "--glyphs stairwell --style dip-pen --height 25mm --number 7 --list 1-3 --ground clear "
        "--otf Pier"
    )
    assert (
        run(["numerals", "-o", str(tmp_path), *arguments.split(), "--i-have-permission", "--force"])
        == 0
    )
    order = NumeralRequest(
        family="stairwell",
        style="dip-pen",
        height=length_from_text("25 mm"),
        number=7,
        wanted="1-3",
        ground=Ground.CLEAR,
        font_name="Pier",
        permission=Permission.STATED,
    )
    assert asked == [(order, tmp_path, Foreign.LEAVE)]


def test_a_fonts_licence_is_said_before_anything_is_drawn(tmp_path, said, asked):
    assert run(["numerals", "-o", str(tmp_path), "--font", ROBOTO]) == 0
    assert asked[0][0] == NumeralRequest(font=Path(ROBOTO))
    out, _ = said()
    words, drawn = (
        out.index("1 of 1  digits/7"),
        out.index(next(line for line in out if "licence text decides" in line)),
    )
    assert drawn < words
    assert out[0].startswith("Roboto: The file allows that documents embed and install the font.")


@pytest.mark.parametrize("way", Way)
def test_a_fonts_way_may_be_chosen(tmp_path, asked, way):
    assert run(["numerals", "-o", str(tmp_path), "--font", ROBOTO, "--way", str(way)]) == 0
    assert asked[0][0].way is way


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        (
            ["--glyphs", "scullery", "--font", ROBOTO],
            "--glyphs and --font name two kinds of letters; say one of them",
        ),
        (["--height", "tall"], "a length needs a number and a unit"),
        (["--list", "9-0"], "--list: a range must run upwards, not '9-0'"),
        (["--way", "sideways"], "Invalid value for '--way'"),
        (["--ground", "green"], "Invalid value for '--ground'"),
        (["--otf", "../x"], "--otf: a font's name is 1 to 29 letters"),
        (["--font", "nowhere.ttf"], "the font nowhere.ttf cannot be read"),
        (["--list", "字"], "has no glyph for"),
    ],
)
def test_what_cannot_be_used_is_one_sentence(tmp_path, said, arguments, sentence):
    assert run(["numerals", "-o", str(tmp_path / "set"), *arguments]) == 2
    _, err = said()
    assert len(err) == 1
    assert sentence in err[0]
    assert not (tmp_path / "set").exists()


def test_the_report_says_what_needs_a_look(tmp_path):
    kept = tuple(f"digits/{n}.png" for n in range(8))
    lines = list(
        report_lines(
            report(tmp_path, n_texts=1, drawn=(), kept=kept, notes=("Mind this.",)), seconds=0.26
        )
    )
    assert (
        lines[0] == f"1 picture and as many outlines in {tmp_path}: 8 kept, changed by you (0.3 s)."
    )
    assert lines[1].startswith("Yours, kept: digits/0.png, digits/1.png")
    assert "and 2 more. To have one drawn anew, move it away" in lines[1]
    assert lines[2] == "Mind this."


def test_a_terminal_gets_a_bar(tmp_path, capsys, asked, monkeypatch):
    monkeypatch.setattr("sys.stdout.isatty", lambda: True, raising=False)
    assert run(["numerals", "-o", str(tmp_path)]) == 0
    assert len(asked) == 1
    bar, _, after = capsys.readouterr().out.rpartition("\x1b[2K")
    assert "1 of 1  digits/7" in bar
    assert "1 of 1" not in after

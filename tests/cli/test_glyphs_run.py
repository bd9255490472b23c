"""`inkline glyphs` and `inkline kit --glyphs` as a person meets them."""

import json
import shutil

import pytest
from font_roboto import font_files
from PIL import Image

from inkline.cli.running import run
from inkline.lettering.families import family_names, family_path

SMALL = """
version = 1
title = "S"
number = 7
[canvas]
side = "160 px"
[formats.standard]
[words]
years = []
"""


@pytest.fixture
def mine(tmp_path):
    folder = tmp_path / "mine.ufo"
    shutil.copytree(family_path("stairwell"), folder)
    return folder


@pytest.fixture
def small(tmp_path):
    file = tmp_path / "small.toml"
    file.write_text(SMALL)
    return file


def test_families_are_listed_with_what_they_hold(said):
    assert run(["glyphs"]) == 0
    lines, err = said()
    out = "\n".join(lines)
    assert err == []
    for name in family_names():
        assert f"\n{name} " in f"\n{out}"
    assert "used unless you say otherwise" in " ".join(out.split())
    assert "inkline glyphs check MINE.ufo" in out
    assert max(map(len, out.splitlines())) <= 100


def test_a_specimen_is_drawn_once_and_never_over_a_file(tmp_path, mine, said):
    sheet = tmp_path / "mine.png"
    command = [
        "glyphs",
        "--family",
        str(mine),
        "--style",
        "dip-pen",
        "--number",
        "4",
        "-o",
        str(sheet),
    ]
    assert run(command) == 0
    lines, _ = said()
    out = "\n".join(lines)
    assert out.startswith(f"1 family on {sheet} (")
    with Image.open(sheet) as picture:
        assert picture.size[0] == 2480
    assert run(command) == 2
    assert said()[1] == [
        f"inkline: {sheet} exists already and is left as it is; choose another name"
    ]


@pytest.mark.parametrize(
    ("options", "sentence"),
    [
        (["-o", "x.jpg"], "inkline: --out: a sheet's name must end in .png, not 'x.jpg'"),
        (
            ["-o", "x.png", "--number", "-1"],
            "inkline: --number: a whole number from 0 to 999999999 is required, not -1",
        ),
        (
            ["--family", "nobody"],
            (
                f"inkline: there is no stroke family 'nobody'; there is "
                f"{', '.join(family_names())}, and a "
            ),
        ),
        (
            ["--family", "gone.ufo"],
            "inkline: a stroke family must be a UFO folder, but there is no folder gone.ufo",
        ),
    ],
)
def test_what_cannot_be_drawn_is_said(options, sentence, said, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    assert run(["glyphs", *options]) == 2
    (line,) = said()[1]
    assert line.startswith(sentence)


def test_a_complete_family_passes(said):
    assert run(["glyphs", "check", "scullery"]) == 0
    lines, err = said()
    out = "\n".join(lines)
    assert err == []
    assert "Missing: nothing." in out


def test_what_is_missing_exits_with_1(mine, said):
    file = mine / "glyphs" / "eight.glif"
    file.write_text(
        "".join(
            line for line in file.read_text().splitlines(keepends=True) if "<unicode" not in line
        )
    )
    assert run(["glyphs", "check", str(mine), "--language", "de"]) == 1
    lines, err = said()
    out = "\n".join(lines)
    assert err == []
    assert "Missing:\n- Of the figures 8 is missing.\n" in out


def test_a_check_of_what_is_no_family_exits_with_2(tmp_path, said):
    assert run(["glyphs", "check", str(tmp_path)]) == 2
    assert "is not a UFO folder that can be read" in said()[1][0]
    assert run(["glyphs", "check", "scullery", "--language", "klingon"]) == 2
    assert "a language is required as CLDR names it" in said()[1][0]


def test_a_kit_is_drawn_in_a_family_of_one_s_own(tmp_path, mine, small, said):
    kit = tmp_path / "kit"
    assert (
        run(
            [
                "kit",
                str(small),
                "--glyphs",
                str(mine),
                "--workers",
                "1",
                "--only",
                "words/digit-7",
                "-o",
                str(kit),
            ]
        )
        == 0
    )
    said()
    manifest = json.loads((kit / "manifest.json").read_text())
    assert manifest["lettering"] == manifest["letters"]["name"] == "Stairwell"
    assert "MIT" in manifest["letters"]["licence"]


def test_a_recipe_names_a_family_of_one_s_own(tmp_path, mine, small, said):
    small.write_text(f'{SMALL}[lettering]\nfamily = "{mine.name}"\n')
    kit = tmp_path / "kit"
    assert (
        run(["kit", str(small), "--workers", "1", "--only", "words/digit-4", "-o", str(kit)]) == 0
    )
    said()
    assert json.loads((kit / "manifest.json").read_text())["lettering"] == "Stairwell"
    assert (kit / "overview.png").exists()


@pytest.mark.parametrize("way", ["stroke", "contour"])
def test_a_font_is_drawn_in_the_way_asked_for(tmp_path, small, said, way):
    kit = tmp_path / "kit"
    command = ["kit", str(small), "--font", font_files["Roboto"], "--way", way, "--workers", "1"]
    assert run([*command, "--only", "words/digit-1", "-o", str(kit)]) == 0
    said()
    assert json.loads((kit / "manifest.json").read_text())["letters"]["way"] == way


def test_letters_come_from_one_place(small, said):
    assert (
        run(["kit", str(small), "--glyphs", "scullery", "--font", font_files["Roboto"], "-o", "x"])
        == 2
    )
    assert said()[1] == [
        "inkline: --font and --glyphs both say where the letters come from; give one of them"
    ]


def test_what_a_font_states_of_its_licence_is_said_before_drawing(tmp_path, small, said):
    kit = tmp_path / "kit"
    command = [
        "kit",
        str(small),
        "--font",
        font_files["Roboto"],
        "--workers",
        "1",
        "--only",
        "words/digit-1",
        "-o",
        str(kit),
    ]
    assert run(command) == 0
    lines, _ = said()
    out = "\n".join(lines)
    assert out.startswith("Roboto: The file allows that documents embed and install the font.")
    assert out.index("The licence text decides") < out.index("words/digit-1")
    letters = json.loads((kit / "manifest.json").read_text())["letters"]
    assert letters["name"] == "Roboto"
    assert letters["version"].startswith("Version 2")
    assert "Apache" in letters["licence"]
    assert letters["embedding"] == "installable"

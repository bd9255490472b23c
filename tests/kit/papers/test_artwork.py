"""Months on a picture: exact by hand, in layers, alike through a year, and never at a loss."""

import json
import re

import numpy as np
import pytest
from PIL import Image
from pyora import Project

from hills import hills_at_dusk
from inkline.cli.running import run
from inkline.kit.papers.artwork import median_colour

RECIPE = """
version = 1
title = "Fog"
number = 7
[canvas]
side = "500 px"
[formats.tall]
"""
INKS = ("--ink", "#fdf3dc", "--ink", "blocks=beneath")


@pytest.fixture(scope="module")
def place(tmp_path_factory):
    folder = tmp_path_factory.mktemp("art")
    (folder / "fog.toml").write_text(RECIPE)
    Image.fromarray(hills_at_dusk(640, 460)).save(folder / "hills.png")
    return folder


def stamp(place, month, out, *options):
    return run(
        ["month", month, str(place / "fog.toml"), "-o", str(out), "--workers", "1", *options]
    )


@pytest.fixture(scope="module")
def year(place):
    options = ("--on", str(place / "hills.png"), "--at", "40%,50%", "--across", "45%", *INKS)
    assert stamp(place, "2027-02", place / "year", *options) == 0
    return place / "year"


def pixels(file):
    with Image.open(file) as picture:
        return np.asarray(picture.convert("RGB"))


def flat(year, month="2027-02"):
    return pixels(year / f"{month}-tall" / "on-artwork.png")


def light(values):
    return np.where(values <= 0.04045, values / 12.92, ((values + 0.055) / 1.055) ** 2.4)


def test_the_grid_is_as_wide_as_asked_and_lies_there(year):
    changed = (flat(year) != hills_at_dusk(640, 460)).any(axis=2)
    columns = np.flatnonzero(changed.sum(axis=0) > 60)  # those of upright rules
    assert columns[-1] - columns[0] == pytest.approx(0.45 * 640, abs=5)
    assert (columns[-1] + columns[0]) / 2 == pytest.approx(0.40 * 640, abs=3)


def test_what_is_not_inked_stays_to_the_bit(year):
    wet = np.zeros((460, 640), np.bool_)
    project = Project.load(str(year / "2027-02-tall" / "on-artwork.ora"))
    for layer in project.children_recursive[:-1]:
        wet |= np.asarray(layer.get_image_data(raw=False))[:, :, 3] > 0
    dry = flat(year)[~wet]
    np.testing.assert_array_equal(dry, hills_at_dusk(640, 460)[~wet])
    assert 0.02 < wet.mean() < 0.5


def test_layers_over_the_painting_give_the_flat_picture_when_mixed_as_light(year):
    project = Project.load(str(year / "2027-02-tall" / "on-artwork.ora"))
    layers = list(reversed(project.children_recursive))
    names = ["painting", "blocks", "blocks-head", "grid", "dates", "weekdays", "name", "year"]
    assert sorted(layer.name for layer in layers[1:]) == sorted(names[1:])
    assert layers[0].name == "painting"
    page = np.zeros((460, 640, 3))
    for layer in layers:
        values = np.asarray(layer.get_image_data(raw=False)) / 255.0
        share = values[:, :, 3:]
        page = page * (1 - share) + light(values[:, :, :3]) * share
    shown = np.where(page <= 0.0031308, page * 12.92, 1.055 * page ** (1 / 2.4) - 0.055)
    assert np.abs(255 * shown - flat(year)).max() <= 1.0


def test_blocks_have_a_colour_of_what_lies_beneath(year):
    """Each block one colour, that is in the painting under it."""
    project = Project.load(str(year / "2027-02-tall" / "on-artwork.ora"))
    (layer,) = [one for one in project.children_recursive if one.name == "blocks"]
    values = np.asarray(layer.get_image_data(raw=False))
    seen = np.unique(values[values[:, :, 3] == 255][:, :3], axis=0)
    assert 8 < len(seen) <= 28
    below = {tuple(one) for one in hills_at_dusk(640, 460).reshape(-1, 3).tolist()}
    assert {tuple(one) for one in seen.tolist()} <= below


def test_a_median_is_a_colour_that_is_there():
    """By hand: two colours meet in the middle, and the median of each value is neither's."""
    values = np.array([[10, 200, 10]] * 2 + [[200, 10, 10]] * 2, np.uint8)
    assert np.median(values, axis=0).tolist() == [105, 105, 10]
    assert median_colour(values).tolist() in values.tolist()
    assert median_colour(values[:3]).tolist() == [10, 200, 10]


def test_other_months_of_the_year_lie_alike_and_their_place_is_remembered(place, year, capsys):
    before = flat(year)
    assert stamp(place, "2026-02", year) == 0  # four weeks, from Sunday
    assert (flat(year) == before).all()
    top = [
        np.flatnonzero((flat(year, m) != hills_at_dusk(640, 460)).any(axis=(1, 2)))
        for m in ("2026-02", "2027-02")
    ]
    assert abs(int(top[0][0]) - int(top[1][0])) <= 3
    assert top[0][-1] < top[1][-1] - 15  # a row of weeks less
    assert "numerals stand out" in capsys.readouterr().out
    text = (year / "place.toml").read_text()
    assert 'on = "../hills.png"\nat = "40%,50%"\nacross = "45%"' in text
    (year / "place.toml").write_text("# mine\n" + text)
    assert stamp(place, "2026-02", year) == 0
    assert (year / "place.toml").read_text() == "# mine\n" + text


def test_numerals_that_do_not_stand_out_are_told(place, capsys):
    out = place / "pale"
    Image.new("RGB", (640, 460), "#777777").save(place / "grey.png")
    options = ("--on", str(place / "grey.png"), "--ink", "blocks=beneath")
    assert stamp(place, "2027-02", out, *options, "--ink", "#ffffff") == 0
    said = capsys.readouterr().out
    # White on #777777 is 4.48:1 (WCAG 2, see tests/pages/test_contrast).
    assert re.search(r"numerals stand out 4\.4:1 or more \(WCAG 2\), the \d+ least", said)
    assert stamp(place, "2027-02", out, *options, "--ink", "#999999") == 0
    said = capsys.readouterr().out
    assert "28 of 28 numerals stand out less than 3:1 (WCAG 2)" in said
    assert "least with 1.57:1" in said  # by the formula: #999999 has a luminance of 0.319


def test_cut_numerals_are_held_against_their_blocks(place, capsys):
    text = RECIPE + 'blocks = "cut"\n'
    (place / "cut.toml").write_text(text)
    Image.new("RGB", (640, 460), "#777777").save(place / "grey.png")
    options = ["-o", str(place / "cut"), "--on", str(place / "grey.png"), "--workers", "1"]
    options += ["--ink", "blocks=#ffffff"]
    assert run(["month", "2027-02", str(place / "cut.toml"), *options]) == 0
    assert re.search(r"numerals stand out 4\.4:1 or more", capsys.readouterr().out)


def test_a_retouch_is_stamped_and_a_changed_result_is_kept(place, capsys):
    out = place / "own"
    options = ("--on", str(place / "hills.png"), *INKS)
    assert stamp(place, "2027-02", out, *options) == 0
    layer = out / "2027-02-tall" / "dates.png"
    with Image.open(layer) as picture:
        mine = np.asarray(picture).copy()
    mine[:60, :60] = 255
    Image.fromarray(mine).save(layer)
    assert stamp(place, "2027-02", out) == 0
    lit = (flat(out) == [0xFD, 0xF3, 0xDC]).all(axis=2)
    assert lit.sum() > 100
    mine = flat(out).copy()
    mine[:9] = 0
    Image.fromarray(mine).save(out / "2027-02-tall" / "on-artwork.png")
    capsys.readouterr()
    assert stamp(place, "2027-02", out, "--at", "60%,50%") == 0
    np.testing.assert_array_equal(flat(out), mine)
    said = capsys.readouterr().out
    assert "Kept, changed by you: 2027-02-tall/on-artwork.png" in said
    assert "no part of the kit" not in said


@pytest.mark.parametrize(
    ("options", "sentence"),
    [
        (("--on", "nothing.png"), "there is no such picture"),
        (("--on", "fog.toml"), "cannot be read as a picture"),
        (("--on", "hills.png", "--at", "120%,4%"), "--at: a place in a picture"),
        (("--on", "hills.png", "--ink", "dates=beige"), "--ink: a colour is written as"),
        (("--on", "hills.png", "--ink", "dotes=#ffffff"), "--ink: no layer is called 'dotes'"),
        (("--ink", "#ffffff"), "are for a month on a picture"),
    ],
)
def test_bad_wishes_change_nothing(place, tmp_path, capsys, monkeypatch, options, sentence):
    monkeypatch.chdir(place)
    assert stamp(place, "2027-02", tmp_path / "out", *options) == 2
    assert sentence in capsys.readouterr().err
    assert not (tmp_path / "out").exists()


def test_what_is_enlarged_or_lies_beyond_the_edge_is_told(place, tmp_path, capsys):
    Image.new("RGB", (1200, 700), "#ffffff").save(tmp_path / "wide.png")
    options = ("--on", str(tmp_path / "wide.png"), "--at", "50%,95%", "--across", "90%")
    assert stamp(place, "2027-02", tmp_path / "out", *options) == 0
    said = capsys.readouterr().out
    assert re.search(r"is enlarged 2\.\d times.*such as \"\d+00 px\"", said)
    assert "part of the month lies beyond the edge of wide.png" in said
    manifest = json.loads((tmp_path / "out" / "manifest.json").read_text())
    assert any(sheet["name"].endswith("/on-artwork") for sheet in manifest["sheets"])

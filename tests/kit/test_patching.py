"""What its owner drew in one cell of a kit, in every place that shows the same drawing."""

import shutil
from pathlib import Path

import numpy as np
import pytest
from PIL import Image, ImageDraw

from inkline.cli.remedies import note_sentence
from inkline.errors import InputError
from inkline.kit import build
from inkline.kit.months.recipe import months_recipe
from inkline.kit.papers.sheet import Sheet
from inkline.kit.product import Papers
from inkline.kit.recipe.loading import recipe_from_text
from inkline.output.png import png_bytes
from inkline.press.patches import PATCHES_FILE, patches_in
from inkline.press.redrawn import redrawn_stamp
from inkline.proof.kit_proof import prove_kit
from kit_folders import manifest_of

TEXT = """
version = 1
title = "S"
number = 7
[canvas]
side = "360 px"
[formats.tall]
dates = "both"
[words]
years = [2027]
[style]
name = "STYLE"
"""
FEW = ("tall/dates-3", "tall/dates-3-30", "tall/dates-3-28", "tall/dates-4")
OTHERS = ("tall/dates-3-30", "tall/dates-3-28")
DRAWING = "tall/dates-3/17"


def plain_sheet(_, job):
    """A picture in place of a sheet, whose drawing takes long."""
    return Sheet(name=job.name, picture=png_bytes(np.zeros((2, 2), np.uint8), ppi=72.0))


PLAIN = Papers(sheet=plain_sheet, guide=lambda *_: b"guide")


def recipe(style="round-pen", text=TEXT):
    return recipe_from_text(text.replace("STYLE", style), source="s.toml", folder=Path())


def build_few(folder, *, style="round-pen", only=FEW, **options):
    return build.build_kit(recipe(style), folder, papers=PLAIN, only=only, workers=1, **options)


def cell_of(folder, name, text="17"):
    stamps = {stamp["name"]: stamp for stamp in manifest_of(folder)["stamps"]}
    (glyph,) = [one for one in stamps[name]["glyphs"] if one["text"] == text]
    return tuple(map(round, glyph["cell"]))


def crop(folder, name, text="17"):
    with Image.open(folder / f"{name}.png") as picture:
        return np.asarray(picture.crop(cell_of(folder, name, text))).astype(float)


def draw_over(folder, name="tall/dates-3", text="17"):
    """A slanted ring with a smooth edge in place of a numeral, as a person might draw it."""
    x0, y0, x1, y1 = cell_of(folder, name, text)
    width, height = x1 - x0, y1 - y0
    large = Image.new("L", (8 * width, 8 * height))
    pencil = ImageDraw.Draw(large)
    pencil.ellipse((width, 2 * height, 7 * width, 6 * height), fill=255)
    pencil.ellipse((3 * width, 3 * height, 5 * width, 4 * height), fill=0)
    with Image.open(folder / f"{name}.png") as picture:
        changed = picture.copy()
    changed.paste(large.resize((width, height), Image.Resampling.BOX), (x0, y0))
    changed.save(folder / f"{name}.png")


@pytest.fixture(scope="module")
def first(tmp_path_factory):
    folder = tmp_path_factory.mktemp("spread") / "kit"
    build_few(folder)
    return folder


@pytest.fixture
def kit(first, tmp_path):
    """A copy of the kit in which the 17 of one stamp was drawn over."""
    folder = tmp_path / "kit"
    shutil.copytree(first, folder)
    draw_over(folder)
    return folder


def notes_of(report):
    return [note_sentence(note) for note in report.notes]


def test_what_was_drawn_in_a_cell_stands_wherever_that_drawing_does(kit, first):
    hers = (kit / "tall/dates-3.png").read_bytes()
    report = build_few(kit, spread=[DRAWING])
    assert set(report.drawn) == {*OTHERS}
    assert report.kept == ("tall/dates-3",)
    assert (kit / "tall/dates-3.png").read_bytes() == hers
    for name in OTHERS:
        off = np.abs(crop(kit, name) - crop(kit, "tall/dates-3"))
        assert off.mean() < 0.5
        assert off.max() < 12
        assert np.array_equal(crop(kit, name, "18"), crop(first, name, "18"))
    assert (kit / "tall/dates-4.png").read_bytes() == (first / "tall/dates-4.png").read_bytes()
    assert any(DRAWING in note and "tall/dates-3-30" in note for note in notes_of(report))


def test_rebuilding_leaves_it_and_a_lost_picture_comes_back_with_it(kit, contents):
    build_few(kit, spread=[DRAWING])
    before = contents(kit)
    assert build_few(kit).drawn == ()
    assert contents(kit) == before
    (kit / "tall/dates-3-30.png").unlink()
    assert build_few(kit).drawn == ("tall/dates-3-30",)
    assert contents(kit) == before


def test_redrawing_it_gives_back_what_was_drawn_first(kit, first):
    build_few(kit, spread=[DRAWING])
    report = build_few(kit, redraw=[DRAWING])
    for name in OTHERS:
        assert (kit / f"{name}.png").read_bytes() == (first / f"{name}.png").read_bytes()
    assert report.hers == ("tall/dates-3",)
    assert f"{DRAWING} is drawn as it was before you spread it." in notes_of(report)
    assert patches_in(kit) == ()


def test_redrawing_the_stamp_that_it_was_cut_from_gives_it_up_too(kit, first):
    build_few(kit, spread=[DRAWING])
    build_few(kit, redraw=["tall/dates-3"])
    for name in ("tall/dates-3", *OTHERS):
        assert (kit / f"{name}.png").read_bytes() == (first / f"{name}.png").read_bytes()


def test_a_stamp_that_was_retouched_itself_is_kept_and_named(kit):
    draw_over(kit, "tall/dates-3-30", "5")
    hers = (kit / "tall/dates-3-30.png").read_bytes()
    report = build_few(kit, spread=[DRAWING])
    assert set(report.hers) == {"tall/dates-3", "tall/dates-3-30"}
    assert (kit / "tall/dates-3-30.png").read_bytes() == hers


def test_an_edition_takes_it_over(kit, tmp_path):
    build_few(kit, spread=[DRAWING])
    report = build_few(tmp_path / "second", since=kit)
    assert report.drawn == ()
    for name in FEW:
        data = (kit / f"{name}.png").read_bytes()
        assert (tmp_path / "second" / f"{name}.png").read_bytes() == data


def test_the_proof_knows_it_and_still_sees_what_is_wrong_elsewhere(kit):
    build_few(kit, spread=[DRAWING])
    proof = prove_kit(kit, only=frozenset(OTHERS), drawer=redrawn_stamp)
    assert not [finding for finding in proof.findings if finding.share > 1.0]
    assert PATCHES_FILE not in str(proof)


def test_it_is_drawn_at_any_size_from_outlines(kit):
    build_few(kit, spread=[DRAWING])
    (patch,) = patches_in(kit)
    first, *rest = patch.masters.values()
    assert len(first.contours) == 2
    assert not any(master.contours for master in rest)


def test_months_have_what_was_retouched_in_the_kit_beside_them(kit, tmp_path):
    months = months_recipe(recipe(), [(2027, 6)])
    plain = build.finish_months(months, tmp_path / "plain", papers=PLAIN, workers=1)
    assert plain.drawn
    folder = tmp_path / "june"
    report = build.finish_months(months, folder, papers=PLAIN, workers=1, kit_folder=kit)
    name = "2027-06-tall/dates"
    off = np.abs(crop(folder, name) - crop(kit, "tall/dates-3"))
    assert off.mean() < 3.0  # whole px apart, or a part of one
    assert np.abs(crop(folder, name) - crop(tmp_path / "plain", name)).mean() > 10.0
    assert np.array_equal(crop(folder, name, "18"), crop(tmp_path / "plain", name, "18"))
    assert any(DRAWING in note and name in note for note in notes_of(report))
    again = build.finish_months(months, folder, papers=PLAIN, workers=1)
    assert again.drawn == ()


def test_months_without_that_drawing_say_so(kit, tmp_path):
    months = months_recipe(recipe(), [(2027, 9)])
    report = build.finish_months(months, tmp_path / "o", papers=PLAIN, workers=1, kit_folder=kit)
    assert f"Nothing here shows the drawing {DRAWING}, which you retouched." in notes_of(report)


@pytest.mark.parametrize(
    ("name", "sentence"),
    [
        ("tall/dates-9/17", "no stamp in .* holds 'tall/dates-9/17'; a stamp's name and what"),
        ("tall/dates-3/99", "nothing in a cell of tall/dates-3 is called '99'; there are 1, 2, 3"),
        ("tall/dates-3-30/17", "tall/dates-3-30 is as it was drawn; retouch it first"),
    ],
)
def test_what_cannot_be_spread_is_said_and_nothing_changes(kit, contents, name, sentence):
    before = contents(kit)
    with pytest.raises(InputError, match=sentence):
        build_few(kit, spread=[name])
    assert contents(kit) == before


def test_pictures_that_nothing_can_be_cut_from_are_refused(kit):
    path = kit / "tall/dates-3.png"
    with Image.open(path) as picture:
        larger, light = picture.resize((300, 300)), Image.eval(picture, lambda value: 255 - value)
    larger.save(path)
    with pytest.raises(InputError, match="is 300 x 300 px and its canvas 360 x"):
        build_few(kit, spread=[DRAWING])
    light.save(path)
    with pytest.raises(InputError, match="has a light ground; white ink on black is required"):
        build_few(kit, spread=[DRAWING])


def test_a_folder_without_a_kit_and_a_damaged_file_are_refused(kit, tmp_path):
    with pytest.raises(InputError, match="holds no kit yet; draw it and retouch a stamp first"):
        build_few(tmp_path / "none", spread=[DRAWING])
    months = months_recipe(recipe(), [(2027, 6)])
    with pytest.raises(InputError, match="none is no folder of a kit"):
        build.finish_months(months, tmp_path / "o", kit_folder=tmp_path / "none")
    build_few(kit, spread=[DRAWING])
    (kit / PATCHES_FILE).write_bytes(b"PK")
    with pytest.raises(InputError, match=r"patches\.npz is damaged"):
        build_few(kit)


def test_only_one_kit_at_a_time_is_spread_in(tmp_path):
    requests = [
        build.Request(order=build.KitOrder(recipe=recipe(), papers=PLAIN), folder=tmp_path / one)
        for one in "ab"
    ]
    with pytest.raises(InputError, match="belongs to one kit, and several are to be drawn"):
        list(build.build_all(requests, spread=[DRAWING]))

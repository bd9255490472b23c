"""Finished months in every form: layers in their colours, one file a month, all showing one thing.

Flat pictures are held against light that is mixed here, by the curve of IEC 61966-2-1.
"""

import json
import re

import numpy as np
import pypdfium2
import pytest
import tifffile
from PIL import Image
from pyora import Project
from scipy.ndimage import binary_dilation

from inkline.cli.running import run
from inkline.kit.build import finish_months
from inkline.kit.months.recipe import months_recipe
from inkline.kit.papers.sheet import Sheet
from inkline.kit.product import Papers
from inkline.kit.recipe.loading import recipe_from_text
from inkline.output.png import colour_png_bytes
from renderers import coverage_by_resvg, picture_by_pdfium, picture_by_resvg

RECIPE = """
version = 1
title = "Fog"
number = 7
[canvas]
side = "500 px"
[formats.tall]
"""
NAME = "2027-02-tall"


def plain_sheet(_, job):
    return Sheet(name=job.name, picture=colour_png_bytes(np.zeros((2, 2, 3), np.uint8), ppi=72.0))


@pytest.fixture(scope="module")
def month(tmp_path_factory):
    folder = tmp_path_factory.mktemp("month") / "february"
    recipe = recipe_from_text(RECIPE, source="x.toml", folder=folder)
    wanted = months_recipe(recipe, ((2027, 2),), formats=(), week_start=None, language=None)
    papers = Papers(sheet=plain_sheet, guide=lambda *_: b"")
    finish_months(wanted, folder, papers=papers, workers=1)
    return folder


@pytest.fixture(scope="module")
def exported(month, tmp_path_factory):
    folder = tmp_path_factory.mktemp("out") / "files"
    options = ["--ground", "#f3ece1", "--ink", "dates=#1d3a6b", "--workers", "1"]
    assert run(["export", str(month), "-o", str(folder), *options]) == 0
    return folder


def light(values):
    return np.where(values <= 0.04045, values / 12.92, ((values + 0.055) / 1.055) ** 2.4)


def colour(text):
    return np.array([int(text[at : at + 2], 16) for at in (1, 3, 5)]) / 255.0


def mixed_by_hand(month, ground):
    """All layers over a ground of 0 to 255, in the light of their colours, as sRGB 0 to 255."""
    entries = json.loads((month / "manifest.json").read_text())["stamps"]
    width, height = entries[0]["canvas"]
    page = np.ones((height, width, 3)) * light(ground / 255.0)
    for entry in entries:
        with Image.open(month / entry["file"]) as picture:
            share = np.asarray(picture)[:, :, None] / 255.0
        ink = "#1d3a6b" if entry["name"].endswith("/dates") else entry["ink"]["colour"]
        page = page * (1.0 - share) + share * light(colour(ink))
    shown = np.where(page <= 0.0031308, page * 12.92, 1.055 * page ** (1 / 2.4) - 0.055)
    return 255.0 * shown


def test_a_flat_picture_mixes_inks_as_light(month, exported):
    with Image.open(exported / "png" / f"{NAME}.png") as picture:
        assert picture.mode == "RGB"
        got = np.asarray(picture).astype(float)
    assert np.abs(got - mixed_by_hand(month, 255.0 * colour("#f3ece1"))).max() <= 1.0


def test_on_nothing_it_looks_the_same_over_that_ground(month, tmp_path):
    """Where opacity is whole or none; in between programs mix by their own rules."""
    options = ["png", "--ink", "dates=#1d3a6b", "--bits", "16", "--workers", "1"]
    assert run(["export", str(month), "-o", str(tmp_path / "files"), *options]) == 0
    with Image.open(tmp_path / "files" / "png" / f"{NAME}.png") as picture:
        values = np.asarray(picture.convert("RGBA")).astype(float)
    solid = values[:, :, 3] == 255
    assert solid.sum() > 5000
    expected = mixed_by_hand(month, 255.0 * colour("#f3ece1"))
    assert np.abs(values[solid][:, :3] - expected[solid]).max() <= 1.0


def test_one_ink_is_that_of_all_layers_but_blocks(month, tmp_path):
    options = ["svg", "--ink", "#112233", "--ink", "name=#445566", "--ground", "white"]
    assert run(["export", str(month), "-o", str(tmp_path / "x"), *options]) == 0
    text = (tmp_path / "x" / "svg" / f"{NAME}.svg").read_text()
    found = dict(re.findall(r'<g id="([^"]+)" fill="(#\w+)">\n<title>2027', text))
    entries = json.loads((month / "manifest.json").read_text())["stamps"]
    for entry in entries:
        colour = "#445566" if entry["name"].endswith("/name") else "#112233"
        colour = entry["ink"]["colour"] if entry["kind"] == "blocks" else colour
        assert found[entry["name"].replace("/", "-").join(("_", ""))] == colour


def test_layers_have_their_names_and_colours(month, exported):
    entries = json.loads((month / "manifest.json").read_text())["stamps"]
    names = [entry["name"] for entry in entries]
    project = Project.load(str(exported / "ora" / f"{NAME}.ora"))
    layers = list(project.iter_layers)
    assert [layer.name for layer in layers] == ["paper", *(name.split("/")[1] for name in names)]
    assert all(layer.visible for layer in layers)
    dates = np.asarray(next(one for one in layers if one.name == "dates").get_image_data())
    assert (dates[:, :, :3] == (0x1D, 0x3A, 0x6B)).all()
    text = (exported / "svg" / f"{NAME}.svg").read_text()
    assert 'fill="#1d3a6b"' in text
    assert 'fill="#f3ece1"' in text
    assert all(f"<title>{name}</title>" in text for name in names)


def test_curves_show_what_the_flat_picture_shows(exported):
    with Image.open(exported / "png" / f"{NAME}.png") as picture:
        expected = np.asarray(picture.convert("L")).astype(float)
    data = (exported / "svg" / f"{NAME}.svg").read_bytes()
    assert coverage_by_resvg(data).min() == 255  # the ground is in the file
    with pypdfium2.PdfDocument(exported / "pdf" / f"{NAME}.pdf") as document:
        assert len(document) == 1
        bitmap = document[0].render(scale=300 / 72, grayscale=True)
        shown = bitmap.to_numpy().reshape(bitmap.height, bitmap.width).astype(float)
    assert shown.shape == expected.shape
    # Readers mix edges as values and not as light, so that they look a little darker.
    assert np.abs(shown - expected).mean() < 4.0
    assert (np.abs(shown - expected) > 80).mean() < 0.01


def test_wishes_that_cannot_be(month, kit, tmp_path, said):
    out = ["-o", str(tmp_path / "files")]
    assert run(["export", str(month), *out, "--ink", "datez=#1d3a6b"]) == 2
    assert "no layer is called 'datez'" in said()[1][0]
    assert run(["export", str(month), *out, "--ground", "sand"]) == 2
    assert "a ground is one of clear, white, black, or of finished months a colour" in said()[1][0]
    assert run(["export", str(kit), *out, "--ground", "#f3ece1"]) == 2
    assert "a ground of a colour or a picture is for finished months" in said()[1][0]
    assert not (tmp_path / "files").exists()


def test_a_month_finished_in_layers_is_the_one_that_is_exported(month, tmp_path):
    """The same bytes: there is one way to such a file."""
    recipe = recipe_from_text(RECIPE, source="x.toml", folder=tmp_path)
    wanted = months_recipe(recipe, ((2027, 2),), formats=(), week_start=None, language=None)
    papers = Papers(sheet=plain_sheet, guide=lambda *_: b"")
    finish_months(wanted, tmp_path / "again", papers=papers, also=("ora",), workers=1)
    files = tmp_path / "files"
    options = ["--ground", "#ffffff", "--workers", "1"]
    assert run(["export", str(month), "ora", "-o", str(files), *options]) == 0
    own = (tmp_path / "again" / NAME / "calendar.ora").read_bytes()
    assert (files / "ora" / f"{NAME}.ora").read_bytes() == own


@pytest.fixture(scope="module")
def hills(tmp_path_factory):
    """A painting twice as wide as high, red on the left and blue on the right, but for its ends."""
    values = np.full((700, 1400, 3), (200, 40, 30), np.uint8)
    values[:, 700:] = (30, 60, 180)
    values[:, :340], values[:, 1060:] = 0, 255
    file = tmp_path_factory.mktemp("hills") / "hills.png"
    Image.fromarray(values).save(file)
    return file


@pytest.fixture(scope="module")
def on_hills(month, hills, tmp_path_factory):
    folder = tmp_path_factory.mktemp("on") / "files"
    options = ["--ground", str(hills), "--ink", "dates=#1d3a6b", "--workers", "1"]
    assert run(["export", str(month), "-o", str(folder), *options]) == 0
    return folder


def ground_by_hand(shape):
    """The middle of the painting, which fills the canvas."""
    ground = np.full(shape, (200, 40, 30), float)
    ground[:, shape[1] // 2 :] = (30, 60, 180)
    return ground


def test_a_flat_picture_stands_on_a_painting(month, on_hills):
    with Image.open(on_hills / "png" / f"{NAME}.png") as picture:
        got = np.asarray(picture).astype(float)
    assert np.abs(got - mixed_by_hand(month, ground_by_hand(got.shape))).max() <= 1.0


def test_a_painting_lies_under_all_layers(on_hills):
    with Image.open(on_hills / "png" / f"{NAME}.png") as picture:
        flat = np.asarray(picture).astype(float)
    ground = ground_by_hand(flat.shape)
    project = Project.load(str(on_hills / "ora" / f"{NAME}.ora"))
    paper, *layers = list(project.iter_layers)
    assert paper.name == "paper"
    assert (np.asarray(paper.get_image_data())[:, :, :3] == ground).all()
    with tifffile.TiffFile(on_hills / "tiff" / f"{NAME}.tiff") as file:
        first, *pages = [page.asarray() for page in file.pages]
        names = [page.tags["PageName"].value for page in file.pages]
    assert (first == ground).all()
    assert names == ["paper", *(f"{NAME}/{layer.name}" for layer in layers)]
    for layer, page in zip(layers, pages, strict=True):
        values = np.asarray(layer.get_image_data())
        assert (page[:, :, -1] == values[:, :, 3]).all()


def test_a_painting_lies_under_curves(on_hills):
    """Where there is no ink, readers show the painting."""
    with Image.open(on_hills / "png" / f"{NAME}.png") as picture:
        flat = np.asarray(picture).astype(float)
    bare = ~binary_dilation((flat != ground_by_hand(flat.shape)).any(axis=2), iterations=4)
    bare[:, [flat.shape[1] // 2 + off for off in range(-3, 3)]] = False  # there readers smooth it
    assert bare.mean() > 0.2
    shown = {
        "svg": picture_by_resvg((on_hills / "svg" / f"{NAME}.svg").read_bytes()),
        "pdf": picture_by_pdfium((on_hills / "pdf" / f"{NAME}.pdf").read_bytes()),
    }
    for form, values in shown.items():
        assert values.shape == flat.shape, form
        assert (np.abs(values - flat).max(axis=2) > 80).mean() < 0.01, form
        assert np.abs(values - flat)[bare].max() <= 1.0, form


def test_a_painting_that_cannot_be_a_ground_is_told(month, kit, hills, tmp_path, said):
    out = ["-o", str(tmp_path / "x"), "--ground"]
    assert run(["export", str(month), *out, str(tmp_path / "none.png")]) == 2
    assert "--ground: " in said()[1][0]
    Image.new("CMYK", (100, 100)).save(tmp_path / "cmyk.jpg")
    assert run(["export", str(month), *out, str(tmp_path / "cmyk.jpg")]) == 2
    assert "is in CMYK, and red, green and blue or greys are required" in said()[1][0]
    assert run(["export", str(kit), *out, str(hills)]) == 2
    assert "a ground of a colour or a picture is for finished months" in said()[1][0]
    assert not (tmp_path / "x").exists()


def test_a_small_painting_is_told_and_a_changed_one_used(month, tmp_path, said):
    Image.new("RGB", (100, 100), (200, 40, 30)).save(tmp_path / "a.png")
    options = ["--ground", str(tmp_path / "a.png"), "--workers", "1"]
    assert run(["export", str(month), "png", "-o", str(tmp_path / "x"), *options]) == 0
    assert any("a.png has 100 x 100 px and is enlarged" in line for line in said()[0])
    Image.new("RGB", (100, 100), (20, 40, 30)).save(tmp_path / "a.png")
    assert run(["export", str(month), "png", "-o", str(tmp_path / "x"), *options]) == 0
    with Image.open(tmp_path / "x" / "png" / f"{NAME}.png") as picture:
        assert picture.getpixel((0, 0)) == (20, 40, 30)

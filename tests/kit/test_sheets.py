"""Layouts and overviews: what is on them, read back from their pixels."""

import io

import numpy as np
import pytest
from PIL import Image

from inkline.kit import sheets
from inkline.kit.build import build_kit
from inkline.kit.sheets import SheetJob, sheet_made, sheet_names
from inkline.kit.workshop import Workshop
from inkline.output.pictures import read_grey

LAYERS = (
    "standard/blocks-6",
    "standard/blocks-head",
    "standard/grid-6-head",
    "standard/dates-1",
    "standard/weekdays-sunday",
)


@pytest.fixture
def shop(small):
    return Workshop(small)


def colour(text):
    return [int(text[at : at + 2], 16) for at in (1, 3, 5)]


def pixels_of(sheet):
    with Image.open(io.BytesIO(sheet.picture)) as picture:
        return np.asarray(picture.convert("RGB")).astype(int)


def test_each_format_has_a_layout_of_all_its_layers(shop):
    assert sheet_names(shop) == {"standard/layout": LAYERS, "overview": tuple(shop.plans)}


def test_a_layout_shows_what_is_drawn_over_what_is_exact(tmp_path, small, shop):
    build_kit(small, tmp_path, workers=1, only=LAYERS)
    # A picture with nothing on it leaves its exact layout in sight, full ink everywhere covers it.
    Image.new("L", (160, 160), 0).save(tmp_path / "standard" / "grid-6-head.png")
    job = SheetJob(name="standard/layout", folder=tmp_path, names=LAYERS)
    seen = pixels_of(sheet_made(shop, job))
    line = next(line for line in shop.plans["standard/grid-6-head"].geometry()["lines"] if line["width_px"] > 1)
    x, y = np.mean([line["from"], line["to"]], axis=0).astype(int)
    near = seen[y - 2 : y + 3, x - 2 : x + 3].reshape(-1, 3)
    assert np.abs(near - colour(sheets._EXACT)).sum(axis=1).min() < 90
    Image.new("L", (160, 160), 255).save(tmp_path / "standard" / "grid-6-head.png")
    assert (pixels_of(sheet_made(shop, job)) == colour(sheets._DRAWN)).all()


def test_a_layout_of_an_exact_kit_shows_no_exact_colour(tmp_path, recipe_of):
    exact = recipe_of()
    shop = Workshop(exact)
    for name in LAYERS:
        shop.style = sheets.EXACT
        (tmp_path / "standard").mkdir(exist_ok=True)
        (tmp_path / f"{name}.png").write_bytes(shop.drawn(sheets_job(name)).picture)
    seen = pixels_of(sheet_made(shop, SheetJob(name="standard/layout", folder=tmp_path, names=LAYERS)))
    # Only edge pixels are mixed: nowhere is the exact colour stronger than half.
    towards_exact = (seen[:, :, 0] > 200) & (seen[:, :, 1] < 140) & (seen[:, :, 2] < 110)
    assert not towards_exact.any()


def sheets_job(name):
    from inkline.kit.workshop import Job  # noqa: PLC0415

    return Job(name=name, masters=None)


def test_the_overview_prints_each_stamp_in_its_place(tmp_path, small, shop):
    names = ("standard/grid-5", "words/month-02", "words/digit-7")
    build_kit(small, tmp_path, workers=1, only=names)
    setting = sheets._setting(shop, names)
    seen = pixels_of(sheet_made(shop, SheetJob(name="overview", folder=tmp_path, names=names)))
    assert seen.shape[:2] == setting.size[::-1]
    for place in setting.prints:
        x, y, (width, height) = place.x, place.y, place.size
        area = seen[y : y + height, x : x + width].sum(axis=2)
        ink = read_grey(tmp_path / f"{place.name}.png").mean() / 255
        darkness = 1 - area.mean() / area.max()
        assert darkness > 0.2 * ink


def test_a_picture_missing_its_lettering_is_still_a_sheet(tmp_path, recipe_of):
    from dataclasses import replace  # noqa: PLC0415

    shop = Workshop(replace(recipe_of(), title="\u4e8c\u6708"))
    build_kit(shop.recipe, tmp_path, workers=1, only=["words/digit-7"])
    sheet = sheet_made(shop, SheetJob(name="overview", folder=tmp_path, names=("words/digit-7",)))
    assert pixels_of(sheet).shape[1] == 2400


def test_pictures_that_cannot_be_read_leave_their_place_blank(tmp_path, small, shop):
    build_kit(small, tmp_path, workers=1, only=["words/digit-7"])
    (tmp_path / "words" / "digit-7.png").write_bytes(b"nothing")
    sheet = sheet_made(shop, SheetJob(name="overview", folder=tmp_path, names=("words/digit-7",)))
    assert len(sheet.notes) == 1
    assert "digit-7.png cannot be read as a picture" in sheet.notes[0]


def test_a_retouch_at_another_size_is_shown_at_its_place(tmp_path, small, shop):
    build_kit(small, tmp_path, workers=1, only=["standard/grid-6-head"])
    job = SheetJob(name="overview", folder=tmp_path, names=("standard/grid-6-head",))
    before = pixels_of(sheet_made(shop, job))
    path = tmp_path / "standard" / "grid-6-head.png"
    with Image.open(path) as picture:
        double = picture.resize((320, 320), Image.Resampling.NEAREST)
    double.save(path)
    after = pixels_of(sheet_made(shop, job))
    assert after.shape == before.shape
    assert np.abs(after - before).mean() < 2

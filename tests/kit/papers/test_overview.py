"""Layouts and overviews: what is on them, read back from their pixels."""

import io
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from inkline.ink.style import EXACT
from inkline.kit.build import build_kit
from inkline.kit.papers import overview as sheets
from inkline.kit.papers.makers import kit_sheet
from inkline.kit.papers.sheet import SheetJob
from inkline.kit.pieces import stamp_of
from inkline.kit.product import KitOrder, kit_sheet_names
from inkline.kit.recipe.loading import recipe_from_text
from inkline.output.pictures import read_grey
from inkline.pages.palette import DRAWN_BLOCK, DRAWN_LINE, EXACT_LINE
from inkline.press.product import Bench

LAYERS = (
    "standard/blocks-6",
    "standard/blocks-head",
    "standard/grid-6-head",
    "standard/dates-1",
    "standard/weekdays-sunday",
)


def opened(recipe):
    return KitOrder(recipe=recipe).open_and_check().kit


@pytest.fixture
def kit(small):
    return opened(small)


def colour(text):
    return [int(text[at : at + 2], 16) for at in (1, 3, 5)]


def pixels_of(sheet):
    with Image.open(io.BytesIO(sheet.picture)) as picture:
        return np.asarray(picture.convert("RGB")).astype(int)


def test_each_format_has_a_layout_of_all_its_layers(kit):
    assert kit_sheet_names(kit) == {"standard/layout": LAYERS, "overview": tuple(kit.plans)}


def test_a_layout_shows_what_is_drawn_over_what_is_exact(tmp_path, small, kit):
    build_kit(small, tmp_path, workers=1, only=LAYERS)
    # A picture with nothing on it leaves its exact layout in sight, full ink everywhere covers it.
    Image.new("L", (160, 160), 0).save(tmp_path / "standard" / "grid-6-head.png")
    job = SheetJob(name="standard/layout", folder=tmp_path, names=LAYERS)
    seen = pixels_of(kit_sheet(kit, job))
    line = next(
        line
        for line in kit.plans["standard/grid-6-head"].geometry()["lines"]
        if line["width_px"] > 1
    )
    x, y = np.mean([line["from"], line["to"]], axis=0).astype(int)
    near = seen[y - 2 : y + 3, x - 2 : x + 3].reshape(-1, 3)
    assert np.abs(near - colour(EXACT_LINE)).sum(axis=1).min() < 90
    Image.new("L", (160, 160), 255).save(tmp_path / "standard" / "grid-6-head.png")
    assert (pixels_of(kit_sheet(kit, job)) == colour(DRAWN_LINE)).all()


def test_a_layout_of_an_exact_kit_shows_no_exact_colour(tmp_path, recipe_of):
    exact = recipe_of()
    kit = opened(replace(exact, style=EXACT))
    (tmp_path / "standard").mkdir()
    for name in LAYERS:
        picture = stamp_of(kit, kit.plans[name]).make(("png",), Bench(folder=tmp_path))
        (tmp_path / f"{name}.png").write_bytes(picture.files["png"])
    seen = pixels_of(
        kit_sheet(kit, SheetJob(name="standard/layout", folder=tmp_path, names=LAYERS))
    )
    # Only edge pixels are mixed: nowhere is the exact colour stronger than half.
    towards_exact = (seen[:, :, 0] > 200) & (seen[:, :, 1] < 140) & (seen[:, :, 2] < 110)
    assert not towards_exact.any()


def test_the_overview_prints_each_stamp_in_its_place(tmp_path, small, kit):
    names = ("standard/grid-5", "words/month-02", "words/digit-7")
    build_kit(small, tmp_path, workers=1, only=names)
    setting = sheets._overview_setting(kit, names)
    seen = pixels_of(kit_sheet(kit, SheetJob(name="overview", folder=tmp_path, names=names)))
    assert seen.shape[:2] == setting.size[::-1]
    for place in setting.prints:
        x, y, (width, height) = place.x, place.y, place.size
        area = seen[y : y + height, x : x + width].sum(axis=2)
        ink = read_grey(tmp_path / f"{place.name}.png").mean() / 255
        darkness = 1 - area.mean() / area.max()
        assert darkness > 0.2 * ink


def test_a_picture_missing_its_lettering_is_still_a_sheet(tmp_path, recipe_of):
    kit = opened(replace(recipe_of(), title="\u4e8c\u6708"))
    build_kit(kit.recipe, tmp_path, workers=1, only=["words/digit-7"])
    sheet = kit_sheet(kit, SheetJob(name="overview", folder=tmp_path, names=("words/digit-7",)))
    assert pixels_of(sheet).shape[1] == 2400


def test_pictures_that_cannot_be_read_leave_their_place_blank(tmp_path, small, kit):
    build_kit(small, tmp_path, workers=1, only=["words/digit-7"])
    (tmp_path / "words" / "digit-7.png").write_bytes(b"nothing")
    sheet = kit_sheet(kit, SheetJob(name="overview", folder=tmp_path, names=("words/digit-7",)))
    assert len(sheet.notes) == 1
    assert "digit-7.png cannot be read as a picture" in sheet.notes[0].sentence


def test_a_retouch_at_another_size_is_shown_at_its_place(tmp_path, small, kit):
    build_kit(small, tmp_path, workers=1, only=["standard/grid-6-head"])
    job = SheetJob(name="overview", folder=tmp_path, names=("standard/grid-6-head",))
    before = pixels_of(kit_sheet(kit, job))
    path = tmp_path / "standard" / "grid-6-head.png"
    with Image.open(path) as picture:
        double = picture.resize((320, 320), Image.Resampling.NEAREST)
    double.save(path)
    after = pixels_of(kit_sheet(kit, job))
    assert after.shape == before.shape
    assert np.abs(after - before).mean() < 2


@pytest.mark.parametrize("ground", ["white", "colour", "see-through"])
def test_what_is_no_white_on_black_is_shown_as_it_is(tmp_path, small, kit, ground):
    build_kit(small, tmp_path, workers=1, only=["words/digit-7"])
    path = tmp_path / "words" / "digit-7.png"
    with Image.open(path) as picture:
        stamp = picture.convert("L")
    red, white = Image.new("RGB", stamp.size, (200, 30, 30)), Image.new("RGB", stamp.size, "white")
    saved, rim = {
        "white": (stamp.point(lambda value: 255 - value), (255, 255, 255)),
        "colour": (Image.composite(white, red, stamp), (200, 30, 30)),
        "see-through": (Image.merge("LA", (stamp.point(lambda _: 0), stamp)), (255, 255, 255)),
    }[ground]
    saved.save(path)
    job = SheetJob(name="overview", folder=tmp_path, names=("words/digit-7",))
    (place,) = sheets._overview_setting(kit, job.names).prints
    seen = pixels_of(kit_sheet(kit, job))
    x, y, (width, height) = place.x, place.y, place.size
    area = seen[y : y + height, x : x + width]
    assert np.abs(area[0, 0] - rim).max() <= 2
    assert np.ptp(area.sum(axis=2)) > 300  # the 7 itself is there


MANY = """
version = 1
title = "Many"
number = 5
[canvas]
side = "420 px"
[calendar]
week_starts = ["monday", "saturday"]
[formats.standard]
split = "weekend"
sixth_week = "shared"
weeks = [5]
dates = "exact"
blocks = "none"
header = "with"
[formats.tall]
week_numbers = "iso"
week_numbers_in = "narrow"
takes = 3
[formats.wide]
blocks = "cut"
header = "without"
numeral = 0.3
side = "centre"
level = "middle"
[formats.strip]
[formats.week]
[formats.day]
[formats.small]
[marks]
"05-20" = "underline"
[words]
language = ["en", "de"]
years = [2027]
captions = []
"""


def many(**pieces):
    text = MANY
    for old, new in pieces.items():
        text = text.replace(old, new)
    return opened(recipe_from_text(text, source="many.toml", folder=Path()))


@pytest.fixture(scope="module")
def all_kinds():
    return many()


def test_every_kind_of_format_has_a_layout_on_one_canvas(all_kinds):
    sheets = kit_sheet_names(all_kinds)
    layouts = {
        name: tuple(stamp.rpartition("/")[2] for stamp in stamps) for name, stamps in sheets.items()
    }
    assert layouts["tall/layout"] == (
        "blocks-6-a",
        "blocks-head-a",
        "grid-6-head-a",
        "dates-1",
        "weekdays-monday",
    )
    assert layouts["wide/layout"] == ("blocks-6-cut-1", "grid-6", "weekdays-monday")
    assert layouts["standard/layout"] == (
        "grid-5-head",
        "dates-1-31-workdays-monday",
        "dates-1-31-saturdays-monday",
        "dates-1-31-sundays-monday",
        "weekdays-monday",
    )
    assert layouts["strip/layout"][:4] == ("blocks", "blocks-head", "grid-head", "dates-31")
    assert layouts["week/layout"] == ("blocks", "blocks-head", "grid-head", "weekdays-monday")
    assert layouts["day/layout"] == ("blocks", "blocks-head", "grid-head")
    assert layouts["small/layout"] == ("month-1-31-monday",)
    for name, stamps in sheets.items():
        if name.endswith("layout"):
            assert len({all_kinds.plans[stamp].canvas for stamp in stamps}) == 1


def test_an_overview_shows_every_kind_and_counts_long_series(tmp_path, all_kinds):
    """Without any picture: what can't be read is left blank, and the sheet is made all the same."""
    names = tuple(all_kinds.plans)
    setting = sheets._overview_setting(all_kinds, names)
    shown = {place.name for place in setting.prints}
    assert {name.partition("/")[0] for name in shown} == {name.partition("/")[0] for name in names}
    counts = [text.text for text in setting.lines if text.text.endswith("in all")]
    assert "28 in all" in counts  # exact dates
    assert "112 in all" in counts  # small months, in two languages and from two days
    sheet = kit_sheet(all_kinds, SheetJob(name="overview", folder=tmp_path, names=names))
    assert pixels_of(sheet).shape[:2] == setting.size[::-1]
    assert len(sheet.notes) == len(shown)


@pytest.mark.parametrize("name", ["strip", "week", "day", "small", "wide"])
def test_layouts_of_all_kinds_are_made_from_their_pictures(tmp_path, all_kinds, name):
    stamps = kit_sheet_names(all_kinds)[f"{name}/layout"]
    for stamp in stamps:
        path = tmp_path / f"{stamp}.png"
        path.parent.mkdir(exist_ok=True)
        Image.new("L", all_kinds.plans[stamp].canvas, 255).save(path)
    seen = pixels_of(
        kit_sheet(all_kinds, SheetJob(name=f"{name}/layout", folder=tmp_path, names=stamps))
    )
    only_blocks = {all_kinds.plans[stamp].kind for stamp in stamps} == {"blocks"}
    assert (seen == colour(DRAWN_BLOCK if only_blocks else DRAWN_LINE)).all()


def test_words_of_two_languages_have_rows_of_their_own():
    assert sheets._group("words/month-02") != sheets._group("words/month-02-de")
    assert sheets._group("words/month-02-de") == sheets._group("words/month-11-de")
    assert sheets._group("words/digit-7") == sheets._group("words/digit-0")

"""Pictures that sell a kit: sizes, real stamps, her colours, what is told, what is left alone."""

import json
import shutil
from dataclasses import replace

import numpy as np
import pytest
from PIL import Image

from inkline.cli.running import run
from inkline.output.ground import filling_values
from inkline.output.pictures import read_grey
from inkline.phrases.phrases import Phrases
from inkline.shop.artwork import Wish
from inkline.shop.board import Board
from inkline.shop.contents import shop_kit
from inkline.shop.inside import rows_of
from inkline.shop.listing import listing_text
from inkline.shop.months import MonthPicture
from inkline.shop.product import ShopRequest, make_shop

SIZES = {"square": (600, 600), "portrait": (480, 600), "wide": (800, 450)}
NAMES = ("cover", "inside", "close-up", "colours", "on-artwork")


@pytest.fixture(scope="module")
def shop(kit, painting, tmp_path_factory):
    folder = tmp_path_factory.mktemp("shop") / "shop"
    make_shop(ShopRequest(kit=kit, wish=Wish(on=painting)), folder, workers=1)
    return folder


def values_of(file):
    with Image.open(file) as picture:
        return np.asarray(picture.convert("RGB"))


def test_there_is_each_picture_in_each_size(shop):
    for folder, size in SIZES.items():
        for name in NAMES:
            with Image.open(shop / folder / f"{name}.png") as picture:
                assert picture.size == size, (folder, name)


def test_the_close_up_is_the_stamps_own_pixels(kit, shop):
    """A pixel that no ink touches is paper; where all of a rule's is, it is her ink, to the bit."""
    month = MonthPicture(shop=shop_kit(kit))
    grid = next(one for one in month.shop.month.layers if "grid" in one.name)
    own = read_grey(kit / grid.file)
    shown = values_of(shop / "wide" / "close-up.png")[: round(450 * 0.9)]
    full = (shown == 0).all(axis=2)
    found = 0
    for y in range(-40, 200):
        rows = slice(max(y, 0), max(y, 0) + 200)
        part = own[rows.start - y : rows.start - y + 200]
        x = round(0.5 * (800 - month.box[0] - month.box[2]))
        inked = part[: len(full[rows])] == 255
        below = full[rows, x : x + own.shape[1]][: len(inked)]
        found = max(found, int((inked & below).sum() == inked.sum() and inked.sum() > 500))
    assert found


def test_pictures_are_in_the_colours_of_the_recipe(shop):
    palette = {(255, 255, 255), (0, 0, 0), (187, 34, 0), (255, 217, 176), (32, 48, 80)}
    for name in ("cover", "inside", "colours"):
        values = values_of(shop / "square" / f"{name}.png").reshape(-1, 3)
        colours, counts = np.unique(values, axis=0, return_counts=True)
        most = [tuple(map(int, colours[i])) for i in np.argsort(-counts)[:3]]
        assert palette >= set(most), name


def test_the_artwork_fills_the_picture_and_is_left_alone_beside_the_month(shop, painting):
    with Image.open(painting) as picture:
        whole = filling_values(np.asarray(picture.convert("RGB")), (800, 450))
    shown = values_of(shop / "wide" / "on-artwork.png")
    changed = (shown != whole).any(axis=2)
    assert 0.02 < changed.mean() < 0.6
    rows, columns = np.flatnonzero(changed.any(axis=1)), np.flatnonzero(changed.any(axis=0))
    assert min(rows[0], 449 - rows[-1], columns[0], 799 - columns[-1]) > 0


def test_the_month_lies_where_it_is_wished(kit, painting, tmp_path):
    wish = Wish(on=painting, at=(0.3, 0.6), across=0.4)
    make_shop(ShopRequest(kit=kit, wish=wish), tmp_path / "shop", workers=1)
    with Image.open(painting) as picture:
        whole = filling_values(np.asarray(picture.convert("RGB")), (800, 450))
    changed = (values_of(tmp_path / "shop" / "wide" / "on-artwork.png") != whole).any(axis=2)
    rows, columns = np.flatnonzero(changed.any(axis=1)), np.flatnonzero(changed.any(axis=0))
    assert 0.5 * (columns[0] + columns[-1]) == pytest.approx(240, abs=8)
    assert columns[-1] - columns[0] == pytest.approx(320, abs=14)
    assert 0.5 * (rows[0] + rows[-1]) == pytest.approx(270, abs=8)


def test_the_listing_counts_what_is_there(kit, shop):
    text = (shop / "listing.txt").read_text(encoding="utf-8")
    n_stamps = len(json.loads((kit / "manifest.json").read_text())["stamps"])
    for line in (
        "Fog Bell, edition 2",
        f"- {n_stamps} stamps",
        "- 2 sets of dates",
        "- 3 month names",
        "- 2 years",
        "- years 2027\N{EN DASH}2028",
        "- further languages: German",
        "- tall: 480 x 480 px (41 x 41 mm, 300 ppi)",
        "For your own work.",
        "A. Hand",
    ):
        assert line in text.splitlines(), line


def test_run_again_nothing_changes_and_a_retouched_stamp_does(kit, painting, shop, tmp_path):
    own, out = tmp_path / "kit", tmp_path / "shop"
    shutil.copytree(kit, own)
    shutil.copytree(shop, out)
    request = ShopRequest(kit=own, wish=Wish(on=painting))
    assert make_shop(request, out, workers=1).files_made == ()
    (out / "wide" / "cover.png").write_bytes(b"mine")
    (name,) = (one.file for one in shop_kit(own).month.layers if "dates" in one.name)
    grey = read_grey(own / name).copy()
    grey[200:280, 200:280] = 255
    Image.fromarray(grey).save(own / name)
    report = make_shop(request, out, workers=1)
    assert "square/cover.png" in report.files_made
    assert report.files_kept == ("wide/cover.png",)
    assert (out / "wide" / "cover.png").read_bytes() == b"mine"


def test_without_a_picture_there_is_no_month_on_artwork_and_it_is_said(kit, tmp_path, capsys):
    assert run(["shop", str(kit), "-o", str(tmp_path / "shop"), "--workers", "1"]) == 0
    said = capsys.readouterr().out
    assert "13 files" in said
    assert "no month on artwork" in said


@pytest.mark.parametrize(
    ("options", "sentence"),
    [
        (["--at", "10%,10%"], "none is given"),
        (["--on", "none.png"], "there is no such picture"),
        (["--font", "none.ttf"], "none.ttf"),
    ],
)
def test_what_cannot_be_used_is_told(kit, tmp_path, capsys, options, sentence):
    assert run(["shop", str(kit), "-o", str(tmp_path / "shop"), *options]) == 2
    assert sentence in capsys.readouterr().err
    assert not (tmp_path / "shop").exists()


def test_what_is_no_kit_and_a_folder_within_one_are_refused(kit, tmp_path, capsys):
    assert run(["shop", str(tmp_path / "none"), "-o", str(tmp_path / "shop")]) == 2
    assert "holds no kit" in capsys.readouterr().err
    assert run(["shop", str(kit), "-o", str(kit / "shop")]) == 2
    assert "lies in the kit's own folder" in capsys.readouterr().err


def test_captions_are_in_the_language_that_is_asked_for_by_its_own_rules(kit):
    """Turkish has an i with its dot in capitals too (Unicode, SpecialCasing.txt)."""
    shop = replace(shop_kit(kit), phrases=Phrases(language="tr"))
    board = Board(shop=shop, size=(500, 500), ground="#ffffff")
    assert board.cased(shop.phrases.say("shop.inside")) == "İÇİNDE NELER VAR"
    assert "- 2 yıl" in listing_text(shop).splitlines()


def test_what_is_very_long_is_shown_in_rows_of_whole_words(kit):
    with Image.open(next(kit.rglob("weekdays-*.png"))) as picture:
        grey = np.asarray(picture)
    ink = grey[np.ix_(grey.any(axis=1), np.ones(grey.shape[1], bool))]
    rows = rows_of(ink)
    assert len(rows) > 1
    assert (np.concatenate(rows, axis=1) == ink).all()
    assert all(not row[:, -1].any() for row in rows[:-1])
    with Image.open(kit / "words" / "digit-1.png") as picture:
        assert len(rows_of(np.asarray(picture))) == 1

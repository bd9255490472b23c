"""A drawing of her own in the place of a numeral, on every stamp that shows it."""

import io
from dataclasses import replace

import numpy as np
import pytest
from PIL import Image, ImageDraw

from inkline.desk.easel import Easel
from inkline.desk.looking import PictureWish, Sheet
from inkline.desk.own_hand import put_own_drawing
from inkline.errors import InputError
from inkline.kit.build import build_kit
from inkline.kit.recipe.loading import recipe_from_text

NAME = "standard/dates-3/17"
TEXT = """\
version = 1
number = 31
[canvas]
side = "400 px"
[formats.standard]
split = "weekend"
"""


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    """A small kit, and its recipe."""
    folder = tmp_path_factory.mktemp("harbour")
    recipe = recipe_from_text(TEXT, source="harbour.toml", folder=folder)
    only = ["standard/dates-3", "standard/dates-3-*"]
    build_kit(recipe, folder / "kit", workers=1, only=only)
    return recipe, folder / "kit", only


def file_of(picture, form="PNG"):
    out = io.BytesIO()
    picture.save(out, form)
    return out.getvalue()


def cross(mode="RGB", ground="white", ink="black"):
    """A large cross by a pen, well off the middle of its paper."""
    picture = Image.new(mode, (600, 500), ground)
    pencil = ImageDraw.Draw(picture)
    for ends in ((60, 60, 260, 260), (260, 60, 60, 260)):
        pencil.line(ends, fill=ink, width=30)
    return picture


def grey(path):
    return np.asarray(Image.open(path)).astype(int)


@pytest.mark.parametrize(
    ("name", "data"),
    [
        ("mine.png", file_of(cross())),
        ("mine.jpg", file_of(cross(), "JPEG")),
        ("clear.png", file_of(cross("RGBA", (0, 0, 0, 0), (20, 30, 60, 255)))),
        ("night.png", file_of(cross("L", 10, 250))),
    ],
)
def test_it_stands_where_the_numeral_stood_and_nothing_else_changes(made, name, data):
    _, kit, _ = made
    path = kit / "standard" / "dates-3.png"
    before, old = path.read_bytes(), grey(path)
    try:
        put_own_drawing(kit, NAME, name, data)
        new = grey(path)
    finally:
        path.write_bytes(before)
    rows, columns = np.nonzero(new != old)
    assert np.ptp(rows) < 60
    assert np.ptp(columns) < 60
    window = np.s_[rows.min() : rows.max() + 1, columns.min() : columns.max() + 1]
    stood, stands = (np.nonzero(one[window] > 127) for one in (old, new))
    assert abs(np.ptp(stood[0]) - np.ptp(stands[0])) <= 2
    assert abs(stood[1].mean() - stands[1].mean()) < 6
    assert new[window].max() > 240


def test_it_spreads_to_the_other_stamps_that_show_it(made):
    recipe, kit, only = made
    others = list((kit / "standard").glob("dates-3-*.png"))
    before = {path.name: grey(path) for path in others}
    put_own_drawing(kit, NAME, "mine.png", file_of(cross()))
    report = build_kit(recipe, kit, workers=1, only=only, spread=[NAME])
    changed = {path.stem for path in others if (grey(path) != before[path.name]).any()}
    assert changed == {"dates-3-workdays-monday", "dates-3-workdays-sunday"}
    assert report.hers == ("standard/dates-3",)


@pytest.mark.parametrize(
    ("thing", "name", "data", "said"),
    [
        ("standard/dates-3/47", "mine.png", file_of(cross()), "is called"),
        ("nowhere/17", "mine.png", file_of(cross()), "no stamp"),
        (NAME, "mine.txt", b"17", "a picture is required"),
        (NAME, "mine.png", b"no picture", "cannot be read"),
        (NAME, "mine.png", file_of(Image.new("L", (300, 300), 255)), "no ink"),
    ],
)
def test_what_cannot_be_put_there_is_refused(made, thing, name, data, said):
    _, kit, _ = made
    before = {path: path.read_bytes() for path in kit.rglob("*.png")}
    with pytest.raises(InputError, match=said):
        put_own_drawing(kit, thing, name, data)
    assert before == {path: path.read_bytes() for path in kit.rglob("*.png")}


def test_there_must_be_a_kit_to_put_it_into(client):
    headers = {"x-inkline-file": "mine.png", "x-inkline-thing": "standard%2Fdates-3%2F17"}
    came = client.post("/own-hand", content=file_of(cross()), headers=headers)
    assert (came.status_code, "not made yet" in came.json()["sentence"]) == (422, True)


def test_it_is_seen_on_the_desk_as_it_is_in_the_kit(made):
    recipe, kit, only = made
    put_own_drawing(kit, NAME, "mine.png", file_of(cross()))
    build_kit(recipe, kit, workers=1, only=only, spread=[NAME])
    stamp = "standard/dates-3-workdays-monday"
    stands = np.asarray(Image.open(kit / f"{stamp}.png"))
    plain = Sheet(text=TEXT, source="harbour.toml", folder=kit.parent)
    sheet = replace(plain, made=kit, drawn_at=1)
    easel = Easel()
    wish = PictureWish(stamp=stamp, width=stands.shape[1])
    assert (easel.picture(plain, wish) != stands).any()
    assert (easel.picture(sheet, wish) == stands).all()
    part = easel.picture(sheet, replace(wish, window=(30, 60, 200, 150)))
    assert (part == stands[60:210, 30:230]).all()
    turned = replace(wish, changes={"edge": {"raggedness": "60 um"}})
    assert (easel.picture(sheet, turned) == easel.picture(plain, turned)).all()

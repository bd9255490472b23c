"""Artwork that is brought to the page: what is said of it, and that its ink is the command's."""

import io
import tempfile
import time
import tomllib
import zipfile

import numpy as np
import pytest
from PIL import Image

from inkline.desk.artwork.easel import ArtworkEasel
from inkline.desk.artwork.reading import ReadArtwork, read_pictures
from inkline.desk.looking import PictureWish
from inkline.errors import InputError
from inkline.finishing.drawn import sheet_png
from inkline.finishing.product import finish
from inkline.finishing.recipe import request_of_recipe
from inkline.finishing.request import FinishRequest, open_finish
from inkline.kit.product import KitOrder
from inkline.kit.recipe.choices import ArtBeyond
from inkline.kit.recipe.loading import load_recipe
from inkline.output.look import Ground
from tests.support.desk_artwork import PLAN

PARTS = """
[finish]
files = ["plan.svg"]
ground = "white"
[finish.parts.grid]
style = "chalk"
[finish.parts.title]
ink = "exact"
"""
ENTITIES = b"""<!DOCTYPE svg [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;">]>
<svg xmlns="http://www.w3.org/2000/svg"><text>&b;</text></svg>"""


def bring(client, data=None, name="plan.svg"):
    data = PLAN.encode() if data is None else data
    return client.post("/artwork/bring", content=data, headers={"x-inkline-file": name})


def picture(client, **asked):
    came = client.post("/draw", json={"artwork": True, "stamp": "plan", **asked})
    assert came.status_code == 200, came.text
    width, height = map(int, came.headers["x-inkline-size"].split())
    return np.frombuffer(came.content, dtype=np.uint8).reshape(height, width, -1)


def made_by_command(folder, **asked):
    """The picture that the command draws of the same."""
    request = FinishRequest(files=(folder / "plan.svg",), style="felt-marker", number=411, **asked)
    finish(request, folder / "own")
    return (folder / "own" / "plan.png").read_bytes()


def wait_until_made(client):
    for _ in range(600):
        news = client.get("/artwork/making").json()
        if news["state"] != "making":
            return news
        time.sleep(0.1)
    raise AssertionError("it was not made")


def test_artwork_is_read_told_drawn_and_packed_as_by_the_command(client, recipe_file, tmp_path):
    assert bring(client).status_code == 200
    assert tomllib.loads(recipe_file.read_text())["finish"] == {"files": ["plan.svg"]}
    told = client.get("/artwork").json()
    (one,) = told["pictures"]
    assert one["words"][0] == f'"Ferry plan", {one["width"]} x {one["height"]} px'
    assert "a grid of 7 x 5 cells of 6 x 4 mm" in one["words"]
    assert one["lacks"] == ["<circle> fill, line 3: a <linearGradient> is left out"]
    drawn = picture(client, width=one["width"])[..., 0]
    client.post("/artwork/make", json={})
    news = wait_until_made(client)
    assert news["kits"][0]["drawn"] == 1
    data = (tmp_path / "ferry-artwork" / "plan.png").read_bytes()
    assert data == made_by_command(tmp_path)
    assert (np.asarray(Image.open(io.BytesIO(data))) == drawn).all()
    with zipfile.ZipFile(io.BytesIO(client.get("/artwork/pack.zip").content)) as pack:
        (name,) = [name for name in pack.namelist() if name.endswith("plan.png")]
        assert pack.read(name) == data


def test_what_is_asked_of_artwork_changes_it_and_can_be_undone(client, recipe_file, tmp_path):
    bring(client)
    plain = picture(client, width=300)
    ways = {"ground": "clear", "into_cells": "dates=2027-02", "beyond_ink": "plain"}
    for key, value in ways.items():
        client.post("/set", json={"way": ["finish", key], "typed": value})
    (one,) = client.get("/artwork").json()["pictures"]
    assert "drawn as its mean colour" in one["lacks"][0]
    coloured = picture(client, width=one["width"])
    own = Image.open(
        io.BytesIO(
            made_by_command(
                tmp_path,
                ground=Ground.CLEAR,
                into_cells="dates=2027-02",
                beyond_ink=ArtBeyond.PLAIN,
            )
        )
    )
    assert (np.asarray(own) == coloured).all()
    part = picture(client, width=one["width"], window=[60, 40, 120, 90])
    assert (part == coloured[40:130, 60:180]).all()
    for _ in ways:
        client.post("/undo", json={})
    assert (picture(client, width=300) == plain).all()
    client.post("/artwork/leave", json={"name": "plan.svg"})
    assert "finish" not in tomllib.loads(recipe_file.read_text())
    assert (tmp_path / "plan.svg").is_file()


def test_what_does_not_fit_the_cells_is_said_and_the_rest_is_drawn(client):
    bring(client)
    client.post("/set", json={"way": ["finish", "into_cells"], "typed": "numerals=1-99"})
    (one,) = client.get("/artwork").json()["pictures"]
    assert one["fault"] == "plan.svg: 1-99 needs 15 rows, and there are 7 x 5 cells"
    assert picture(client, width=200).any()


@pytest.mark.parametrize(
    ("name", "data", "sentence"),
    [
        ("plan.exe", b"MZ", "artwork is a file of SVG"),
        ("plan.svg", b"<svg", "plan.svg"),
        ("plan.pdf", b"%PDF-1.7 no more", "plan.pdf"),
        ("../../plan.png", b"\x89PNG\r\n\x1a\n", "plan.png"),
        ("bomb.svg", ENTITIES, "bomb.svg"),
    ],
)
def test_what_is_no_artwork_is_refused_and_not_kept(client, recipe_file, name, data, sentence):
    text, there = recipe_file.read_text(), sorted(recipe_file.parent.iterdir())
    came = bring(client, data, name)
    assert came.status_code == 422
    assert sentence in came.json()["sentence"]
    assert tempfile.gettempdir() not in came.json()["sentence"]
    assert recipe_file.read_text() == text
    assert [one for one in sorted(recipe_file.parent.iterdir()) if one.suffix] == [
        one for one in there if one.suffix
    ]


def test_parts_with_styles_of_their_own_are_drawn_as_by_the_command(recipe_file, tmp_path):
    (tmp_path / "plan.svg").write_text(PLAN)
    recipe_file.write_text(recipe_file.read_text() + PARTS)
    kit = KitOrder(recipe=load_recipe(recipe_file)).open().kit
    request = request_of_recipe(kit.recipe)
    easel = ArtworkEasel(ReadArtwork(key="", request=request, pictures=read_pictures(request)))
    opened = open_finish(request)
    own = np.asarray(Image.open(io.BytesIO(sheet_png(opened, opened.sheets[0]))))
    drawn = easel.picture(kit, PictureWish(stamp="plan", width=own.shape[1]))
    assert (drawn[..., :3] == own).all()
    part = easel.picture(
        kit, PictureWish(stamp="plan", width=own.shape[1], window=(-5, 30, 100, 80))
    )
    assert (part[:, 5:, :3] == own[30:110, :95]).all()
    with pytest.raises(InputError, match='no artwork "plane" any more'):
        easel.picture(kit, PictureWish(stamp="plane", width=100))


def test_a_folder_of_somebody_elses_is_left_alone(client, tmp_path):
    bring(client)
    other = tmp_path / "ferry-artwork"
    other.mkdir()
    (other / "letter.txt").write_text("dear")
    client.post("/artwork/make", json={})
    news = wait_until_made(client)
    assert news["state"] == "refused"
    assert {one["action"] for one in news["remedies"]} >= {"other folder"}
    client.post("/artwork/make", json={"elsewhere": True})
    assert wait_until_made(client)["state"] == "done"
    assert [one.name for one in other.iterdir()] == ["letter.txt"]
    assert (tmp_path / "ferry-artwork-2" / "plan.png").is_file()

"""What the page asks for, and what it gets."""

import io
import json
import tomllib

import numpy as np
import pytest
from PIL import Image

from inkline.kit.product import KitOrder
from inkline.kit.recipe.loading import load_recipe
from inkline.press.product import Bench


def coverage(came):
    width, height = map(int, came.headers["x-inkline-size"].split())
    return np.frombuffer(came.content, dtype=np.uint8).reshape(height, width)


def drawn(client, place="/draw", **asked):
    came = client.post(place, json=asked)
    assert came.status_code == 200, came.text
    return coverage(came)


def test_the_page_shows_the_token_and_only_its_own_files(client):
    page = client.get("/")
    assert 'content="of-a-test"' in page.text
    assert client.get("/page/desk.js").headers["content-type"].startswith("text/javascript")
    for name in ("index.html", "nothing.js", "..%2fapp.py"):
        assert client.get(f"/page/{name}").status_code == 404


def test_the_state_tells_stamps_style_and_values(client):
    state = client.get("/state").json()
    assert state["title"] == "Ferry times"
    assert state["faults"] == []
    assert {"standard/grid-5", "standard/dates-3"} <= {one["name"] for one in state["stamps"]}
    assert state["style"]["name"] == "felt-marker"
    assert state["style"]["values"]["edge.raggedness"] > 0.0
    controls = client.get("/furnishings").json()["controls"]
    keys = {control["key"] for rows in controls.values() for control in rows}
    assert keys <= set(state["style"]["values"])


@pytest.mark.parametrize("name", ["standard/grid-5", "standard/dates-3"])
def test_at_full_size_the_picture_is_the_kits(client, recipe_file, tmp_path, name):
    kit = KitOrder(recipe=load_recipe(recipe_file)).open()
    made = kit.pieces[name].make(("png",), Bench(folder=tmp_path))
    kits = np.asarray(Image.open(io.BytesIO(made.files["png"])))
    assert (drawn(client, stamp=name, width=kits.shape[1]) == kits).all()


def test_a_window_is_cut_out_of_the_whole(client):
    whole = drawn(client, stamp="standard/grid-5", width=900)
    part = drawn(client, stamp="standard/grid-5", width=900, window=[120, 200, 300, 250])
    assert (part == whole[200:450, 120:420]).all()


def test_another_size_shows_the_same_lines(client):
    name = "standard/dates-3"
    large = drawn(client, stamp=name, width=2000)
    small = drawn(client, stamp=name, width=500)
    means = large.reshape(500, 4, 500, 4).mean(axis=(1, 3)) if large.shape == (2000, 2000) else None
    assert means is not None
    assert np.abs(means - small)[(means > 0) | (small > 0)].mean() < 4.0


def test_what_is_turned_is_drawn_before_it_is_kept(client, recipe_file):
    before = recipe_file.read_text()
    asked = {"stamp": "standard/grid-5", "width": 500}
    plain = drawn(client, **asked)
    rough = drawn(client, **asked, changes={"edge.raggedness": 0.1})
    assert (plain != rough).any()
    assert recipe_file.read_text() == before
    client.post("/turn", json={"values": {"edge.raggedness": 0.1}})
    assert (drawn(client, **asked) == rough).all()
    client.post("/undo", json={})
    assert (drawn(client, **asked) == plain).all()
    assert recipe_file.read_text() == before


def test_a_value_that_is_turned_is_written_as_a_person_would(client, recipe_file):
    state = client.post("/turn", json={"values": {"edge.raggedness": 0.0213, "hand.speed": 55}})
    read = tomllib.loads(recipe_file.read_text())["style"]
    assert read["edge"] == {"raggedness": "21.3 um"}
    assert read["hand"] == {"speed": "55.0 mm/s"} or read["hand"] == {"speed": "55 mm/s"}
    assert state.json()["style"]["values"]["edge.raggedness"] == pytest.approx(0.0213)
    assert "# small, for tests" in recipe_file.read_text()
    client.post("/turn", json={"values": {"edge.raggedness": None, "hand.speed": None}})
    assert tomllib.loads(recipe_file.read_text())["style"] == {"name": "felt-marker"}


def test_another_style_leaves_nothing_turned(client, recipe_file):
    client.post("/turn", json={"values": {"paper.dryness": 0.3}})
    state = client.post("/style", json={"name": "chalk"}).json()
    assert state["style"]["name"] == "chalk"
    assert tomllib.loads(recipe_file.read_text())["style"] == {"name": "chalk"}


def test_a_fault_is_said_and_undone(client, recipe_file):
    recipe_file.write_text(recipe_file.read_text().replace("cell = 1.0", "cell = 40.0"))
    state = client.get("/state").json()
    assert state["faults"]
    assert "cell" in state["faults"][0]["sentence"]
    assert client.post("/draw", json={"stamp": "standard/grid-5", "width": 100}).status_code == 422
    assert client.post("/undo", json={}).json()["faults"] == []


def test_the_exact_lines_lie_under_the_ink(client):
    asked = {"stamp": "standard/grid-5", "width": 1000}
    exact, ink = drawn(client, **asked, exact=True), drawn(client, **asked)
    assert (exact != ink).any()
    # of the exact rules, all but what wanders off is inked
    assert (ink[exact == 255] > 127).mean() > 0.8


def test_another_drawing_of_one_numeral_changes_that_alone(client):
    name = "standard/dates-3"
    places = client.post("/places", json={"stamp": name}).json()
    box = next(one["box"] for one in places if one["name"] == f"{name}/17")
    before = drawn(client, stamp=name, width=500)
    after = drawn(client, stamp=name, width=500, again={f"{name}/17": 1})
    rows, columns = np.nonzero(before != after)
    assert len(rows)
    left, top, width, height = box
    assert left - 4 <= columns.min() <= columns.max() <= left + width + 4
    assert top - 4 <= rows.min() <= rows.max() <= top + height + 4


@pytest.mark.parametrize(
    ("place", "asked", "sentence"),
    [
        ("/draw", {"stamp": "tall/grid-9", "width": 100}, "no stamp"),
        ("/draw", {"stamp": "standard/grid-5"}, "no wish"),
        ("/draw", {"stamp": "standard/grid-5", "width": 10**9}, "from 1 to"),
        ("/draw", {"stamp": "standard/grid-5", "width": 9, "window": [0, 0, 0, 1]}, "from 1 to"),
        ("/draw", {"stamp": "standard/grid-5", "width": 9, "changes": {"x.y": 1}}, "no value"),
        ("/draw", {"stamp": "standard/grid-5", "width": 9, "changes": [1]}, "table"),
        ("/turn", {"values": {"edge.raggedness": "rough"}}, "no value"),
        ("/style", {"name": "../secret"}, "no style"),
        ("/stroke", {"size": "large"}, "width and a height"),
    ],
)
def test_what_cannot_be_done_is_said(client, recipe_file, place, asked, sentence):
    before = recipe_file.read_text()
    came = client.post(place, json=asked)
    assert came.status_code == 422
    assert sentence in came.json()["sentence"]
    assert recipe_file.read_text() == before


def test_what_is_no_json_is_said(client):
    for sent in (b"{", b"[" * 100_000, b"1", b"\xff"):
        assert client.post("/draw", content=sent).status_code == 422


def test_strokes_show_the_style(client):
    size = [300, 80]
    own = drawn(client, "/stroke", size=size)
    assert own.shape == (80, 300)
    assert (drawn(client, "/stroke", size=size, changes={"paper.dryness": 0.5}) != own).any()
    chalk, felt = (
        drawn(client, "/sample", style=name, size=[90, 30]) for name in ("chalk", "felt-marker")
    )
    assert (chalk != felt).any()
    assert not felt[:, [0, -1]].any()


def test_styles_beside_the_recipe_are_in_the_row_and_can_be_taken(client, recipe_file):
    assert client.get("/state").json()["own_styles"] == []
    client.post("/turn", json={"values": {"edge.raggedness": 0.05}})
    client.post("/keep-style", json={"name": "evening-pen"})
    own = client.get("/state").json()["own_styles"]
    assert [one["name"] for one in own] == ["evening-pen.toml"]
    client.post("/style", json={"name": "chalk"})
    assert client.post("/style", json={"name": "evening-pen.toml"}).status_code == 200
    assert 'name = "evening-pen.toml"' in recipe_file.read_text()
    assert drawn(client, "/sample", style="evening-pen.toml", size=[90, 30]).any()
    assert client.post("/style", json={"name": "../evening-pen.toml"}).status_code == 422


def test_the_same_stamp_is_drawn_in_another_style_beside(client):
    asked = {"stamp": "standard/grid-5", "width": 300}
    beside = drawn(client, "/beside", **asked, style="chalk")
    assert (beside != drawn(client, **asked)).any()
    client.post("/style", json={"name": "chalk"})
    assert (beside == drawn(client, **asked)).all()


def test_the_stroke_comes_with_what_it_measures(client):
    came = client.post("/stroke", json={"size": [304, 88]})
    measured = json.loads(came.headers["x-inkline-measured"])
    assert set(measured) == {"width", "spread", "edge", "wander", "bare"}

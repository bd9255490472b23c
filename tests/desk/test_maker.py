"""What is made from the page: kits, proof, shop pictures; followed, stopped in order, refused."""

import time

import pytest

from inkline.desk.maker import Maker
from inkline.errors import InputError
from tests.desk.conftest import RECIPE

SMALL = RECIPE.replace("[formats.standard]\ncell = 1.0", '[formats.slip]\nshows = "day"')
LONGEST_S = 240.0


def wait_until(maker, is_so):
    until = time.monotonic() + LONGEST_S
    while not is_so(maker.news):
        assert time.monotonic() < until, maker.news
        time.sleep(0.05)
    return maker.news


def done(maker, **order):
    """The news once what was ordered has come to an end."""
    maker.start(order)
    return wait_until(maker, lambda news: news["state"] != "making")


def kit_order(recipe, folder, **more):
    return {"what": "kit", "recipe": str(recipe), "folder": str(folder), **more}


def test_a_kit_is_stopped_and_gone_on_with_and_proved_and_made_another_edition(
    recipe_file, tmp_path
):
    recipe_file.write_text(SMALL)
    maker, folder = Maker(), tmp_path / "kit"
    maker.start(kit_order(recipe_file, folder))
    with pytest.raises(InputError, match="is being made"):
        maker.start(kit_order(recipe_file, folder))
    wait_until(maker, lambda news: news.get("done", 0) > 2)
    maker.stop()
    assert wait_until(maker, lambda news: news["state"] != "making")["state"] == "stopped"
    there = sorted(path.name for path in folder.rglob("*.png"))
    assert there
    news = done(maker, **kit_order(recipe_file, folder))
    assert news["state"] == "done"
    (kit,) = news["kits"]
    assert kit["faults"] == []
    assert kit["drawn"] + kit["unchanged"] > 10
    assert kit["unchanged"] > 0

    page = tmp_path / "proof.html"
    proof = done(maker, what="prove", kit=str(folder), page=str(page))["proof"]
    assert (proof["faults"], proof["measured"]) == ([], proof["stamps"])
    assert "<h2>Seen from near</h2>" in page.read_text()

    recipe_file.write_text(SMALL.replace('"day"', '"day"\nstem = 6'))
    news = done(maker, **kit_order(recipe_file, tmp_path / "kit-2", since=str(folder)))
    (edition,) = news["kits"]
    assert any("the same" in words for words in edition["changes"])


def test_a_faulty_recipe_is_refused_in_words(recipe_file, tmp_path):
    recipe_file.write_text(RECIPE.replace("cell = 1.0", "cell = 40.0"))
    maker = Maker()
    news = done(maker, **kit_order(recipe_file, tmp_path / "kit"))
    assert news["state"] == "refused"
    assert "cell" in news["sentence"]
    assert news["remedies"] == []
    assert not (tmp_path / "kit").exists()
    maker.stop()


def test_a_strangers_folder_is_refused_with_ways_on(recipe_file, tmp_path):
    folder = tmp_path / "kit"
    folder.mkdir()
    (folder / "letter.txt").write_text("mine")
    news = done(Maker(), **kit_order(recipe_file, folder))
    assert news["state"] == "refused"
    assert {"other folder", "go on"} <= {one["action"] for one in news["remedies"]}
    assert [path.name for path in folder.iterdir()] == ["letter.txt"]

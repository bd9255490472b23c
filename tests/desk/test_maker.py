"""The kit that is made from the page: followed, stopped in order, refused in words."""

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


def test_a_kit_is_stopped_and_gone_on_with(recipe_file, tmp_path):
    recipe_file.write_text(SMALL)
    maker, folder = Maker(), tmp_path / "kit"
    maker.start(recipe_file, folder)
    with pytest.raises(InputError, match="is being made"):
        maker.start(recipe_file, folder)
    wait_until(maker, lambda news: news.get("done", 0) > 2)
    maker.stop()
    assert wait_until(maker, lambda news: news["state"] != "making")["state"] == "stopped"
    there = sorted(path.name for path in folder.rglob("*.png"))
    assert there
    maker.start(recipe_file, folder)
    news = wait_until(maker, lambda news: news["state"] != "making")
    assert news["state"] == "done"
    (kit,) = news["kits"]
    assert kit["faults"] == []
    assert kit["drawn"] + kit["unchanged"] > 10
    assert kit["unchanged"] > 0


def test_a_faulty_recipe_is_refused_in_words(recipe_file, tmp_path):
    recipe_file.write_text(RECIPE.replace("cell = 1.0", "cell = 40.0"))
    maker = Maker()
    maker.start(recipe_file, tmp_path / "kit")
    news = wait_until(maker, lambda news: news["state"] != "making")
    assert news["state"] == "refused"
    assert "cell" in news["sentence"]
    assert not (tmp_path / "kit").exists()
    maker.stop()

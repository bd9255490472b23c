"""Other drawings of one thing on a sheet: the very ones that a kit then draws."""

import io
import re
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from inkline.errors import InputError
from inkline.ink.engine import draw
from inkline.kit import choices
from inkline.kit.choices import choices_of
from inkline.kit.product import KitOrder
from inkline.kit.recipe.loading import recipe_from_text
from inkline.raster.compose import render

TEXT = 'version = 1\nnumber = 31\n[canvas]\nside = "400 px"\n[formats.standard]\n'


def read(more=""):
    return recipe_from_text(f"{TEXT}{more}", source="harbour.toml", folder=Path())


def stamp_with(recipe, name, again):
    """The whole stamp on which the thing is."""
    piece = KitOrder(recipe=recipe).open().pieces[name.rpartition("/")[0]]
    return render(draw(piece.plan.drawing(), piece.style, recipe.number, again=again))


@pytest.fixture
def shown(monkeypatch):
    """The pictures that were put on the sheet."""
    pictures = []
    sheet = choices._sheet

    def noted(own, *more):
        pictures.extend(own)
        return sheet(own, *more)

    monkeypatch.setattr(choices, "_sheet", noted)
    return pictures


def test_they_are_the_drawings_of_the_kit(shown):
    recipe, name = read(), "standard/dates-3/17"
    made = choices_of(recipe, name, show=3, first=1)
    assert (made.counts, made.now) == ((1, 2, 3), 0)
    for count, picture in zip(made.counts, shown, strict=True):
        whole = stamp_with(recipe, name, {name: count})
        windows = np.lib.stride_tricks.sliding_window_view(whole, picture.shape)
        assert (windows == picture).all(axis=(2, 3)).any()
    assert len({picture.tobytes() for picture in shown}) == 3


@pytest.mark.parametrize(
    "name", ["words/month-02", "standard/grid-5/across-2", "standard/blocks-5/r1c2"]
)
def test_words_rules_and_blocks_are_shown_too(name):
    picture = Image.open(io.BytesIO(choices_of(read(), name, show=2).png))
    assert picture.mode == "RGB"
    assert min(picture.size) > 60


def test_what_the_recipe_has_now_is_told():
    assert choices_of(read('[again]\n"words/month-02" = 4\n'), "words/month-02", show=1).now == 4


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("standard/dates-3/47", 'nothing on standard/dates-3 is called "standard/dates-3/47"'),
        ("standart/dates-3/17", 'did you mean "standard/dates-3"?'),
        ("17", 'nothing in this kit is called "17"'),
        ("", 'nothing in this kit is called ""'),
    ],
)
def test_a_name_of_nothing_is_refused(name, said):
    with pytest.raises(InputError, match=re.escape(said)):
        choices_of(read(), name, show=2)


@pytest.mark.parametrize("show", [0, 25])
def test_too_many_are_refused(show):
    with pytest.raises(InputError, match="from 1 to 24"):
        choices_of(read(), "words/month-02", show=show)

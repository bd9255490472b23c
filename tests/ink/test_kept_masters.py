"""Masters that an earlier version wrote still give the picture that they gave then.

The arrays and the picture in `data` were written when format 1 was new. When the format changes,
they stay, and new ones join them.
"""

import dataclasses
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from ink_scenes import LIVELY, drawing, numeral_stroke, rule
from inkline.ink.engine import draw
from inkline.ink.master import masters_from_arrays
from inkline.ink.style import style_from_dict
from inkline.raster.compose import render

DATA = Path(__file__).parent / "data"
STYLE = style_from_dict({**LIVELY, "paper": {"dryness": 0.15, "rim": 1.0}}, where="test")
SCENE = drawing(
    "kept/scene",
    [
        rule("kept/scene/across-1", (30.2, 40.6), (270.4, 40.6), crossings=[60.0, 180.0]),
        numeral_stroke(
            "kept/scene/7/1", [[90.0, 90.0], [180.0, 92.0], [120.0, 260.0]], origin=(90.0, 260.0)
        ),
    ],
    canvas=(300, 300),
)


@pytest.mark.parametrize("version", [1])
def test_masters_of_every_format_give_their_picture(version):
    with np.load(DATA / f"masters-{version}.npz") as arrays:
        kept = masters_from_arrays(dict(arrays))
    inked = draw(SCENE, STYLE, 11, kept=kept)
    assert inked.n_drawn == 0, "their keys are no longer those of the same marks"
    got = render(inked).astype(int)
    expected = np.asarray(Image.open(DATA / f"masters-{version}.png")).astype(int)
    assert np.abs(got - expected).max() <= 1


def test_their_keys_know_one_mark_from_another():
    other = dataclasses.replace(SCENE, name="kept/other", layers=SCENE.layers)
    with np.load(DATA / "masters-1.npz") as arrays:
        kept = masters_from_arrays(dict(arrays))
    assert draw(other, STYLE, 12, kept=kept).n_drawn == 2

"""Masters, what they are kept by, and that an earlier version's still give their picture.

The arrays and the pictures in `data` were written when their formats were new: `masters-1` with
format 1, `media-2` with format 2, which added media, `media-3` with format 3, in which their ink
compares deviates, `media-4` with format 4, in which a stroke that crosses itself lays one arm over
the other, `media-5` with format 5, in which ink builds up, wet strokes run into one and ends may be
firm. When the format changes, they stay, and new ones join them.
"""

import dataclasses
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from ink_scenes import LIVELY, box, drawing, numeral_stroke, rule, small_grid
from inkline.ink.engine import draw
from inkline.ink.master import arrays_from_masters, master_key, masters_from_arrays
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


MEDIA = ("contact", "bristles", "film", "wash")
MEDIA_SCENE = drawing(
    "kept/media",
    [
        rule("kept/media/across-1", (30.2, 40.6), (270.4, 40.6), crossings=[60.0, 180.0]),
        numeral_stroke(
            "kept/media/7/1", [[90.0, 90.0], [180.0, 92.0], [120.0, 180.0]], origin=(90.0, 180.0)
        ),
        box("kept/media/b", 170.3, 130.2, 270.4, 270.9),
    ],
    canvas=(300, 300),
)


_TURN = np.linspace(0.1, 6.1, 120)
LOOP_SCENE = drawing(
    "kept/loop",
    [
        numeral_stroke(
            "kept/loop/8/1",
            np.column_stack((150 + 60 * np.sin(2 * _TURN), 150 - 100 * np.cos(_TURN))),
            origin=(90.0, 250.0),
        )
    ],
    canvas=(300, 300),
)


CROSSED_SCENE = drawing(
    "kept/crossed",
    [
        rule("kept/crossed/across-1", (30.2, 60.6), (270.4, 60.6)),
        rule("kept/crossed/down-1", (80.2, 30.6), (80.2, 270.4)),
        box("kept/crossed/b", 130.3, 110.2, 270.4, 270.9),
    ],
    canvas=(300, 300),
)


def medium_style(kind, **more):
    paper = {"medium": kind, "dryness": 0.25, "play": 0.1, "fill": "passes", "bloom": 0.1} | more
    return style_from_dict({**LIVELY, "paper": paper}, where="test")


LOOP = {"emptying": 0.5, "pressing": 0.1, "overlap": 0.4}
FIRM = {"build_up": 0.4, "merging": 0.8, "firm_ends": 0.7, "overlap": 0.3, "smear": 0.4}
SCENES = {
    2: (MEDIA_SCENE, {}),
    3: (MEDIA_SCENE, {}),
    4: (LOOP_SCENE, LOOP),
    5: (CROSSED_SCENE, FIRM),
}


@pytest.mark.parametrize("version", SCENES)
@pytest.mark.parametrize("place", range(len(MEDIA)), ids=MEDIA)
def test_masters_of_media_give_their_picture(place, version):
    kind, (scene, more) = MEDIA[place], SCENES[version]
    with np.load(DATA / f"media-{version}.npz") as arrays:
        mine = {key.partition("_")[2]: arrays[key] for key in arrays if key.startswith(kind)}
    inked = draw(scene, medium_style(kind, **more), 11, kept=masters_from_arrays(mine))
    assert inked.n_drawn == 0, "their keys are no longer those of the same marks"
    got = render(inked).astype(int)
    expected = np.asarray(Image.open(DATA / f"media-{version}.png")).astype(int)
    expected = expected[:, 300 * place : 300 * (place + 1)]
    assert np.abs(got - expected).max() <= 1


@pytest.mark.parametrize("kind", MEDIA)
def test_masters_of_media_come_back_as_they_were(kind):
    first = draw(MEDIA_SCENE, medium_style(kind), 3)
    kept = masters_from_arrays(arrays_from_masters(first.masters))
    again = draw(MEDIA_SCENE, medium_style(kind), 3, kept=kept)
    assert again.n_drawn == 0
    assert np.array_equal(render(first), render(again))


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


PX_PER_MM = 2500 / 84


def test_masters_come_back_as_they_were_and_spare_the_drawing(lively):
    dry = style_from_dict({"paper": {"dryness": 0.2}}, where="test", base=lively)
    first = draw(small_grid(), dry, 4)
    kept = masters_from_arrays(arrays_from_masters(first.masters))
    again = draw(small_grid(), dry, 4, kept=kept)
    assert first.n_drawn == 7
    assert again.n_drawn == 0
    assert np.array_equal(render(first), render(again))


def test_masters_of_an_unknown_format_are_left_alone(lively):
    arrays = arrays_from_masters(draw(small_grid(), lively, 4).masters)
    assert masters_from_arrays(arrays | {"format": np.array([99])}) == {}
    assert masters_from_arrays({}) == {}


def test_a_moved_numeral_keeps_its_drawing_and_a_changed_rule_does_not(lively):
    here = numeral_stroke("t/d/7/1", [[60.3, 100.1], [150.2, 104.7]], origin=(55.0, 200.0))
    there = dataclasses.replace(
        here, points=here.points + np.array([301.7, 12.9]), origin=(55.0 + 301.7, 212.9)
    )
    args = {"number": 1, "again": 0, "px_per_mm": PX_PER_MM}
    assert master_key(here, lively, **args) == master_key(there, lively, **args)
    one, two = (
        rule("t/g/1", (50, 50), (650, 50), crossings=crossings)
        for crossings in ([100, 300], [100, 301])
    )
    assert master_key(one, lively, **args) != master_key(two, lively, **args)
    near_edge, at_edge = (
        rule("t/g/1", (50, 50), (650, 50), room_px=(room, room)) for room in (900, 3)
    )
    assert master_key(near_edge, lively, **args) != master_key(at_edge, lively, **args)

"""Pictures finished in a style that changes nothing come back as they were."""

import io

import numpy as np
from PIL import Image

from inkline.artwork.size import PictureSize
from inkline.finishing.drawn import sheet_png
from inkline.finishing.marks import ink_runs
from inkline.finishing.request import FinishRequest, open_finish
from inkline.ink.style import EXACT
from inkline.output.look import Ground

PLAN = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="600" height="420">'
    '<g fill="none" stroke="#000" stroke-width="5.3"><path d="M40.2 60.4H560.7M40.2 150.9H560.7'
    'M40.2 240.1H560.7M42.8 57.7V242.7M300.6 57.7V242.7M558.1 57.7V242.7"/>'
    '<path d="M80 330c40-60 80 60 120 0s80-60 120 0"/></g>'
    '<circle cx="420" cy="330" r="46.5"/><path d="M500 290l44 80h-88z"/></svg>'
)


def opened_for(file, ground=Ground.BLACK):
    size = PictureSize(ppi=96.0)
    return open_finish(FinishRequest(files=(file,), size=size, ground=ground), style=EXACT)


def drawn(opened):
    data = sheet_png(opened, opened.sheets[0])
    with Image.open(io.BytesIO(data)) as picture:
        return np.asarray(picture.convert("L")).astype(np.float64)


def test_a_picture_comes_back_with_its_ink_in_place(tmp_path):
    (tmp_path / "plan.svg").write_text(PLAN)
    before = drawn(opened_for(tmp_path / "plan.svg"))
    Image.fromarray(before.astype(np.uint8)).save(tmp_path / "plan.png")
    after = drawn(opened_for(tmp_path / "plan.png"))
    assert np.abs(after - before).sum() < 0.01 * before.sum()


def test_a_grid_is_found_alike_in_a_picture_and_in_a_drawing(tmp_path):
    (tmp_path / "plan.svg").write_text(PLAN)
    opened = opened_for(tmp_path / "plan.svg")
    Image.fromarray(drawn(opened).astype(np.uint8)).save(tmp_path / "plan.png")
    found = opened_for(tmp_path / "plan.png")
    places = [rule_places(one) for one in (opened, found)]
    assert len(places[0]) == 6
    assert np.allclose(places[0], places[1], atol=0.5)


def rule_places(opened):
    """The constant coordinate of each upright or level rule, and whether it is upright, sorted."""
    (run,), _ = ink_runs(opened, opened.sheets[0])
    straight = [mark.points for mark in run.drawing.marks if len(getattr(mark, "points", ())) == 2]
    upright = [bool(np.ptp(points[:, 0]) < np.ptp(points[:, 1])) for points in straight]
    return sorted(
        (up, float(points[:, 0 if up else 1].mean()))
        for up, points in zip(upright, straight, strict=True)
    )

"""Pictures finished in a style that changes nothing come back as they were."""

import io

import numpy as np
import pytest
from PIL import Image
from scipy.ndimage import gaussian_filter
from scipy.spatial import cKDTree

from inkline.artwork.model import Paint
from inkline.artwork.picture.colours import coverage_of_colours
from inkline.artwork.picture.pixels import Pixels
from inkline.artwork.size import PictureSize
from inkline.drawing import Stroke
from inkline.finishing.drawn import sheet_png
from inkline.finishing.marks import ink_runs
from inkline.finishing.request import FinishRequest, open_finish
from inkline.geometry.polyline import arc_lengths, at_arc_lengths
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


def marks_of(opened):
    runs, _ = ink_runs(opened, opened.sheets[0])
    return [mark for run in runs for mark in run.drawing.marks]


def test_wandering_lines_are_strokes_along_their_middles(tmp_path):
    """The middle of a traced wave lies within a quarter px of the wave that was drawn."""
    wave = '<path d="M20 60C60 0 90 120 150 60S250 20 280 90" fill="none" stroke="#000" '
    wave += 'stroke-width="7" stroke-linecap="round"/>'
    head = '<svg xmlns="http://www.w3.org/2000/svg" width="300" height="130">'
    (tmp_path / "wave.svg").write_text(
        f'{head}{wave}<circle cx="60" cy="105" r="15" fill="none" stroke="#000" stroke-width="5"/>'
        '<circle cx="220" cy="110" r="12"/></svg>'
    )
    exact = opened_for(tmp_path / "wave.svg")
    Image.fromarray(drawn(exact).astype(np.uint8)).save(tmp_path / "wave.png")
    seen = opened_for(tmp_path / "wave.png")
    strokes = [mark for mark in marks_of(seen) if isinstance(mark, Stroke)]
    assert len(strokes) == 2
    assert len(marks_of(seen)) == 3
    lines = {mark.closed: mark for mark in marks_of(exact) if isinstance(mark, Stroke)}
    for stroke in strokes:
        assert stroke.width_px == pytest.approx(lines[stroke.closed].width_px, abs=0.2)
        away = cKDTree(resampled(lines[stroke.closed])).query(stroke.points)[0]
        assert np.sqrt(np.mean(away[3:-3] ** 2)) < 0.25
    before, after = drawn(exact), drawn(seen)
    assert np.abs(after - before).sum() < 0.01 * before.sum()


def resampled(mark):
    points = np.concatenate((mark.points, mark.points[:1])) if mark.closed else mark.points
    lengths = arc_lengths(points)
    return at_arc_lengths(points, lengths, np.arange(0.0, lengths[-1], 0.05))


def test_a_picture_is_parted_by_the_colours_that_are_named(tmp_path):
    values = np.full((120, 160, 3), (250, 246, 238), np.uint8)
    values[20:26, 10:150] = (29, 43, 54)
    values[60:100, 40:80] = (192, 48, 80)
    Image.fromarray(values).save(tmp_path / "two.png")
    colours = ("#1d2b36", "#c03050")
    request = FinishRequest(files=(tmp_path / "two.png",), colours=colours)
    opened = open_finish(request, style=EXACT)
    runs, _ = ink_runs(opened, opened.sheets[0])
    assert [(run.layer, run.paint.hex) for run in runs] == [(one, one) for one in colours]
    (rule,), (block,) = (tuple(run.drawing.marks) for run in runs)
    assert rule.width_px == pytest.approx(6.0, abs=0.1)
    assert np.allclose(block.contours[0].min(axis=0), (40.0, 60.0), atol=0.6)
    assert np.allclose(block.contours[0].max(axis=0), (80.0, 100.0), atol=0.6)


def test_soft_edges_belong_to_the_ink_that_they_fade_from():
    ground, ink = np.array([255.0, 255, 255]), np.array([192.0, 48, 80])
    shares = np.linspace(0.0, 1.0, 9)
    row = np.rint(ground + shares[:, None] * (ink - ground)).astype(np.uint8)
    colours = np.full((20, 9, 3), 255, np.uint8)
    colours[8:12] = row
    pixels = Pixels(colours=colours, alpha=None)
    red = Paint(red=192 / 255, green=48 / 255, blue=80 / 255)
    dark, found = coverage_of_colours(pixels, [Paint(red=0.1, green=0.2, blue=0.3), red])
    assert dark.max() == 0
    inked = shares > 0.1
    assert np.abs(found[9] - 255.0 * shares)[inked].max() < 2.0


def rough(picture, seed):
    """A picture as a scanner may give it: soft, uneven and packed."""
    rng = np.random.default_rng(seed)
    soft = gaussian_filter(255.0 - picture, 0.7) + rng.normal(0.0, 3.0, picture.shape)
    data = io.BytesIO()
    Image.fromarray(np.clip(soft, 0, 250).astype(np.uint8)).save(data, "JPEG", quality=88)
    return data.getvalue()


@pytest.mark.parametrize("seed", range(3))
def test_rules_are_found_in_a_rough_picture(tmp_path, seed):
    (tmp_path / "plan.svg").write_text(PLAN)
    exact = opened_for(tmp_path / "plan.svg")
    (tmp_path / "plan.jpg").write_bytes(rough(drawn(exact), seed))
    found = opened_for(tmp_path / "plan.jpg")
    places = [rule_places(one) for one in (exact, found)]
    assert len(places[1]) == len(places[0]) == 6
    assert np.allclose(places[0], places[1], atol=0.5)

"""Media that are not wet, as they are read off pictures.

What they should look like was chosen by eye; the figures say only that the eye was not deceived.
"""

import dataclasses
from itertools import pairwise

import numpy as np
import pytest
from scipy import ndimage

from ink_scenes import box, drawing, numeral_stroke, rule
from inkline.ink.engine import draw
from inkline.ink.firmness import style_for_role
from inkline.ink.media.grain import Grain, PaperPlace, grain_ranks
from inkline.ink.style import style_from_dict
from inkline.raster.compose import render
from inkline.styles.files import load_style, style_files

STYLES = {
    name: style
    for name, style in ((name, load_style(path)) for name, path in style_files().items())
    if style.paper.medium != "patches"
}
CONTACT = [name for name, style in STYLES.items() if style.paper.medium == "contact"]
FILM = [name for name, style in STYLES.items() if style.paper.medium == "film"]
ALONG, ACROSS = [[0, 0, 0], [1, 1, 1], [0, 0, 0]], [[0, 1, 0], [0, 1, 0], [0, 1, 0]]
BRISTLES = [name for name, style in STYLES.items() if style.paper.medium == "bristles"]


def media_scene(scale=1.0):
    """A rule, a numeral's bowl and a block, on 700 x 400 px at scale 1."""
    angles = np.linspace(-2.6, 2.6, 60)
    bowl = np.column_stack((160 + 80 * np.cos(angles), 240 + 80 * np.sin(angles)))
    block = box("t/b", 330.3 * scale, 120.2 * scale, 640.4 * scale, 360.9 * scale)
    return dataclasses.replace(
        drawing(
            "t",
            [
                rule("t/grid/1", (30.0, 50.3), (670.0, 50.3), width_px=24.0, scale=scale),
                numeral_stroke(
                    "t/3/1",
                    bowl * scale,
                    origin=(80.0 * scale, 320.0 * scale),
                    width_px=24 * scale,
                ),
                block,
            ],
            canvas=(round(700 * scale), round(400 * scale)),
        ),
        sheet_px=2500.0 * scale,
    )


def solid(style):
    return dataclasses.replace(
        style, paper=dataclasses.replace(style.paper, dryness=0.0, specks=0.0)
    )


@pytest.mark.parametrize("style", STYLES.values(), ids=STYLES)
def test_the_same_number_gives_the_same_picture_and_another_number_does_not(style):
    one, two, other = (render(draw(media_scene(), style, number)) for number in (5, 5, 6))
    assert np.array_equal(one, two)
    assert not np.array_equal(one, other)


@pytest.mark.parametrize("style", STYLES.values(), ids=STYLES)
def test_one_master_gives_the_same_grain_at_any_size(style):
    """1250, 2500 and 5000 px of the sheet, reduced to 625: under 2 of 255 in the mean over ink."""
    kept = {master.key: master for master in draw(media_scene(), style, 3).masters}
    reduced = []
    for scale in (0.5, 1.0, 2.0):
        inked = draw(media_scene(scale), style, 3, kept=kept)
        assert inked.n_drawn == 0
        grey, n = render(inked).astype(float), round(4 * scale)
        reduced.append(grey.reshape(100, n, 175, n).mean(axis=(1, 3)))
    half, whole, double = reduced
    inked = whole > 0
    assert np.abs(half - whole)[inked].mean() < 2.0
    assert np.abs(double - whole)[inked].mean() < 2.0


def straight(name):
    """The style `name` with a hand and a nib at rest."""
    plain = style_from_dict({}, where="test")
    return dataclasses.replace(
        STYLES[name],
        hand=plain.hand,
        nib=plain.nib,
        edge=plain.edge,
        paper=dataclasses.replace(STYLES[name].paper, specks=0.0, emptying=0.0),
    )


def bare_by_row(name, *, width_px=24, numbers=range(8)):
    """Bare share in each row of a level rule, from rim to rim, in the mean of drawings."""
    scene = drawing(
        "t", [rule("t/g/1", (20.0, 40.0), (1980.0, 40.0), width_px=width_px)], canvas=(2000, 80)
    )
    rows = [
        1.0 - render(draw(scene, straight(name), number))[:, 60:1940].mean(axis=1) / 255.0
        for number in numbers
    ]
    first = 40 - width_px // 2
    return np.mean(rows, axis=0)[first : first + width_px]


@pytest.mark.parametrize("name", CONTACT)
def test_contact_dies_away_from_the_middle_to_the_rims(name):
    bare = bare_by_row(name)
    halves = 0.5 * (bare + bare[::-1])[:12]
    assert halves[0] > halves[3] > halves[6] > halves[11]
    assert halves[0] > 0.5


@pytest.mark.parametrize("name", FILM)
def test_a_film_starves_in_the_middle(name):
    bare = bare_by_row(name, width_px=36)
    assert bare[2:4].mean() < bare[16:20].mean()
    assert bare[-4:-2].mean() < bare[16:20].mean()


@pytest.mark.parametrize("name", CONTACT)
def test_rules_of_one_grid_lie_on_one_sheet(name):
    """Where rules cross, no more is bare than beside it: the same grain under both."""
    crossing = beside = 0.0
    for number in range(12):
        marks = [
            rule("t/g/across", (20.0, 150.0), (280.0, 150.0), width_px=24.0),
            rule("t/g/down", (150.0, 20.0), (150.0, 280.0), width_px=24.0),
        ]
        grey = render(draw(drawing("t", marks, canvas=(300, 300)), straight(name), number)) / 255.0
        crossing += 1.0 - grey[140:160, 140:160].mean()
        beside += 1.0 - 0.25 * sum(
            grey[rows, columns].mean()
            for rows, columns in (
                (slice(140, 160), slice(100, 120)),
                (slice(140, 160), slice(180, 200)),
                (slice(100, 120), slice(140, 160)),
                (slice(180, 200), slice(140, 160)),
            )
        )
    assert crossing <= beside


@pytest.mark.parametrize("name", BRISTLES)
def test_streaks_of_bristles_are_long(name):
    """Bare places inside a level rule are at least eight times as long as high.

    By the lengths over which they hang together along and across.
    """
    scene = drawing(
        "t", [rule("t/g/1", (20.0, 40.0), (1980.0, 40.0), width_px=30.0)], canvas=(2000, 80)
    )
    style = straight(name)
    style = dataclasses.replace(style, paper=dataclasses.replace(style.paper, granulation=0.0))
    along, across = [], []
    for number in range(4):
        missing = 255.0 - render(draw(scene, style, number))[32:48, 60:1900]
        bare = missing > min(128.0, 0.5 * np.percentile(missing, 99.0))  # a wet felt's are grey
        for line, lengths in ((ALONG, along), (ACROSS, across)):
            labels, n_runs = ndimage.label(bare, structure=line)
            lengths.extend(np.bincount(labels.ravel())[1 : n_runs + 1])
    # The mean length of the run in which a bare pixel lies.
    mean_along = np.square(along).sum() / np.sum(along)
    mean_across = np.square(across).sum() / np.sum(across)
    assert mean_along >= 8.0 * mean_across


def spikes(grey):
    """Pixels of ink that stick out alone: bare on three sides, the fourth ink."""
    ink = np.pad(grey > 127, 1)
    n_around = ink[:-2, 1:-1].astype(int) + ink[2:, 1:-1] + ink[1:-1, :-2] + ink[1:-1, 2:]
    return int((ink[1:-1, 1:-1] & (n_around == 1)).sum())


def test_a_brush_leaves_no_comb_where_it_crosses_itself():
    """An 8 whose load neither plays nor runs out shows no more teeth dry than a wet one."""
    turn = np.linspace(0.0, 2.0 * np.pi, 160)
    eight = np.column_stack((150 + 60 * np.sin(2 * turn), 150 - 100 * np.cos(turn)))
    scene = drawing("t", [numeral_stroke("t/8/1", eight, width_px=26.0)], canvas=(300, 300))
    style = straight("brush-pen")
    calm = dataclasses.replace(style.paper, play=0.0, dryness=0.01)
    style = dataclasses.replace(style, paper=calm)
    for number in range(3):
        dry, wet = (render(draw(scene, one, number)) for one in (style, solid(style)))
        assert spikes(dry[60:240]) <= spikes(wet[60:240]) + 5


def eight_in_ink(emptying, overlap=0.0):
    """An 8 in one line on 300 x 300 px, of a load that only runs out; and where all is ink."""
    turn = np.linspace(0.1, 2.0 * np.pi - 0.2, 160)
    eight = np.column_stack((150 + 60 * np.sin(2 * turn), 150 - 100 * np.cos(turn)))
    scene = drawing("t", [numeral_stroke("t/8/1", eight, width_px=26.0)], canvas=(300, 300))
    style, calm = straight("dip-pen"), {"play": 0.0, "granulation": 0.0, "rim": 0.0, "pooled": 0.0}
    calm |= {"dryness": 0.4, "pressing": 0.0, "emptying": emptying, "overlap": overlap}
    paper = dataclasses.replace(style.paper, **calm, speeding=0.0)
    grey = render(draw(scene, dataclasses.replace(style, paper=paper), 1)).astype(float)
    return grey, ndimage.binary_erosion(grey > 0, iterations=3)


def test_where_a_stroke_crosses_itself_one_arm_lies_over_the_other():
    """By its nearest point each place would jump by half of what the load runs out by."""
    grey, inside = eight_in_ink(0.4)
    steps = [
        np.abs(np.diff(grey, axis=axis))[
            np.logical_and(*(np.delete(inside, at, axis=axis) for at in (0, -1)))
        ]
        for axis in (0, 1)
    ]
    jump = 255.0 * 0.4 / 2.0  # from one arm to the other where they cross
    assert max(step.max() for step in steps) < 0.45 * jump
    middle = grey[146:155, 146:155]
    assert np.ptp(middle) < 0.2 * jump


@pytest.mark.parametrize("overlap", [0.3, 0.7])
def test_a_stroke_darkens_once_where_it_crosses_itself(overlap):
    """By as much as two strokes do, of which each lets through what it does."""
    grey, _ = eight_in_ink(0.0, overlap)
    crossing, beside = grey[150, 150] / 255.0, grey[100, 95] / 255.0
    beside = np.median(grey[grey > 100]) / 255.0
    expected = beside + overlap * (1.0 - beside) * beside
    assert crossing == pytest.approx(expected, abs=0.02)


def test_grain_is_uniform_and_has_every_size():
    """Heights are quantiles, and their power falls as a slope, without a hump.

    From two to sixty px of the sheet at 2500 px, a decade and a half.
    """
    step, n = 0.0336, 1024
    grain = Grain(finest=0.04, coarsest=2.0, fall=0.3)
    xs, ys = np.meshgrid(np.arange(n) * step, np.arange(n) * step)
    places = np.column_stack((xs.ravel(), ys.ravel()))
    paper = PaperPlace(x=3.0, y=4.0, angle=0.5)
    heights = grain_ranks(grain, paper, places, pixel_mm=step).reshape(n, n)
    shares = np.histogram(heights, bins=10, range=(0.0, 1.0))[0] / heights.size
    assert np.abs(shares - 0.1).max() < 0.01
    window = np.hanning(n)[:, None] * np.hanning(n)
    power = np.abs(np.fft.fft2((heights - heights.mean()) * window)) ** 2
    frequency = np.hypot(*np.meshgrid(np.fft.fftfreq(n), np.fft.fftfreq(n)))
    borders = np.geomspace(1.0 / 60.0, 0.5, 9)
    bands = [
        power[(frequency >= low) & (frequency < high)].mean() for low, high in pairwise(borders)
    ]
    assert all(low > high for low, high in pairwise(bands))
    slope = np.polyfit(np.log(np.sqrt(borders[1:] * borders[:-1])), np.log(bands), 1)[0]
    assert -3.5 < slope < -1.0


@pytest.mark.parametrize("name", [*CONTACT, *FILM])
def test_bare_places_have_every_size(name):
    """The power of what is bare in a block falls as a slope, over a decade and a half.

    From wave lengths of 2 px to 64 px, and nowhere rises by more than half from band to band.
    """
    window = np.hanning(256)[:, None] * np.hanning(256)
    power = np.zeros((256, 256))
    for number in range(3):
        scene = drawing("t", [box("t/b", 20.0, 20.0, 420.0, 420.0)], canvas=(440, 440))
        bare = 255.0 - render(draw(scene, straight(name), number))[92:348, 92:348]
        power += np.abs(np.fft.fft2((bare - bare.mean()) * window)) ** 2
    frequency = np.hypot(*np.meshgrid(np.fft.fftfreq(256), np.fft.fftfreq(256)))
    borders = np.geomspace(1.0 / 64.0, 0.5, 13)
    bands = np.array(
        [power[(frequency >= low) & (frequency < high)].mean() for low, high in pairwise(borders)]
    )
    slope = np.polyfit(np.log(np.sqrt(borders[1:] * borders[:-1])), np.log(bands), 1)[0]
    assert -3.5 < slope < -0.7
    assert (bands[1:] / bands[:-1]).max() < 1.5


def middle_share(style):
    """Share of the ink's pixels that are neither bare nor full: from 16 to 239."""
    scene = drawing("t", [box("t/b", 20.0, 20.0, 380.0, 280.0)], canvas=(400, 300))
    inside = render(draw(scene, style_for_role(style, scene.layers[0].marks[0].role), 4))[
        30:270, 30:370
    ]
    return float(((inside >= 16) & (inside <= 239)).mean())


def test_grey_is_grey_and_what_breaks_hard_breaks_hard():
    shares = {name: middle_share(style) for name, style in STYLES.items()}
    assert max(shares[name] for name in ("chalk", "worn-print", "linocut", "brush-pen")) < 0.25
    assert min(shares[name] for name in ("dry-pencil", "wash")) > 0.45

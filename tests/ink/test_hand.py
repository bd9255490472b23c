"""The hand as it is read off pictures and off the pen's own time.

Where rules lie, how they wander, how wide they are.

Frequencies of wander: most power of voluntary movement lies below 2 Hz and physiological tremor in
8 to 12 Hz (Riviere, Rader and Khosla, 1997, and studies of hand tremor). That longer and faster
strokes wander more is taken as an ordering only (IPSJ Journal of Information Processing 33:91,
2025).
"""

import dataclasses

import numpy as np
import pytest

from ink_scenes import LIVELY, SHEET_PX, drawing, rule
from inkline.chance import stream
from inkline.ink.engine import draw
from inkline.ink.hand import TREMOR_HZ, drift_along, tremor_along
from inkline.ink.style import EXACT, Edge, Hand, Nib, Paper, style_from_dict
from inkline.ink.timing import Timing
from inkline.ink.together import drawn_alone
from inkline.proof.edges import line_edges
from inkline.proof.slices import ExactRule
from inkline.proof.spectrum import hann_periodogram
from inkline.raster.compose import render
from inkline.styles.files import load_style, style_files

N_DRAWINGS = 200
WIDTH_PX = 20.83
SLOW_HZ = 2.0
READING_PX = 0.03  # column sums of a picture rounded to 255 levels
STYLES = {name: load_style(path) for name, path in style_files().items()}
HANDS = {"test": style_from_dict(LIVELY, where="test")} | STYLES


def with_hand(hand, **parts):
    return dataclasses.replace(EXACT, drawn_at=84.0, hand=hand, **parts)


def read_rule(style, number, *, length_px=2300.0, crossings=(), width_px=WIDTH_PX, reach_px=70.0):
    """Both edges of a level rule over its whole exact length."""
    start, end = (100.25, 90.4), (100.25 + length_px, 90.4)
    scene = drawing(
        "t",
        [rule("t/1", start, end, width_px=width_px, crossings=crossings)],
        canvas=(int(end[0]) + 100, 180),
    )
    exact = ExactRule(start=start, end=end, width_px=width_px)
    return line_edges(render(draw(scene, style, number)), exact, reach_px=reach_px, cut_weights=0.0)


def slope_over_length(edges, values):
    return np.polyfit((edges.along - edges.along.mean()) / edges.length_px, values, 1)[0]


def wander_at_constant_speed(hand, number, *, seconds=10.0, per_second=100.0):
    times = np.arange(0.0, seconds, 1.0 / per_second)
    pace = Timing(times=times, speeds=np.full_like(times, hand.speed), mean_speed=hand.speed)
    own = stream(number, "t/1", 0, "hand")
    drift = drawn_alone(drift_along(own, times * hand.speed, hand))
    return drift + drawn_alone(tremor_along(own, pace, hand))


def wander_of_a_drawn_rule(hand, number, *, seconds=10.0, per_second=100.0):
    """Offsets of the drawn path at equal steps of the pen's own time, bell of speed and all."""
    length_px = seconds * hand.speed * SHEET_PX / 84.0
    scene = drawing("t", [rule("t/1", (0.0, 0.0), (length_px, 0.0))], canvas=(100, 100))
    master = draw(scene, with_hand(hand), number).masters[0]
    return np.interp(np.arange(0.0, seconds, 1.0 / per_second), master.times, master.path[:, 1])


def free(hand):
    """The hand without pins, lifts or ends of its own, and with all the room it wants."""
    wanted = {
        "pinned": 0.0,
        "stray": 20.0,
        "run_over": 0.0,
        "fall_short": 0.0,
        "lift_every": 0.0,
        "hook": 0.0,
    }
    known = {field.name for field in dataclasses.fields(hand)}
    return dataclasses.replace(
        hand, **{name: value for name, value in wanted.items() if name in known}
    )


def check_wander(hand, wander):
    rows = np.array([wander(free(hand), number) for number in range(N_DRAWINGS)])
    frequencies, power = hann_periodogram(rows, pitch=0.01)
    slow = power[frequencies <= SLOW_HZ].sum() / power.sum()
    assert slow >= 0.8
    if hand.tremor > 0.0:
        bump = power[(frequencies >= TREMOR_HZ[0]) & (frequencies <= TREMOR_HZ[1])].mean()
        assert bump > 5.0 * power[(frequencies > 5.0) & (frequencies < 7.0)].mean()
        assert bump > 5.0 * power[(frequencies > 13.0) & (frequencies < 20.0)].mean()


@pytest.mark.parametrize("hand", [style.hand for style in HANDS.values()], ids=HANDS)
def test_wander_is_slow_and_its_tremor_is_that_of_a_hand(hand):
    check_wander(hand, wander_at_constant_speed)


def test_wander_of_a_drawn_rule_is_so_in_the_pens_own_time():
    check_wander(HANDS["test"].hand, wander_of_a_drawn_rule)


def mean_wander(hand, length_px):
    """Root mean square distance in px of the middle from the exact line.

    It is read off the pictures of 60 drawings.
    """
    lines = [
        read_rule(with_hand(hand), number, length_px=length_px, reach_px=60.0).middles
        for number in range(60)
    ]
    return float(np.sqrt(np.mean(np.concatenate(lines) ** 2)))


ORDERED_HAND = Hand(speed=40.0, drift=0.15, drift_length=9.0, stray=1.5)


def test_longer_strokes_wander_more():
    short, middling, long = (
        mean_wander(ORDERED_HAND, length_px) for length_px in (250.0, 700.0, 2100.0)
    )
    assert short < 0.9 * middling
    assert middling < 0.9 * long


def test_faster_strokes_wander_more():
    slow, middling, fast = (
        mean_wander(dataclasses.replace(ORDERED_HAND, speed=speed), 1500.0)
        for speed in (15.0, 40.0, 100.0)
    )
    assert slow < 0.97 * middling
    assert middling < 0.97 * fast


WILD = Hand(
    speed=30.0,
    drift=0.5,
    drift_length=6.0,
    tremor=0.05,
    stray=0.4,
    run_over=2.0,
    run_over_share=1.0,
)


@pytest.mark.parametrize("pinned", [0.0, 0.5, 1.0])
def test_wander_never_passes_stray(pinned):
    hand = dataclasses.replace(WILD, pinned=pinned)
    stray_px = hand.stray * SHEET_PX / 84.0
    farthest = [
        np.abs(read_rule(with_hand(hand), number, crossings=np.linspace(0, 2300, 8)).middles).max()
        for number in range(30)
    ]
    assert max(farthest) <= 1.01 * stray_px + READING_PX
    assert max(farthest) > 0.6 * stray_px


def test_crossings_are_pinned_to_a_tenth_of_a_pixel():
    """Drift and tremor together, read off the picture where other rules would cross."""
    hand = dataclasses.replace(WILD, pinned=1.0)
    crossings = np.linspace(0.0, 2300.0, 8)
    for number in range(20):
        edges = read_rule(with_hand(hand), number, crossings=crossings)
        off = np.abs(np.interp(crossings, edges.along, edges.middles))
        assert off[1:-1].max() <= 0.1 + READING_PX
        # Where the rule ends, its last pixels are read from slices that its end has thinned.
        assert off[[0, -1]].max() <= 0.2
        assert np.abs(edges.middles).max() > 2.0  # and yet it wanders


def whole_rules(style):
    """The style without dryness and with ends that reach over.

    So every column of a rule can be read.
    """
    hand = dataclasses.replace(
        style.hand, fall_short=0.0, run_over=max(style.hand.run_over, 2.0), run_over_share=1.0
    )
    return dataclasses.replace(
        style, hand=hand, paper=dataclasses.replace(style.paper, dryness=0.0, specks=0.0)
    )


@pytest.mark.parametrize("style", HANDS.values(), ids=HANDS)
def test_rules_lie_on_their_exact_line_in_the_mean(style):
    """0.5 px off the picture plus what the edges' roughness adds by chance.

    That is 3 (sigma / sqrt 2) sqrt(2 xi / L).
    """
    px = SHEET_PX / style.drawn_at
    free_share = 1.0 - style.firmness.rule
    sigma, xi = style.edge.raggedness * free_share * px, style.edge.correlation * px
    for number in range(10):
        edges = read_rule(whole_rules(style), number)
        chance = 3.0 * sigma / np.sqrt(2.0) * np.sqrt(2.0 * xi / edges.length_px)
        assert abs(edges.middles.mean()) <= 0.5 + chance
        assert abs(slope_over_length(edges, edges.middles)) <= 0.5 + np.sqrt(12.0) * chance


@pytest.mark.parametrize("style", HANDS.values(), ids=HANDS)
def test_width_is_nominal_in_the_mean_of_many_drawings(style):
    """Widths are nominal within 1 % in the mean.

    Nominal is the width asked for and what the style says that ink spreads to either side.
    """
    expected = WIDTH_PX + 2.0 * style.edge.spread * SHEET_PX / style.drawn_at
    widths = [
        read_rule(whole_rules(style), number, length_px=600.0).widths.mean()
        for number in range(N_DRAWINGS)
    ]
    assert np.mean(widths) == pytest.approx(expected, rel=0.01)


def test_pressure_alone_keeps_the_nominal_width():
    nib = Nib(pressure=0.15, touchdown=0.3, lift=-0.3, pooling=0.3, pressure_length=6.0)
    style = with_hand(Hand(), nib=nib, edge=Edge(), paper=Paper())
    widths = [
        read_rule(style, number, length_px=1200.0, reach_px=40.0).widths
        for number in range(N_DRAWINGS)
    ]
    assert np.mean(widths) == pytest.approx(WIDTH_PX, rel=0.01)
    assert np.std(widths) > 0.1 * WIDTH_PX  # and yet it varies

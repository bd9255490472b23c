"""What a sampler measures of a style, against what the style asks for."""

from dataclasses import replace

import pytest

from inkline.drawing import Role
from inkline.ink.engine import draw
from inkline.ink.style import EXACT, Edge, Hand, Nib, Paper, Style
from inkline.proof.rule import rule_measurement
from inkline.raster.compose import render
from inkline.sampler import readings as sampler_readings
from inkline.sampler.readings import (
    bare_reading,
    edge_reading,
    measure_for,
    path_reading,
    stray_reading,
    weight_reading,
)
from inkline.sampler.scenes import (
    SHEET_PX,
    band_rules,
    exact_rules,
)
from inkline.styles.files import load_style, style_files

HAND = "sampler"


PEN = load_style(style_files()["round-pen"])


def test_the_exact_drawing_measures_nothing(scullery):
    for measure in (path_reading, weight_reading, bare_reading):
        assert measure(EXACT, 1, HAND, scullery).number == pytest.approx(0.0, abs=0.02)
    assert edge_reading(EXACT, 1, HAND, scullery).value == "0.0 um, 0.00 px"
    # Places of two outlines are a pixel apart, so those of one picture with itself lie at 0.
    assert stray_reading(EXACT, 1, HAND, scullery, role=Role.NUMERAL).number == 0.0


@pytest.mark.parametrize("asked_um", [10.0, 30.0, 60.0])
def test_a_figure_of_raggedness_is_near_what_was_asked(scullery, asked_um):
    """A figure of raggedness is what was asked, but for one or two per cent of chance.

    It is read from 28 edges of 80 mm, each some 200 correlation lengths of 0.4 mm; the pixel takes
    a little.
    """
    style = Style(edge=Edge(raggedness=asked_um / 1000.0, correlation=0.2))
    figure = edge_reading(style, 3, HAND, scullery)
    assert figure.number == pytest.approx(asked_um, rel=0.08)
    px = figure.number * SHEET_PX / (84.0 * 1000.0)
    assert figure.value == f"{figure.number:.1f} um, {px:.2f} px"


def test_a_figure_of_raggedness_takes_no_wander_for_roughness(scullery):
    still = Style(edge=Edge(raggedness=0.02))
    moved = replace(
        still, hand=Hand(drift=0.2, stray=0.5), nib=Nib(pressure=0.2), paper=Paper(dryness=0.2)
    )
    assert edge_reading(still, 3, HAND, scullery) == edge_reading(moved, 3, HAND, scullery)


def test_a_figure_of_path_is_the_drift_seen_at_a_quarter(scullery):
    """Drift of 60 um on an 84 mm sheet of 2500 px is 1.79 px, 0.45 px at a quarter.

    That is for the longest strokes; shorter ones wander less.
    """
    hands = [Hand(speed=40.0, drift=drift, drift_length=6.0, stray=2.0) for drift in (0.06, 0.12)]
    one, two = (path_reading(Style(hand=hand), 3, HAND, scullery).number for hand in hands)
    asked = 0.06 * SHEET_PX / 84.0 / 4.0
    assert 0.5 * asked < one < 1.1 * asked
    assert two == pytest.approx(2.0 * one, rel=0.02)


def test_a_figure_of_weight_is_the_pressure_s_variation(scullery):
    style = Style(nib=Nib(pressure=0.1, pressure_length=9.0))
    assert weight_reading(style, 3, HAND, scullery).number == pytest.approx(10.0, rel=0.2)


def test_a_figure_of_bareness_is_the_dryness_asked(scullery):
    style = Style(paper=Paper(dryness=0.25, specks=20.0))
    assert bare_reading(style, 3, HAND, scullery).number == pytest.approx(25.0, abs=1.0)


def test_a_rule_read_by_itself_is_read_as_in_the_whole_picture():
    drawing = band_rules(HAND)
    grey, rules = render(draw(drawing, PEN, 3)), exact_rules(drawing)
    for rule in (rules[2], rules[-2]):
        whole = rule_measurement(grey, rule, others=[other for other in rules if other is not rule])
        alone = sampler_readings._measure_rule_alone(grey, rule, rules)
        assert alone.path_rms == pytest.approx(whole.path_rms, rel=1e-9)
        assert alone.weight_variation == pytest.approx(whole.weight_variation, rel=1e-9)


def test_each_value_has_the_measure_that_tells_of_it(scullery):
    assert measure_for("edge.raggedness") is edge_reading
    assert measure_for("hand.drift") is path_reading
    assert measure_for("drawn_at") is path_reading
    assert measure_for("nib.pressure") is weight_reading
    assert measure_for("paper.dryness") is bare_reading
    surer = [
        measure_for("firmness.numeral")(style, 3, HAND, scullery).number
        for style in firm("numeral")
    ]
    assert surer[0] > surer[1] > 0.0
    bounce = [replace(PEN, hand=replace(PEN.hand, bounce=mm)) for mm in (0.0, 0.5)]
    low, high = (measure_for("hand.bounce")(style, 3, HAND, scullery).number for style in bounce)
    assert high > low


def firm(role):
    return [replace(PEN, firmness=replace(PEN.firmness, **{role: share})) for share in (0.0, 1.0)]

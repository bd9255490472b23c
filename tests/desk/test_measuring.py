"""What is read off a stroke, against what is known of its ink."""

from dataclasses import replace

import pytest

from inkline.desk.measuring import measured_stroke
from inkline.ink.style import EXACT
from inkline.styles.files import load_style, style_files

KIT_PX_PER_MM = 2500 / 84


def measured(style):
    return measured_stroke(style, 7, kit_px_per_mm=KIT_PX_PER_MM)


def test_an_exact_stroke_measures_what_was_laid_out():
    found = measured(EXACT)
    assert found["width"] == pytest.approx(0.62, rel=2e-3)
    assert max(found[name] for name in ("spread", "edge", "wander", "bare")) < 0.02


def test_the_edge_is_as_ragged_as_it_is_asked_to_be():
    edge = replace(EXACT.edge, raggedness=0.02, correlation=0.3)
    found = measured(replace(EXACT, edge=edge))
    assert found["edge"] == pytest.approx(0.02 * KIT_PX_PER_MM, rel=0.25)  # of one stroke


@pytest.mark.parametrize("dryness", [0.1, 0.4])
def test_the_bare_share_is_the_dryness_asked_for(dryness):
    style = load_style(style_files()["chalk"])
    dry = replace(style, paper=replace(style.paper, dryness=dryness))
    assert measured(dry)["bare"] == pytest.approx(dryness, abs=0.04)

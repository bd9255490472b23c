"""Which values a sampler varies."""

import numpy as np
import pytest

from inkline.ink.style import EXACT
from inkline.ink.values import StyleError
from inkline.sampler.vary import varied_styles, varies_from_texts
from inkline.styles.files import load_style, style_files


def test_steps_are_evenly_spaced_from_end_to_end():
    (vary,) = varies_from_texts(["edge.raggedness=5um..60um:6"], where="--vary")
    assert vary.key == "edge.raggedness"
    np.testing.assert_allclose(vary.steps, [0.005, 0.016, 0.027, 0.038, 0.049, 0.060], rtol=1e-9)
    assert vary.labels == ("5 um", "16 um", "27 um", "38 um", "49 um", "60 um")


@pytest.mark.parametrize(
    ("text", "labels"),
    [
        ("hand.drift=0um..0.2mm:4", ("0 um", "66.7 um", "133 um", "200 um")),
        ("paper.dryness=0..0.5:2", ("0", "0.5")),
        ("nib.lift=-0.4..0.2:3", ("-0.4", "-0.1", "0.2")),
        ("hand.speed=20mm/s..30mm/s:3", ("20 mm/s", "25 mm/s", "30 mm/s")),
        (" nib.angle = -45deg .. 45 deg : 3", ("-45 deg", "0 deg", "45 deg")),
        ("drawn_at=60mm..125.5mm:2", ("60 mm", "125.5 mm")),
    ],
)
def test_steps_of_every_kind(text, labels):
    assert varies_from_texts([text], where="--vary")[0].labels == labels


def test_a_name_is_the_key_as_it_is_typed():
    assert (
        varies_from_texts(["hand.drift_length=5mm..9mm:2"], where="--vary")[0].name
        == "hand.drift_length"
    )


def test_two_values_make_rows_and_columns():
    varies = varies_from_texts(
        ["edge.raggedness=10um..30um:3", "paper.dryness=0..0.2:2"], where="--vary"
    )
    styles = varied_styles(EXACT, varies)
    found = [(round(style.edge.raggedness, 6), style.paper.dryness) for style in styles]
    assert found == [(0.01, 0.0), (0.02, 0.0), (0.03, 0.0), (0.01, 0.2), (0.02, 0.2), (0.03, 0.2)]


def test_the_sheet_s_width_can_be_varied():
    styles = varied_styles(EXACT, varies_from_texts(["drawn_at=60mm..100mm:3"], where="--vary"))
    assert [style.drawn_at for style in styles] == [60.0, 80.0, 100.0]


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        (
            "edge.raggedness",
            "a range is written like \"edge.raggedness=5um..60um:6\", not 'edge.raggedness'",
        ),
        (
            "edge.raggedness=5um:6",
            "a range is written like \"edge.raggedness=5um..60um:6\", not 'edge.raggedness=5um:6'",
        ),
        (
            "edge.ragged=5um..6um:2",
            'edge.ragged: there is no such value; did you mean "edge.raggedness"?',
        ),
        ("dryness=0..1:2", 'dryness: there is no such value; did you mean "paper.dryness"?'),
        ("zzz=0..1:2", "zzz: there is no such value; inkline style round-pen lists them"),
        ("edge=0..1:2", "edge: there is no such value; inkline style round-pen lists them"),
        (
            "nib.ends=own..round:2",
            "nib.ends is one of own, round, blunt, tapered; a value that is a number is required",
        ),
        (
            "edge.raggedness=5..60um:6",
            (
                'edge.raggedness: a length needs a number and a unit, such as "5 pt", "0.4 mm" or '
                "\"10 px\", not '5'"
            ),
        ),
        (
            "edge.raggedness=5um..60mm:6",
            "edge.raggedness: a value from 0 um to 2 mm is required, not 60mm",
        ),
        ("paper.dryness=0..5um:6", "paper.dryness: a plain number is required, not '5um'"),
        ("paper.dryness=nan..1:2", "paper.dryness: a plain number is required, not nan"),
        (
            "edge.raggedness=60um..5um:6",
            "edge.raggedness: the range must run upwards, not from 60um to 5um",
        ),
        (
            "edge.raggedness=5um..5um:6",
            "edge.raggedness: the range must run upwards, not from 5um to 5um",
        ),
        (
            "edge.raggedness=5um..60um:1",
            "edge.raggedness: a count of steps from 2 to 12 is required, not 1",
        ),
        (
            "edge.raggedness=5um..60um:13",
            "edge.raggedness: a count of steps from 2 to 12 is required, not 13",
        ),
        (
            "edge.raggedness=5um..60um:x",
            "edge.raggedness: a count of steps from 2 to 12 is required, not x",
        ),
        (
            "edge.raggedness=5um..60um:",
            "edge.raggedness: a count of steps from 2 to 12 is required, not none",
        ),
    ],
)
def test_a_range_that_cannot_be_drawn_is_told(text, sentence):
    with pytest.raises(StyleError) as error:
        varies_from_texts([text], where="--vary")
    assert error.value.faults == (f"--vary: {sentence}",)


def test_all_faults_of_all_ranges_are_told_at_once():
    texts = ["edge.spread=0um..9um:2", "edge.spread=1um..9um:2", "x"]
    with pytest.raises(StyleError) as error:
        varies_from_texts(texts, where="--vary")
    assert len(error.value.faults) == 3
    assert error.value.faults[0] == "--vary: at most 2 values can be varied on one sheet, not 3"
    assert error.value.faults[2] == "--vary: edge.spread is varied twice; another value is required"


def test_a_step_that_the_style_rules_out_is_told():
    varies = varies_from_texts(["hand.drift=0um..50um:2"], where="--vary")
    with pytest.raises(
        StyleError, match=r"^--vary hand\.drift: hand\.stray: a length above 0 is required"
    ):
        varied_styles(EXACT, varies)
    assert len(varied_styles(load_style(style_files()["round-pen"]), varies)) == 2

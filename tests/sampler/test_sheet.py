"""The sheets of samplers show what was asked.

The figures on them are what independent arithmetic gives.
"""

import io
from dataclasses import replace

import numpy as np
import pytest
from PIL import Image

from inkline.drawing import Role
from inkline.errors import InputError
from inkline.ink.engine import draw
from inkline.ink.style import EXACT, Edge, Hand, Nib, Paper, Style
from inkline.pages import letters as page_letters
from inkline.pages.letters import PLAIN, line_picture
from inkline.pages.lines import Align, TextLine
from inkline.proof.rule import rule_measurement
from inkline.raster.compose import render
from inkline.sampler import readings as sampler_readings
from inkline.sampler import scenes as sampler_scenes
from inkline.sampler import sheet as sampler
from inkline.sampler.readings import (
    SPECIMEN_MEASURES,
    bare_reading,
    edge_reading,
    measure_for,
    path_reading,
    stray_reading,
    weight_reading,
)
from inkline.sampler.scenes import (
    BAND,
    NUMERALS,
    SHEET_PX,
    SPECIMEN,
    SUBJECT,
    band_rules,
    corner,
    exact_rules,
    lone_rules,
    only_layer,
    specimen,
)
from inkline.sampler.sheet import MOST_STYLES, matrix_png, matrix_readings, specimens_png
from inkline.sampler.vary import varied_styles, varies_from_texts
from inkline.styles.files import load_style, style_files

HAND = "sampler"
PEN = load_style(style_files()["round-pen"])


def forget():
    """Clear what is kept between figures and between captions."""
    for kept in (sampler_readings._edge_px, sampler_readings._over_rules, page_letters._picture):
        kept.cache_clear()


@pytest.fixture
def small(monkeypatch):
    """Fewer and shorter rules: sheets are as they are, figures a little less steady."""
    monkeypatch.setattr(sampler_scenes, "_N_LONE", 3)
    monkeypatch.setattr(sampler_scenes, "_BAND_ROWS", 2)
    monkeypatch.setattr(sampler_scenes, "BAND", (BAND[0], 640))
    forget()
    yield
    forget()  # what was measured on short rules is no figure for other tests


def opened(png):
    picture = Image.open(io.BytesIO(png))
    assert picture.info["dpi"] == pytest.approx((300.0, 300.0), abs=0.01)
    return np.asarray(picture)


def test_drawings_lie_on_their_canvas_and_are_as_large_as_stamps(scullery):
    for drawing, canvas in (
        (specimen(scullery, HAND), SPECIMEN),
        (corner(scullery, HAND), SUBJECT),
        (band_rules(HAND), BAND),
    ):
        assert (drawing.canvas, drawing.sheet_px) == (canvas, SHEET_PX)
    drawn = render(draw(specimen(scullery, HAND), PEN, 1))
    assert not drawn[[0, -1]].any()
    assert not drawn[:, [0, -1]].any()


def test_a_specimen_holds_grid_numerals_word_and_blocks(scullery):
    names = {
        mark.group.removeprefix(f"{HAND}/specimen/").partition(".")[0]
        for mark in specimen(scullery, HAND).marks
    }
    rules = {"across-1", "across-2", "across-3", "across-9", "down-1", "down-2", "down-3"}
    assert names == {*rules, *NUMERALS, "word", "block-1", "block-2", "block-3"}
    widths = {rule.width_px for rule in exact_rules(specimen(scullery, HAND))}
    assert len(widths) == 2


def test_the_corner_shows_the_rules_that_are_measured(scullery):
    """The corner is a window on the band: the same strokes, drawn alike."""
    shown = render(draw(only_layer(corner(scullery, HAND), "rules"), PEN, 5))
    whole = render(draw(band_rules(HAND), PEN, 5))
    assert np.array_equal(shown, whole[: SUBJECT[1], : SUBJECT[0]])


def test_lone_rules_stand_apart_and_run_the_band_s_width():
    rules = exact_rules(lone_rules(HAND))
    assert {(rule.start[0], rule.end[0]) for rule in rules} == {
        (rules[0].start[0], rules[0].end[0])
    }
    assert rules[0].length_px == pytest.approx(7 * 340.0)
    assert np.diff([rule.start[1] for rule in rules]).min() > 120.0


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


def test_measured_values_rise_with_the_asked_ones(scullery):
    varies = varies_from_texts(
        ["edge.raggedness=5um..60um:3", "hand.drift=20um..140um:2"], where="--vary"
    )
    found = [
        matrix_readings(style, varies, number=3, face=scullery)
        for style in varied_styles(PEN, varies)
    ]
    edges, paths = (
        np.array([pair[index].number for pair in found]).reshape(2, 3) for index in (0, 1)
    )
    assert (np.diff(edges, axis=1) > 0.0).all()
    assert (np.diff(paths, axis=0) > 0.0).all()
    assert np.ptp(edges, axis=0).max() == 0.0


def test_two_values_of_one_part_share_a_figure(scullery):
    varies = varies_from_texts(
        ["edge.raggedness=5um..60um:2", "edge.correlation=0.1mm..0.3mm:2"], where="--vary"
    )
    assert len(matrix_readings(PEN, varies, number=3, face=scullery)) == 1


@pytest.mark.usefixtures("small")
def test_a_sheet_shows_each_style_at_full_size_and_twice_at_a_quarter(scullery):
    seen = []
    styles = [Style(name="one"), replace(PEN, name="two")]
    sheet = opened(specimens_png(styles, number=4, listener=seen.append))
    assert [(step.name, step.done, step.total) for step in seen] == [("one", 1, 2), ("two", 2, 2)]
    width = SPECIMEN[0]
    assert sheet.shape[1] == 2 * 140 + 2 * width + 108
    white = (sheet == (255, 253, 249)).all(axis=2)
    tint = (sheet == (217, 227, 221)).all(axis=2)
    ink = 1.0 - render(draw(specimen(scullery, "sampler/1/one"), EXACT, 4)) / 255.0
    assert white.sum() == pytest.approx(2 * (ink == 1.0).sum() * (1.0 + 1.0 / 16.0), rel=0.03)
    assert tint.sum() == pytest.approx(2 * (ink == 1.0).sum() / 16.0, rel=0.05)


@pytest.mark.usefixtures("small")
def test_what_stands_on_the_sheet_is_the_style_s_own_drawing(scullery):
    sheet = opened(specimens_png([PEN], number=4))
    drawing = specimen(scullery, "sampler/1/round-pen")
    lines = render(draw(replace(drawing, layers=drawing.layers[1:]), PEN, 4))
    full = (sheet == (39, 52, 61)).all(axis=2)
    column = np.flatnonzero((sheet == (255, 253, 249)).all(axis=2).any(axis=0))[0]
    rows = np.flatnonzero((sheet[:, column] == (255, 253, 249)).all(axis=1))
    part = full[rows[0] : rows[0] + SPECIMEN[1], column : column + SPECIMEN[0]]
    assert np.array_equal(part, lines == 255)


@pytest.mark.usefixtures("small")
def test_captions_give_what_was_measured(monkeypatch, scullery):
    settings = []
    monkeypatch.setattr(
        sampler, "_sheet_png", lambda setting, *_, **__: settings.append(setting) or b""
    )
    specimens_png([PEN, PEN], number=4)
    matrix_png(
        PEN,
        varies_from_texts(
            ["edge.raggedness=5um..60um:3", "paper.dryness=0..0.2:2"], where="--vary"
        ),
        number=4,
    )
    first, second = ([line.text for line in setting.lines] for setting in settings)
    for measure in SPECIMEN_MEASURES:
        figure = measure(PEN, 4, "sampler/1/round-pen", scullery)
        assert figure.value in first
        assert any(figure.about in line for line in first)
    assert {"round-pen", "A steady round pen on smooth paper", "2 styles, drawing 4"} <= set(first)
    assert {
        "edge.raggedness",
        "5 um",
        "32.5 um",
        "60 um",
        "paper.dryness",
        "0",
        "0.2",
        "drawing 4",
    } <= set(second)
    assert len([line for line in second if line.startswith("edge ") and line.endswith(" px")]) == 6
    assert (
        len([line for line in second if line.startswith("bare ") and line.endswith(" per cent")])
        == 6
    )
    assert len(settings[1].places) == 12


@pytest.mark.usefixtures("small")
def test_a_sheet_is_the_same_whenever_it_is_drawn():
    varies = varies_from_texts(["edge.raggedness=5um..60um:2"], where="--vary")
    first = matrix_png(PEN, varies, number=4)
    forget()
    assert matrix_png(PEN, varies, number=4) == first
    assert matrix_png(PEN, varies, number=5) != first


def test_two_styles_are_two_hands(scullery):
    """Side by side, drawings that wander alike would look machine-made."""
    one, other = (
        render(draw(specimen(scullery, f"sampler/{index}/round-pen"), PEN, 4)) for index in (1, 2)
    )
    assert (one != other).mean() > 0.005


def test_too_many_styles_are_refused():
    with pytest.raises(
        InputError, match=rf"a sampler shows at most {MOST_STYLES} styles, not {MOST_STYLES + 1}"
    ):
        specimens_png([PEN] * (MOST_STYLES + 1), number=1)


def test_letters_keep_to_their_room_and_place(scullery):
    for align, left in ((Align.LEFT, 500.0), (Align.RIGHT, 400.0), (Align.CENTRE, 450.0)):
        line = TextLine(
            text="MARCH 2027", x=500.0, baseline=300.0, height=60.0, room=100.0, align=align
        )
        letters = line_picture(line, face=scullery, style=PLAIN, number=1, name="t")
        rows, columns = (np.flatnonzero((letters.grey > 127).any(axis=axis)) for axis in (1, 0))
        assert letters.at[0] + columns[0] == pytest.approx(left, abs=1.5)
        assert columns[-1] + 1 - columns[0] == pytest.approx(100.0, abs=2.0)
        assert letters.at[1] + rows[-1] + 1 == pytest.approx(300.0, abs=1.5)


def test_letters_that_the_family_lacks_are_left_out(scullery):
    line = TextLine(text="→ ☃", x=0.0, baseline=0.0, height=20.0, room=100.0)
    assert line_picture(line, face=scullery, style=PLAIN, number=1, name="t") is None
    assert (
        line_picture(replace(line, text="→A"), face=scullery, style=PLAIN, number=1, name="t")
        is not None
    )

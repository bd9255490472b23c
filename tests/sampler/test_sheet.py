"""Samplers: the sheets show what was asked, and say what independent arithmetic gives."""

import io
from dataclasses import replace

import numpy as np
import pytest
from PIL import Image

from inkline.errors import InputError
from inkline.ink.engine import draw
from inkline.ink.style import EXACT, Style
from inkline.pages import letters as page_letters
from inkline.raster.compose import render
from inkline.sampler import readings as sampler_readings
from inkline.sampler import scenes as sampler_scenes
from inkline.sampler import sheet as sampler
from inkline.sampler.readings import (
    SPECIMEN_MEASURES,
)
from inkline.sampler.scenes import (
    BAND,
    SPECIMEN,
    specimen,
)
from inkline.sampler.sheet import MOST_STYLES, matrix_png, matrix_readings, specimens_png
from inkline.sampler.vary import varied_styles, varies_from_texts
from inkline.styles.files import load_style, style_files

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

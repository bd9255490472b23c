"""The guide, read back by PDFium.

What it says, what it shows, and that its sizes are the layout's.
"""

import itertools
import re
from dataclasses import replace
from pathlib import Path

import numpy as np
import pypdfium2
import pytest

from inkline.ink.engine import draw
from inkline.ink.style import EXACT
from inkline.kit.letters import face_of
from inkline.kit.papers.guide import _PERCENTS, guide_pdf
from inkline.kit.papers.guide_pictures import example_of
from inkline.kit.papers.guide_setting import break_lines
from inkline.kit.papers.guide_words import count_of_things, stamp_groups
from inkline.kit.product import catalogue
from inkline.kit.recipe.loading import default_recipe, recipe_from_text
from inkline.kit.stamps.measures import layout_of
from inkline.kit.stamps.plain_names import kind_of
from inkline.output.pdf import PdfPage, PlacedFigure, pdf_bytes
from inkline.pages.pdf_letters import PageLetters, figure_of, usual_family
from inkline.raster.compose import render
from inkline.styles.files import load_style, style_path

RECIPE = default_recipe()
LAST_YEAR = replace(RECIPE, words=replace(RECIPE.words, years=(9999,)))
"""The calendar ends with this year, so there are charts for one year only."""
UNDATED = (
    'version = 1\nnumber = 5\ntitle = "Undated"\n[words]\nyears = []\n[formats.week]\n'
    "[formats.day]\n"
)


def plans_of(recipe):
    return {plan.name: plan for plan in catalogue(recipe, face_of(recipe))}


@pytest.fixture(scope="module")
def plans():
    return plans_of(RECIPE)


@pytest.fixture(scope="module")
def guide(plans):
    return pypdfium2.PdfDocument(guide_pdf(RECIPE, usual_family(), EXACT, plans))


def words(page):
    return page.get_textpage().get_text_range().replace("\r\n", "\n")


def test_the_pages_of_a_kits_guide(guide):
    titles = [entry.get_title() for entry in guide.get_toc()]
    charts = [
        f"{year}, weeks begin on {day}"
        for year in range(2027, 2032)
        for day in ("Sunday", "Monday")
    ]
    assert titles == [
        "A year of evenings",
        "A month, layer by layer",
        "Sizes that line up",
        "What there is",
        "What there is",
        *charts,
    ]
    assert len(guide) == len(titles)
    assert guide.get_metadata_dict()["Title"] == "A year of evenings: how the stamps fit together"
    assert words(guide[0]).startswith("A year of evenings\n59 stamps\n")
    assert "March Monday grid-5 + dates-2 + name" in words(guide[5])


def test_the_edition_stands_on_the_first_page(plans):
    first = {name: plan for name, plan in plans.items() if name.startswith("standard/")}
    recipe = replace(LAST_YEAR, edition="2.1")
    page = pypdfium2.PdfDocument(guide_pdf(recipe, usual_family(), EXACT, first))[0]
    assert "edition 2.1, 16 stamps" in words(page)


def test_sizes_are_those_of_the_layout(guide):
    lines = words(guide[2]).splitlines()
    for shape in RECIPE.formats:
        layout = layout_of(RECIPE, shape)
        for percent in _PERCENTS:
            share = percent / 100.0
            cell = f"{layout.cell_width * share:.1f} x {layout.cell_height * share:.1f} px"
            # An inch is 25.4 mm; the kit has 300 px to the inch.
            mm = share / 300 * 25.4
            printed = f"{layout.cell_width * mm:.1f} x {layout.cell_height * mm:.1f} mm"
            fitting = [
                line
                for line in lines
                if line.startswith(f"{percent:g} %") and cell in line and printed in line
            ]
            assert len(fitting) == 1
    assert any(line.startswith("25 % 625 x 625 px") for line in lines)


def test_everything_in_the_kit_is_in_the_list(guide, plans):
    text = " ".join(words(guide[index]).replace("\n", " ") for index in (3, 4))
    counts = [int(count) for count in re.findall(r"\((\d+) stamps\)", text)]
    singles = sum(len(group.files) == 1 for group in stamp_groups(plans))
    assert sum(counts) + singles == len(plans) == 59
    for name in ("dates-1 to dates-7", "month-01 to month-12", "blocks-head", "digit-0 to digit-9"):
        assert name in text


def test_equal_kits_have_equal_guides_and_the_style_shows(plans):
    few = {name: plan for name, plan in plans.items() if name.startswith("words/year")}
    style = load_style(style_path("round-pen", where="test"))
    one, again, other = (
        guide_pdf(LAST_YEAR, usual_family(), ink, few) for ink in (EXACT, EXACT, style)
    )
    assert one == again
    assert one != other


def test_the_picture_is_the_finished_month(plans):
    example = example_of(RECIPE, plans, year=2027)
    # January 2027 begins on a Friday, and from Sunday it reaches into a sixth week (Python's
    # calendar).
    assert [layer.plan.name for layer in example.layers] == [
        "standard/grid-6-head",
        "standard/dates-6",
        "standard/weekdays-sunday",
    ]
    assert [layer.plan.name for layer in example.words] == ["words/month-01", "words/year-2027"]
    grid = example.layers[0]
    left, top, right, bottom = grid.box
    layout = layout_of(RECIPE, RECIPE.formats[0])
    outer, half = layout.headed_grid(6).outer_box, layout.heavy / 2
    assert (left, top) == pytest.approx((outer[0] - half, outer[1] - half), abs=0.5)
    assert (right, bottom) == pytest.approx((outer[2] + half, outer[3] + half), abs=0.5)
    assert example.box == pytest.approx(grid.box)


def test_the_figure_of_a_stamp_is_its_exact_drawing(plans):
    plan = plans["standard/dates-6"]
    placed = PlacedFigure(
        figure=figure_of(plan.drawing()), at=(0.0, 0.0), scale=0.1, colour="#000000"
    )
    page = PdfPage(size=(250.0, 250.0), items=(placed,))
    document = pypdfium2.PdfDocument(pdf_bytes([page], fonts={}, title="T", language="en"))
    got = 255.0 - np.asarray(
        document[0].render(scale=5.0, grayscale=True).to_pil().convert("L"), dtype=float
    )
    exact = (
        render(draw(plan.drawing(), EXACT, 0))
        .astype(float)
        .reshape(1250, 2, 1250, 2)
        .mean(axis=(1, 3))
    )
    # A contour strays by 0.4 px of 2500 at most, a fifth of a px here, and PDFium's edges are a
    # little coarse.
    assert abs(got.sum() / exact.sum() - 1.0) < 0.005
    assert np.abs(got - exact).mean() < 0.5
    assert np.abs(got - exact).max() < 90.0


def test_a_kit_without_dates_has_no_month_and_no_charts():
    recipe = recipe_from_text(UNDATED, source="u.toml", folder=Path())
    document = pypdfium2.PdfDocument(guide_pdf(recipe, usual_family(), EXACT, plans_of(recipe)))
    titles = [entry.get_title() for entry in document.get_toc()]
    assert titles[:3] == ["Undated", "Layer by layer", "Sizes that line up"]
    assert not any("weeks begin" in title for title in titles)
    assert "charts" not in words(document[1])


def test_a_kit_of_words_alone_has_a_guide():
    recipe = recipe_from_text(UNDATED, source="u.toml", folder=Path())
    few = {name: plan for name, plan in plans_of(recipe).items() if name.startswith("words/month")}
    assert example_of(recipe, few, year=2027).layers[0].plan.name == "words/month-01"
    assert pypdfium2.PdfDocument(guide_pdf(recipe, usual_family(), EXACT, few))[0]


def test_paragraphs_break_where_words_end():
    letters = PageLetters("scullery", usual_family())
    text = "Stamp them over one another at one size and in one place, and they fit to the pixel."
    lines = break_lines(text, letters, width=160.0, height=8.0)
    assert " ".join(lines) == text
    assert len(lines) > 2
    assert all(letters.reach(line, height=8.0) <= 160.0 for line in lines)
    assert all(
        letters.reach(f"{line} {after.split()[0]}", height=8.0) > 160.0
        for line, after in itertools.pairwise(lines)
    )
    assert break_lines("uninterrupted", letters, width=1.0, height=8.0) == ("uninterrupted",)


@pytest.mark.parametrize(
    ("stem", "called"),
    [
        ("grid-5", "grids"),
        ("grid-6-head-b", "grids with a row for the weekdays"),
        ("grid", "grids"),
        ("blocks-5-cut-3", "blocks with the dates cut out"),
        ("blocks-head", "blocks of the weekdays"),
        ("dates-3", "dates"),
        ("dates-3-30", "dates of one length"),
        ("dates-6-shared", "dates that share cells"),
        ("dates-3-workdays-monday", "dates by kind of day"),
        ("weekdays-monday-de", "weekdays"),
        ("weeks-05", "week numbers"),
        ("marks-2027-03-monday", "marked days"),
        ("month-3-30-monday", "small months"),
        ("month-03-short", "names of the months"),
        ("years-2027-2028", "pairs of years"),
        ("caption-1", "captions"),
        ("lantern", "other stamps"),
    ],
)
def test_stamps_in_plain_words(stem, called):
    assert kind_of(stem)[0] == called


def test_counting():
    assert count_of_things(1, "stamp") == "1 stamp"
    assert count_of_things(59, "stamp") == "59 stamps"

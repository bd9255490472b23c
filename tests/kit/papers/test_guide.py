"""The guide, read back by PDFium: what it says and shows, and that its sizes are the layout's."""

import re
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
import pypdfium2
import pytest

from inkline.ink.style import EXACT
from inkline.kit.letters import face_of
from inkline.kit.papers.guide import charts_with_room, guide_pdf, whole_percents
from inkline.kit.papers.guide_pictures import Ink, example_of
from inkline.kit.papers.guide_words import stamp_groups
from inkline.kit.product import catalogue
from inkline.kit.recipe.buyers import GuideRecipe
from inkline.kit.recipe.loading import default_recipe, recipe_from_text
from inkline.kit.stamps.measures import layout_of
from inkline.pages.faces import usual_family
from inkline.phrases.phrases import Phrases, phrase_files
from inkline.styles.files import load_style, style_path

RECIPE = default_recipe()
EXACT_INK = Ink(style=EXACT, number=0)
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
        f"{year}, weeks begin on Sunday / {year}, weeks begin on Monday"
        for year in range(2027, 2032)
    ]
    assert titles == [
        "A year of evenings",
        "A month, layer by layer",
        "Sizes that line up",
        "What there is",
        "What there is",
        *charts,
    ]
    assert len(guide) == len(titles) <= 12
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
        for percent in whole_percents(layout):
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
    # An eighth of 2500 px is half a pixel too much, so stamps made so small don't lie alike.
    assert not any(line.startswith("12.5 %") for line in lines)


def test_sizes_are_whole_pixels_on_canvases_that_few_sizes_suit():
    text = 'version = 1\nnumber = 7\n[canvas]\nside = "1234 px"\n[formats.tall]\n'
    recipe = recipe_from_text(text, source="s.toml", folder=Path())
    percents = whole_percents(layout_of(recipe, recipe.formats[0]))
    assert percents == (50.0, 100.0)
    whole = whole_percents(layout_of(RECIPE, RECIPE.formats[0]))
    assert whole == (10.0, 20.0, 25.0, 30.0, 40.0, 50.0, 75.0, 100.0)


def test_the_layers_are_shown_in_the_kits_colours_and_the_name_at_its_size(guide):
    text = words(guide[1])
    for title in ("1 The blocks", "2 The grid", "3 The dates", "4 The weekdays", "6 The year"):
        assert title in text
    assert "Name and year stand best at 100 % of the size" in text.replace("\n", " ")
    cover = np.asarray(guide[0].render(scale=1.0).to_pil().convert("RGB")).reshape(-1, 3)
    colours, counts = np.unique(cover, axis=0, return_counts=True)
    most = {tuple(colour) for colour, n in zip(colours.tolist(), counts, strict=True) if n > 500}
    wanted = [tuple(bytes.fromhex(one[1:])) for one in RECIPE.shop.palette]
    assert {wanted[0], wanted[1], wanted[3]} <= most


def test_everything_in_the_kit_is_in_the_list(guide, plans):
    text = " ".join(words(guide[index]).replace("\n", " ") for index in (3, 4))
    counts = [int(count) for count in re.findall(r"\((\d+) stamps\)", text)]
    singles = sum(len(group.files) == 1 for group in stamp_groups(plans, {}, Phrases()))
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
    assert example_of(recipe, few, EXACT_INK, year=2027).layers[0].plan.name == "words/month-01"
    assert pypdfium2.PdfDocument(guide_pdf(recipe, usual_family(), EXACT, few))[0]


ALL = """
version = 1
number = 7
canvas.side = "700 px"
[formats.tall]
blocks = "both"
split = "weekend"
week_numbers = "iso"
week_numbers_in = "narrow"
[formats.small]
[formats.strip]
[words]
years = [9999]
[marks]
"9999-03-08" = "ring"
[guide]
language = "de"
"""


def test_a_guide_tells_of_everything_that_a_month_may_have_and_nothing_lies_off_a_page():
    recipe = recipe_from_text(ALL, source="a.toml", folder=Path())
    document = pypdfium2.PdfDocument(guide_pdf(recipe, usual_family(), EXACT, plans_of(recipe)))
    assert len(document) <= 12
    for page in document:
        text, (width, height) = page.get_textpage(), page.get_size()
        boxes = [text.get_charbox(index) for index in range(text.count_chars())]
        lefts, bottoms, rights, tops = zip(*boxes, strict=True)
        assert min(lefts) > 20.0
        assert max(rights) < width - 20.0
        assert min(bottoms) > 14.0
        assert max(tops) < height
    titles = [entry.get_title() for entry in document.get_toc()]
    assert titles.count("Ein Monat, Ebene für Ebene") == 2
    steps = "".join(words(document[index]) for index in (1, 2))
    for title in (
        "3 Die Werktage",
        "4 Die Samstage",
        "5 Die Sonntage",
        "8 Das Jahr",
        "9 Kästchen mit Zahlen",
        "10 Wochennummern",
        "11 Markierte Tage",
        "12 Ein kleiner Monat",
        "13 Ein Streifen",
    ):
        assert title in steps
    chart = words(document[len(document) - 1]).replace("\n", " ")
    assert "dates-5-workdays-monday, dates-5-saturdays-monday, dates-5-sundays-monday" in chart
    assert "blocks-5-cut-5 sind Kästchen und Tage in einem. year-9999 steht neben" in chart
    assert "+ marks-9999-03-monday + Name" in chart


@pytest.mark.parametrize("language", sorted(phrase_files()))
def test_a_guide_speaks_the_language_that_is_asked_for(language):
    text = UNDATED + f'[guide]\nlanguage = "{language}"\n'
    recipe = recipe_from_text(text, source="u.toml", folder=Path())
    few = {name: plan for name, plan in plans_of(recipe).items() if name.startswith("words/digit")}
    document = pypdfium2.PdfDocument(guide_pdf(recipe, usual_family(), EXACT, few))
    seen = " ".join(words(page).replace("\n", " ") for page in document)
    phrases = Phrases(language=language)
    for key in ("guide.undated", "guide.sizes", "guide.list", "things.digits.about"):
        assert phrases.say(key) in seen
    assert language == "en" or Phrases().say("guide.list") not in seen


def test_a_guide_in_words_of_ones_own(plans):
    few = {name: plan for name, plan in plans.items() if name.startswith("words/digit")}
    recipe = replace(LAST_YEAR, guide=GuideRecipe(language="fi", own=(("guide.list", "Mitä on"),)))
    document = pypdfium2.PdfDocument(guide_pdf(recipe, usual_family(), EXACT, few))
    assert "Mitä on" in " ".join(words(page) for page in document)


def test_charts_are_of_whole_years_and_the_first_is_there_in_any_case():
    @dataclass
    class One:
        year: int

    charts = [One(year) for year in range(2027, 2032) for _ in range(4)]
    assert charts_with_room(charts, room=10) == tuple(charts)
    assert charts_with_room(charts, room=7) == tuple(charts[:12])
    assert charts_with_room(charts, room=0) == tuple(charts[:4])
    assert charts_with_room([], room=3) == ()

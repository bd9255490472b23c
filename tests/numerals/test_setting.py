"""Where numerals of a set stand; ink bounds are exact and come from lettering, tested there."""

from dataclasses import replace

import font_lato
import numpy as np
import pytest

from inkline.cli.remedies import error_sentence
from inkline.errors import InputError
from inkline.geometry.polygon import bounds
from inkline.ink.engine import draw
from inkline.ink.inked import united_contours
from inkline.ink.style import EXACT
from inkline.lettering.errors import MissingGlyphError
from inkline.lettering.font import open_font
from inkline.lettering.writing import Way, face_in_way
from inkline.numerals.setting import plans_of_texts
from inkline.numerals.texts import NumeralGroup, groups_from_text
from inkline.press.inputs import ink_digest, ink_keys
from inkline.styles.files import load_style, style_files


def plans_of(face, text, height=60.0, style=EXACT):
    return plans_of_texts(face, groups_from_text(text), style, height_px=height)


def test_a_folder_shares_a_canvas_and_all_share_a_baseline(scullery):
    plans = plans_of(scullery, "0-9,1-31,1st-3rd,Qy")
    for folder in ("digits", "numerals", "ordinals"):
        assert len({plan.canvas for plan in plans if plan.name.startswith(folder)}) == 1
    assert len({plan.canvas[1] for plan in plans}) == 1
    assert {plan.baseline[1] for plan in plans} == {float(round(plans[0].baseline[1]))}


def test_figures_have_the_height_asked_for_and_stand_in_the_middle(scullery):
    plans = plans_of(scullery, "1-31", height=200.0)
    for plan in plans:
        x0, y0, x1, y1 = plan.ink
        assert x0 + x1 == pytest.approx(plan.canvas[0])
        assert min(x0, y0, plan.canvas[0] - x1, plan.canvas[1] - y1) >= 0.16 * 200 - 1e-9
    seven = next(plan for plan in plans if plan.text == "7")
    assert seven.ink[3] - seven.ink[1] == pytest.approx(200.0, abs=0.1)


def test_a_family_is_as_heavy_as_its_style_suggests_and_a_traced_font_as_it_is(scullery):
    lato = face_in_way(open_font(font_lato.font_files["Lato"]), way=Way.STROKE)
    heavy = replace(EXACT, weights=replace(EXACT.weights, stem=1.25))
    for face, heavier in ((scullery, 1.25), (lato, 1.0)):
        pens = [plans_of(face, "7", style=style)[0].size.pen_px for style in (EXACT, heavy)]
        assert pens[1] / pens[0] == pytest.approx(heavier)


def test_the_same_pictures_are_larger_at_a_larger_height(scullery):
    small, large = (plans_of(scullery, "27", height=height)[0] for height in (60.0, 240.0))
    style = load_style(style_files()["round-pen"])
    assert ink_keys(small.drawing(), style, number=3) == ink_keys(large.drawing(), style, number=3)


@pytest.mark.parametrize("name", sorted(style_files()))
def test_ink_stays_on_the_canvas_in_every_style(scullery, name):
    style = load_style(style_files()[name])
    for plan in plans_of(scullery, "17,28,40", style=style):
        for number in range(4):
            x0, y0, x1, y1 = bounds(united_contours(draw(plan.drawing(), style, number)))
            assert min(x0, y0) >= 0
            assert x1 <= plan.canvas[0]
            assert y1 <= plan.canvas[1]


def test_one_more_text_changes_no_other_drawing(scullery):
    style = load_style(style_files()["round-pen"])
    few, many = plans_of(scullery, "1-9,12"), plans_of(scullery, "1-31,12345")
    one = next(plan for plan in few if plan.text == "12").drawing()
    other = next(plan for plan in many if plan.text == "12").drawing()
    assert ink_keys(one, style, number=3) == ink_keys(other, style, number=3)
    assert ink_digest(one, style, number=3, what=[]) != ink_digest(other, style, number=3, what=[])


def test_a_digest_tells_what_a_picture_depends_on(scullery):
    drawing = plans_of(scullery, "12")[0].drawing()
    style = load_style(style_files()["round-pen"])
    same = ink_digest(drawing, style, number=3, what=["black"])
    assert same == ink_digest(drawing, style, number=3, what=["black"])
    others = [
        ink_digest(drawing, style, number=4, what=["black"]),
        ink_digest(drawing, style, number=3, what=["clear"]),
        ink_digest(drawing, EXACT, number=3, what=["black"]),
        ink_digest(replace(drawing, canvas=(9, 9)), style, number=3, what=["black"]),
    ]
    assert len({same, *others}) == 5


def test_all_missing_letters_are_named_at_once(scullery):
    with pytest.raises(MissingGlyphError, match="U\\+5B57") as caught:
        plans_of(scullery, "字,1,画,字")
    assert caught.value.characters == ("字", "画")


def test_a_text_needs_ink_and_a_canvas_has_its_limit(scullery):
    with pytest.raises(InputError, match="has nothing to draw"):
        plans_of_texts(
            scullery, [NumeralGroup(folder="others", texts=("1", " "))], EXACT, height_px=60.0
        )
    with pytest.raises(InputError) as caught:
        plans_of(scullery, "123456789012345", height=4000.0)
    assert error_sentence(caught.value).endswith(
        "and no side may be longer than 20000 px; choose a smaller --height"
    )


def test_other_texts_than_figures_are_drawn(scullery):
    plan = plans_of(scullery, "No.")[0]
    assert (plan.name, plan.stem) == ("others/No.", "others/Nou002e")
    assert np.isfinite(plan.ink).all()

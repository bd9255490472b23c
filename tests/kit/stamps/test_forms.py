"""Other forms as rare guests, one drawing a digit, swapped glyphs and spacing.

They are followed from the recipe to the marks.
"""

import shutil
from functools import cache
from pathlib import Path

import numpy as np
import pylopdf_fonts_he
import pytest

from faces import scullery
from inkline.drawing import Stroke
from inkline.ink.master import master_key
from inkline.ink.style import EXACT
from inkline.kit.letters import face_of
from inkline.kit.product import catalogue
from inkline.kit.recipe.loading import recipe_from_text
from inkline.kit.stamps.catalogue import plan_by_name
from inkline.kit.stamps.forms import RARE, chosen_forms
from inkline.lettering.errors import FontError
from inkline.lettering.families import family_names, family_path
from inkline.lettering.family import open_family
from inkline.press.inputs import drawing_digest
from inkline.source.faults import RecipeError

HEAD = 'version = 1\ntitle = "t"\nnumber = 5\n'
VARIABLE = Path(pylopdf_fonts_he.__file__).parent / "NotoSansHebrew-Variable.ttf"


@cache
def read(text):
    return recipe_from_text(HEAD + text, source="one.toml", folder=Path())


def plan(text, name):
    return plan_by_name(read(text), scullery(), name)


def marks(text, name):
    return list(plan(text, name).drawing().marks)


def keys(text, name):
    """Master keys of a stamp's marks, by mark."""
    return {
        mark.name: master_key(mark, EXACT, number=5, again=0, px_per_mm=30.0)
        for mark in marks(text, name)
    }


RARE_GUESTS = '[lettering]\nguests = "rare"\n'
ONE_DRAWING = '[lettering]\ndrawings = "one"\n'


def test_without_guests_every_form_is_the_usual_one():
    assert chosen_forms(read(""), scullery(), "1234567890", "x") == ()


def test_guests_stand_for_one_letter_in_six():
    recipe = read(RARE_GUESTS)
    chosen = [
        chosen_forms(recipe, scullery(), "7", f"tall/dates-{index}/7") for index in range(3000)
    ]
    share = sum(map(len, chosen)) / len(chosen)
    assert share == pytest.approx(RARE, abs=3.0 * np.sqrt(RARE * (1 - RARE) / 3000))
    names = {glyph.name for forms in chosen for _, glyph in forms}
    assert names == {glyph.name for glyph in scullery().alternates("7")}


def test_a_guest_depends_on_number_and_name_alone():
    once, again = (
        chosen_forms(read(RARE_GUESTS), scullery(), "1234567890" * 9, "a/b/c") for _ in range(2)
    )
    assert once == again != ()
    other = chosen_forms(read(RARE_GUESTS), scullery(), "1234567890" * 9, "a/b/d")
    assert [index for index, _ in other] != [index for index, _ in once]
    renumbered = recipe_from_text(HEAD.replace("5", "6") + RARE_GUESTS, source="x", folder=Path())
    assert chosen_forms(renumbered, scullery(), "1234567890" * 9, "a/b/c") != once
    asked = recipe_from_text(
        HEAD + RARE_GUESTS + '[again]\n"tall/dates-1/4" = 3\n', source="x", folder=Path()
    )
    name = "tall/dates-1/4"
    assert chosen_forms(asked, scullery(), "4" * 30, name) == chosen_forms(
        read(RARE_GUESTS), scullery(), "4" * 30, name
    )


def test_a_guest_replaces_the_strokes_of_its_own_letter_only():
    usual, guests = keys("", "tall/dates-2"), keys(RARE_GUESTS, "tall/dates-2")
    changed = {name.split("/")[2] for name in usual if guests.get(name) != usual[name]}
    drawn = {text.label: text.line for text in plan(RARE_GUESTS, "tall/dates-2").content.setting()}
    formed = {
        label
        for label, line in drawn.items()
        if any("." in item.glyph.name for item in line.glyphs)
    }
    assert 0 < len(formed) < 20
    assert changed <= formed


def test_adding_a_stamp_changes_no_other():
    few, many = (
        f"{RARE_GUESTS}[words]\nyears = {years}\n" for years in ([2027], [2027, 2044, 2050])
    )
    for name in ("tall/dates-1", "words/year-2027", "words/month-01", "tall/weekdays-monday"):
        assert keys(few, name) == keys(many, name)


def test_a_single_digit_keeps_its_usual_form():
    for digit in "0123456789":
        (text,) = plan(RARE_GUESTS, f"words/digit-{digit}").content.setting()
        assert all("." not in item.glyph.name for item in text.line.glyphs)


def test_neighbours_and_the_digits_of_11_and_22_never_share_a_drawing():
    dates = marks("", "tall/dates-1")
    names = [mark.name for mark in dates]
    assert len(set(names)) == len(names)
    for numeral in ("11", "22"):
        groups = {mark.group for mark in dates if mark.name.startswith(f"tall/dates-1/{numeral}/")}
        assert groups == {f"tall/dates-1/{numeral}.1", f"tall/dates-1/{numeral}.2"}


def test_one_drawing_a_digit_is_that_of_its_own_stamp():
    dates = marks(ONE_DRAWING, "tall/dates-1")
    assert {mark.group for mark in dates} == {f"words/digit-{digit}" for digit in "0123456789"}
    (one,) = {mark.group for mark in marks(ONE_DRAWING, "words/digit-1")}
    assert one == "words/digit-1"
    assert {mark.group for mark in marks(ONE_DRAWING, "words/year-2028")} == {
        f"words/digit-{d}" for d in "028"
    }


def test_one_drawing_has_one_master_at_one_size():
    found = {}
    for stamp in ("tall/dates-1", "tall/dates-5"):
        for mark in marks(ONE_DRAWING, stamp):
            key = master_key(mark, EXACT, number=5, again=0, px_per_mm=30.0)
            assert found.setdefault(mark.name, key) == key
    assert len(found) < 30


def test_one_drawing_stands_where_each_drawing_would():
    for stamp in ("tall/dates-1", "words/year-2027", "words/month-05"):
        usual, one = marks("", stamp), marks(ONE_DRAWING, stamp)
        points = [
            np.concatenate([mark.points for mark in drawn if isinstance(mark, Stroke)])
            for drawn in (usual, one)
        ]
        assert points[0] == pytest.approx(points[1], abs=1e-9)


def test_words_without_digits_know_no_one_drawing():
    assert keys("", "words/month-05") == keys(ONE_DRAWING, "words/month-05")


def test_a_digit_drawn_again_is_drawn_again_wherever_it_is_used():
    again = {"words/digit-7": 1}
    digests = [
        drawing_digest(
            plan(ONE_DRAWING, "tall/dates-1").drawing(), number=5, again=counts, style={}, ppi=300
        )
        for counts in ({}, again)
    ]
    assert digests[0] != digests[1]
    usual = [
        drawing_digest(
            plan("", "tall/dates-1").drawing(), number=5, again=counts, style={}, ppi=300
        )
        for counts in ({}, again)
    ]
    assert usual[0] == usual[1]


def test_swaps_of_the_recipe_are_drawn():
    recipe = read('[lettering.swap]\n"4" = "four.open"\n"7" = "stairwell:seven"\n')
    swapped = face_of(recipe)
    assert (swapped.glyph("4").name, swapped.glyph("7").name) == ("four.open", "Stairwell:seven")
    assert len(catalogue(recipe, swapped)) == len(catalogue(read(""), scullery()))


def test_old_style_figures_of_the_recipe_are_drawn():
    text = '[lettering]\nfamily = "mantelpiece"\nfigure_style = "old style"\n'
    assert face_of(read(text)).glyph("3").name == "three.old"


def test_old_style_figures_that_there_are_not_are_laid_to_their_line():
    said = "one.toml, line 5: lettering.figure_style: Scullery has no old-style figures"
    with pytest.raises(RecipeError, match=said):
        face_of(read('[lettering]\nfigure_style = "old style"\n'))


def test_a_swap_that_cannot_be_made_is_laid_to_its_line():
    with pytest.raises(
        RecipeError,
        match=r"one.toml, line 4: lettering.swap: Scullery has no glyph called 'four.ajar'",
    ):
        face_of(read('[lettering.swap]\n"4" = "four.ajar"\n'))


def test_swaps_are_found_from_the_recipe_s_folder(tmp_path):
    (tmp_path / "my-nine.glif").write_text(
        '<glyph name="nine" format="2"><advance width="488"/><outline><contour>'
        '<point x="100" y="650" type="move"/><point x="200" y="50" '
        'type="line"/></contour></outline></glyph>'
    )
    text = HEAD + '[lettering.swap]\n"9" = "my-nine.glif"\n'
    assert (
        face_of(recipe_from_text(text, source="x", folder=tmp_path)).glyph("9").name
        == "my-nine.glif"
    )


def test_axes_of_the_recipe_reach_the_font():
    recipe = recipe_from_text(
        f'{HEAD}[lettering]\nfont = "{VARIABLE.as_posix()}"\n[lettering.axes]\nwght = 650\n',
        source="x",
        folder=Path(),
    )
    assert face_of(recipe).name.endswith("(wght 650)")
    high = recipe_from_text(
        f'{HEAD}[lettering]\nfont = "{VARIABLE.as_posix()}"\n[lettering.axes]\nwght = 1e4\n',
        source="x",
        folder=Path(),
    )
    with pytest.raises(FontError, match="has no wght of 10000"):
        face_of(high)


@pytest.mark.parametrize(("way", "pen"), [("stroke", True), ("contour", False)])
def test_a_font_is_drawn_in_the_way_asked_for(way, pen):
    head = f'{HEAD}[lettering]\nfont = "{VARIABLE.as_posix()}"\nway = "{way}"\n'
    assert face_of(recipe_from_text(head, source="x", folder=Path())).is_drawn_with_pen == pen


def test_a_family_has_no_axes():
    with pytest.raises(
        RecipeError, match=r"lettering.axes needs a variable font, and the letters are a family's"
    ):
        face_of(read("[lettering.axes]\nwght = 650\n"))


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        (
            "[lettering]\nswap = 3",
            (
                'lettering.swap must name a glyph for each character, such as "9" = "nine.curved", '
                "not 3"
            ),
        ),
        ('[lettering.swap]\n"10" = "ten"', '"10" is not one character'),
        (
            '[lettering.swap]\n"9" = 9',
            "lettering.swap must be a text of at most 1024 letters on one line, not 9",
        ),
        (
            "[lettering]\naxes = 3",
            "lettering.axes must give axes by their four letters, such as wght = 650, not 3",
        ),
        ("[lettering.axes]\nweight = 650", 'not "weight" = 650'),
        ('[lettering.axes]\nwght = "bold"', 'not "wght" = "bold"'),
        ("[lettering.axes]\nwght = inf", 'not "wght" = inf'),
        ('[lettering]\nguests = "many"', 'lettering.guests must be "none" or "rare", not "many"'),
        ("[lettering]\ndrawings = 1", 'lettering.drawings must be "each" or "one", not 1'),
        ("[words]\nspacing = 3", "words.spacing must be a number from -0.1 to 1, not 3"),
        (
            '[lettering]\nfamily = "gone.ufo"',
            "lettering.family must be a UFO folder, and there is none at gone.ufo",
        ),
    ],
)
def test_what_letters_cannot_do_is_refused(text, sentence):
    with pytest.raises(RecipeError) as caught:
        recipe_from_text(HEAD + text, source="one.toml", folder=Path())
    assert sentence in str(caught.value)


def test_spacing_widens_words_and_weekdays_but_no_numerals():
    spaced = "[words]\nspacing = 0.1\n"
    wide, plain = (plan(text, "words/month-01").content.setting()[0].line for text in (spaced, ""))
    assert wide.advance_em == pytest.approx(plain.advance_em + 0.6)  # JANUARY has six gaps
    assert keys(spaced, "tall/dates-1") == keys("", "tall/dates-1")
    assert keys(spaced, "words/year-2027") == keys("", "words/year-2027")
    fitted = {text.label: text for text in plan(spaced, "tall/weekdays-monday").content.setting()}
    assert max(text.ink[2] - text.ink[0] for text in fitted.values()) < 0.78 * (
        fitted["mon"].cell[2] - fitted["mon"].cell[0]
    )


def test_missing_letters_come_with_the_families_that_have_them(tmp_path):
    folder = tmp_path / "mine.ufo"
    shutil.copytree(family_path("scullery"), folder)
    for file in (folder / "glyphs").glob("*.glif"):
        file.write_text(
            "".join(
                line
                for line in file.read_text().splitlines(keepends=True)
                if 'hex="00' in line or "<unicode" not in line
            )
        )
    lacking, recipe = open_family(folder), read('[words]\nlanguage = "cs"\n')
    assert lacking.has("A")
    assert not lacking.has("Č")
    with pytest.raises(
        RecipeError, match=f"families here that have them all: {', '.join(family_names())}"
    ):
        catalogue(recipe, lacking)
    with pytest.raises(RecipeError, match="no family here has them all"):
        catalogue(read('[words]\nlanguage = "ja"\n'), scullery())

"""Letters of a kit: of its own for numerals and for words, each where it belongs."""

import shutil
from pathlib import Path

import font_roboto
import pytest

from inkline.kit.letters import face_of
from inkline.kit.product import KitOrder
from inkline.kit.recipe.loading import recipe_from_text
from inkline.kit.requests import fonts_of_recipes
from inkline.kit.stamps.cells import numerals_of
from inkline.kit.stamps.place import place_of
from inkline.kit.stamps.two_faces import TwoFaces
from inkline.lettering.families import family_path
from inkline.source.faults import RecipeError

START = "version = 1\nnumber = 7\n[formats.standard]\n"
ROBOTO = Path(font_roboto.font_files["Roboto"])


def recipe(text, folder=Path()):
    return recipe_from_text(START + text, source="two.toml", folder=folder)


def test_a_kit_has_one_face_unless_it_says_otherwise():
    face = face_of(recipe(""))
    assert not isinstance(face, TwoFaces)
    same = '[lettering.words]\nfamily = "errand"\n[lettering.numerals]\nfamily = "errand"\n'
    assert face_of(recipe(same)).name == "Errand"
    assert not isinstance(face_of(recipe(same)), TwoFaces)


def test_numerals_and_words_come_each_from_their_own_letters():
    wanted = recipe('[lettering.numerals]\nfamily = "errand"\n')
    face = face_of(wanted)
    place = place_of(wanted, wanted.formats[0], face)
    assert face.name == "Scullery"
    assert numerals_of(place).face.name == "Errand"
    own = face_of(recipe('[lettering.words]\nfamily = "stairwell"\n'))
    assert (own.name, own.numerals.name) == ("Stairwell", "Scullery")


def test_letters_without_a_languages_own_can_still_give_the_numerals():
    greek = '[words]\nlanguage = "el"\n[lettering]\nfamily = "stairwell"\n'
    with pytest.raises(RecipeError, match=r"words\.language needs letters that are missing"):
        KitOrder(recipe=recipe(greek)).open_and_check()
    both = recipe(f'{greek}[lettering.words]\nfamily = "porchlight"\n')
    plans = KitOrder(recipe=both).open_and_check().kit.plans
    alone = KitOrder(recipe=recipe('[lettering]\nfamily = "stairwell"\n')).open().kit.plans
    assert plain(plans["standard/dates-1"]) == plain(alone["standard/dates-1"])


def test_fonts_of_numerals_and_words_are_told_too(tmp_path):
    shutil.copy(ROBOTO, tmp_path / "mine.ttf")
    kit = recipe('[lettering.numerals]\nfont = "mine.ttf"\n', tmp_path)
    assert fonts_of_recipes([kit], font=None) == (tmp_path / "mine.ttf",)
    assert fonts_of_recipes([kit], font=ROBOTO) == (ROBOTO, tmp_path / "mine.ttf")


def test_words_are_drawn_as_before_where_only_numerals_change():
    usual = KitOrder(recipe=recipe("")).open().kit.plans
    own = KitOrder(recipe=recipe('[lettering.numerals]\nfamily = "errand"\n')).open().kit.plans
    for name in ("words/month-01", "standard/weekdays-sunday"):
        assert plain(usual[name]) == plain(own[name])
    assert plain(usual["standard/dates-1"]) != plain(own["standard/dates-1"])


def plain(plan):
    return [mark.points.tolist() for layer in plan.drawing().layers for mark in layer.marks]


def test_swaps_of_digits_and_old_style_figures_belong_to_the_numerals():
    text = (
        '[lettering]\nfigure_style = "old style"\n'
        '[lettering.numerals]\nfamily = "mantelpiece"\n[lettering.words]\nfamily = "scullery"\n'
    )
    face = face_of(recipe(text))
    assert (face.numerals.name, face.name) == ("Mantelpiece", "Scullery")
    swaps = '[lettering.numerals]\nfamily = "errand"\n[lettering.swap]\n"1" = "one.foot"\n'
    face = face_of(recipe(f'{swaps}"I" = "I.serif"\n'))
    assert face.numerals.glyph("1").name == "one.foot"
    assert face.glyph("I").name == "I.serif"
    assert face.glyph("1").name == "one"


def test_numerals_letters_that_lack_digits_are_told():
    text = '[lettering]\nnumbering = "thai"\n[lettering.numerals]\nfamily = "errand"\n'
    with pytest.raises(RecipeError) as caught:
        KitOrder(recipe=recipe(text)).open_and_check()
    keys = {fault.key for fault in caught.value.faults}
    assert {"lettering.numerals", "lettering.numbering"} <= keys


def test_both_licences_stand_in_the_manifest(tmp_path):
    shutil.copy(ROBOTO, tmp_path / "mine.ttf")
    wanted = recipe('[lettering.numerals]\nfont = "mine.ttf"\n', tmp_path)
    head = KitOrder(recipe=wanted).open().head()
    assert head["letters"]["name"] == "Scullery"
    assert head["numeral_letters"]["name"] == "Roboto"
    assert "embedding" in head["numeral_letters"]
    assert "numeral_letters" not in KitOrder(recipe=recipe("")).open().head()


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("[lettering.numerals]\nstyle = 3\n", "lettering.numerals must name a family or a font"),
        ('[lettering]\nwords = "errand"\n', "lettering.words must name a family or a font"),
        ("[lettering.words]\nfamily = 3\n", "for family"),
        ('[lettering.words]\nfamily = "erand"\n', 'did you mean "errand"'),
        ('[lettering.numerals]\nfont = "none.ttf"\n', "must be a font file, and there is none"),
        ('[lettering.numerals]\nfamily = "none.ufo"\n', "must be a UFO folder"),
    ],
)
def test_wrong_letters_are_refused(text, sentence):
    with pytest.raises(RecipeError) as caught:
        recipe(text)
    assert sentence in " ".join(fault.sentence for fault in caught.value.faults)


def test_letters_that_cannot_be_opened_are_told_with_their_key(tmp_path):
    (tmp_path / "broken.ttf").write_bytes(b"no font")
    wanted = recipe('[lettering.numerals]\nfont = "broken.ttf"\n', tmp_path)
    with pytest.raises(RecipeError) as caught:
        face_of(wanted)
    assert caught.value.faults[0].key == "lettering.numerals"


def test_a_family_of_ones_own_lies_beside_the_recipe(tmp_path):
    shutil.copytree(family_path("errand"), tmp_path / "mine.ufo")
    assert face_of(recipe('[lettering.words]\nfamily = "mine.ufo"\n', tmp_path)).name == "Errand"

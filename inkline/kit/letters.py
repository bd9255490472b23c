"""The letters of a kit: a family or a font, with what its recipe swaps in them."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from inkline.errors import InputError
from inkline.kit.recipe.model import LettersRecipe, Recipe
from inkline.kit.stamps.two_faces import TwoFaces
from inkline.kit.stamps.weekdays import all_weekday_texts
from inkline.kit.stamps.words import word_sets
from inkline.lettering.errors import FamilyError
from inkline.lettering.face import Face
from inkline.lettering.families import family_path
from inkline.lettering.family import open_family
from inkline.lettering.font import open_font
from inkline.lettering.forms import DIGITS
from inkline.lettering.old_style import in_figure_style
from inkline.lettering.swap import swapped_face
from inkline.lettering.writing import face_in_way
from inkline.source.faults import RecipeError


def face_of(recipe: Recipe, *, font: Path | None = None) -> Face:
    """The letters that `recipe` asks for, or those of the file `font` in place of its own.

    `TwoFaces` where numerals have other letters than words.

    Raises:
        InputError: no such family, or a font that cannot be used.
    """
    words, numerals = recipe.word_letters, recipe.numeral_letters
    if words == numerals:
        face = _usual_face(recipe, font) if words is None else _own_face(recipe, words, "words")
        return _swapped(recipe, _in_figure_style(recipe, face), dict(recipe.swaps))
    usual = _usual_face(recipe, font) if words is None or numerals is None else None
    digits = {one: said for one, said in recipe.swaps if one in recipe.digits + DIGITS}
    others = {one: said for one, said in recipe.swaps if one not in digits}
    of_numerals = usual if numerals is None else _own_face(recipe, numerals, "numerals")
    of_words = usual if words is None else _own_face(recipe, words, "words")
    assert of_numerals is not None and of_words is not None  # noqa: S101, PT018 - opened above
    return TwoFaces(
        face=_swapped(recipe, of_words, others),
        numerals=_swapped(recipe, _in_figure_style(recipe, of_numerals), digits),
    )


def _usual_face(recipe: Recipe, font: Path | None) -> Face:
    """The letters of the kit, unswapped."""
    file = font or recipe.font
    if file is not None:
        opened = open_font(file, axes=dict(recipe.axes))
        return face_in_way(opened, way=recipe.way, texts=_texts(recipe))
    if recipe.axes:
        raise RecipeError(
            [
                recipe.fault(
                    "lettering.axes",
                    "lettering.axes needs a variable font, and the letters are a family's",
                )
            ]
        )
    return open_family(family_path(recipe.family))


def _texts(recipe: Recipe) -> Iterator[str]:
    """All that a kit says in its letters."""
    for words in word_sets(recipe):
        yield from words.texts
    for shape in recipe.formats:
        yield from all_weekday_texts(recipe, shape)


def _own_face(recipe: Recipe, letters: LettersRecipe, part: str) -> Face:
    """The letters that numerals or words have for themselves."""
    try:
        if letters.font is not None:
            texts = [recipe.digits] if part == "numerals" else _texts(recipe)
            return face_in_way(open_font(letters.font), way=recipe.way, texts=texts)
        return open_family(family_path(letters.family))
    except InputError as error:
        key = f"lettering.{part}"
        raise RecipeError([recipe.fault(key, f"{key}: {error}")]) from error


def _in_figure_style(recipe: Recipe, face: Face) -> Face:
    try:
        return in_figure_style(face, recipe.figure_style)
    except FamilyError as error:
        fault = f"lettering.figure_style: {error}"
        raise RecipeError([recipe.fault("lettering.figure_style", fault)]) from error


def _swapped(recipe: Recipe, face: Face, swaps: dict[str, str]) -> Face:
    try:
        return swapped_face(face, swaps, folder=recipe.folder)
    except FamilyError as error:
        raise RecipeError([recipe.fault("lettering.swap", f"lettering.swap: {error}")]) from error

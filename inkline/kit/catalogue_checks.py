"""What is found wrong with a recipe once its layout and letters are known, before anything is drawn.

Every sentence says what would be right: the largest size that fits, or the smallest margin.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from inkline.kit.catalogue_numerals import LEAST_WHITE, numeral_faults
from inkline.kit.catalogue_plans import plan_makers
from inkline.kit.catalogue_weekdays import fitted_weekdays, weekday_texts
from inkline.kit.catalogue_words import word_sets, word_size
from inkline.kit.checks_layout import in_px, layout_faults, layout_or_fault
from inkline.kit.checks_use import vanishing_faults, vanishing_notes
from inkline.kit.layout import FormatLayout, layout_of
from inkline.kit.layout_text import LineSetter, ink_width, spaced_words
from inkline.kit.recipe_faults import Fault, down, nearest
from inkline.kit.recipe_model import FormatRecipe, Recipe
from inkline.kit.schema_key import FORMATS
from inkline.kit.schema_words import Shows
from inkline.lettering.errors import MissingGlyphError
from inkline.lettering.face import Face
from inkline.lettering.family import families_with

_FULL_NAME = re.compile(r"([^/]+/[^/.]+)(?:/([^/.]+))?(?:\.\d+)?(?:/\d+)?")
"""A stamp's name, that of one of its parts, and of one letter or stroke of that, such as `tall/dates-3/17.2` or `.../17/1`."""


def recipe_faults(recipe: Recipe, face: Face) -> tuple[Fault, ...]:
    """All faults of `recipe` that its layout and the letters of `face` bring to light; none if it can be drawn."""
    faults = [*_glyph_faults(recipe, face)]
    has_letters = not faults
    for shape in recipe.formats:
        layout = layout_or_fault(recipe, shape)
        if isinstance(layout, Fault):
            faults.append(layout)
            continue
        faults += layout_faults(recipe, shape, layout)
        if has_letters:
            faults += _letter_faults(recipe, shape, layout, face)
    if has_letters:
        faults += _word_faults(recipe, face)
    if not faults:
        faults += _again_faults(recipe, face)
    return tuple(faults)


def recipe_notes(recipe: Recipe, face: Face) -> tuple[str, ...]:
    """What the owner of a recipe without faults should know all the same, in sentences."""
    return tuple(
        note for shape in recipe.formats for note in vanishing_notes(recipe, shape, layout_of(recipe, shape), face)
    )


def _letter_faults(recipe: Recipe, shape: FormatRecipe, layout: FormatLayout, face: Face) -> Iterator[Fault]:
    """Numerals and weekdays that don't fit their places, and strokes that would vanish."""
    if shape.shows not in {Shows.WEEK, Shows.DAY}:
        yield from numeral_faults(recipe, shape, layout, face)
    if shape.shows is not Shows.DAY:
        yield from _weekday_faults(recipe, shape, layout, face)
    yield from vanishing_faults(recipe, shape, layout, face)


def _glyph_faults(recipe: Recipe, face: Face) -> Iterator[Fault]:
    """Letters that the face lacks, one fault for each key that needs them."""
    needs: list[tuple[str, tuple[str, ...], LineSetter]] = [
        ("words.language", tuple(weekday_texts(recipe).values()), spaced_words(recipe.words.spacing))
    ]
    needs += [(words.key, words.texts, words.setter) for words in word_sets(recipe)]
    missing: dict[str, list[str]] = {}
    for key, texts, setter in needs:
        for text in texts:
            try:
                setter(face, text, recipe.figures, ())
            except MissingGlyphError as error:
                missing.setdefault(key, []).extend(error.characters)
    if not missing:
        return
    have = families_with("".join(character for characters in missing.values() for character in characters))
    help_ = f"; families here that have them all: {', '.join(have)}" if have else "; no family here has them all"
    for key, characters in missing.items():
        lacking = MissingGlyphError(characters, face=face.name)
        yield recipe.fault(key, f"{key} needs letters that are missing: {lacking}{help_}")


def _weekday_faults(recipe: Recipe, shape: FormatRecipe, layout: FormatLayout, face: Face) -> Iterator[Fault]:
    """Weekdays asked for larger than their columns or their row; fitted ones fit."""
    if isinstance(shape.weekday, str):
        return
    names = tuple(weekday_texts(recipe).values())
    size, setter = fitted_weekdays(recipe, shape, layout, face), spaced_words(recipe.words.spacing)
    widths = {name: ink_width(setter(face, name, recipe.figures, ()), size) for name in names}
    widest = max(widths, key=widths.__getitem__)
    room = 2.0 * LEAST_WHITE * layout.cell_width + layout.heavy
    factor = min((layout.cell_width - room) / widths[widest], (layout.header_height - room) / size.height_px)
    table = f"{FORMATS}.{shape.name}"
    if factor <= 0.0:
        yield recipe.fault(
            f"{table}.weekday_row",
            f"{table}.weekday_row leaves the weekdays no place between its rules: it is {layout.header_height:.4g} px high",
        )
    elif factor < 1.0:
        most = down(shape.weekday * factor)
        sentence = f'must be at most {most}, or "fit", for {widest} to fit its place, not {shape.weekday:g}'
        yield recipe.fault(f"{table}.weekday", f"{table}.weekday {sentence}")


def _word_faults(recipe: Recipe, face: Face) -> Iterator[Fault]:
    """Words used alone that are wider than the canvas of the calendar that they go with."""
    size, margin = word_size(recipe, face), recipe.px(recipe.words.margin)
    widths = {
        text: ink_width(words.setter(face, text, recipe.figures, ()), size)
        for words in word_sets(recipe)
        for text in words.texts
    }
    widest = max(widths, key=widths.__getitem__)
    most = recipe.side_px - 2.0 * margin
    if widths[widest] > most:
        height = down(size.height_px * most / widths[widest])
        yield recipe.fault(
            "words.height",
            f"words.height must be at most {height} px for {widest} to fit the canvas, not {in_px(recipe, recipe.words.height)}",
        )


def _again_faults(recipe: Recipe, face: Face) -> Iterator[Fault]:
    """Names to be drawn again that nothing has."""
    if not recipe.again:
        return
    makers = plan_makers(recipe, face)
    for name in recipe.again:
        found = _FULL_NAME.fullmatch(name)
        whole, part = "/".join(name.split("/")[:2]), "/".join(name.split("/")[2:])
        stamp, rest = found.groups("") if found else (whole, part)
        labels = makers[stamp]().content.labels if stamp in makers else ()
        if stamp not in makers:
            yield recipe.fault(f"again.{name}", _no_such_name(name, nearest(stamp, makers)))
        elif rest and rest not in labels and not (not labels and rest.isdecimal()):
            parts = [f"{stamp}/{label}" for label in labels]
            yield recipe.fault(f"again.{name}", _no_such_name(name, nearest(name, parts)))


def _no_such_name(name: str, question: str) -> str:
    return f'again: nothing in this kit is called "{name}"{question}'

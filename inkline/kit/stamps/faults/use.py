"""Strokes that would vanish at the size at which stamps are used."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from inkline.kit.recipe.choices import BlockFill, BlockForm, Blocks, Shows
from inkline.kit.recipe.key import FORMATS
from inkline.kit.recipe.model import FormatRecipe, Recipe
from inkline.kit.stamps.cells import numeral_size
from inkline.kit.stamps.layout import FormatLayout
from inkline.kit.stamps.place import Place
from inkline.kit.stamps.weekdays import weekday_size_of
from inkline.source.faults import Fault, Fix, text_rounded_down, text_rounded_up
from inkline.units import Length

_LEAST_STEM = 3.0
"""The fewest pen widths that a recipe may ask letters to be high."""
_FULL_SIZE = 100.0
"""The largest size at which a stamp is used, in percent."""
LEAST_STROKE = 1.0
"""The thinnest stroke that still reads at the size of use, in px of that size: thinner ones turn to
grey. Chosen by eye."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Thin:
    """A stroke that would vanish, in px at the size of use, and what would do instead."""

    key: str
    what: str
    at_use_px: float
    fix: Fix


def vanishing_faults(place: Place) -> Iterator[Fault]:
    """Strokes of a format thinner than `LEAST_STROKE` at the size of use that the recipe states.

    Where it states none, `vanishing_notes` tells of them and they are drawn.
    """
    recipe, shape = place.recipe, place.shape
    if _states_use(recipe, shape):
        for thin in _thin_strokes(place):
            sentence = f"{thin.key}: {_sentence(shape, thin)}"
            yield recipe.fault(thin.key, sentence, fixes=[thin.fix])


def vanishing_notes(place: Place) -> Iterator[str]:
    """Sentences on strokes too thin for the size of use, where the recipe doesn't state one."""
    shape = place.shape
    if not _states_use(place.recipe, shape):
        for thin in _thin_strokes(place):
            yield f"{shape.name}: {_sentence(shape, thin)}"


def _states_use(recipe: Recipe, shape: FormatRecipe) -> bool:
    return any(
        f"{table}.used_at" in recipe.places for table in (f"{FORMATS}.{shape.name}", "each_format")
    )


def _sentence(shape: FormatRecipe, thin: _Thin) -> str:
    key = thin.fix.key.removeprefix(f"{FORMATS}.{shape.name}.")
    return (
        f"{thin.what} would be {thin.at_use_px:.2g} px wide at {shape.used_at:g} %, at which "
        f"this format is used, and vanish; {key} = {thin.fix.value} holds"
    )


def _thin_strokes(place: Place) -> Iterator[_Thin]:
    """Every kind of stroke that is too thin, with the least change that mends it."""
    recipe, shape = place.recipe, place.shape
    table, needed = f"{FORMATS}.{shape.name}", LEAST_STROKE * 100.0 / shape.used_at
    for name, what, width in _line_widths(shape, place.layout):
        if width < needed:
            least = _as_said(recipe, getattr(shape, name), needed)
            yield _Thin(
                key=f"{table}.{name}",
                what=what,
                at_use_px=width * LEAST_STROKE / needed,
                fix=Fix(key=f"{table}.{name}", value=f'"{least}"'),
            )
    if not place.numerals_face.is_drawn_with_pen:
        return
    for name, what, pen, height in _pens(place):
        if pen < needed:
            holds = _heavier(
                recipe, shape, name, thinner=pen / needed, stem=text_rounded_down(height / needed)
            )
            yield _Thin(
                key=f"{table}.{name}",
                what=what,
                at_use_px=pen * LEAST_STROKE / needed,
                fix=holds,
            )


def _heavier(recipe: Recipe, shape: FormatRecipe, name: str, *, thinner: float, stem: str) -> Fix:
    """What makes strokes hold that are `thinner` times as wide as needed.

    It is a heavier pen, else use at a larger size, else a larger canvas.
    """
    table = f"{FORMATS}.{shape.name}"
    if float(stem) >= _LEAST_STEM:
        return Fix(key=f"{table}.{name}", value=stem)
    used_at = text_rounded_up(shape.used_at / thinner)
    if float(used_at) <= _FULL_SIZE:
        return Fix(key=f"{table}.used_at", value=used_at)
    side = text_rounded_up(recipe.side_px / thinner)
    return Fix(key="canvas.side", value=f'"{side} px"')


def _line_widths(shape: FormatRecipe, layout: FormatLayout) -> Iterator[tuple[str, str, float]]:
    """Key, name and width in px of the lines of a format that has them."""
    if shape.shows is not Shows.SMALL:
        yield "rule", "the rules", layout.rule
    outlined = shape.block_form is BlockForm.UNDERLINE or shape.block_fill is BlockFill.OUTLINED
    if shape.blocks is not Blocks.NONE and outlined:
        yield "block_line", "the lines of the blocks", layout.block_line


def _pens(place: Place) -> Iterator[tuple[str, str, float, float]]:
    """Key, name, pen width and letter height, both in px, of what is written on a format."""
    shape = place.shape
    if shape.shows not in {Shows.WEEK, Shows.DAY}:
        size = numeral_size(place)
        yield "stem", "the strokes of the numerals", size.pen_px, size.height_px
    if shape.shows is not Shows.DAY:
        size = weekday_size_of(place)
        yield "weekday_stem", "the strokes of the weekdays", size.pen_px, size.height_px


def _as_said(recipe: Recipe, said: Length, px: float) -> str:
    """A length of at least `px`, in the unit in which `said` is."""
    unit_px = recipe.px(Length(1.0, said.unit))
    return f"{text_rounded_up(px / unit_px)} {said.unit.value}"

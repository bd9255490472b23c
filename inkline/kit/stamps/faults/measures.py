"""What is found wrong with a format's cells, rules, gutters and blocks."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from inkline.kit.recipe.choices import BlockFill, BlockForm, Blocks, Shows
from inkline.kit.recipe.key import FORMATS
from inkline.kit.recipe.keys import LARGEST_SIDE_PX
from inkline.kit.recipe.model import FormatRecipe, Recipe
from inkline.kit.recipe.numbers import px_text
from inkline.kit.stamps.faults.cells import LEAST_WHITE
from inkline.kit.stamps.layout import FormatLayout
from inkline.kit.stamps.measures import NoRoomError, layout_of
from inkline.kit.stamps.place import Place, place_of
from inkline.lettering.face import Face
from inkline.source.faults import Fault, did_you_mean, text_rounded_down, text_rounded_up
from inkline.units import Length, Unit

_IN_WEEKS = frozenset({Shows.MONTH, Shows.SMALL})
_ROUNDING = 1e-9
_MOST_TRIALS = 12
"""A cell shrinks so little with its gutters that two or three trials are enough."""


def place_or_fault(recipe: Recipe, shape: FormatRecipe, face: Face) -> Place | Fault:
    """A format with its layout, or what keeps it from having one."""
    try:
        return place_of(recipe, shape, face)
    except NoRoomError as error:
        own = f"{FORMATS}.{shape.name}"
        margin = "canvas.margin" if isinstance(shape.margin, str) else f"{own}.margin"
        key, taken = (
            (f"{own}.{error.key}", "gutters") if error.gutters_px > 0 else (margin, "margins")
        )
        return recipe.fault(key, f"{key}: the {taken} leave no room for cells; {error}")


def layout_faults(place: Place) -> Iterator[Fault]:
    """Rules, gutters and blocks that don't fit, and a frame too near the canvas edge."""
    recipe, shape, layout = place.recipe, place.shape, place.layout
    yield from _canvas_faults(recipe, shape, layout)
    yield from _margin_faults(recipe, shape, layout)
    yield from _rule_faults(recipe, shape, layout)
    yield from _gutter_faults(place)
    if shape.blocks is not Blocks.NONE:
        yield from _block_faults(recipe, shape, layout)
        yield from _omitted_faults(recipe, shape, layout)


def _canvas_faults(recipe: Recipe, shape: FormatRecipe, layout: FormatLayout) -> Iterator[Fault]:
    """A canvas that grows too high with its rows."""
    height = layout.canvas[1]
    if height > LARGEST_SIDE_PX:
        key = f"{FORMATS}.{shape.name}.cell"
        # What isn't cells stays; the rest shrinks with the cell's proportion.
        fixed = layout.margins.top + layout.margins.bottom
        most = text_rounded_down(shape.cell * (LARGEST_SIDE_PX - fixed) / (height - fixed))
        sentence = (
            f"must be at most {most} for the canvas to be no higher than {LARGEST_SIDE_PX} px, "
            f"not {shape.cell:g}"
        )
        yield recipe.fault(key, f"{key} {sentence}", fits=most)


def _margin_faults(recipe: Recipe, shape: FormatRecipe, layout: FormatLayout) -> Iterator[Fault]:
    """Margins in which the frame comes too near the canvas edge."""
    needed = layout.safe + max(layout.rule, layout.heavy) / 2.0
    if isinstance(shape.margin, str):
        if recipe.px(recipe.margin) < needed:
            sentence = _margin_sentence(
                "canvas.margin", needed, layout, in_px(recipe, recipe.margin)
            )
            yield recipe.fault("canvas.margin", sentence, fits=f'"{text_rounded_up(needed)} px"')
        return
    key = f"{FORMATS}.{shape.name}.margin"
    smallest = min(shape.margin, key=recipe.px)
    if recipe.px(smallest) < needed:
        yield recipe.fault(key, _margin_sentence(key, needed, layout, in_px(recipe, smallest)))


def _margin_sentence(key: str, needed: float, layout: FormatLayout, said: str) -> str:
    return (
        f"{key} must be at least {text_rounded_up(needed)} px for the frame of {layout.name} "
        f"to stay {px_text(layout.safe)} from the edge, as canvas.safe says, not {said}"
    )


def _rule_faults(recipe: Recipe, shape: FormatRecipe, layout: FormatLayout) -> Iterator[Fault]:
    """Rules between which no white would stay."""
    smallest, heaviest = _smallest(layout), max(layout.rule, layout.heavy)
    if heaviest > smallest / 2.0:
        key = f"{FORMATS}.{shape.name}.rule"
        most = text_rounded_down(smallest / 2.0 / max(1.0, shape.frame))
        sentence = (
            f"must be at most {most} px for white to stay between the rules, "
            f"not {in_px(recipe, shape.rule)}"
        )
        yield recipe.fault(key, f"{key} {sentence}", fits=f'"{most} px"')


def _gutter_faults(place: Place) -> Iterator[Fault]:
    """Gutters so narrow that the rules at their two sides would run into one another."""
    recipe, shape, layout = place.recipe, place.shape, place.layout
    for name in ("column_gutter", "row_gutter"):
        if 0.0 < getattr(layout, name) < _least_gutter(layout) - _ROUNDING:
            key, said = f"{FORMATS}.{shape.name}.{name}", getattr(shape, name)
            least = (
                f'"{text_rounded_up(_least_gutter(layout))} px"'
                if isinstance(said, Length)
                else _least_share(place, name)
            )
            sentence = (
                f"must be 0, or at least {least} for white to stay between the rules at its "
                f"sides, not {in_px(recipe, said)}"
            )
            yield recipe.fault(key, f"{key} {sentence}", fits=least)


def _least_gutter(layout: FormatLayout) -> float:
    """The narrowest gutter in px that keeps rules apart."""
    return max(layout.rule, layout.heavy) + LEAST_WHITE * layout.cell_width


def _least_share(place: Place, name: str) -> str:
    """The narrowest gutter as a share of the cell's width, which itself shrinks as gutters grow."""
    layout, share = place.layout, "0"
    for _ in range(_MOST_TRIALS):
        if getattr(layout, name) >= _least_gutter(layout):
            break
        share = text_rounded_up(_least_gutter(layout) / layout.cell_width)
        wider: dict[str, Any] = {name: float(share)}
        layout = layout_of(place.recipe, replace(place.shape, **wider))
    return share


def _block_faults(recipe: Recipe, shape: FormatRecipe, layout: FormatLayout) -> Iterator[Fault]:
    """Blocks that would be nothing, or whose corners or lines don't fit them."""
    table, smallest = f"{FORMATS}.{shape.name}", _smallest(layout)
    left = smallest - 2.0 * layout.inset
    if left < smallest / 4.0:
        most = text_rounded_down(smallest * 3.0 / 8.0)
        said = in_px(recipe, shape.block_inset)
        if isinstance(shape.block_inset, Length):
            most = f"{most} px"
            fits = f'"{most}"'
        else:
            fits = text_rounded_down(smallest * 3.0 / 8.0 / layout.cell_width)
            most = f"{fits}, or {most} px,"
        sentence = (
            f"must be at most {most} for the blocks to keep a quarter of their cells, not {said}"
        )
        yield recipe.fault(f"{table}.block_inset", f"{table}.block_inset {sentence}", fits=fits)
        return
    if shape.block_form is BlockForm.BOX and layout.corner > left / 2.0:
        most = f"{text_rounded_down(left / 2.0)} px"
        sentence = (
            f"must be at most {most}, half of the smallest block, "
            f"not {in_px(recipe, shape.block_corner, layout.corner)}"
        )
        key = f"{table}.block_corner"
        yield recipe.fault(key, f"{key} {sentence}", fits=f'"{most}"')
    has_lines = shape.block_form is BlockForm.UNDERLINE or shape.block_fill is BlockFill.OUTLINED
    if has_lines and layout.block_line > left / 4.0:
        most = f"{text_rounded_down(left / 4.0)} px"
        sentence = (
            f"must be at most {most}, a quarter of the smallest block, "
            f"not {in_px(recipe, shape.block_line)}"
        )
        key = f"{table}.block_line"
        yield recipe.fault(key, f"{key} {sentence}", fits=f'"{most}"')


def _omitted_faults(recipe: Recipe, shape: FormatRecipe, layout: FormatLayout) -> Iterator[Fault]:
    """Blocks to be left out that there are none of."""
    grid = layout.full_grid
    n_rows = max(shape.weeks) if shape.shows in _IN_WEEKS else grid.n_rows
    days = [f"r{row + 1}c{column + 1}" for row in range(n_rows) for column in range(grid.n_columns)]
    names = [*days, *(f"c{number + 1}" for number in range(len(layout.header_cells)))]
    key = f"{FORMATS}.{shape.name}.block_omit"
    for name in shape.block_omit:
        if name not in names:
            yield recipe.fault(
                key,
                f"{key} must name blocks of {shape.name}, and there is none called "
                f'"{name}"{did_you_mean(name, names)}',
            )


def _smallest(layout: FormatLayout) -> float:
    """The smallest side of the format's cells and header cells."""
    return min(layout.cell_width, layout.cell_height, layout.header_height)


def in_px(recipe: Recipe, said: float | Length, px: float | None = None) -> str:
    """A length with what it is in px, or a share as it is, with its `px` if they are given."""
    if not isinstance(said, Length):
        return f"{said:g}" if px is None else f"{said:g} ({px_text(px)})"
    return str(said) if said.unit is Unit.PX else f"{said} ({px_text(recipe.px(said))})"

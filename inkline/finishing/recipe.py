"""What a recipe asks of a finishing: its table of artwork, with what holds for all of a recipe."""

from __future__ import annotations

from pathlib import Path

from inkline.artwork.size import PictureSize
from inkline.errors import InputError, UnitError
from inkline.finishing.request import FinishRequest
from inkline.kit.recipe.choices import Overlay
from inkline.kit.recipe.loading import load_recipe
from inkline.kit.recipe.model import Recipe
from inkline.output.look import colour_from_text
from inkline.source.faults import RecipeError
from inkline.source.places import has_file
from inkline.units import Unit, length_from_text

_MM_PER_INCH = 25.4


def request_from_recipe(path: Path, *, kit: str = "") -> FinishRequest:
    """What the recipe in the file at `path` asks for, or that of its kit called `kit`.

    Raises:
        RecipeError: it can't be read, or something in it can't be used; all faults at once.
    """
    return request_of_recipe(load_recipe(path, kit=kit))


def request_of_recipe(recipe: Recipe) -> FinishRequest:
    """What `recipe` asks for. What it has drawn again in its kit is no matter of its artwork.

    Raises:
        RecipeError: something in it can't be used; all faults at once.
    """
    asked = recipe.finish
    if not asked.files:
        sentence = (
            'finish.files must name the artwork, such as files = ["plan.svg"], and names none'
        )
        raise RecipeError([recipe.fault("finish.files", sentence)])
    missing = [file for file in asked.files if not has_file(file)]
    if missing:
        sentence = f"finish.files must name files, and there is no {missing[0]}"
        raise RecipeError([recipe.fault("finish.files", sentence)])
    try:
        colours = tuple(map(colour_from_text, asked.colours))
    except InputError as problem:
        sentence = f"finish.colours: {problem}"
        raise RecipeError([recipe.fault("finish.colours", sentence)]) from problem
    return FinishRequest(
        files=asked.files,
        style=recipe.style,
        number=recipe.number,
        size=PictureSize(ppi=asked.ppi),
        ground=asked.ground,
        family=recipe.family,
        font=recipe.font,
        drawn_at=_sheet_mm(recipe),
        pages=asked.pages,
        into_cells=asked.into_cells,
        week_start=next(iter(recipe.starts.values())),
        lines=asked.lines,
        beyond_ink=asked.beyond_ink,
        letters=asked.letters,
        parts=asked.parts,
        split=asked.split,
        overlay=asked.overlay is Overlay.WITH,
        again=_again_of_artwork(recipe),
        title=recipe.title,
        edition=recipe.edition,
        colours=colours,
        wishes=recipe.files.wishes(),
    )


def _again_of_artwork(recipe: Recipe) -> dict[str, int]:
    """What is drawn again and is no part of the recipe's kit."""
    formats = {shape.name for shape in recipe.formats}
    return {
        name: count for name, count in recipe.again.items() if name.split("/")[0] not in formats
    }


def _sheet_mm(recipe: Recipe) -> float | None:
    """How wide the artwork is on paper in mm, `None` as it says itself.

    Raises:
        RecipeError: it is no length on paper.
    """
    said = recipe.finish.drawn_at
    if not said:
        return None
    try:
        length = length_from_text(said)
    except UnitError as problem:
        sentence = f"finish.drawn_at: {problem}"
        raise RecipeError([recipe.fault("finish.drawn_at", sentence)]) from problem
    if length.unit in {Unit.PX, Unit.PERCENT}:
        sentence = f'finish.drawn_at must be a length on paper such as "180 mm", not "{said}"'
        raise RecipeError([recipe.fault("finish.drawn_at", sentence)])
    return length.px(ppi=_MM_PER_INCH)

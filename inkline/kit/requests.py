"""Kits, months and charts as somebody asks for them: recipe files and wishes in, orders out."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from inkline.calendar.months import MONTHS_PER_YEAR
from inkline.errors import Action, InputError, Remedy
from inkline.folder.journal import JOURNAL_FILE
from inkline.folder.strangers import holds_product
from inkline.kit.build import Request
from inkline.kit.letters import face_of
from inkline.kit.product import KitOrder
from inkline.kit.recipe.key import WEEK_STARTS
from inkline.kit.recipe.loading import default_recipe, load_recipe, load_recipes
from inkline.kit.recipe.model import Recipe
from inkline.kit.stamps.file_names import safe_name
from inkline.kit.stamps.year_chart import YearChart
from inkline.lettering.writing import Way
from inkline.phrases.phrases import USUAL_LANGUAGE, Phrases
from inkline.source.faults import Fault, RecipeError

if TYPE_CHECKING:
    from inkline.kit.papers.chart_png import ChartLook

MOST_YEARS = 100
"""A picture a year and week start; beyond this a number was given by mistake."""
_MONTH_OR_YEAR = re.compile(r"(\d{1,4})(?:-(\d{1,2}))?", re.ASCII)


@dataclass(frozen=True, slots=True, kw_only=True)
class NamedRecipe:
    """A recipe with the name that its kit has among several.

    Attributes:
        name: what the folder of the kit is called, or "" if it is the only one.
        recipe: what it asks for.
        file: the file that it is from, or None for the default recipe.
    """

    name: str
    recipe: Recipe
    file: Path | None


def recipe_from_file(file: Path | None, *, kit: str | None) -> Recipe:
    """The recipe in `file`, or that of its kit called `kit`; the default recipe without a file.

    Raises:
        RecipeError: as `load_recipe`.
        InputError: the name of a kit without a file.
    """
    if file is not None:
        return load_recipe(file, kit=kit or "")
    _refuse_kit_without_file(kit)
    return default_recipe()


def named_recipes(files: Sequence[Path], *, kit: str | None) -> list[NamedRecipe]:
    """The recipes of the kits in `files`, or of those called `kit`; the default one without files.

    The kit of the only file has no name unless the file gives it one; those of several files
    without names are called as these.

    Raises:
        RecipeError: files can't be used, or hold no kit of the name that is asked for; all faults
            of all files.
        InputError: a name without a file, or two kits of one name.
    """
    if not files:
        return [NamedRecipe(name="", recipe=recipe_from_file(None, kit=kit), file=None)]
    named: list[NamedRecipe] = []
    faults: list[Fault] = []
    for file in files:
        own = safe_name(file.stem) if len(files) > 1 else ""
        try:
            recipes = load_recipes(file) if kit is None else {kit: load_recipe(file, kit=kit)}
        except RecipeError as error:
            faults += error.faults
        else:
            named += [
                NamedRecipe(name=safe_name(name) or own, recipe=recipe, file=file)
                for name, recipe in recipes.items()
            ]
    if faults:
        raise RecipeError(faults)
    _refuse_one_name(named)
    return named


def recipe_in_letters(recipe: Recipe, *, family: str | None, way: str | None) -> Recipe:
    """`recipe` in the letters of `family`, written in `way`; its own where either is None."""
    if family is not None:
        recipe = replace(recipe, font=None, axes=(), family=family)
    return recipe if way is None else replace(recipe, way=Way(way))


def fonts_of_recipes(recipes: Iterable[Recipe], *, font: Path | None) -> tuple[Path, ...]:
    """The font files that are inked for `recipes`, each once: `font` for all unless it is None."""
    chosen = (recipe if font is None else replace(recipe, font=font) for recipe in recipes)
    return tuple(dict.fromkeys(file for recipe in chosen for file in recipe.fonts))


def kit_requests(
    named: Sequence[NamedRecipe], folder: Path, *, since: Path | None, chosen: str | None = None
) -> tuple[Request, ...]:
    """What is to be built: each kit in a folder of its own within `folder`, if it has a name.

    One that was `chosen` by its name goes into `folder` itself, unless that has a folder of its
    name, or holds other kits.

    A kit is a new edition of its namesake within `since`; one that `since` doesn't hold is new. If
    there is but one, `since` may be the earlier kit's folder itself.

    Raises:
        InputError: `since` holds none of them, or `folder` is a kit itself and several would go
            into it.
    """
    if len(named) > 1 and holds_product(folder):
        names = ", ".join(one.name for one in named)
        raise InputError(
            f"{folder} is the folder of one kit, and several would go into it: {names}",
            remedies=(Remedy(action=Action.OTHER_FOLDER),),
        )
    orders = []
    for one in named:
        namesake = None if since is None else _namesake(one.name, since)
        orders.append(
            Request(
                order=KitOrder(recipe=one.recipe, name=one.name),
                folder=_folder_for(one.name, folder, chosen=chosen),
                since=namesake if len(named) > 1 else namesake or since,
            )
        )
    if since is not None and not any(order.since for order in orders):
        names = ", ".join(one.name for one in named)
        raise InputError(f"{since} holds none of these kits: {names}", setting="since")
    return tuple(orders)


def months_from_text(text: str) -> tuple[tuple[int, int], ...]:
    """The month that `2027-02` names, or the twelve of `2027`, as years and numbers of months.

    Whether there is such a month is for `months_recipe` to say.

    Raises:
        InputError: neither form.
    """
    found = _MONTH_OR_YEAR.fullmatch(text.strip())
    if found is None:
        raise InputError(
            f'a month is written like "2027-02" and a whole year like "2027", not {text!r}'
        )
    year, month = int(found[1]), found[2]
    return (
        tuple((year, number) for number in range(1, MONTHS_PER_YEAR + 1))
        if month is None
        else ((year, int(month)),)
    )


def charts_of_recipe(
    recipe: Recipe, year: int, *, n_years: int, week_start: str | None, language: str | None
) -> tuple[YearChart, ...]:
    """The charts of a kit for `n_years` from `year` on.

    Args:
        recipe: of the kit.
        year: the first, 1583 to 9999.
        n_years: 1 to `MOST_YEARS`.
        week_start: a name of `WEEK_STARTS`; all that the kit has if None.
        language: of the months' names; the kit's own if None.

    Raises:
        InputError: too many years, or none; or as `kit_charts`.
    """
    if not 1 <= n_years <= MOST_YEARS:
        raise InputError(
            f"a whole number from 1 to {MOST_YEARS} is required, not {n_years}", setting="years"
        )
    starts = recipe.starts if week_start is None else {week_start: WEEK_STARTS[week_start]}
    from inkline.kit.papers.charts import kit_charts  # noqa: PLC0415 - slow to import

    return kit_charts(
        recipe,
        range(year, year + n_years),
        starts=starts,
        language=language or recipe.words.language,
    )


def chart_look_of_recipe(recipe: Recipe, *, language: str | None) -> ChartLook:
    """How the charts of a kit look: in its letters and its ink, and in `language` or its own.

    What they say is in the language of its guide, or in `language` if the recipe leaves that open.

    Raises:
        InputError: letters that cannot be used, or letters that lack the language's.
    """
    spoken = language or recipe.words.language
    from inkline.kit.papers.charts import look_of  # noqa: PLC0415 - slow to import

    look = look_of(recipe, face=face_of(recipe), style=recipe.style, language=spoken)
    usual = recipe.guide.language == USUAL_LANGUAGE and not recipe.guide.own
    if language is None or not usual:
        return look
    return replace(look, phrases=Phrases(language=language))


def refuse_unfinished(folder: Path) -> None:
    """Refuse a kit that isn't finished, since what it holds is not yet what it will be.

    Raises:
        InputError: the kit in `folder` is being built, or was stopped while it was.
    """
    if (folder / JOURNAL_FILE).exists():
        raise InputError(
            f"{folder} is being built, or was stopped while it was; build it again to finish, "
            "then prove it"
        )


def _refuse_kit_without_file(kit: str | None) -> None:
    if kit is not None:
        raise InputError("this names a kit of a recipe; give the recipe as well", setting="kit")


def _refuse_one_name(named: Sequence[NamedRecipe]) -> None:
    first: dict[str, NamedRecipe] = {}
    for one in named:
        other = first.setdefault(one.name.casefold(), one)
        if other is not one:
            raise InputError(
                f"two kits are called {one.name}, in {other.file} and {one.file}; they need a "
                f"name each"
            )


def _folder_for(name: str, folder: Path, *, chosen: str | None) -> Path:
    """Where in `folder` the kit called `name` goes."""
    own = folder / name
    if not name or (chosen is not None and not own.exists() and not _holds_kits(folder)):
        return folder
    return own


def _holds_kits(folder: Path) -> bool:
    """Whether kits lie in folders within `folder`."""
    try:
        return any(holds_product(one) for one in folder.iterdir() if one.is_dir())
    except OSError:  # there is none yet, or what is there is told by whoever fills it
        return False


def _namesake(name: str, since: Path) -> Path | None:
    """The earlier kit called `name`, if `since` holds one."""
    return since / name if name and holds_product(since / name) else None

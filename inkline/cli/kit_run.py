"""What `inkline kit` does: builds, shows how far it is, and says at the end what there is and what to do next."""

from __future__ import annotations

import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import click

from inkline.cli.progress import shown_progress
from inkline.cli.telling import counted, listed
from inkline.errors import InputError
from inkline.folder.kept import Foreign
from inkline.kit.build import Order, build_kits
from inkline.kit.recipe.loading import default_recipe, load_recipe, load_recipes
from inkline.kit.recipe.model import Recipe
from inkline.kit.stamps.file_names import safe_name
from inkline.lettering.licence import font_licence
from inkline.lettering.writing import Way
from inkline.press.editions import change_counts, holds_kit
from inkline.press.report import KitReport
from inkline.source.faults import Fault, RecipeError


@dataclass(frozen=True, slots=True, kw_only=True)
class NamedRecipe:
    """A recipe, the file that it is from, and what the folder of its kit is called among several, or "" if it is the only one."""

    name: str
    recipe: Recipe
    file: Path | None


def run_kit(
    files: Sequence[Path],
    folder: Path,
    *,
    kit: str | None,
    since: Path | None,
    number: int | None,
    font: Path | None,
    glyphs: str | None,
    way: str | None,
    workers: int | None,
    only: Sequence[str],
    redraw: Sequence[str],
    foreign: str,
) -> None:
    """Build the kits of the recipe files, or the default kit, and report.

    Raises:
        InputError: `font` and `glyphs` both name letters; two kits have one name, or none the one
            that is asked for; or as `build_kits`.
        WorkError: as `build_kits`.
    """
    if font is not None and glyphs is not None:
        raise InputError(
            "--font and --glyphs both say where the letters come from; give one of them"
        )
    named = [
        replace(one, recipe=_with_letters(one.recipe, glyphs=glyphs, way=way))
        for one in named_recipes(files, kit=kit)
    ]
    for file in dict.fromkeys(one.recipe.font if font is None else font for one in named):
        if file is not None:
            click.echo(font_licence(file).words())
    orders = orders_for(named, folder, since=since)
    told: list[tuple[KitReport, float]] = []
    start = time.monotonic()
    try:
        with shown_progress() as listener:
            for report in build_kits(
                orders,
                number=number,
                font=font,
                workers=workers,
                only=only,
                redraw=redraw,
                foreign=Foreign(foreign),
                listener=listener,
            ):
                told.append(
                    (report, time.monotonic() - start - sum(seconds for _, seconds in told))
                )
    finally:
        for line in _all_lines(told, named):
            click.echo(line)


def named_recipes(files: Sequence[Path], *, kit: str | None) -> list[NamedRecipe]:
    """The recipes of the kits in `files`, or of those called `kit`; the default recipe without files.

    The kit of the only file has no name unless the file gives it one; those of several files
    without names are called as these.

    Raises:
        RecipeError: files can't be used, or hold no kit of the name that is asked for; all faults
            of all files.
        InputError: a name without a file, or two kits of one name.
    """
    if not files:
        if kit is not None:
            raise InputError("--kit names a kit of a recipe; give the recipe as well")
        return [NamedRecipe(name="", recipe=default_recipe(), file=None)]
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


def _refuse_one_name(named: Sequence[NamedRecipe]) -> None:
    first: dict[str, NamedRecipe] = {}
    for one in named:
        other = first.setdefault(one.name.casefold(), one)
        if other is not one:
            raise InputError(
                f"two kits are called {one.name}, in {other.file} and {one.file}; they need a "
                f"name each"
            )


def orders_for(named: Sequence[NamedRecipe], folder: Path, *, since: Path | None) -> list[Order]:
    """What is to be built: each named kit in a folder of its own within `folder`, after its namesake in `since`.

    A kit that `since` doesn't hold is new. If there is but one, `since` may be its folder itself.

    Raises:
        InputError: `since` holds none of them.
    """
    orders = []
    for one in named:
        place = folder / one.name if one.name else folder
        namesake = (
            since / one.name
            if since is not None and one.name and holds_kit(since / one.name)
            else None
        )
        orders.append(
            Order(
                recipe=one.recipe,
                folder=place,
                since=namesake if len(named) > 1 else namesake or since,
            )
        )
    if since is not None and not any(order.since for order in orders):
        names = ", ".join(one.name for one in named)
        raise InputError(f"--since: {since} holds none of these kits: {names}")
    return orders


def _with_letters(recipe: Recipe, *, glyphs: str | None, way: str | None) -> Recipe:
    if glyphs is not None:
        recipe = replace(recipe, font=None, axes=(), family=glyphs)
    return recipe if way is None else replace(recipe, way=Way(way))


def _all_lines(
    told: Sequence[tuple[KitReport, float]], named: Sequence[NamedRecipe]
) -> Iterator[str]:
    """The lines that end a run: those of the one kit, or those of each of several."""
    if len(named) == 1:
        for report, seconds in told:
            yield from report_lines(report, seconds=seconds, recipe=named[0].file)
        return
    for report, seconds in told:
        yield from _what_there_is(report, seconds)
    if told:
        kits = "1 kit" if len(told) == 1 else f"{len(told)} kits"
        total = sum(seconds for _, seconds in told)
        yield f"{kits} in {total:.1f} s. Next: look at the overview.png in each of their folders."


def report_lines(report: KitReport, *, seconds: float, recipe: Path | None) -> Iterator[str]:
    """The lines that end a build: what there is and where, what needs a look, and what to do next."""
    yield from _what_there_is(report, seconds)
    yield from _next_steps(report, recipe)


def _what_there_is(report: KitReport, seconds: float) -> Iterator[str]:
    n_stamps = len(report.drawn) + len(report.unchanged) + len(report.kept)
    counts = counted(
        (report.unchanged, "unchanged"),
        (report.drawn, "drawn"),
        (report.kept, "kept, retouched by you"),
    )
    yield f"{n_stamps} {'stamp' if n_stamps == 1 else 'stamps'} in {report.folder}: {counts} ({seconds:.1f} s)."
    if report.kept:
        yield f"Retouched: {listed(report.kept)}. To have one drawn anew: --redraw NAME."
    if report.moved:
        yield f"The layout under your retouch has changed: {listed(report.moved)}. Check that it still fits."
    if report.sheets_kept:
        yield f"Sheets kept, changed by you: {listed(report.sheets_kept)}."
    if report.left_over:
        yield f"No longer in the recipe, left in place: {listed(report.left_over)}."
    if report.changes is not None:
        changed = ", ".join(f"{count} {words}" for count, words in change_counts(report.changes))
        earlier = f"edition {report.changes.before}" if report.changes.before else "the earlier kit"
        yield f"Since {earlier}: {changed}. {report.folder / 'changes.txt'} says it for your buyers."
    yield from report.notes


def _next_steps(report: KitReport, recipe: Path | None) -> Iterator[str]:
    if "overview" in report.sheets or not report.drawn:
        yield f"Next: look at {report.folder / 'overview.png'}, where the whole kit is on one sheet."
    if "guide" in report.sheets:
        yield f"{report.folder / 'guide.pdf'} tells those who use the stamps how they go together."
    if recipe is None:
        yield "To make a kit of your own: inkline recipe -o my-recipe.toml"
    elif report.drawn:
        yield f"To have one numeral drawn again, write its name under [again] in {recipe} and run this once more."

"""The commands for kits and their recipes."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from inkline.cli.options import (
    FILE,
    FOLDER,
    NUMBER_OR_NEW,
    debug_option,
    force_option,
    out_folder_option,
    which_kit_option,
    workers_option,
)


@click.command()
@click.argument("files", nargs=-1, type=FILE, metavar="[RECIPE.toml]...")
@out_folder_option("The folder for the kit; several kits each get a folder of their own in it.")
@click.option(
    "--kit", metavar="NAME", help="Only the kit of this name, of a recipe with several [kits]."
)
@click.option(
    "--since",
    type=FOLDER,
    metavar="OLD_KIT",
    help="Take over from this earlier kit all that the recipe didn't change, and say what did.",
)
@click.option(
    "--number",
    type=NUMBER_OR_NEW,
    metavar="N|new",
    help="Drawing number, in place of the recipe's: another number, other lines; new takes a fresh "
    "one and tells it.",
)
@click.option(
    "--font",
    type=FILE,
    metavar="FILE",
    help="Ink the letters of this font (TTF, OTF, WOFF, WOFF2).",
)
@click.option(
    "--way",
    type=click.Choice(["auto", "stroke", "contour"]),
    help="Write a font's letters stroke by stroke, or ink their contours; auto goes by its "
    "weight and build.",
)
@click.option(
    "--glyphs",
    metavar="FAMILY",
    help="Draw the letters of this family: one of inkline glyphs, or your own UFO folder.",
)
@workers_option
@click.option(
    "--only",
    multiple=True,
    metavar="GLOB",
    help='Only these stamps, such as "tall/*" or "*/dates-3"; may be repeated.',
)
@click.option(
    "--redraw",
    multiple=True,
    metavar="NAME",
    help="Draw this stamp anew, even if you have retouched it: its old lines again, or what "
    "[again] asks for; may be repeated.",
)
@click.option(
    "--spread",
    multiple=True,
    metavar="NAME",
    help="What you retouched in one cell, such as tall/dates-3/17, wherever else that drawing "
    "stands; --redraw of the same name takes it back. May be repeated.",
)
@force_option(
    "Build although the folder holds other files (they stay untouched), or a kit with "
    "another drawing number "
    "(it is drawn anew)."
)
@debug_option
def kit(files: tuple[Path, ...], folder: Path, **options: Any) -> int:
    """Draw a kit of stamps into a folder, or several kits into folders of their own.

    Without a recipe it is the default kit: two formats, 59 stamps. Run it again at any time: stamps
    that are finished stay as they are, stamps that you retouched by hand are yours and are kept.

    With --since a new edition is made from an earlier kit, which stays as it is: what the recipe
    didn't change is the same to the byte, and changes.txt tells your buyers what is new.

    \b
    Examples:
        inkline kit -o my-kit
        inkline kit my-recipe.toml -o mine
        inkline kit my-recipe.toml -o mine --only "tall/*"
        inkline kit my-recipe.toml -o mine --redraw tall/dates-3
        inkline kit my-recipe.toml -o mine --spread tall/dates-3/17
        inkline kit plain.toml festive.toml -o both
        inkline kit my-recipe.toml -o mine-2 --since mine
    """  # noqa: D301
    from inkline.cli.kit_run import run_kit  # noqa: PLC0415

    return run_kit(files, folder, **options)


@click.group(invoke_without_command=True)
@click.option(
    "-o",
    "--out",
    "file",
    type=FILE,
    metavar="FILE",
    help="Write it to this file; one that exists is never overwritten.",
)
@click.option(
    "--explain",
    "asked",
    metavar="KEY",
    help="Say what a key does and what it may be, such as canvas.margin or only numeral; a "
    "table; or all.",
)
@debug_option
@click.pass_context
def recipe(context: click.Context, /, file: Path | None, asked: str | None) -> None:
    """Write a recipe to start from, explain its keys, or look one over.

    A new recipe holds what most people change, each value with a sentence on what it does, and the
    names of all else. It gets a fresh drawing number, so that no two people's kits have the same
    lines. Without -o it is printed.

    \b
    Examples:
        inkline recipe -o my-recipe.toml
        inkline recipe --explain numeral
        inkline recipe --explain formats
        inkline recipe check my-recipe.toml
        inkline recipe schema > recipe.schema.json
    """  # noqa: D301
    if context.invoked_subcommand is None:
        from inkline.cli.recipe_run import run_recipe  # noqa: PLC0415

        run_recipe(file, asked=asked)


@recipe.command("check")
@click.argument("files", nargs=-1, required=True, type=FILE, metavar="RECIPE.toml...")
@debug_option
def check_recipe(files: tuple[Path, ...]) -> None:
    """Look recipes over: all their faults, or what they will draw.

    Each fault is a line with its file, its line, the key, what is allowed, and the nearest name;
    then it exits with 2. Recipes without faults are told with the kits and the stamps that they
    hold. Nothing is drawn.
    """
    from inkline.cli.recipe_run import run_check  # noqa: PLC0415

    run_check(files)


@recipe.command("schema")
@debug_option
def recipe_keys() -> None:
    """Print all keys of a recipe as JSON Schema (2020-12).

    An editor that knows this standard completes and checks a recipe while you write.
    """
    from inkline.kit.recipe.json_schema import recipe_schema_text  # noqa: PLC0415

    click.echo(recipe_schema_text(), nl=False)


@click.command()
@click.argument("name", metavar="NAME")
@click.argument("file", required=False, type=FILE, metavar="[RECIPE.toml]")
@which_kit_option
@click.option(
    "--show",
    type=click.IntRange(1, 24),
    default=6,
    metavar="N",
    help="How many drawings to show, 1 to 24; 6 if not said.",
)
@click.option(
    "--first",
    type=click.IntRange(0, 1_000_000),
    default=0,
    metavar="N",
    help="The number of the first of them; 0, the drawing that there was first, if not said.",
)
@click.option("-o", "--out", type=FILE, metavar="FILE.png", help="The sheet; never overwritten.")
@click.option(
    "--take",
    type=click.IntRange(0, 1_000_000),
    metavar="N",
    help="Write into the recipe that this drawing is taken; comments stay. 0 takes the first.",
)
@debug_option
def again(name: str, file: Path | None, **options: Any) -> None:
    """Show other drawings of one numeral, word, rule or block, side by side.

    NAME is as stamps and what is on them are called: tall/dates-3/17 is the 17 of the tall dates
    that begin in the third column, words/month-02 the second month's name.

    \b
    Examples:
        inkline again tall/dates-3/17 -o choices.png
        inkline again tall/dates-3/17 my-recipe.toml --show 12 -o choices.png
        inkline again tall/dates-3/17 my-recipe.toml --take 4
    """  # noqa: D301 - \b is click's sign for lines that stay as they are
    from inkline.cli.again_run import run_again  # noqa: PLC0415

    run_again(name, file, **options)

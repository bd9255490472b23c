"""The commands and their options. What takes time to import is imported when a command runs."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

_DEBUG = click.option(
    "--debug",
    is_flag=True,
    expose_value=False,
    help="On an error, show where in the program it arose.",
)
_FOLDER = click.Path(path_type=Path)
_FILE = click.Path(path_type=Path)


def _print_version(context: click.Context, _: click.Parameter, wanted: bool) -> None:  # noqa: FBT001 - click's form
    if wanted:
        from importlib.metadata import version  # noqa: PLC0415

        click.echo(f"inkline {version('inkline')}")
        context.exit()


@click.group(invoke_without_command=True, context_settings={"help_option_names": ["-h", "--help"]})
@click.option(
    "--version",
    is_flag=True,
    expose_value=False,
    is_eager=True,
    callback=_print_version,
    help="Say which inkline this is.",
)
@_DEBUG
@click.pass_context
def inkline(context: click.Context) -> None:
    """Calendar stamps that line up to the pixel and look drawn with a pen.

    \b
    Draw the default kit and look at it:
        inkline kit -o my-kit
    \b
    Make it yours:
        inkline recipe -o my-recipe.toml     writes a recipe; open it in any
                                             text editor, it explains itself
        inkline kit my-recipe.toml -o mine   draws what it says
    \b
    Help your buyers:
        inkline chart 2027 -o chart.pdf      which stamps make each month
        inkline month 2027-02 -o february    a finished month, in layers

    A kit is a folder of white-on-black pictures: grids, blocks, dates, weekdays, months, years and
    digits, all on the same lines, so that any two stamped at one size fit together. Pictures that
    you retouch stay as you left them.
    """  # noqa: D301 - \b is click's sign for lines that stay as they are
    if context.invoked_subcommand is None:
        click.echo(context.get_help())


@inkline.command()
@click.argument("files", nargs=-1, type=_FILE, metavar="[RECIPE.toml]...")
@click.option(
    "-o",
    "--out",
    "folder",
    type=_FOLDER,
    required=True,
    metavar="DIR",
    help="The folder for the kit; several kits each get a folder of their own in it.",
)
@click.option(
    "--kit", metavar="NAME", help="Only the kit of this name, of a recipe with several [kits]."
)
@click.option(
    "--since",
    type=_FOLDER,
    metavar="OLD_KIT",
    help="Take over from this earlier kit all that the recipe didn't change, and say what did.",
)
@click.option(
    "--number",
    type=int,
    metavar="N",
    help="Drawing number, in place of the recipe's: another number, other lines.",
)
@click.option(
    "--font",
    type=_FILE,
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
@click.option(
    "--workers",
    type=int,
    metavar="N",
    help="How many processes draw at once; as many as there are cores if not said.",
)
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
    "--force",
    "foreign",
    flag_value="leave",
    default="refuse",
    help="Build although the folder holds other files (they stay untouched), or a kit with "
    "another drawing number "
    "(it is drawn anew).",
)
@_DEBUG
def kit(files: tuple[Path, ...], folder: Path, **options: Any) -> None:
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
        inkline kit plain.toml festive.toml -o both
        inkline kit my-recipe.toml -o mine-2 --since mine
    """  # noqa: D301
    from inkline.cli.kit_run import run_kit  # noqa: PLC0415

    run_kit(files, folder, **options)


@inkline.group(invoke_without_command=True)
@click.option(
    "-o",
    "--out",
    "file",
    type=_FILE,
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
@_DEBUG
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
@click.argument("files", nargs=-1, required=True, type=_FILE, metavar="RECIPE.toml...")
@_DEBUG
def check_recipe(files: tuple[Path, ...]) -> None:
    """Look recipes over: all their faults, or what they will draw.

    Each fault is a line with its file, its line, the key, what is allowed, and the nearest name;
    then it exits with 2. Recipes without faults are told with the kits and the stamps that they
    hold. Nothing is drawn.
    """
    from inkline.cli.recipe_run import run_check  # noqa: PLC0415

    run_check(files)


@recipe.command("schema")
@_DEBUG
def recipe_keys() -> None:
    """Print all keys of a recipe as JSON Schema (2020-12).

    An editor that knows this standard completes and checks a recipe while you write.
    """
    from inkline.kit.recipe.json_schema import recipe_schema_text  # noqa: PLC0415

    click.echo(recipe_schema_text(), nl=False)


@inkline.command()
@click.argument("style", required=False, metavar="[STYLE]")
@click.option(
    "--set",
    "settings",
    multiple=True,
    metavar="KEY=VALUE",
    help="Change one value, such as edge.raggedness=25um or paper.dryness=0.2; may be repeated.",
)
@click.option(
    "--save-as",
    "file",
    type=_FILE,
    metavar="FILE.toml",
    help="Write a style of your own to this file; one that exists is never overwritten.",
)
@_DEBUG
def style(style: str | None, settings: tuple[str, ...], file: Path | None) -> None:
    """List the styles, show one value by value, or make your own from one.

    STYLE is a name from the list or a style file ending in .toml.

    \b
    Examples:
        inkline style
        inkline style dip-pen
        inkline style dip-pen --save-as mine.toml --set edge.raggedness=25um --set hand.drift=90um
    """  # noqa: D301
    from inkline.cli.style_run import run_style  # noqa: PLC0415

    run_style(style, file=file, settings=settings)


@inkline.command()
@click.argument("styles", nargs=-1, metavar="[STYLE...]")
@click.option(
    "-o",
    "--out",
    "file",
    type=_FILE,
    required=True,
    metavar="SHEET.png",
    help="The sheet; never overwritten.",
)
@click.option(
    "--vary",
    "ranges",
    multiple=True,
    metavar="KEY=FROM..TO:COUNT",
    help="Draw one style at several settings, such as edge.raggedness=5um..60um:6; twice gives "
    "rows as well.",
)
@click.option(
    "--number", type=int, metavar="N", help="Drawing number: another number, other lines."
)
@_DEBUG
def sampler(
    styles: tuple[str, ...], file: Path, ranges: tuple[str, ...], number: int | None
) -> None:
    """Draw styles side by side on one sheet, with what they measure.

    Each style draws the same grid, numerals, word and blocks, at full size and at the quarter at
    which stamps are used. Without STYLE it is all styles; a STYLE may also be a style file ending
    in .toml. With --vary one style is drawn at every step between two values, and the measured
    value stands under each picture.

    \b
    Examples:
        inkline sampler -o styles.png
        inkline sampler dip-pen mine.toml -o two.png
        inkline sampler round-pen --vary edge.raggedness=5um..60um:6 -o rough.png
        inkline sampler round-pen --vary edge.raggedness=5um..60um:6 --vary hand.drift=0um..200um:4
            -o both.png
    """  # noqa: D301
    from inkline.cli.sampler_run import run_sampler  # noqa: PLC0415

    run_sampler(styles, file, ranges=ranges, number=number)


@inkline.command()
@click.option(
    "-o",
    "--out",
    "folder",
    type=_FOLDER,
    required=True,
    metavar="DIR",
    help="The folder for the set.",
)
@click.option(
    "--glyphs",
    "family",
    metavar="FAMILY",
    help="Letters drawn stroke by stroke: a family's name, or a folder ending in .ufo.",
)
@click.option(
    "--font",
    type=_FILE,
    metavar="FILE",
    help="Ink the letters of this font (TTF, OTF, WOFF, WOFF2) instead.",
)
@click.option(
    "--way",
    type=click.Choice(["auto", "stroke", "contour"]),
    default="auto",
    help="Write a font's letters stroke by stroke, or ink their contours; auto goes by its "
    "weight and build.",
)
@click.option(
    "--style",
    metavar="STYLE",
    help="A style from the list of inkline style, or a file ending in .toml.",
)
@click.option(
    "--height",
    metavar="LENGTH",
    help='Height of a figure, such as "300 px" (the default) or "25 mm".',
)
@click.option(
    "--number", type=int, metavar="N", help="Drawing number: another number, other lines."
)
@click.option(
    "--list",
    "wanted",
    metavar="TEXTS",
    help='What to draw, such as "0-9,1-31,1st-31st,A-Z,No." (the first three if not said).',
)
@click.option(
    "--ground",
    type=click.Choice(["black", "clear"]),
    default="black",
    help="White ink on black, as stamps are, or black ink on nothing.",
)
@click.option(
    "--otf",
    "font_name",
    metavar="NAME",
    help="Write a font of the set as well, with this name of its own.",
)
@click.option(
    "--i-have-permission",
    "permission",
    flag_value="stated",
    default="unstated",
    help="Write the font even if the font that it is drawn from forbids that: you have its "
    "owner's permission.",
)
@click.option(
    "--force",
    "foreign",
    flag_value="leave",
    default="refuse",
    help="Draw although the folder holds other files; they stay untouched.",
)
@_DEBUG
def numerals(folder: Path, **options: Any) -> None:
    """Draw numerals by themselves: pictures, outlines, and a font if you like.

    Each numeral is a PNG and an SVG file. All stand on one baseline; those of one folder share one
    canvas, so that one may take another's place. The font holds three drawings of each figure,
    which take turns: the 1s of an 11 differ.

    \b
    Examples:
        inkline numerals -o my-numerals
        inkline numerals -o my-numerals --style dip-pen --otf "Harbour Figures"
        inkline numerals -o my-numerals --list "1-31,No.,A-Z" --ground clear
    """  # noqa: D301
    from inkline.cli.numerals_run import run_numerals  # noqa: PLC0415

    run_numerals(folder, **options)


@inkline.group(invoke_without_command=True)
@click.option(
    "-o",
    "--out",
    "file",
    type=_FILE,
    metavar="SHEET.png",
    help="Draw a specimen on this sheet; never overwritten.",
)
@click.option(
    "--family",
    "names",
    multiple=True,
    metavar="FAMILY",
    help="Only this family, by its name or as your own UFO folder; may be repeated.",
)
@click.option("--style", metavar="STYLE", help="Draw the specimen in this style.")
@click.option(
    "--number", type=int, metavar="N", help="Drawing number: another number, other lines."
)
@_DEBUG
@click.pass_context
def glyphs(
    context: click.Context, /, file: Path | None, names: tuple[str, ...], **options: Any
) -> None:
    """List the families of letters, draw a specimen of them, or look over one of your own.

    A family is a folder of the open UFO standard whose contours are the strokes of the pen; any
    editor of that standard opens it. Wherever a family is asked for, the place of such a folder
    does as well.

    \b
    Examples:
        inkline glyphs
        inkline glyphs -o families.png
        inkline glyphs --family mine.ufo -o mine.png
        inkline glyphs check mine.ufo
    """  # noqa: D301
    if context.invoked_subcommand is None:
        from inkline.cli.glyphs_run import run_glyphs  # noqa: PLC0415

        run_glyphs(names, file, **options)


@glyphs.command()
@click.argument("family", metavar="UFO")
@click.option(
    "--language",
    "languages",
    multiple=True,
    metavar="LANGUAGE",
    help="Look for the letters of this language only, such as de; may be repeated.",
)
@_DEBUG
def check(family: str, languages: tuple[str, ...]) -> int:
    """Look over a family that you drew: what is missing, and what is uneven.

    Exits with 1 if characters are missing. What is uneven is advice: heights, the overshoot of
    round letters, side-bearings, slants, counters, and closed or stray contours.

    \b
    Examples:
        inkline glyphs check mine.ufo
        inkline glyphs check mine.ufo --language de --language fr
    """  # noqa: D301
    from inkline.cli.glyphs_run import run_check  # noqa: PLC0415

    return run_check(family, languages=languages)


@inkline.command()
@click.argument("year", type=int, metavar="YEAR")
@click.argument("recipe", required=False, type=_FILE, metavar="[RECIPE.toml]")
@click.option("--years", type=int, default=1, metavar="N", help="So many years from there on.")
@click.option(
    "--week-start",
    type=click.Choice(["sunday", "monday", "saturday"]),
    help="The day on which weeks begin; all that the kit has if not said.",
)
@click.option(
    "--language", metavar="LANGUAGE", help="Write the months' names in this language, such as de."
)
@click.option("--kit", metavar="NAME", help="Which kit, where the recipe holds several.")
@click.option(
    "-o",
    "--out",
    type=_FILE,
    metavar="FILE|DIR",
    help="Write it for buyers: a file ending in .pdf or .png, or a folder for a PDF and one "
    "picture a year; never overwritten.",
)
@_DEBUG
def chart(year: int, recipe: Path | None, **options: Any) -> None:
    """Say which stamps make each month of a year.

    For each month: the grid with enough rows, the dates that begin on the right day, and which
    numerals to erase. The pictures are 1080 x 1920 px, for a telephone.

    \b
    Examples:
        inkline chart 2027
        inkline chart 2027 --years 5 --week-start monday
        inkline chart 2027 my-recipe.toml -o charts
        inkline chart 2027 --week-start sunday --language de -o chart.png
    """  # noqa: D301
    from inkline.cli.chart_run import run_chart  # noqa: PLC0415

    run_chart(year, recipe, **options)


@inkline.command()
@click.argument("when", metavar="MONTH|YEAR")
@click.argument("recipe", required=False, type=_FILE, metavar="[RECIPE.toml]")
@click.option(
    "-o",
    "--out",
    "folder",
    type=_FOLDER,
    required=True,
    metavar="DIR",
    help="The folder for the calendars.",
)
@click.option(
    "--week-start",
    type=click.Choice(["sunday", "monday", "saturday"]),
    help="The day on which weeks begin; the recipe's first if not said.",
)
@click.option(
    "--format",
    "formats",
    multiple=True,
    metavar="NAME",
    help="Only in this format; may be repeated. All formats of months and strips if not said.",
)
@click.option("--kit", metavar="NAME", help="Which kit, where the recipe holds several.")
@click.option(
    "--workers",
    type=int,
    metavar="N",
    help="How many processes draw at once; as many as there are cores if not said.",
)
@click.option(
    "--force",
    "foreign",
    flag_value="leave",
    default="refuse",
    help="Draw although the folder holds other files (they stay untouched), or calendars with "
    "another drawing number.",
)
@_DEBUG
def month(when: str, recipe: Path | None, folder: Path, **options: Any) -> None:
    """Finish a month, or the twelve of a year, as calendars in layers.

    Each calendar has just the rows and the dates that its month needs, with the month's name and
    the year above. Its layers are white on black like stamps and lie on one canvas; calendar.png
    shows them together in colour. A whole year also gets a poster.

    \b
    Examples:
        inkline month 2027-02 -o february
        inkline month 2027-02 my-recipe.toml -o february --format tall
        inkline month 2027 my-recipe.toml -o year --week-start monday
    """  # noqa: D301
    from inkline.cli.month_run import run_month  # noqa: PLC0415

    run_month(when, recipe, folder, **options)


@inkline.command()
@click.argument("folder", type=_FOLDER, metavar="DIR")
@click.option(
    "--edge",
    "edge_px",
    type=click.FloatRange(min=0.0),
    metavar="PX",
    help="How near ink may come to the canvas edge; what the kit says of itself if not said.",
)
@_DEBUG
def prove(folder: Path, edge_px: float | None) -> int:
    """Measure a kit's pictures, and say whether they lie where they should.

    Every stamp is held against the exact layout in the kit's manifest: where its rules, numerals,
    words and blocks lie and how much ink they have, how near ink comes to the canvas edge, and
    whether the stamps of a format lie over each other. Stamps that you retouched are named and not
    judged. Exits with 1 if something is out of its bounds. Nothing is changed.

    \b
    Example:
        inkline prove my-kit
    """  # noqa: D301
    from inkline.cli.prove_run import run_prove  # noqa: PLC0415

    return run_prove(folder, edge_px=edge_px)

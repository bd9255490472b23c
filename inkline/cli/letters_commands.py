"""The commands for numerals by themselves and for families of letters."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from inkline.cli.options import (
    FILE,
    debug_option,
    force_option,
    number_option,
    out_folder_option,
    own_number_option,
    style_option,
)


@click.command()
@out_folder_option("The folder for the set.")
@click.option(
    "--glyphs",
    "family",
    metavar="FAMILY",
    help="Letters drawn stroke by stroke: a family's name, or a folder ending in .ufo.",
)
@click.option(
    "--font",
    type=FILE,
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
@style_option
@click.option(
    "--height",
    metavar="LENGTH",
    help='Height of a figure, such as "300 px" (the default) or "25 mm".',
)
@own_number_option
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
@force_option("Draw although the folder holds other files; they stay untouched.")
@debug_option
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


@click.group(invoke_without_command=True)
@click.option(
    "-o",
    "--out",
    "file",
    type=FILE,
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
@number_option
@debug_option
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
@debug_option
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

"""The commands for charts and for finished months."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from inkline.cli.options import (
    FILE,
    FOLDER,
    debug_option,
    force_option,
    out_folder_option,
    which_kit_option,
    workers_option,
)


@click.command()
@click.argument("year", type=int, metavar="YEAR")
@click.argument("recipe", required=False, type=FILE, metavar="[RECIPE.toml]")
@click.option("--years", type=int, default=1, metavar="N", help="So many years from there on.")
@click.option(
    "--week-start",
    type=click.Choice(["sunday", "monday", "saturday"]),
    help="The day on which weeks begin; all that the kit has if not said.",
)
@click.option(
    "--language", metavar="LANGUAGE", help="Write the months' names in this language, such as de."
)
@which_kit_option
@click.option(
    "-o",
    "--out",
    type=FILE,
    metavar="FILE|DIR",
    help="Write it for buyers: a file ending in .pdf or .png, or a folder for a PDF and one "
    "picture a year; never overwritten.",
)
@debug_option
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


@click.command()
@click.argument("when", metavar="MONTH|YEAR")
@click.argument("recipe", required=False, type=FILE, metavar="[RECIPE.toml]")
@out_folder_option("The folder for the calendars.")
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
@click.option(
    "--also",
    multiple=True,
    type=click.Choice(["ora"]),
    help="Also write each calendar in this form: ora is one OpenRaster file with all layers in it.",
)
@click.option(
    "--on",
    type=FILE,
    metavar="PICTURE",
    help="Stamp the months into this picture too (PNG, JPEG or TIFF): flat, and as layers over it.",
)
@click.option(
    "--at",
    metavar="X%,Y%",
    help="Where the middle of the calendar lies in the picture; 50%,50% if not said.",
)
@click.option(
    "--across",
    metavar="N%",
    help="How wide the calendar is, of the picture's width; as wide as fits well if not said.",
)
@click.option(
    "--ink",
    "inks",
    multiple=True,
    metavar="[NAME=]#rrggbb",
    help="The colour of all ink in the picture, or of layers called NAME, such as dates=#27343d; "
    "blocks=beneath gives each block the colour of what lies beneath it. May be repeated.",
)
@click.option(
    "--kit-folder",
    type=FOLDER,
    metavar="MY_KIT",
    help="The folder of your kit: what you retouched there stands in the months too, and stays.",
)
@click.option(
    "--language",
    metavar="LANGUAGE",
    help="Write names and weekdays in this language, such as de; the recipe's first if not said.",
)
@which_kit_option
@workers_option
@force_option(
    "Draw although the folder holds other files (they stay untouched), or calendars with "
    "another drawing number."
)
@debug_option
def month(when: str, recipe: Path | None, folder: Path, **options: Any) -> int:
    """Finish a month, or the twelve of a year, as calendars in layers.

    Each calendar has just the rows and the dates that its month needs, with the month's name and
    the year above. Its layers are white on black like stamps and lie on one canvas; calendar.png
    shows them together in colour. A whole year also gets a poster.

    On a picture of yours each is on-artwork.png, and in layers on-artwork.ora. Where they lie and
    in which colours is kept in place.toml in the folder, for the year's other months.

    \b
    Examples:
        inkline month 2027-02 -o february
        inkline month 2027-02 my-recipe.toml -o february --format tall
        inkline month 2027-02 -o february --also ora
        inkline month 2027-02 -o february --on hills.png --at 40%,55% --across 60%
        inkline month 2027 my-recipe.toml -o year --week-start monday --language de
    """  # noqa: D301
    from inkline.cli.month_run import run_month  # noqa: PLC0415

    return run_month(when, recipe, folder, **options)

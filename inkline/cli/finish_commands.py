"""The command that finishes artwork which the user brings."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from inkline.cli.options import (
    FILE,
    FOLDER,
    debug_option,
    force_option,
    own_number_option,
    style_option,
    workers_option,
)


@click.command()
@click.argument("files", type=FILE, nargs=-1, required=True, metavar="FILE...")
@click.option("-o", "--out", "folder", type=FOLDER, metavar="DIR", help="The folder for it.")
@click.option(
    "--explain",
    is_flag=True,
    help="Say what was found in the files, and ink nothing; with -o DIR, draw the names of all of "
    "it into found.png there.",
)
@style_option
@own_number_option
@click.option(
    "--ground",
    type=click.Choice(["black", "white", "clear"]),
    help="White ink on black, as stamps are, or its own colours on white or on nothing; black if "
    "not said.",
)
@click.option(
    "--ppi",
    type=float,
    metavar="N",
    help="Pixels to an inch of the artwork's own size (300 if not said).",
)
@click.option("--across", type=int, metavar="PX", help="Width of the pictures instead, in pixels.")
@click.option(
    "--drawn-at",
    metavar="LENGTH",
    help='How wide it is on paper, such as "180 mm": the smaller, the coarser its ink.',
)
@click.option(
    "--glyphs",
    "family",
    metavar="FAMILY",
    help="Letters for its text: a family's name, or a folder ending in .ufo.",
)
@click.option("--font", type=FILE, metavar="FILE", help="A font for its text instead.")
@click.option(
    "--pages",
    metavar="LIST",
    help='Pages of PDF files, such as "1,3-5"; all if not said.',
)
@click.option(
    "--into-cells",
    metavar="WHAT",
    help='Set numerals into the grid that is found: "dates=2027-02" or "numerals=1-31"; with '
    '"weekdays" above it and filled cells too, such as "dates=2027-02 weekdays blocks=14,20-22".',
)
@click.option(
    "--week-starts",
    type=click.Choice(["sunday", "monday", "saturday"]),
    help="The first day of the week, for dates (Sunday if not said).",
)
@click.option(
    "--keep-bars",
    is_flag=True,
    help="Leave thin bars as shapes; else they are drawn as the lines that they are.",
)
@click.option(
    "--own-letters",
    is_flag=True,
    help="Ink the letters of PDF pages as they stand there; else their text is set in drawn "
    "letters.",
)
@click.option(
    "--plain",
    is_flag=True,
    help="Draw what no pen draws as its nearest plain thing: gradients and patterns as their mean "
    "colours, what is masked or filtered without that, the frames of pictures within a file; else "
    "it is left out. Either is told.",
)
@click.option(
    "--colour",
    "colours",
    multiple=True,
    metavar="#rrggbb",
    help="An ink of a picture; say two or more, and each becomes a layer that is called as it.",
)
@click.option(
    "--split",
    type=click.Choice(["layers"]),
    help="Make each layer a stamp of its own, in register with the others and called as it is.",
)
@click.option(
    "--overlay",
    is_flag=True,
    help="Also make a picture of the exact artwork under the drawn one.",
)
@click.option(
    "--since",
    type=FOLDER,
    metavar="DIR",
    help="The folder of an earlier edition; what is as it was there stays so, to the byte.",
)
@click.option(
    "--only",
    multiple=True,
    metavar="NAME",
    help='See to these pictures alone; a name, or a pattern such as "plan/*".',
)
@click.option(
    "--redraw",
    multiple=True,
    metavar="NAME",
    help="Draw these pictures anew, even if you changed them.",
)
@workers_option
@force_option("Draw although the folder holds other files; they stay untouched.")
@debug_option
def finish(files: tuple[Path, ...], folder: Path | None, **options: Any) -> None:
    """Redraw a layout of your own in ink: a drawing, a page or a picture in, a picture out.

    Lines are drawn by hand along their middles and held where they cross, shapes are inked, text is
    set in drawn letters. All stays at its place and size. SVG and PDF files are read as drawings,
    and what can't be drawn is told by its line in the file. In a picture (PNG, JPEG, TIFF, WebP)
    straight lines are found and drawn as lines, all other ink as shapes. A recipe that names
    artwork under [finish] does what options can't: it gives single files and layers a style, a
    hand and letters of their own.

    \b
    Examples:
        inkline finish planner.svg -o inked
        inkline finish planner.svg --explain
        inkline finish grid.svg -o february --into-cells dates=2027-02
        inkline finish scan.png -o inked --style round-pen
        inkline finish *.svg -o inked --style dip-pen --ground clear
        inkline finish house.toml -o inked
    """  # noqa: D301
    from inkline.cli.finish_run import run_finish  # noqa: PLC0415

    run_finish(files, folder, **options)

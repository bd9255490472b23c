"""The commands for styles and for sheets that show them."""

from __future__ import annotations

from pathlib import Path

import click

from inkline.cli.options import FILE, debug_option, number_option


@click.command()
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
    type=FILE,
    metavar="FILE.toml",
    help="Write a style of your own to this file; one that exists is never overwritten.",
)
@debug_option
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


@click.command()
@click.argument("styles", nargs=-1, metavar="[STYLE...]")
@click.option(
    "-o",
    "--out",
    "file",
    type=FILE,
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
@number_option
@debug_option
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

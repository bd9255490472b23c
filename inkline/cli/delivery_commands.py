"""The commands for what leaves the house: files in other forms, packs, and a shop's pictures."""

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
    workers_option,
)


@click.command()
@click.argument("kit", type=FOLDER, metavar="KIT")
@click.argument("forms", nargs=-1, metavar="[png|svg|pdf|ora|tiff]...")
@out_folder_option("The folder for the files; each form gets a folder of its own in it.")
@click.option(
    "--only",
    multiple=True,
    metavar="GLOB",
    help='Only these stamps, such as "tall/*" or "*/dates-3"; may be repeated.',
)
@click.option(
    "--ground",
    metavar="clear|white|black|#rrggbb|FILE",
    help="Ink on nothing, black on white, or white on black; clear if neither this nor the recipe "
    "says it. Finished months also stand on a colour, or on a picture (PNG, JPEG or TIFF), the "
    "middle of which fills their canvas.",
)
@click.option(
    "--ink",
    multiple=True,
    metavar="[NAME=]#rrggbb",
    help="The colour of ink on a clear ground, of all layers of finished months but blocks, or of "
    "layers that are called NAME, such as dates=#27343d; may be repeated.",
)
@click.option(
    "--bits", type=click.Choice(["8", "16"]), help="Bits of a value in pictures; 8 if not said."
)
@click.option(
    "--profile",
    type=click.Choice(["none", "srgb", "display-p3"]),
    help="The colour profile that pictures name; none if not said.",
)
@click.option(
    "--size",
    metavar="PX",
    help="How wide formats are to be, such as 1250px: drawn again from their masters, not shrunk.",
)
@click.option("--ppi", type=float, metavar="N", help="Pixels per inch; the kit's own if not said.")
@click.option(
    "--grain",
    type=click.Choice(["outlines", "picture"]),
    help="What SVG and PDF hold where paper breaks up the ink: outlines, which lose that, or the "
    "picture.",
)
@click.option(
    "--sheets",
    type=click.Choice(["pages", "layers"]),
    help="PDF: a stamp a page, or a format's stamps as layers of one page.",
)
@click.option(
    "--bleed",
    metavar="LENGTH",
    help='PDF: a page that goes this far beyond the canvas, such as "3mm", with trim and bleed '
    "boxes.",
)
@workers_option
@force_option("Write although the folder holds other files (they stay untouched).")
@debug_option
def export(kit: Path, forms: tuple[str, ...], folder: Path, **options: Any) -> None:
    """Write a kit's stamps in other forms: png, svg, pdf, ora or tiff; all of them if none is said.

    png and svg are a file a stamp; pdf, ora (OpenRaster, layers in register) and tiff one a format.
    Nothing is drawn anew: pictures are the kit's own, curves and other sizes come from the masters.
    Of a stamp that you retouched there are only forms that hold a picture. A finished month is one
    file of each form: a flat png, or all of its layers in their colours.

    \b
    Examples:
        inkline export my-kit png svg -o files
        inkline export my-kit png --ink "#c2452d" --only "tall/*" -o red
        inkline export my-kit png --size 1250px -o small
        inkline export my-kit pdf --sheets layers --bleed 3mm -o print
        inkline export february png --ground "#f6f1e7" --ink "dates=#c2452d" -o out
    """  # noqa: D301
    from inkline.cli.export_run import run_export  # noqa: PLC0415

    run_export(kit, forms, folder, **options)


@click.command()
@click.argument("kit", type=FOLDER, metavar="KIT")
@click.argument("forms", nargs=-1, metavar="[png|svg|pdf|ora|tiff]...")
@click.option(
    "-o",
    "--out",
    "file",
    type=FILE,
    required=True,
    metavar="NAME.zip",
    help="The pack; one that exists is never overwritten.",
)
@click.option(
    "--with",
    "beside",
    type=FILE,
    multiple=True,
    metavar="FILE|DIR",
    help="Put this file in as well, or the files of this folder, such as charts; may be repeated.",
)
@click.option(
    "--unproved",
    is_flag=True,
    help="Pack without a proof, or although it found stamps out of bounds.",
)
@debug_option
def pack(
    kit: Path, forms: tuple[str, ...], file: Path, beside: tuple[Path, ...], *, unproved: bool
) -> None:
    """Pack a kit for those who buy it: pictures, guide, readme and licences in one ZIP file.

    No masters, layouts or manifest go in. With forms there is one more pack of each, called as it:
    NAME-svg.zip. The same kit gives the same bytes. A kit of which a proof finds something out of
    bounds is not packed.

    \b
    Examples:
        inkline pack my-kit -o fog-bell.zip
        inkline pack my-kit svg ora -o fog-bell.zip --with charts
    """  # noqa: D301
    from inkline.cli.pack_run import run_pack  # noqa: PLC0415

    run_pack(kit, forms, file, beside=beside, unproved=unproved)


@click.command()
@click.argument("kit", type=FOLDER, metavar="KIT")
@out_folder_option("The folder for the pictures; each size gets a folder of its own in it.")
@click.option(
    "--on",
    type=FILE,
    metavar="PICTURE",
    help="A painting of yours (PNG, JPEG or TIFF) for a month on artwork; none is made without it.",
)
@click.option(
    "--at",
    metavar="X%,Y%",
    help="Where in it the month's middle lies, such as 40%,55%; if not said, where it is calmest.",
)
@click.option("--across", metavar="W%", help="How wide the month is there, of the picture's width.")
@click.option(
    "--font",
    type=FILE,
    metavar="FILE",
    help="The font file of the kit, where its letters are a font's, to letter titles in it too.",
)
@workers_option
@force_option("Write although the folder holds other files (they stay untouched).")
@debug_option
def shop(kit: Path, folder: Path, **options: Any) -> None:
    """Make pictures that sell a kit: cover, what is inside, a close-up, colourways, on artwork.

    They show the kit's own stamps, retouches too, lettered in its letters and its ink. Five colours
    and the sizes stand under [shop] in the recipe. listing.txt says how many stamps there are of
    what, how large, and in which languages: a text to begin with.

    \b
    Examples:
        inkline shop my-kit -o shop
        inkline shop my-kit -o shop --on hills.png --at 35%,50%
    """  # noqa: D301
    from inkline.cli.shop_run import run_shop  # noqa: PLC0415

    run_shop(kit, folder, **options)

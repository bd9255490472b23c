"""Artwork finished from Python, without a folder: a file or a drawing in, its ink out."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import numpy as np

from inkline.artwork.model import Paint
from inkline.artwork.size import USUAL_PPI, PictureSize
from inkline.chance import DEFAULT_NUMBER, refuse_number_out_of_range
from inkline.drawing import Drawing
from inkline.finishing.inking import inked_stamp
from inkline.finishing.picture import coloured_png
from inkline.finishing.pieces import ppi_of
from inkline.finishing.product import stamps_of_sheet
from inkline.finishing.request import FinishRequest, OpenFinish, OpenSheet, open_finish
from inkline.ink.engine import draw
from inkline.ink.inked import InkedDrawing
from inkline.ink.style import Style
from inkline.output.look import Ground
from inkline.output.png import png_bytes
from inkline.pages.faces import USUAL_FAMILY
from inkline.raster.compose import render
from inkline.styles.files import DEFAULT_STYLE, style_of


def finish(
    artwork: Path | str | Drawing,
    *,
    style: str | Style = DEFAULT_STYLE,
    number: int = DEFAULT_NUMBER,
    ppi: float = USUAL_PPI,
    across: int | None = None,
    drawn_at: float | None = None,
    family: str = USUAL_FAMILY,
    font: Path | None = None,
    page: int = 1,
    again: Mapping[str, int] | None = None,
) -> InkedDrawing:
    """The ink of a file of artwork, or of a drawing: white on black once it is rendered.

    Dark colours are ink, pale ones take away what lies under them.

    Args:
        artwork: an SVG file, a PDF file, a picture, or an exact drawing in px.
        style: a style's name, a file that ends in .toml, or a style.
        number: the drawing number.
        ppi: px to an inch of the artwork's own size; of no matter to pictures and drawings.
        across: width in px instead, or `None`.
        drawn_at: width in mm of the sheet that the artwork's width is drawn on; `None` for the size
            that it states. A drawing states it by its `sheet_px`.
        family: letters for text: a family's name, or the path of one.
        font: a font file for text instead, or `None`.
        page: of a PDF file.
        again: how often what is named is to be drawn afresh, by full name.

    Raises:
        InputError: the file, the style or the letters can't be used.
    """
    refuse_number_out_of_range(number)
    ink = style_of(style, {}, where="style") if isinstance(style, str) else style
    if isinstance(artwork, Drawing):
        return draw(artwork, ink, number, again=again)
    file = Path(artwork)
    request = FinishRequest(
        files=(file,),
        number=number,
        size=PictureSize(ppi=ppi, across=across),
        family=family,
        font=font,
        drawn_at=drawn_at,
        pages=str(page) if file.suffix.lower() == ".pdf" else "",
    )
    opened = open_finish(request, style=ink)
    (stamp,) = stamps_of_sheet(opened, opened.sheets[0])
    return inked_stamp(stamp, ink, number, again=again)


def sheet_png(opened: OpenFinish, sheet: OpenSheet) -> bytes:
    """The PNG file of a sheet as it looks on its ground, all of its stamps together."""
    request, ppi = opened.request, ppi_of(sheet)
    layers = [
        (
            stamp.paint or Paint(red=0.0, green=0.0, blue=0.0),
            render(inked_stamp(stamp, opened.style, request.number, again=request.again)),
        )
        for stamp in stamps_of_sheet(opened, sheet)
    ]
    if request.ground is Ground.BLACK:
        return png_bytes(np.maximum.reduce([grey for _, grey in layers]), ppi=ppi)
    return coloured_png(layers, canvas=sheet.artwork.canvas, ground=request.ground, ppi=ppi)

"""SVG files as artwork: the static part of SVG 2, and whatever else they hold told by line."""

from __future__ import annotations

from pathlib import Path

from inkline.artwork.maps import after, scaled
from inkline.artwork.model import Artwork
from inkline.artwork.size import PictureSize
from inkline.artwork.svg.root import root_size, title_of
from inkline.artwork.svg.tree import read_svg_tree
from inkline.artwork.svg.units import PAPER_UNITS, Viewport, fitted_box, unit_of_length, view_box
from inkline.artwork.svg.walker import Walker

_CSS_PX_PER_MM = 96.0 / 25.4


def artwork_from_svg(file: Path, size: PictureSize, *, plainly: bool = False) -> Artwork:
    """What an SVG file shows, in px of a picture of the size that is asked for.

    Args:
        file: where it lies.
        size: how large the picture is to be.
        plainly: whether gradients, patterns, masks, filters and pictures are drawn as their
            nearest plain things; else they are left out. Either is told.

    Raises:
        InputError: it can't be read, passes a limit, or the picture would be too large.
    """
    tree = read_svg_tree(file)
    root = tree.root
    width, height = root_size(root)
    scale = size.scale_of(width, height, file=file)
    canvas = size.canvas(width, height, scale)
    matrix = after(
        scaled(scale, scale),
        fitted_box(view_box(root.get("viewBox")), (width, height), root.get("preserveAspectRatio")),
    )
    box = view_box(root.get("viewBox")) or (0.0, 0.0, width, height)
    walker = Walker(tree, css_px=scale, plainly=plainly)
    items, lacks = walker.walk(matrix, Viewport(width=box[2], height=box[3]))
    units = {unit_of_length(root.get("width")), unit_of_length(root.get("height"))}
    return Artwork(
        title=title_of(root),
        canvas=canvas,
        px_per_mm=scale * _CSS_PX_PER_MM,
        is_true_size=bool(units) and units <= PAPER_UNITS,
        items=items,
        lacks=lacks,
    )

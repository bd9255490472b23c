"""Lines that a map stretches: no pen draws them, so they are areas."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from inkline.artwork.areas import stroked_area
from inkline.artwork.dashes import dashed_line
from inkline.artwork.maps import Matrix, after, moved, scale_of, scaled
from inkline.artwork.model import ArtPath, FillRule, Pen, Subpath


def stretched_parts(item: ArtPath, flat: Sequence[Subpath], matrix: Matrix) -> Iterator[ArtPath]:
    """A shape as its fill and what its line covers, each an area.

    Args:
        item: the shape, with its pen as wide as the map makes it on the mean.
        flat: its outline, scaled as much but not yet stretched.
        matrix: its map to the picture.
    """
    if item.fill is not None:
        yield replace(item, stroke=None, pen=None)
    scale = scale_of(matrix)
    if item.pen is None or scale <= 0.0:
        return
    back = after(matrix, scaled(1.0 / scale, 1.0 / scale))
    drawn = [part for run in flat for part in _dashed(run, item.pen)]
    runs = tuple(
        Subpath(points=moved(part, back), closed=True) for part in stroked_area(drawn, item.pen)
    )
    if runs:
        yield replace(
            item,
            subpaths=runs,
            fill=item.stroke,
            fill_rule=FillRule.NONZERO,
            stroke=None,
            pen=None,
        )


def _dashed(run: Subpath, pen: Pen) -> tuple[Subpath, ...]:
    """The strokes of a line with the pen's gaps, or the line where it has none."""
    dashed = dashed_line(run, pen.dashes, pen.dash_offset) if pen.dashes else None
    return (run,) if dashed is None else dashed

"""What the paper leaves bare of a picture's ink, mark by mark.

Each mark is looked up over the box of pixels that it covers, and there a few rows at a time, so
that what is at work stays in the processor's near memory. Masters of format 2 and patches are
looked up pixel by pixel, as they were.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from inkline.geometry.arrays import Bools, Grey, Ints, Points, Singles
from inkline.geometry.polygon import bounds
from inkline.ink.inked import InkedDrawing, InkedMark
from inkline.ink.master import points_on_grid
from inkline.ink.media.field import SAMPLE_MM, MediumField
from inkline.ink.media.kept import field_of
from inkline.ink.media.medium import Medium
from inkline.ink.media.paper import Tooth, tooth_mask
from inkline.ink.media.places import Box, Places
from inkline.raster.coverage import FULL, grey_from_contours

# So many pixels of a mark are looked up in its medium at a time, in at least so many rows.
_PIECE, _FEWEST_ROWS = 1 << 14, 12
# Rows of the picture from which is taken at a time.
_ROWS = 64


def take_off_paper(grey: Grey, inked: InkedDrawing) -> None:
    """Takes from `grey`, in place, what the paper leaves bare of each mark of `inked`.

    Where marks lie over each other, a pixel keeps what the one that gives it most ink leaves there,
    and more where the medium darkens.
    """
    kept = np.zeros_like(grey)
    for mark in inked.marks:
        part = _part_of_canvas(mark.contours, inked.canvas)
        if part is None:
            continue  # beyond the canvas
        mine, below = _kept_grey(mark, part), kept[part.rows, part.columns]
        darkest = np.maximum(mine, below)
        if isinstance(mark.tooth, Medium) and mark.tooth.overlap > 0.0:
            _darken(darkest, mine, below, mark.tooth.overlap)
        kept[part.rows, part.columns] = darkest
    for first in range(0, len(grey), _ROWS):
        rows = slice(first, first + _ROWS)
        if grey[rows].any():
            grey[rows] = _product(grey[rows], kept[rows])


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Part:
    """The part of a canvas that a mark covers.

    Attributes:
        rows, columns: of the canvas.
        covered: which of its pixels, `(rows, columns)`.
    """

    rows: slice
    columns: slice
    covered: Bools


def _part_of_canvas(contours: tuple[Points, ...], canvas: tuple[int, int]) -> _Part | None:
    """The part of the canvas on which a mark lies, or `None`."""
    x0, y0, x1, y1 = bounds(contours)
    left, top = max(int(np.floor(x0)), 0), max(int(np.floor(y0)), 0)
    right, bottom = min(int(np.ceil(x1)), canvas[0]), min(int(np.ceil(y1)), canvas[1])
    if right <= left or bottom <= top:
        return None
    moved = [contour - (left, top) for contour in contours]
    covered = grey_from_contours(moved, canvas=(right - left, bottom - top)) > 0
    return _Part(rows=slice(top, bottom), columns=slice(left, right), covered=covered)


def _product(grey: Grey, kept: Grey) -> Grey:
    """Each grey value times the share that is kept of it, to the nearest."""
    product = np.multiply(grey, kept, dtype=np.uint16)
    product += 128
    product += product >> 8  # with the shift below a division by 255, exact for two bytes
    product >>= 8
    return product.astype(np.uint8)


def _darken(darkest: Grey, mine: Grey, below: Grey, overlap: float) -> None:
    """Darkens `darkest`, in place, `overlap` of the way to both marks where they overlap.

    Both together let through the product of what each lets through.
    """
    both = np.flatnonzero((mine > 0) & (below > 0))
    if len(both) == 0:
        return
    one, other, most = (
        values.reshape(-1)[both].astype(np.float32) for values in (mine, below, darkest)
    )
    bare = (FULL - one) * (FULL - other) / FULL
    darkest.reshape(-1)[both] = np.rint(most + overlap * (FULL - bare - most)).astype(np.uint8)


def _kept_grey(mark: InkedMark, part: _Part) -> Grey:
    """What one mark keeps of its ink on its part of the canvas, 0 to 255."""
    if mark.tooth is None:
        return np.where(part.covered, np.uint8(FULL), np.uint8(0))
    kept = np.zeros(part.covered.shape, dtype=np.uint8)
    if isinstance(mark.tooth, Medium) and mark.tooth.by_deviates:
        field = _field_of(mark, mark.tooth)
        for rows, columns in _pieces(part.covered):
            grey = _grey_of_box(field, mark, _pixels(part, rows, columns))
            grey *= part.covered[rows, columns]
            kept[rows, columns] = grey
        return kept
    inked = np.nonzero(part.covered)
    corners = np.column_stack((inked[1] + part.columns.start, inked[0] + part.rows.start))
    kept[inked] = (
        _grey_of_medium(mark, mark.tooth, corners)
        if isinstance(mark.tooth, Medium)
        else _grey_of_tooth(mark, mark.tooth, corners)
    )
    return kept


def _field_of(mark: InkedMark, medium: Medium) -> MediumField:
    """The medium over the mark's contours as its master keeps them, at whatever scale."""
    origin = np.array(mark.origin)
    return field_of(
        medium,
        lambda: tuple(
            points_on_grid((contour - origin) / mark.px_per_mm) for contour in mark.contours
        ),
    )


def _pieces(covered: Bools) -> Iterator[tuple[slice, slice]]:
    """A few rows at a time, and the columns between which there is ink in them."""
    n_rows = max(_PIECE // covered.shape[1], _FEWEST_ROWS)
    for first in range(0, len(covered), n_rows):
        rows = slice(first, first + n_rows)
        inked = np.flatnonzero(covered[rows].any(axis=0))
        if len(inked):
            yield rows, slice(int(inked[0]), int(inked[-1]) + 1)


def _pixels(part: _Part, rows: slice, columns: slice) -> Box:
    """The corners of some of the part's pixels, px."""
    n_rows, n_columns = part.covered.shape
    return Box(
        xs=np.arange(n_columns, dtype=np.float64)[columns] + part.columns.start,
        ys=np.arange(n_rows, dtype=np.float64)[rows] + part.rows.start,
    )


def _grey_of_box(field: MediumField, mark: InkedMark, corners: Box) -> Grey:
    """What is kept in the pixels at `corners`, 0 to 255."""
    pixel_mm = 1.0 / mark.px_per_mm

    def moved(right: float, down: float) -> Box:
        return Box(
            xs=(corners.xs + (right - mark.origin[0])) * pixel_mm,
            ys=(corners.ys + (down - mark.origin[1])) * pixel_mm,
        )

    return _mean_grey(field, [moved(*apart) for apart in _within_pixel(pixel_mm)], pixel_mm)


def _within_pixel(pixel_mm: float) -> list[tuple[float, float]]:
    """Where in a pixel media are read: several places where it is large against the grain."""
    n_across = max(1, round(pixel_mm / SAMPLE_MM))
    apart = (np.arange(n_across) + 0.5) / n_across
    return [(float(right), float(down)) for right in apart for down in apart]


def _mean_grey(field: MediumField, places: list[Places], pixel_mm: float) -> Grey:
    """The mean of the ink that is kept at several places of each pixel, 0 to 255."""
    sample_mm = pixel_mm / np.sqrt(len(places))
    ink = field.ink_at(places[0], pixel_mm=sample_mm, covered_mm=pixel_mm)
    for more in places[1:]:
        ink += field.ink_at(more, pixel_mm=sample_mm, covered_mm=pixel_mm)
    ink *= np.float32(FULL / len(places))
    return _rounded(ink)


def _rounded(grey: Singles) -> Grey:
    return np.asarray(np.rint(grey, out=grey).astype(np.uint8))


def _grey_of_medium(mark: InkedMark, medium: Medium, corners: Ints) -> Grey:
    """What a mark whose master is of format 2 keeps in the pixels at `corners`, `(n, 2)`."""
    field, pixel_mm = _field_of(mark, medium), 1.0 / mark.px_per_mm
    grey = np.empty(len(corners), dtype=np.uint8)
    for first in range(0, len(corners), _PIECE):
        piece = corners[first : first + _PIECE] - np.array(mark.origin)
        places: list[Places] = [
            (piece + np.array(apart)) * pixel_mm for apart in _within_pixel(pixel_mm)
        ]
        grey[first : first + _PIECE] = _mean_grey(field, places, pixel_mm)
    return grey


def _grey_of_tooth(mark: InkedMark, tooth: Tooth, corners: Ints) -> Grey:
    """What patches of a rough paper leave in the pixels at `corners`, `(n, 2)`."""
    places = (corners + 0.5 - np.array(mark.origin)) / mark.px_per_mm
    return np.rint(tooth_mask(tooth, places) * FULL).astype(np.uint8)

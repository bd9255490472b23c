"""What the paper leaves bare of a picture's ink, mark by mark.

Each mark is looked up over the boxes of pixels that it covers. Masters of format 2 and patches are
looked up pixel by pixel, as they were.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from inkline.geometry.arrays import Bools, Floats, Grey, Ints, Singles
from inkline.geometry.boxes import touching_clusters
from inkline.geometry.polygon import bounds
from inkline.ink.inked import InkedDrawing, InkedMark
from inkline.ink.master import points_on_grid
from inkline.ink.media.field import SAMPLE_MM, MediumField
from inkline.ink.media.kept import field_of
from inkline.ink.media.medium import Medium
from inkline.ink.media.paper import Tooth, tooth_mask
from inkline.ink.media.places import Box, Places
from inkline.raster.coverage import FULL, grey_from_contours

# A mark is looked up in its medium in squares of so many places a side: fewer of them cost more
# calls, larger ones hold more pixels beside long thin marks.
_PIECE_SIDE = 1024
# Marks of the old formats are looked up so many pixels at a time.
_PIECE = 1 << 14
# Rows of the picture from which is taken at a time.
_ROWS = 64


def take_off_paper(grey: Grey, inked: InkedDrawing) -> None:
    """Takes from `grey`, in place, what the paper leaves bare of each mark of `inked`.

    Where marks lie over each other, a pixel keeps what the one that gives it most ink leaves there,
    and more where the medium darkens; wet ink of both runs into one.
    """
    parts = [_part_of_canvas(mark, inked.canvas) for mark in inked.marks]
    touched = [part for part in parts if part is not None]
    for group in _groups([part.box for part in touched]):
        if len(group) == 1:
            _take_off_alone(grey, touched[group[0]])
        else:
            _take_off_touching(grey, [touched[index] for index in group])


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Part:
    """The part of a canvas that a mark may cover.

    Attributes:
        mark: the mark.
        rows, columns: of the canvas.
    """

    mark: InkedMark
    rows: slice
    columns: slice

    @property
    def box(self) -> tuple[int, int, int, int]:
        """Its first column and row, and those behind its last."""
        return self.columns.start, self.rows.start, self.columns.stop, self.rows.stop

    def covered(self) -> Bools:
        """Which of its pixels the mark covers, `(rows, columns)`."""
        left, top, right, bottom = self.box
        moved = [contour - (left, top) for contour in self.mark.contours]
        return np.asarray(grey_from_contours(moved, canvas=(right - left, bottom - top)) > 0)


def _part_of_canvas(mark: InkedMark, canvas: tuple[int, int]) -> _Part | None:
    """The part of the canvas on which a mark lies, or `None`."""
    x0, y0, x1, y1 = bounds(mark.contours)
    left, top = max(int(np.floor(x0)), 0), max(int(np.floor(y0)), 0)
    right, bottom = min(int(np.ceil(x1)), canvas[0]), min(int(np.ceil(y1)), canvas[1])
    if right <= left or bottom <= top:
        return None
    return _Part(mark=mark, rows=slice(top, bottom), columns=slice(left, right))


def _groups(boxes: list[tuple[int, int, int, int]]) -> list[list[int]]:
    """Indices of `boxes` in groups whose own boxes lie apart."""
    groups = [[index] for index in range(len(boxes))]
    around = np.array(boxes, dtype=np.float64).reshape(-1, 4)
    around[:, 2:] -= 0.5  # boxes side by side share no pixel
    while True:
        joined = touching_clusters(around)
        if len(joined) == len(groups):
            return groups
        groups = [sorted(i for index in some for i in groups[index]) for some in joined]
        lows, highs = (
            np.array([edge(around[some], axis=0) for some in joined]) for edge in (np.min, np.max)
        )
        around = np.column_stack((lows[:, :2], highs[:, 2:]))


def _take_off_alone(grey: Grey, part: _Part) -> None:
    """Takes from `grey`, in place, what is left bare of a mark that no other one touches."""
    covered = grey[part.rows, part.columns]
    if part.mark.tooth is not None:
        _keep(covered, _kept_grey(part, covered > 0, _boxed_field(part.mark)))


def _take_off_touching(grey: Grey, parts: list[_Part]) -> None:
    """Takes from `grey`, in place, what is left bare of marks that may touch each other."""
    boxes = np.array([part.box for part in parts])
    (left, top), (right, bottom) = boxes[:, :2].min(axis=0), boxes[:, 2:].max(axis=0)
    kept = np.zeros((bottom - top, right - left), dtype=np.uint8)
    depths = np.zeros_like(kept)
    for part in parts:
        tooth, field = part.mark.tooth, _boxed_field(part.mark)
        mine = _kept_grey(part, part.covered(), field)
        x0, y0, x1, y1 = part.box
        window = slice(y0 - top, y1 - top), slice(x0 - left, x1 - left)
        below = kept[window]
        darkest = np.maximum(mine, below)
        if isinstance(tooth, Medium):
            if field is not None and tooth.merging > 0.0:
                _merge(darkest, mine, below, depths[window], part, field)
            elif tooth.overlap > 0.0:
                _darken(darkest, mine, below, tooth.overlap)
        below[:] = darkest
    _keep(grey[top:bottom, left:right], kept)


def _keep(grey: Grey, kept: Grey) -> None:
    """Keeps the share `kept` of `grey`, in place, where there is any."""
    for first in range(0, len(grey), _ROWS):
        rows = slice(first, first + _ROWS)
        if grey[rows].any():
            grey[rows] = _product(grey[rows], kept[rows])


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


def _merge(
    darkest: Grey, mine: Grey, below: Grey, depths: Grey, part: _Part, field: MediumField
) -> None:
    """Lets wet ink run into one in `darkest`, in place, where a mark lies over those below it.

    Each weighs as the square of how deep in its own ink a pixel lies, so that neither's rim shows
    in the middle of the other.

    Args:
        darkest: the darker of the next two, which stays where only one of them is.
        mine: what the mark keeps.
        below: what those below it keep.
        depths: how deep in those a pixel lies, 0 to 255; in place, also how deep in this mark.
        part: the mark on its part of the canvas.
        field: its medium.
    """
    medium = field.medium
    own = _depth_grey(field, part, mine > 0)
    both = np.flatnonzero((mine > 0) & (below > 0))
    if len(both):
        one, other, most, deep, deep_below = (
            values.reshape(-1)[both].astype(np.float32)
            for values in (mine, below, darkest, own, depths)
        )
        weight, weight_below = np.square(deep + 1.0), np.square(deep_below + 1.0)
        together = (weight * one + weight_below * other) / (weight + weight_below)
        through = medium.overlap * np.minimum(deep, deep_below) / FULL
        apart = most
        most = together + through * (FULL - (FULL - one) * (FULL - other) / FULL - together)
        merged = apart + np.float32(medium.merging) * (most - apart)
        darkest.reshape(-1)[both] = np.rint(merged).astype(np.uint8)
    np.maximum(depths, own, out=depths)


def _depth_grey(field: MediumField, part: _Part, covered: Bools) -> Grey:
    """How deep in a mark's ink each pixel of its part of the canvas lies, 0 to 255."""
    depths = np.zeros(covered.shape, dtype=np.uint8)
    pixel_mm, mark = 1.0 / part.mark.px_per_mm, part.mark
    for rows, columns in _pieces(covered, _PIECE_SIDE):
        corners = _pixels(part, rows, columns)
        box = Box(
            xs=(corners.xs + (0.5 - mark.origin[0])) * pixel_mm,
            ys=(corners.ys + (0.5 - mark.origin[1])) * pixel_mm,
        )
        depth = np.clip(field.depths_at(box), 0.0, 1.0)
        depths[rows, columns] = np.rint(depth * FULL) * covered[rows, columns]
    return depths


def _kept_grey(part: _Part, covered: Bools, field: MediumField | None) -> Grey:
    """What a mark keeps of its ink on its part of the canvas, 0 to 255.

    Read in `field`, unless the mark's paper isn't read in boxes.
    """
    mark = part.mark
    if mark.tooth is None:
        return np.where(covered, np.uint8(FULL), np.uint8(0))
    kept = np.zeros(covered.shape, dtype=np.uint8)
    if field is not None:
        n_across = len(_across_pixel(1.0 / mark.px_per_mm))
        for rows, columns in _pieces(covered, _PIECE_SIDE // n_across):
            grey = _grey_of_box(field, mark, _pixels(part, rows, columns))
            grey *= covered[rows, columns]
            kept[rows, columns] = grey
        return kept
    inked = np.nonzero(covered)
    corners = np.column_stack((inked[1] + part.columns.start, inked[0] + part.rows.start))
    kept[inked] = (
        _grey_of_medium(mark, mark.tooth, corners)
        if isinstance(mark.tooth, Medium)
        else _grey_of_tooth(mark, mark.tooth, corners)
    )
    return kept


def _boxed_field(mark: InkedMark) -> MediumField | None:
    """The medium over the mark's contours if it is read in boxes of pixels, else `None`."""
    tooth = mark.tooth
    if isinstance(tooth, Medium) and tooth.by_deviates:
        return _field_of(mark, tooth)
    return None


def _field_of(mark: InkedMark, medium: Medium) -> MediumField:
    """The medium over the mark's contours as its master keeps them, at whatever scale."""
    origin = np.array(mark.origin)
    return field_of(
        medium,
        lambda: tuple(
            points_on_grid((contour - origin) / mark.px_per_mm) for contour in mark.contours
        ),
    )


def _pieces(covered: Bools, side: int) -> Iterator[tuple[slice, slice]]:
    """Rows and columns of pieces of at most `side` pixels, as close about the ink as can be."""
    side = max(side, 1)
    for top in range(0, covered.shape[0], side):
        for left in range(0, covered.shape[1], side):
            piece = covered[top : top + side, left : left + side]
            rows = np.flatnonzero(piece.any(axis=1))
            if len(rows):
                columns = np.flatnonzero(piece.any(axis=0))
                yield (
                    slice(top + int(rows[0]), top + int(rows[-1]) + 1),
                    slice(left + int(columns[0]), left + int(columns[-1]) + 1),
                )


def _pixels(part: _Part, rows: slice, columns: slice) -> Box:
    """The corners of some of the part's pixels, px."""
    left, top = part.columns.start, part.rows.start
    return Box(
        xs=np.arange(columns.start, columns.stop, dtype=np.float64) + left,
        ys=np.arange(rows.start, rows.stop, dtype=np.float64) + top,
    )


def _grey_of_box(field: MediumField, mark: InkedMark, corners: Box) -> Grey:
    """What is kept in the pixels at `corners`, 0 to 255.

    All places in the pixels are read as one finer box: one call costs less than many small ones.
    """
    pixel_mm = 1.0 / mark.px_per_mm
    apart = _across_pixel(pixel_mm)
    xs, ys = (
        ((axis[:, None] + (apart - origin)) * pixel_mm).reshape(-1)
        for axis, origin in zip((corners.xs, corners.ys), mark.origin, strict=True)
    )
    n_across = len(apart)
    sample_mm = pixel_mm / np.sqrt(n_across**2)
    finer = field.ink_at(Box(xs=xs, ys=ys), pixel_mm=sample_mm, covered_mm=pixel_mm)
    ink = finer[::n_across, ::n_across].copy()
    for column in range(n_across):
        for row in range(n_across):
            if row or column:
                ink += finer[row::n_across, column::n_across]
    ink *= np.float32(FULL / n_across**2)
    return _rounded(ink)


def _across_pixel(pixel_mm: float) -> Floats:
    """How far across a pixel media are read: at several places where it is large, in pixels."""
    n_across = max(1, round(pixel_mm / SAMPLE_MM))
    return np.asarray((np.arange(n_across) + 0.5) / n_across)


def _within_pixel(pixel_mm: float) -> list[tuple[float, float]]:
    """Where in a pixel media are read: several places where it is large against the grain."""
    apart = _across_pixel(pixel_mm)
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

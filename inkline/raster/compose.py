"""From an inked drawing to the finished picture."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from inkline.geometry.arrays import Grey, Points
from inkline.ink.inked import InkedDrawing, united_contours, united_with_cut
from inkline.raster.bare import take_off_paper
from inkline.raster.coverage import grey_from_contours

# Where a sheet is smaller than this on a mm, 1250 px on 84 mm, pixels are as wide as lines, and
# what the paper leaves of them can't be told from their middles: dry ink is drawn as many times
# larger as fits below it, and averaged. So pictures don't take longer the smaller they are.
_LEAST_PX_PER_MM = 1250.0 / 84.0


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Outlines:
    """What is filled of an inked drawing: simple contours that nowhere overlap, in px.

    Attributes:
        ink: of all ink united.
        cut: of what is cut out of it; `None` where nothing is.
        both: of the two united.
    """

    ink: tuple[Points, ...]
    cut: tuple[Points, ...] | None = None
    both: tuple[Points, ...] = ()

    def at_scale(self, factor: float) -> Outlines:
        """The same outlines on a canvas `factor` times as large."""
        ink, cut, both = (
            tuple(contour * factor for contour in contours)
            for contours in (self.ink, self.cut or (), self.both)
        )
        return Outlines(ink=ink, cut=None if self.cut is None else cut, both=both)

    def moved(self, right: float, down: float) -> Outlines:
        """The same outlines elsewhere on the canvas."""
        ink, cut, both = (
            tuple(contour + np.array((right, down)) for contour in contours)
            for contours in (self.ink, self.cut or (), self.both)
        )
        return Outlines(ink=ink, cut=None if self.cut is None else cut, both=both)


def outlines_of(inked: InkedDrawing) -> Outlines:
    """The outlines of `inked`: all its ink united, what is cut out of it, and both."""
    ink = united_contours(inked)
    if inked.cut is None:
        return Outlines(ink=ink)
    cut = united_contours(inked.cut)
    return Outlines(ink=ink, cut=cut, both=united_with_cut(ink, cut))


def render(inked: InkedDrawing, *, outlines: Outlines | None = None) -> Grey:
    """The picture of `inked` as uint8 `(height, width)`: 0 is bare, 255 all ink.

    Coverage is that of all marks united, so that overlaps are neither seams nor darker. Where marks
    have a tooth, a pixel keeps what the mark that gives it most ink leaves there; marks without one
    cost nothing more. Of what is cut out only that is taken away which would be ink if it were
    drawn by itself: what the paper leaves bare in it stays. Small pictures of dry ink are the means
    of larger ones.

    Args:
        inked: the inked drawing.
        outlines: its outlines on this canvas, where they are known already.
    """
    times = _times_larger(inked)
    if times == 1:
        return _in_its_size(inked, outlines or outlines_of(inked))
    larger = inked.at_scale(times)
    known = outlines_of(larger) if outlines is None else outlines.at_scale(times)
    return _means(_in_its_size(larger, known), times)


def _times_larger(inked: InkedDrawing) -> int:
    """How many times larger than asked a picture is drawn; 1 where nothing in it is dry."""
    marks = (*inked.marks, *(inked.cut.marks if inked.cut is not None else ()))
    scales = [mark.px_per_mm for mark in marks if mark.tooth is not None]
    return max(1, int(_LEAST_PX_PER_MM / max(scales) + 1e-9)) if scales else 1


def _means(grey: Grey, times: int) -> Grey:
    """The picture, smaller by `times`, of the means of its pixels."""
    height, width = (side // times for side in grey.shape)
    rows = grey.reshape(height, times, width * times).sum(axis=1, dtype=np.uint32)
    sums = rows.reshape(height, width, times).sum(axis=2, dtype=np.float64)
    smaller: Grey = np.rint(sums / times**2).astype(np.uint8)
    return smaller


def _in_its_size(inked: InkedDrawing, known: Outlines) -> Grey:
    """The picture of `inked`, whose outlines are `known`, pixel by pixel."""
    covered = grey_from_contours(known.ink, canvas=inked.canvas)
    grey = _grey_on_paper(covered, inked)
    return grey if inked.cut is None else _grey_without_cut(grey, covered, known, inked.cut)


def _grey_without_cut(
    grey: Grey,
    covered: Grey,
    outlines: Outlines,
    cut: InkedDrawing,
) -> Grey:
    """`grey` less what `cut` takes away of it.

    With the areas a of the ink, b of the cut and u of both united, a + b - u of a pixel lies in
    both. Of this the share goes that the cut itself keeps of its own ink, and what is left keeps
    the share that the paper left of the ink there. Without any tooth that is u - b, exact also
    where edges cross.

    Args:
        grey: the ink as the paper leaves it.
        covered: the same if the paper were smooth.
        outlines: of the ink, of what is cut out, and of both.
        cut: what is cut out.
    """
    own = grey_from_contours(outlines.cut or (), canvas=cut.canvas)
    both = grey_from_contours(outlines.both, canvas=cut.canvas)
    taken = _grey_on_paper(own, cut)
    left = grey.copy()
    flat = np.flatnonzero((taken > 0) & (covered > 0))
    a, b, u = (picture.reshape(-1)[flat].astype(np.float64) for picture in (covered, own, both))
    gone = np.clip(a + b - u, 0.0, a) * taken.reshape(-1)[flat] / b
    left.reshape(-1)[flat] = np.rint(grey.reshape(-1)[flat] * (1.0 - gone / a)).astype(np.uint8)
    return left


def _grey_on_paper(covered: Grey, inked: InkedDrawing) -> Grey:
    """What the paper leaves of `covered`, the smooth picture of the ink of `inked`."""
    if all(mark.tooth is None for mark in inked.marks):
        return covered
    grey = covered.copy()
    take_off_paper(grey, inked)
    return grey

"""From an inked drawing to the finished picture."""

from __future__ import annotations

import numpy as np

from inkline.geometry.arrays import Grey, Points
from inkline.ink.inked import InkedDrawing, united_contours, united_with_cut
from inkline.raster.bare import take_off_paper
from inkline.raster.coverage import grey_from_contours


def render(inked: InkedDrawing) -> Grey:
    """The picture of `inked` as uint8 `(height, width)`: 0 is bare, 255 all ink.

    Coverage is that of all marks united, so that overlaps are neither seams nor darker. Where marks
    have a tooth, a pixel keeps what the mark that gives it most ink leaves there; marks without one
    cost nothing more. Of what is cut out only that is taken away which would be ink if it were
    drawn by itself: what the paper leaves bare in it stays.
    """
    contours = united_contours(inked)
    covered = grey_from_contours(contours, canvas=inked.canvas)
    grey = _grey_on_paper(covered, inked)
    return grey if inked.cut is None else _grey_without_cut(grey, covered, contours, inked.cut)


def _grey_without_cut(
    grey: Grey,
    covered: Grey,
    contours: tuple[Points, ...],
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
        contours: the outlines of the ink.
        cut: what is cut out.
    """
    outlines = united_contours(cut)
    own = grey_from_contours(outlines, canvas=cut.canvas)
    both = grey_from_contours(united_with_cut(contours, outlines), canvas=cut.canvas)
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

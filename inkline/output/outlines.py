"""The outlines of a stamp as curves, mark by mark, each under its name."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import islice

import numpy as np

from inkline.geometry.arrays import Points
from inkline.geometry.boxes import touching_clusters
from inkline.geometry.clipping import contours_without, joins_between
from inkline.geometry.fitting import FittedOutline, fitted_outlines
from inkline.geometry.polyline import without_repeats
from inkline.geometry.stitching import united_shapes
from inkline.ink.inked import InkedDrawing, InkedMark, united_contours

_JOINS = "joins"
"""What is called so is the ink that fills the corners where marks cross."""
_UNDER_PX = 1.5
"""How far that ink reaches under the marks: more than a pixel, or their edges would show in it."""
_OF_THE_STAMP = 2
"""Parts of a mark's full name that are its stamp's: `tall/dates-3/17/1` is stroke 1 of its 17."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class MarkOutline:
    """One mark.

    Attributes:
        path: the names that lead to it within its stamp: `("17", "1")`.
        outlines: its closed curves in px, y down; holes wound the other way.
    """

    path: tuple[str, ...]
    outlines: tuple[FittedOutline, ...]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class StampOutlines:
    """All marks of one stamp, back to front.

    Attributes:
        marks: each with its curves.
        has_tooth: whether paper or medium break up the ink, which curves don't show.
    """

    marks: tuple[MarkOutline, ...]
    has_tooth: bool

    @property
    def outlines(self) -> tuple[FittedOutline, ...]:
        """The curves of all marks, one after another."""
        return tuple(outline for mark in self.marks for outline in mark.outlines)


def outlines_of(inked: InkedDrawing, *, tolerance: float) -> StampOutlines:
    """The outlines of `inked`, no farther than `tolerance` px from what is drawn.

    Marks may overlap; ink that fills the corners where they cross is a mark of its own. Marks that
    are cut out of others are holes in these.
    """
    cut = () if inked.cut is None else united_contours(inked.cut)
    named = [(_path_of(mark), _ink_of_mark(mark, cut)) for mark in inked.marks]
    joins = _joins(inked)
    named += [((_JOINS,), contours_without(joins, cut) if cut else joins)] if joins else []
    kept = [
        (path, [one for one in contours if len(without_repeats(one)) >= 3])
        for path, contours in named
    ]
    fitted = iter(
        fitted_outlines([one for _, contours in kept for one in contours], tolerance=tolerance)
    )
    return StampOutlines(
        marks=tuple(
            MarkOutline(path=path, outlines=tuple(islice(fitted, len(contours))))
            for path, contours in kept
            if contours
        ),
        has_tooth=any(mark.tooth is not None for mark in inked.marks),
    )


def _path_of(mark: InkedMark) -> tuple[str, ...]:
    parts = mark.name.split("/")
    return tuple(parts[_OF_THE_STAMP:]) or (parts[-1],)


def _ink_of_mark(mark: InkedMark, cut: Sequence[Points]) -> Sequence[Points]:
    """The contours of a mark, less what is cut out of it."""
    return contours_without(mark.contours, cut) if cut else mark.contours


def _joins(inked: InkedDrawing) -> tuple[Points, ...]:
    """The ink that fills corners where marks cross, a little of it under the marks."""
    if inked.fillet_px <= 0.0 or not inked.marks:
        return ()
    found: list[Points] = []
    for marks in _clusters(inked.marks):
        shapes = [mark.contours for mark in marks]
        part = InkedDrawing(
            name=inked.name,
            canvas=inked.canvas,
            marks=tuple(marks),
            masters=(),
            n_drawn=0,
            fillet_px=inked.fillet_px,
        )
        plain = united_shapes(shapes)
        found += joins_between(united_contours(part), plain, under_px=_UNDER_PX)
    return tuple(found)


def _clusters(marks: Sequence[InkedMark]) -> Iterator[list[InkedMark]]:
    """Marks whose boxes hang together by overlaps, two at least."""
    boxes = np.array([_box(mark) for mark in marks])
    for cluster in touching_clusters(boxes):
        if len(cluster) > 1:
            yield [marks[place] for place in cluster]


def _box(mark: InkedMark) -> tuple[float, float, float, float]:
    points = np.concatenate(mark.contours)
    (left, top), (right, bottom) = points.min(axis=0), points.max(axis=0)
    return float(left), float(top), float(right), float(bottom)

"""Pictures of one drawing while its style is changed, each from what is kept of the one before."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from inkline.drawing import Drawing
from inkline.geometry.arrays import Grey, Points
from inkline.ink.inked import InkedDrawing
from inkline.ink.stages import Stages
from inkline.ink.style import Style
from inkline.raster.compose import Outlines, outlines_of, render

Window = tuple[int, int, int, int]
"""A part of a picture in its pixels: left, top, width, height."""


class Preview:
    """An exact drawing whose picture is wanted again and again, in other styles and sizes.

    Only from the first stage on is anything made again whose inputs changed: hand, nib, edge, paper
    (see `ink.stages`), then the union of all outlines, then the filling. In another size, the same
    lines are filled. Not for several threads at a time.

        preview = Preview(drawing, number=20_270)
        small = preview.picture(style, scale=0.36)
        tuned = replace(style, edge=replace(style.edge, raggedness=0.03))
        small = preview.picture(tuned, scale=0.36)  # hand and nib are kept
        whole = preview.picture(tuned)  # only filled anew; equals render(draw(...))

    Args:
        drawing: the exact drawing.
        number: the drawing number.
        again: for a mark or a numeral by full name, how many times it was asked to be drawn afresh.
    """

    def __init__(
        self, drawing: Drawing, number: int, *, again: Mapping[str, int] | None = None
    ) -> None:
        self._stages = Stages(drawing, number, again=again)
        self._united: tuple[_Ink, Outlines] | None = None

    def inked(self, style: Style, *, cut_style: Style | None = None) -> InkedDrawing:
        """The ink of the drawing in its own size; equal to what `ink.engine.draw` gives."""
        return self._stages.inked(style, cut_style=cut_style)

    def picture(
        self,
        style: Style,
        *,
        scale: float = 1.0,
        window: Window | None = None,
        cut_style: Style | None = None,
    ) -> Grey:
        """The picture as uint8 `(height, width)`: 0 is bare, 255 all ink.

        Args:
            style: how it is drawn.
            scale: px of the picture to a px of the drawing, > 0; sides are rounded to whole px.
            window: the part of it that is wanted, or None for all.
            cut_style: how the layers that leave white are drawn, if not in `style`.
        """
        inked = self.inked(style, cut_style=cut_style)
        outlines = self._outlines(inked)
        if scale != 1.0:
            inked, outlines = inked.at_scale(scale), outlines.at_scale(scale)
        if window is not None:
            inked, outlines = _in_window(inked, window), outlines.moved(-window[0], -window[1])
        return render(inked, outlines=outlines)

    def _outlines(self, inked: InkedDrawing) -> Outlines:
        """Its outlines; those of the last time where no contour changed since."""
        ink = _Ink(inked)
        if self._united is None or self._united[0] != ink:
            self._united = ink, outlines_of(inked)
        return self._united[1]


def _in_window(inked: InkedDrawing, window: Window) -> InkedDrawing:
    """The same ink on a canvas that is a part of its own."""
    left, top, width, height = window
    cut = None if inked.cut is None else _in_window(inked.cut, window)
    marks = tuple(
        replace(
            mark,
            contours=tuple(contour - (left, top) for contour in mark.contours),
            origin=(mark.origin[0] - left, mark.origin[1] - top),
        )
        for mark in inked.marks
    )
    return replace(inked, canvas=(width, height), marks=marks, masters=(), cut=cut)


class _Ink:
    """What the union of a drawing's outlines depends on; equal where it is the same."""

    def __init__(self, inked: InkedDrawing) -> None:
        self._contours: list[tuple[Points, ...]] = [master.contours for master in inked.masters]
        self._scales = [mark.px_per_mm for mark in inked.marks[:1]]
        self._fillets = [inked.fillet_px, inked.cut.fillet_px if inked.cut is not None else 0.0]

    def __eq__(self, other: object) -> bool:
        """Whether it is the very same contours, which `Stages` keeps."""
        return (
            isinstance(other, _Ink)
            and self._scales == other._scales
            and self._fillets == other._fillets
            and len(self._contours) == len(other._contours)
            and all(
                mine is theirs for mine, theirs in zip(self._contours, other._contours, strict=True)
            )
        )

    __hash__ = None  # type: ignore[assignment]

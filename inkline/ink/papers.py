"""The last of a mark: its edge, what paper leaves of it, and all as a master. Lengths in mm."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from inkline.drawing import Stroke
from inkline.geometry.arrays import Points
from inkline.ink.master import Master, points_on_grid, rounded_values
from inkline.ink.media.flow import overlapping_levels, stroke_levels
from inkline.ink.media.paper import drawn_tooth_place, pressed_tooth
from inkline.ink.media.specks import slivers_around, specks_beside, with_specks
from inkline.ink.roughening import Clean, roughened_marks
from inkline.ink.setup import MarkSetup
from inkline.ink.shapes import shape_tooth
from inkline.ink.strokes import Outline


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class RoughOutline:
    """A mark as its edge leaves it.

    Attributes:
        contours: simple contours, mm.
        on_grid: the same on the grid of masters.
    """

    contours: tuple[Points, ...]
    on_grid: tuple[Points, ...]

    @classmethod
    def of(cls, contours: tuple[Points, ...]) -> RoughOutline:
        """The outline of `contours`."""
        on_grid = tuple(points_on_grid(contour) for contour in contours)
        return cls(contours=contours, on_grid=on_grid)


def inked_outlines(setups: Sequence[MarkSetup], outlines: Sequence[Outline]) -> list[RoughOutline]:
    """Outlines as ink leaves them on paper, each by the edge and the stream of its own mark."""
    marks = [
        Clean(
            contours=outline.contours,
            edge=setup.style.edge,
            stream=setup.stream("edge"),
            half_width=outline.half_width,
        )
        for setup, outline in zip(setups, outlines, strict=True)
    ]
    return [RoughOutline.of(contours) for contours in roughened_marks(marks)]


def finished_master(setup: MarkSetup, outline: Outline, rough: RoughOutline, *, key: str) -> Master:
    """The master of a mark whose edge is drawn: its paper, and specks beside it.

    Args:
        setup: what it is drawn with.
        outline: as hand and nib left it.
        rough: as the edge left it.
        key: of the master.
    """
    contours = rough.on_grid
    if not isinstance(setup.mark, Stroke):
        contours = _with_slivers(setup, rough)
        return Master(key=key, contours=contours, tooth=shape_tooth(setup, contours))
    if not outline.paths:
        return _master_of_press(setup, outline, contours, key=key)
    return _master_of_stroke(setup, outline, rough, key=key)


def _with_slivers(setup: MarkSetup, rough: RoughOutline) -> tuple[Points, ...]:
    """The contours of a shape on the grid, with the slivers that stand around it."""
    stream = setup.stream("paper")
    drawn_tooth_place(stream)
    slivers = slivers_around(rough.contours, setup.style.paper, stream)
    if not slivers:
        return rough.on_grid
    return tuple(points_on_grid(contour) for contour in with_specks(rough.contours, slivers))


def _master_of_stroke(
    setup: MarkSetup, outline: Outline, rough: RoughOutline, *, key: str
) -> Master:
    """The master of a stroke along its paths."""
    contours = rough.on_grid
    paper, stream, width = setup.style.paper, setup.stream("paper"), 2.0 * outline.half_width
    path = points_on_grid(np.concatenate([drawn.points for drawn in outline.paths]))
    profile = rounded_values(np.concatenate(outline.profiles))
    halves = rounded_values(outline.half_width * profile)
    draws = drawn_tooth_place(stream)
    specks = specks_beside(path, halves, paper, stream)
    starts = stream.random((len(outline.paths), 3))
    lifts = [
        stroke_levels(drawn, prof, paper, width=width, start=start)
        for drawn, prof, start in zip(outline.paths, outline.profiles, starts, strict=True)
    ]
    levels = rounded_values(np.concatenate(overlapping_levels(outline.paths, lifts)))
    if specks:
        whole = with_specks(rough.contours, specks)
        contours = tuple(points_on_grid(contour) for contour in whole)
    tooth = pressed_tooth(
        paper,
        draws,
        setup.sheet(),
        contours=contours,
        spine=path,
        levels=levels,
        halves=halves,
    )
    return Master(
        key=key,
        contours=contours,
        path=path,
        times=rounded_values(np.concatenate([drawn.timing.times for drawn in outline.paths])),
        pressures=profile,
        levels=levels,
        tooth=tooth,
    )


def _master_of_press(
    setup: MarkSetup, outline: Outline, contours: tuple[Points, ...], *, key: str
) -> Master:
    """The master of a press of the pen that goes nowhere."""
    assert outline.centre is not None  # noqa: S101 - a press has one
    tooth = pressed_tooth(
        setup.style.paper,
        drawn_tooth_place(setup.stream("paper")),
        setup.sheet(),
        contours=contours,
        spine=outline.centre,
        levels=np.zeros(1),
        halves=rounded_values(np.array([outline.half_width])),
    )
    return Master(key=key, contours=contours, tooth=tooth)

"""The outline that hand and nib leave of a stroke, in mm about its own origin."""

from __future__ import annotations

import dataclasses
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import chain

import numpy as np

from inkline.drawing import Role, Stroke
from inkline.geometry.arrays import Floats, Points
from inkline.geometry.sweep import Sweep, swept_outline, swept_outlines, swept_ring
from inkline.geometry.union import union_of_contours
from inkline.ink.edge import is_quiet
from inkline.ink.hand import DrawnPath
from inkline.ink.nib import cut_tips, drawn_tips
from inkline.ink.pressing import Lead, Presses, pressures
from inkline.ink.profiles import own_profile, pressed_profile
from inkline.ink.setup import MarkSetup
from inkline.ink.style import Style
from inkline.ink.ways import (
    LETTER_FREEDOM,
    Way,
    exact_crossings,
    exact_points,
    exact_width,
    own_reach,
)

# Arcs of swept outlines keep within this of a true arc, in mm: 0.001 px on 2500 px where the
# outline is kept as it is, 0.04 px where ink then rounds and roughens it (finer costs time in the
# union and nobody sees it).
_EXACT_TOLERANCE_MM, _INKED_TOLERANCE_MM = 0.00004, 0.0014
# Whose ends are those of letters.
_LETTERS = frozenset({Role.NUMERAL, Role.WORD})


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Outline:
    """A mark as hand and nib leave it, before its edge meets paper.

    Attributes:
        contours: simple contours in mm, each `(n, 2)`.
        half_width: half its nominal width, mm.
        paths: the drawn centreline, one piece for each lift; none for a press or a shape.
        profiles: width over nominal width along each of them.
        centre: of a press, `(1, 2)`, or `None`.
    """

    contours: tuple[Points, ...]
    half_width: float
    paths: tuple[DrawnPath, ...] = ()
    profiles: tuple[Floats, ...] = ()
    centre: Points | None = None


def swept_strokes(setups: Sequence[MarkSetup], ways: Sequence[Way]) -> list[Outline]:
    """The outlines that the nib leaves of strokes, one for each way; their pressure at once."""
    pens = [setup.stream("nib") for setup in setups]
    leads = [_leads_of(setup, way) for setup, way in zip(setups, ways, strict=True)]
    presses = [
        [Presses.drawn(pen, lead) for lead in own] for pen, own in zip(pens, leads, strict=True)
    ]
    pressed = iter(pressures(list(chain(*leads)), list(chain(*presses))))
    lines = [
        _Lines.of(setup, way, pen, tuple(next(pressed) for _ in way.paths))
        for setup, way, pen in zip(setups, ways, pens, strict=True)
    ]
    swept = iter(swept_outlines([sweep for own in lines for sweep in own.sweeps]))
    return [
        own.outline([next(swept) for _ in own.sweeps])
        if way.pressed is None
        else _pressed_dot(way.pressed, _stroke_of(setup), setup)
        for setup, way, own in zip(setups, ways, lines, strict=True)
    ]


def _stroke_of(setup: MarkSetup) -> Stroke:
    assert isinstance(setup.mark, Stroke)  # noqa: S101 - only strokes have a way
    return setup.mark


def _freedom_of(stroke: Stroke) -> float:
    """How much the ends of `stroke` may differ from one drawing to the next."""
    return LETTER_FREEDOM if stroke.role in _LETTERS else 1.0


def _leads_of(setup: MarkSetup, way: Way) -> list[Lead]:
    """Each lift of a stroke as the nib is led along it."""
    stroke, nib = _stroke_of(setup), setup.style.nib
    if stroke.closed:
        nib = dataclasses.replace(nib, touchdown=0.0, lift=0.0, pooling=0.0)
    return [
        Lead(
            path=path,
            nib=nib,
            width=exact_width(stroke, setup),
            crossings=exact_crossings(stroke, setup),
            freedom=_freedom_of(stroke),
            joined=(False, False) if way.form is None else way.form.joined,
        )
        for path in way.paths
    ]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Lines:
    """A stroke whose pressure is known, on the way to its outline.

    Attributes:
        way: where it runs.
        half_width: half its nominal width, mm.
        profiles: width over nominal width along each of its paths.
        sweeps: what is to be swept, one for each path; none of a closed stroke.
        ring: contours of a closed stroke.
    """

    way: Way
    half_width: float
    profiles: tuple[Floats, ...]
    sweeps: tuple[Sweep, ...]
    ring: tuple[Points, ...] = ()

    @classmethod
    def of(
        cls,
        setup: MarkSetup,
        way: Way,
        pen: np.random.Generator,
        pressed: tuple[Floats, ...],
    ) -> _Lines:
        """One stroke whose pen presses as `pressed` says along each of its paths."""
        stroke, nib = _stroke_of(setup), setup.style.nib
        own = own_profile(stroke, exact_points(stroke, setup), way.form)
        half_width = 0.5 * exact_width(stroke, setup)
        profiles = tuple(
            pressed_profile(own(path.lengths), profile)
            for path, profile in zip(way.paths, pressed, strict=True)
        )
        if stroke.closed and way.paths:
            ring = _swept_ring(way.paths[0], half_width * profiles[0], setup.style)
            return cls(way=way, half_width=half_width, profiles=profiles, sweeps=(), ring=ring)
        sweeps = []
        for path, profile in zip(way.paths, profiles, strict=True):
            tips = drawn_tips(nib, pen, own=own_reach(stroke), freedom=_freedom_of(stroke))
            if stroke.cuts is not None:
                tips = cut_tips(tips, stroke.cuts)
            sweeps.append(
                Sweep(
                    points=path.points,
                    half_widths=half_width * profile,
                    rounds=tips.reaches,
                    skews=tips.skews,
                    tolerance=_tolerance(setup.style),
                )
            )
        return cls(way=way, half_width=half_width, profiles=profiles, sweeps=tuple(sweeps))

    def outline(self, swept: Sequence[tuple[Points, ...]]) -> Outline:
        """Its outline, of what was swept along each of its paths."""
        parts = [*swept, *([self.ring] if self.ring else [])]
        contours = (
            parts[0]
            if len(parts) == 1
            else union_of_contours([part for contours in parts for part in contours])
        )
        return Outline(
            contours=contours,
            half_width=self.half_width,
            paths=self.way.paths,
            profiles=self.profiles,
        )


def _pressed_dot(centre: Points, stroke: Stroke, setup: MarkSetup) -> Outline:
    """A press of the pen that goes nowhere: a dot, a little larger or smaller each time."""
    play = float(np.clip(setup.stream("nib").standard_normal(), -2.0, 2.0))
    half = 0.5 * exact_width(stroke, setup) * (1.0 + setup.style.nib.pressure * play)
    dot = swept_outline(
        centre,
        np.array([half]),
        round_start=1.0,
        round_end=1.0,
        tolerance=_tolerance(setup.style),
    )
    return Outline(contours=dot, half_width=half, centre=centre)


def _swept_ring(path: DrawnPath, half_widths: Floats, style: Style) -> tuple[Points, ...]:
    """The outline that the nib leaves of a closed stroke."""
    points = _closed_up(path.points, path.lengths)
    halves = _closed_up(half_widths, path.lengths)
    return swept_ring(points[:-1], halves[:-1], tolerance=_tolerance(style))


def _closed_up(values: Floats, lengths: Floats) -> Floats:
    """Values along a ring, points or widths, that end where they began.

    What they are off by is spread over the whole length, so that no step shows where it closes.
    """
    shares = (lengths - lengths[0]) / (lengths[-1] - lengths[0])
    off = values[0] - values[-1]
    return np.asarray(values + np.multiply.outer(shares, off))


def _tolerance(style: Style) -> float:
    """How near swept outlines must come to true arcs, mm."""
    return _EXACT_TOLERANCE_MM if is_quiet(style.edge) else _INKED_TOLERANCE_MM

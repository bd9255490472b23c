"""The form that a letter takes this time: no two drawings of it share one skeleton.

Waist and widths move as the whole letter does, each extreme, corner and end a little by itself, and
between them the line bends smoothly. Free ends reach further or less, a bowl closes now earlier and
now later, and what is joined stays joined. Tops, feet and the letter's place and slant hold. All
lengths are mm on the sheet, points lie about the letter's origin, y down.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from inkline.drawing import Play
from inkline.geometry.arrays import Floats, Points
from inkline.ink.form.features import Line, line_through
from inkline.ink.form.moves import Frame, Moves, draws_of
from inkline.ink.form.ring import Ring, begun_elsewhere, ring_of, slid_ring, tail_of
from inkline.ink.hand import drawn_in, moves_within, sampled_path

STRAY_SHARE = 0.6
"""Of `stray`, what the form may use; the rest is the hand's."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Form:
    """The form that one stroke takes.

    Attributes:
        points: `(n, 2)`; the first is repeated where it is closed.
        lengths: arc length along the stroke as its family has it, `(n,)`.
        ring: where along the form the pen comes to its start again, and how far beyond it the end
            lies, if the stroke is a ring that runs on over its start.
        joined: whether its start and its end lie in the letter's own ink.
    """

    points: Points
    lengths: Floats
    ring: Ring | None
    joined: tuple[bool, bool]


def drawn_forms(
    strokes: Sequence[tuple[Points, bool]],
    play: Play,
    *,
    width: float,
    stray: float,
    letter: np.random.Generator,
    own: Sequence[np.random.Generator],
) -> tuple[Form, ...]:
    """The forms of a letter's strokes.

    Args:
        strokes: points of each, which don't repeat, and whether it is closed; a press of the pen is
            one point.
        play: how far they may differ, mm.
        width: of the pen.
        stray: the largest move of any point.
        letter: the letter's stream.
        own: each stroke's.
    """
    exact = [_sampled_line(points, closed=closed) for points, closed in strokes]
    lines, lengths, rings = [], [], []
    for index, line in enumerate(exact):
        slide, more = draws_of(own[index], 2)
        joints = ring_of(exact, index, width=width)
        begun = play.closing * float(slide) if line.closed else 0.0
        slid, at = begun_elsewhere(line, begun)
        ring = tail_of(exact, index, width=width)
        if joints is not None:
            slid, at, ring = slid_ring(
                line, joints, slide=play.closing * float(slide), more=float(more), width=width
            )
        lines.append(slid)
        lengths.append(at)
        rings.append(ring)
    frame = Frame.of(lines, play)
    moves = Moves(lines, rings, frame, play, width=width, draws=draws_of(letter, 4))
    # Limited before it is held, and drawn in as a whole after: to shorten the farthest moves of
    # what is held would make it lean again.
    limited = [moves_within(moved, stray) for moved in moves.all(own)]
    held = drawn_in(frame.held(lines, limited), stray)
    return tuple(
        _form(line.points + moved, line, at, ring, joined)
        for line, moved, at, ring, joined in zip(
            lines, held, lengths, rings, moves.joined, strict=True
        )
    )


def _form(
    points: Points, line: Line, lengths: Floats, ring: Ring | None, joined: tuple[bool, bool]
) -> Form:
    """The form of a stroke whose points were moved."""
    moved = None if ring is None else ring.moved_to(line.lengths, points)
    return Form(points=points, lengths=lengths, ring=moved, joined=joined)


def _sampled_line(points: Points, *, closed: bool) -> Line:
    if len(points) == 1:
        return Line(
            points=points, lengths=np.zeros(1), tangents=np.array([[1.0, 0.0]]), closed=False
        )
    whole = np.concatenate((points, points[:1])) if closed else points
    sampled = sampled_path(whole).points
    return line_through(sampled[:-1] if closed else sampled, closed=closed)

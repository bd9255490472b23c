"""What one mark needs to be drawn: its style, its streams, its pose and its scale."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from inkline.chance import stream
from inkline.drawing import Mark, Role, Stroke
from inkline.ink.firmness import style_for_role
from inkline.ink.forms import Form
from inkline.ink.hand import drift_rms
from inkline.ink.media.grain import PaperPlace, drawn_place
from inkline.ink.pose import Pose, drawn_pose
from inkline.ink.style import Hand, Style

# A letter bends over more than its own height, so that its slant hardly changes; a block over a
# part of its side.
_LETTER_BEND_MM, _BLOCK_BEND_MM = 12.0, 6.0
# Of the drift, the share that moves and bends a whole letter, and the share with which each of its
# strokes wanders by itself.
_LETTER_SHARE, STROKE_SHARE = 0.7, 0.75


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkSetup:
    """What one mark is drawn with.

    Attributes:
        key: the key of its master.
        style: the style as firm as the mark's role makes it.
        hand, nib, edge, paper: the streams of the four parts.
        sheet: where on its sheet of paper the mark's origin lies.
        shared: the stream of the group that a rule shares its drift with.
        pose: how its letter or block sits.
        px_per_mm: px of the drawing to a mm of the sheet.
        form: the form that it takes this time, as a stroke of its letter; `None` where that is as
            laid out.
    """

    key: str
    style: Style
    hand: np.random.Generator
    nib: np.random.Generator
    edge: np.random.Generator
    paper: np.random.Generator
    sheet: PaperPlace
    shared: np.random.Generator
    pose: Pose
    px_per_mm: float
    form: Form | None = None


def setup_of_mark(
    mark: Mark,
    style: Style,
    *,
    number: int,
    again: Mapping[str, int],
    px_per_mm: float,
    key: str,
    form: Form | None = None,
) -> MarkSetup:
    """What `mark` is drawn with in `style` under the drawing number `number`."""
    mine, whose = style_for_role(style, mark.role), style.root
    times = times_again(mark.name, again)
    group = mark.shared if isinstance(mark, Stroke) and mark.shared else f"{mark.name}|alone"
    return MarkSetup(
        key=key,
        style=mine,
        hand=stream(number, mark.name, times, "hand", whose),
        nib=stream(number, mark.name, times, "nib", whose),
        edge=stream(number, mark.name, times, "edge", whose),
        paper=stream(number, mark.name, times, "paper", whose),
        sheet=_place_on_sheet(mark, whose, number=number, again=again, px_per_mm=px_per_mm),
        shared=stream(number, group, 0, "hand", whose),
        pose=_pose(
            mark,
            mine.hand,
            stream(number, mark.group, times_again(mark.group, again), "pose", whose),
        ),
        px_per_mm=px_per_mm,
        form=form,
    )


def times_again(name: str, again: Mapping[str, int]) -> int:
    """How often `name`, or the numeral or stamp that it is part of, was asked to be drawn again."""
    if not again:
        return 0
    parts = name.split("/")
    whole = ["/".join(parts[:n]) for n in range(1, len(parts) + 1)]
    return sum(again.get(part, 0) for part in {*whole, *(part.rsplit(".", 1)[0] for part in whole)})


def _place_on_sheet(
    mark: Mark, whose: str, *, number: int, again: Mapping[str, int], px_per_mm: float
) -> PaperPlace:
    """Where on its sheet of paper the mark's origin lies.

    The rules of one stamp lie on one sheet, so that the grain runs on where they cross. All else
    carries a piece of paper of its own, a whole numeral or letter one.
    """
    sheet = _sheet_of(mark)
    place = drawn_place(stream(number, sheet, times_again(sheet, again), "sheet", whose))
    if mark.role is not Role.RULE:
        return place
    x, y = place.on_paper(np.array([mark.origin]) / px_per_mm)
    return dataclasses.replace(place, x=float(x[0]), y=float(y[0]))


def _sheet_of(mark: Mark) -> str:
    """The name of the sheet of paper on which `mark` is drawn."""
    return mark.name.rpartition("/")[0] if mark.role is Role.RULE else mark.group


def _pose(mark: Mark, hand: Hand, generator: np.random.Generator) -> Pose:
    """How the mark's group sits; a rule is held by its own projection instead."""
    if mark.role is Role.BLOCK:
        still = dataclasses.replace(hand, tilt=0.0, size_play=0.0, bounce=0.0)
        return drawn_pose(
            generator, still, bend=drift_rms(hand) * _LETTER_SHARE, bend_length=_BLOCK_BEND_MM
        )
    return drawn_pose(
        generator, hand, bend=drift_rms(hand) * _LETTER_SHARE, bend_length=_LETTER_BEND_MM
    )

"""What one mark needs to be drawn: its style, its streams, its pose and its scale."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from inkline.chance import stream
from inkline.drawing import Mark, Role, Stroke
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


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class MarkSetup:
    """What one mark is drawn with.

    Attributes:
        mark: the mark.
        style: the style as firm as the mark's role makes it.
        number: the drawing number.
        again: for a mark or a numeral by full name, how many times it was asked to be drawn afresh.
        px_per_mm: px of the drawing to a mm of the sheet.
    """

    mark: Mark
    style: Style
    number: int
    again: Mapping[str, int]
    px_per_mm: float

    def stream(self, part: str) -> np.random.Generator:
        """The stream of one part of the mark, from its beginning."""
        times = times_again(self.mark.name, self.again)
        return stream(self.number, self.mark.name, times, part, self.style.root)

    def shared_stream(self) -> np.random.Generator:
        """The stream of the group that a rule shares its drift with, from its beginning."""
        mark = self.mark
        group = mark.shared if isinstance(mark, Stroke) and mark.shared else f"{mark.name}|alone"
        return stream(self.number, group, 0, "hand", self.style.root)

    def pose(self) -> Pose:
        """How the mark's letter or block sits; a rule is held by its own projection instead."""
        group = self.mark.group
        times, root = times_again(group, self.again), self.style.root
        return _pose_of(self.number, group, times, root, self.style.hand, self.mark.role)

    def sheet(self) -> PaperPlace:
        """Where on its sheet of paper the mark's origin lies.

        The rules of one stamp lie on one sheet, so that the grain runs on where they cross. All
        else carries a piece of paper of its own, a whole numeral or letter one.
        """
        mark, is_rule = self.mark, self.mark.role is Role.RULE
        name = mark.name.rpartition("/")[0] if is_rule else mark.group
        times = times_again(name, self.again)
        place = drawn_place(stream(self.number, name, times, "sheet", self.style.root))
        if not is_rule:
            return place
        x, y = place.on_paper(np.array([mark.origin]) / self.px_per_mm)
        return dataclasses.replace(place, x=float(x[0]), y=float(y[0]))


@lru_cache(maxsize=256)
def _pose_of(number: int, group: str, times: int, root: str, hand: Hand, role: Role) -> Pose:
    """The pose of one letter or block, which all its strokes share."""
    own = stream(number, group, times, "pose", root)
    bend = drift_rms(hand) * _LETTER_SHARE
    if role is Role.BLOCK:
        still = dataclasses.replace(hand, tilt=0.0, size_play=0.0, bounce=0.0)
        return drawn_pose(own, still, bend=bend, bend_length=_BLOCK_BEND_MM)
    return drawn_pose(own, hand, bend=bend, bend_length=_LETTER_BEND_MM)


def times_again(name: str, again: Mapping[str, int]) -> int:
    """How often `name`, or the numeral or stamp that it is part of, was asked to be drawn again."""
    if not again:
        return 0
    parts = name.split("/")
    whole = ["/".join(parts[:n]) for n in range(1, len(parts) + 1)]
    return sum(again.get(part, 0) for part in {*whole, *(part.rsplit(".", 1)[0] for part in whole)})

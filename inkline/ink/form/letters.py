"""The letters of a drawing, whose strokes take their form together."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from inkline.chance import stream
from inkline.drawing import Mark, Role, Stroke
from inkline.geometry.polyline import without_repeats
from inkline.ink.firmness import style_for_role
from inkline.ink.form.forms import STRAY_SHARE, Form, drawn_forms
from inkline.ink.master import points_on_grid
from inkline.ink.setup import times_again
from inkline.ink.style import Style

_PART = "form"


class Letters:
    """The letters among some marks; each takes a form when first asked for one of its strokes.

    Attributes:
        px_per_mm: px of the drawing to a mm of the sheet.
    """

    def __init__(
        self,
        marks: Sequence[Mark],
        style: Style,
        *,
        number: int,
        again: Mapping[str, int],
        px_per_mm: float,
    ) -> None:
        """The letters of `marks` in `style`; the other arguments are those of the engine."""
        self._number, self._again, self.px_per_mm = number, again, px_per_mm
        self._whose = style.root
        self._hands = {role: style_for_role(style, role).hand for role in Role}
        self._strokes: dict[tuple[object, ...], list[Stroke]] = {}
        for mark in marks:
            if self._has_play(mark):
                assert isinstance(mark, Stroke)  # noqa: S101 - only strokes have a play
                self._strokes.setdefault(_letter_of(mark), []).append(mark)
        self._forms: dict[tuple[object, ...], dict[str, Form]] = {}

    def strokes_with(self, mark: Mark) -> tuple[Stroke, ...]:
        """All strokes of the letter that `mark` belongs to; none where its form has no play."""
        return tuple(self._strokes[_letter_of(mark)]) if self._has_play(mark) else ()

    def form_of(self, mark: Mark) -> Form | None:
        """The form of a stroke, or None where it is as laid out."""
        if not self._has_play(mark):
            return None
        letter = _letter_of(mark)
        if letter not in self._forms:
            self._forms[letter] = self._drawn_forms(self._strokes[letter])
        return self._forms[letter][mark.name]

    def _has_play(self, mark: Mark) -> bool:
        return (
            isinstance(mark, Stroke)
            and mark.play is not None
            and self._hands[mark.role].form_play > 0.0
        )

    def _drawn_forms(self, strokes: Sequence[Stroke]) -> dict[str, Form]:
        first = strokes[0]
        assert first.play is not None  # noqa: S101 - `_has_play`
        hand, group = self._hands[first.role], first.group
        times = times_again(group, self._again)
        play = first.play.times(1.0 / self.px_per_mm).freed(hand.form_play)
        forms = drawn_forms(
            [
                (
                    without_repeats(
                        points_on_grid((stroke.points - np.array(stroke.origin)) / self.px_per_mm)
                    ),
                    stroke.closed,
                )
                for stroke in strokes
            ],
            play,
            width=first.width_px / self.px_per_mm,
            stray=STRAY_SHARE * hand.stray,
            letter=stream(self._number, group, times, _PART, self._whose),
            own=[
                stream(self._number, stroke.name, times, _PART, self._whose) for stroke in strokes
            ],
        )
        return {stroke.name: form for stroke, form in zip(strokes, forms, strict=True)}


def _letter_of(mark: Mark) -> tuple[object, ...]:
    """What marks of one letter have in common."""
    return (mark.group, mark.role, mark.origin)

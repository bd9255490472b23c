"""The stages through which an exact drawing becomes ink, each kept while what it depends on stays.

Hand, nib, edge and paper each make something of every mark, and each has its own random stream:
what a later one is given to do never changes what an earlier one did. A page that shows a drawing
while its style is changed therefore holds one `Stages` and asks it for ink again and again; a
changed edge keeps hand and nib, a changed paper keeps those and the edge.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Hashable, Mapping, Sequence
from typing import Generic, TypeVar

import numpy as np

from inkline.drawing import Drawing, Leaves, Mark, Role, Stroke
from inkline.ink.edge import is_quiet
from inkline.ink.firmness import style_for_role
from inkline.ink.form.letters import Letters
from inkline.ink.inked import InkedDrawing, InkedMark
from inkline.ink.master import Master, master_key
from inkline.ink.papers import RoughOutline, finished_master, inked_outlines
from inkline.ink.setup import MarkSetup, times_again
from inkline.ink.shapes import moved_shape
from inkline.ink.strokes import Outline, swept_strokes
from inkline.ink.style import Style
from inkline.ink.together import Asking, drawn_together
from inkline.ink.ways import Way, drawn_way, reach_of_ends

_Result = TypeVar("_Result")


class Stages:
    """An exact drawing on its way to ink in one style after the other.

    Args:
        drawing: the exact drawing.
        number: the drawing number, which seeds every stroke together with the stroke's name.
        again: for a mark or a numeral by full name, how many times it was asked to be drawn afresh.
    """

    def __init__(
        self, drawing: Drawing, number: int, *, again: Mapping[str, int] | None = None
    ) -> None:
        self.drawing = drawing
        self._sides = {
            leaves: _Side(drawing, drawing.marks_that_leave(leaves), number, again or {})
            for leaves in Leaves
        }

    def inked(
        self,
        style: Style,
        *,
        kept: Mapping[str, Master] | None = None,
        cut_style: Style | None = None,
    ) -> InkedDrawing:
        """The ink of the drawing in `style`: what `ink.engine.draw` gives, of what is kept.

        Args:
            style: how it is drawn.
            kept: masters by key; a mark whose key is among them is not drawn.
            cut_style: how the layers that leave white are drawn, if not in `style`.

        Returns:
            Contours in px for each mark, its masters, and how many were drawn now, wholly or from
            the first stage on whose part of the style changed. Contours that are the same as in the
            last style are the same arrays.
        """
        inked = self._sides[Leaves.INK].inked(style, kept or {})
        white = self._sides[Leaves.WHITE]
        if not white.marks:
            return inked
        cut = white.inked(cut_style or style, kept or {})
        return dataclasses.replace(
            inked,
            masters=inked.masters + cut.masters,
            n_drawn=inked.n_drawn + cut.n_drawn,
            cut=dataclasses.replace(cut, masters=(), n_drawn=0),
        )


class _Kept(Generic[_Result]):
    """The last result of one stage for each mark, and what it depended on.

    Args:
        work: gives the results of several marks, by their places among all.
    """

    def __init__(self, work: Callable[[Sequence[int]], Sequence[_Result]]) -> None:
        self._work = work
        self._results: dict[int, tuple[Hashable, _Result]] = {}

    def update(self, inputs: Mapping[int, Hashable]) -> int:
        """Makes anew what is not there or depends on other inputs by now; how many that were."""
        places = [
            place
            for place, own in inputs.items()
            if place not in self._results or self._results[place][0] != own
        ]
        for place, result in zip(places, self._work(places) if places else (), strict=True):
            self._results[place] = (inputs[place], result)
        return len(places)

    def __getitem__(self, place: int) -> _Result:
        return self._results[place][1]


class _Side:
    """Marks of a drawing that all leave the same, ink or white, and their stages."""

    def __init__(
        self, drawing: Drawing, marks: Sequence[Mark], number: int, again: Mapping[str, int]
    ) -> None:
        self.marks = marks
        self._drawing, self._number, self._again = drawing, number, again
        self._setups: list[MarkSetup] = []
        self._letters: Letters | None = None
        self._ways = _Kept[Way | Outline](self._drawn_ways)
        self._outlines = _Kept[Outline](self._swept_outlines)
        self._edges = _Kept[RoughOutline](self._rough_edges)
        self._masters = _Kept[Master](self._finished_masters)
        self._keys: list[str] = []

    def inked(self, style: Style, kept: Mapping[str, Master]) -> InkedDrawing:
        """The marks in `style`; those whose masters are kept by somebody else are not drawn."""
        px_per_mm = self._drawing.sheet_px / style.drawn_at
        self._set_up(style, px_per_mm)
        places = [place for place, key in enumerate(self._keys) if key not in kept]
        n_drawn = self._draw(places)
        masters = tuple(
            kept[key] if key in kept else self._masters[place]
            for place, key in enumerate(self._keys)
        )
        return InkedDrawing(
            name=self._drawing.name,
            canvas=self._drawing.canvas,
            marks=tuple(
                _mark_on_canvas(mark, master, px_per_mm)
                for mark, master in zip(self.marks, masters, strict=True)
                if master.contours
            ),
            masters=masters,
            n_drawn=n_drawn,
            fillet_px=style.edge.fillet * px_per_mm,
        )

    def _set_up(self, style: Style, px_per_mm: float) -> None:
        """Makes ready all that the stages look up, for a style."""
        styles = {role: style_for_role(style, role) for role in Role}
        self._letters = letters = Letters(
            self.marks, style, number=self._number, again=self._again, px_per_mm=px_per_mm
        )
        self._setups = [
            MarkSetup(
                mark=mark,
                style=styles[mark.role],
                number=self._number,
                again=self._again,
                px_per_mm=px_per_mm,
            )
            for mark in self.marks
        ]
        self._keys = [
            master_key(
                mark,
                style,
                number=self._number,
                again=times_again(mark.name, self._again),
                px_per_mm=px_per_mm,
                letter=letters.strokes_with(mark),
            )
            for mark in self.marks
        ]

    def _draw(self, places: Sequence[int]) -> int:
        """Takes some marks through all stages; how many went through one of them at least."""
        stages: tuple[_Kept[Way | Outline] | _Kept[Outline] | _Kept[RoughOutline], ...] = (
            self._ways,
            self._outlines,
            self._edges,
        )
        inputs: dict[int, tuple[Hashable, ...]] = dict.fromkeys(places, ())
        for stage, part in zip(stages, (_of_hand, _of_nib, _of_edge), strict=True):
            inputs = {place: (*inputs[place], part(self._setups[place])) for place in places}
            stage.update(inputs)
        return self._masters.update(
            {
                place: (*inputs[place], self._setups[place].style.paper, self._keys[place])
                for place in places
            }
        )

    def _drawn_ways(self, places: Sequence[int]) -> list[Way | Outline]:
        """Hand: where the pen goes along strokes, and where shapes lie."""
        assert self._letters is not None  # noqa: S101 - set up before
        results: dict[int, Way | Outline] = {}
        strokes: dict[int, Asking[Way]] = {}
        for place in places:
            setup = self._setups[place]
            mark = setup.mark
            if isinstance(mark, Stroke):
                strokes[place] = drawn_way(mark, setup, self._letters.form_of(mark))
            else:
                results[place] = moved_shape(mark, setup)
        results.update(zip(strokes, drawn_together(list(strokes.values())), strict=True))
        return [results[place] for place in places]

    def _swept_outlines(self, places: Sequence[int]) -> list[Outline]:
        """Nib: outlines of strokes; shapes have theirs."""
        ways = {place: self._ways[place] for place in places}
        strokes = {place: way for place, way in ways.items() if isinstance(way, Way)}
        swept = swept_strokes([self._setups[place] for place in strokes], list(strokes.values()))
        shapes = {place: way for place, way in ways.items() if isinstance(way, Outline)}
        outlines = shapes | dict(zip(strokes, swept, strict=True))
        return [outlines[place] for place in places]

    def _rough_edges(self, places: Sequence[int]) -> list[RoughOutline]:
        """Edge: outlines as ink leaves them."""
        setups = [self._setups[place] for place in places]
        return inked_outlines(setups, [self._outlines[place] for place in places])

    def _finished_masters(self, places: Sequence[int]) -> list[Master]:
        """Paper: the masters."""
        return [
            finished_master(
                self._setups[place],
                self._outlines[place],
                self._edges[place],
                key=self._keys[place],
            )
            for place in places
        ]


def _of_hand(setup: MarkSetup) -> Hashable:
    """What of a style the hand's stage of a mark depends on."""
    mark, style = setup.mark, setup.style
    ends = reach_of_ends(mark, setup) if isinstance(mark, Stroke) else ()
    return (style.hand, style.drawn_at, style.root, ends)


def _of_nib(setup: MarkSetup) -> Hashable:
    """What of a style the nib's stage depends on besides; a quiet edge wants finer outlines."""
    return (setup.style.nib, is_quiet(setup.style.edge)) if isinstance(setup.mark, Stroke) else ()


def _of_edge(setup: MarkSetup) -> Hashable:
    """What of a style the edge's stage depends on besides; corners are filled after all marks."""
    return dataclasses.replace(setup.style.edge, fillet=0.0)


def _mark_on_canvas(mark: Mark, master: Master, px_per_mm: float) -> InkedMark:
    """A master on its canvas; the one place where the sheet's scale is applied."""
    origin = np.array(mark.origin)
    contours = tuple(contour * px_per_mm + origin for contour in master.contours)
    return InkedMark(
        name=mark.name,
        contours=contours,
        origin=mark.origin,
        px_per_mm=px_per_mm,
        tooth=master.tooth,
    )

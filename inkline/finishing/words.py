"""Runs of text, set in letters of the user's choice at the place where the artwork has them."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from inkline.artwork.model import TextRun
from inkline.drawing import Mark, Role, Stroke
from inkline.geometry.arrays import Points
from inkline.geometry.polyline import arc_lengths, at_arc_lengths
from inkline.lettering.face import Face
from inkline.lettering.line import marks_from_line, set_line

_CAP_HEIGHT_EM = 0.7
"""Height of capitals to an em in most text faces (common practice, no source); letters are set so
that their capitals are as high as that, since families here have ems of their own."""
_BESIDE_PX = 0.5
"""How far to either side the direction of a path is looked at."""


class TextSetter:
    """Sets runs of text one after another.

    A run that follows begins where the one before it ended.
    """

    def __init__(self, face: Face) -> None:
        self._face = face
        self._end, self._along = (0.0, 0.0), 0.0

    def marks(self, run: TextRun, name: str) -> Iterator[Mark]:
        """The marks of one run.

        Raises:
            MissingGlyphError: the face lacks characters of it.
        """
        face = self._face
        text = run.text.rstrip() if not run.follows else run.text
        line = set_line(face, text)
        em_px = run.size * _CAP_HEIGHT_EM / face.cap_height_em
        natural = line.advance_em * em_px
        length = natural if run.length is None or natural <= 0.0 else run.length
        spaces = 0 if run.follows else len(run.text) - len(run.text.rstrip())
        whole = length + spaces * 0.25 * em_px
        start = self._start(run, length)
        marks = marks_from_line(
            line,
            name=name,
            role=Role.WORD,
            baseline=(0.0, 0.0),
            size_px=em_px,
            width_px=face.nominal_stem_em * em_px,
        )
        if length != natural:
            change = _stretched if run.is_stretched else _spaced
            marks = tuple(change(mark, length / natural) for mark in marks)
        if run.path is not None:
            self._along = start[0] + whole
            yield from _on_path(marks, run.path, start[0])
            return
        cos, sin = math.cos(run.turn), math.sin(run.turn)
        self._end = (start[0] + whole * cos, start[1] + whole * sin)
        cos, sin = math.cos(run.turn + run.letter_turn), math.sin(run.turn + run.letter_turn)
        yield from (_placed(mark, (0.0, 0.0), start, cos, sin) for mark in marks)

    def _start(self, run: TextRun, length: float) -> tuple[float, float]:
        """Where a run begins: a place, or how far along its path."""
        back = 0.0 if run.follows else {"middle": 0.5, "end": 1.0}.get(run.anchor, 0.0) * length
        if run.path is not None:
            return (self._along + run.shift[0] if run.follows else run.path_from - back, 0.0)
        cos, sin = math.cos(run.turn), math.sin(run.turn)
        if run.follows:
            (x, y), (along, below) = self._end, run.shift
            return (x + cos * along - sin * below, y + sin * along + cos * below)
        x, y = run.at
        return (x - back * cos, y - back * sin)


def _on_path(marks: Sequence[Mark], path: Points, start: float) -> Iterator[Mark]:
    """Marks of a line of letters, each letter upright on a path; those beyond its ends are none.

    A letter stands where its middle does (SVG 2, 11.8.3).
    """
    lengths = arc_lengths(path)
    letters: dict[str, list[Mark]] = {}
    for mark in marks:
        letters.setdefault(mark.group, []).append(mark)
    for own in letters.values():
        points = np.concatenate([part for mark in own for part in _outlines(mark)])
        middle = 0.5 * float(points[:, 0].min() + points[:, 0].max())
        at = start + middle
        if not 0.0 <= at <= lengths[-1]:
            continue
        near = np.clip([at - _BESIDE_PX, at, at + _BESIDE_PX], 0.0, lengths[-1])
        before, place, beyond = at_arc_lengths(path, lengths, near)
        turn = math.atan2(*(beyond - before)[::-1])
        where = (float(place[0]), float(place[1]))
        for mark in own:
            yield _placed(mark, (middle, 0.0), where, math.cos(turn), math.sin(turn))


def _outlines(mark: Mark) -> tuple[Points, ...]:
    return (mark.points,) if isinstance(mark, Stroke) else mark.contours


def _spaced(mark: Mark, factor: float) -> Mark:
    """A mark whose letter begins `factor` times as far along its line."""
    along = (factor - 1.0) * mark.origin[0]
    return _placed(mark, (0.0, 0.0), (along, 0.0), 1.0, 0.0)


def _stretched(mark: Mark, factor: float) -> Mark:
    """A mark `factor` times as long along its line."""
    by = np.array([factor, 1.0])
    origin = (factor * mark.origin[0], mark.origin[1])
    if isinstance(mark, Stroke):
        return replace(mark, points=mark.points * by, origin=origin)
    return replace(mark, contours=tuple(one * by for one in mark.contours), origin=origin)


def _placed(
    mark: Mark, about: tuple[float, float], where: tuple[float, float], cos: float, sin: float
) -> Mark:
    """A mark turned about a point, which comes to lie at `where`."""

    def placed(points: Points) -> Points:
        away = points - np.array(about)
        x, y = cos * away[:, 0] - sin * away[:, 1], sin * away[:, 0] + cos * away[:, 1]
        page: Points = np.stack((x, y), axis=1) + np.array(where)
        return page

    x, y = placed(np.array([mark.origin]))[0]
    if isinstance(mark, Stroke):
        return replace(mark, points=placed(mark.points), origin=(float(x), float(y)))
    contours = tuple(placed(contour) for contour in mark.contours)
    return replace(mark, contours=contours, origin=(float(x), float(y)))

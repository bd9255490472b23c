"""Runs of text, set in letters of the user's choice at the place where the artwork has them."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from inkline.artwork.model import TextRun
from inkline.drawing import Cap, Mark, Role, Stroke
from inkline.geometry.arrays import Points
from inkline.geometry.polyline import arc_lengths, at_arc_lengths
from inkline.lettering.face import Face
from inkline.lettering.family import StrokeFamily
from inkline.lettering.line import SetLine, marks_from_line, set_line

_CAP_HEIGHT_EM = 0.7
"""Height of capitals to an em in most text faces (common practice, no source); letters are set so
that their capitals are as high as that where a family draws them, since families here have ems of
their own. A font's em is the text's."""
_LINE_EM = 0.06
"""Width of lines along text, no wider than the letters' own."""
_BESIDE_PX = 0.5
"""How far to either side the direction of a path is looked at."""


class TextSetter:
    """Sets runs of text one after another.

    A run that follows begins where the one before it ended.
    """

    def __init__(self, face: Face) -> None:
        self._face = face
        self._end, self._along, self._below = (0.0, 0.0), 0.0, 0.0
        self._lines: dict[TextRun, SetLine] = {}

    def advance(self, run: TextRun) -> float:
        """How far after the start of a run the next one starts, px.

        Raises:
            MissingGlyphError: the face lacks characters of it.
        """
        if run.length is not None and self._natural(run) > 0.0:
            return run.length
        return self._natural(run) + run.letter_space

    def marks(self, run: TextRun, name: str, *, rest: float = 0.0) -> Iterator[Mark]:
        """The marks of one run.

        Args:
            run: what is set.
            name: what its marks are called.
            rest: how long those runs are that follow it, px; it is centred with them.

        Raises:
            MissingGlyphError: the face lacks characters of it.
        """
        natural, advance = self._natural(run), self.advance(run)
        start = self._start(run, advance - run.letter_space + rest)
        width_px = self._face.nominal_stem_em * self._em_px(run)
        marks = marks_from_line(
            self._line(run),
            name=name,
            role=Role.WORD,
            baseline=(0.0, 0.0),
            size_px=self._em_px(run),
            width_px=width_px,
        )
        grown = 1.0
        if run.length is not None and run.is_stretched and natural > 0.0:
            grown = run.length / natural
            marks = tuple(_stretched(mark, grown) for mark in marks)
        if run.path is not None:
            self._along = start[0] + advance
            lowered = [_placed(mark, (0.0, 0.0), (0.0, self._below), 1.0, 0.0) for mark in marks]
            middles = grown * self._em_px(run) * _middles(self._line(run))
            yield from _on_path(lowered, middles, run.path, start[0])
            return
        cos, sin = math.cos(run.turn), math.sin(run.turn)
        self._end = (start[0] + advance * cos, start[1] + advance * sin)
        for height in run.line_heights:
            line = _line_along(run, f"{name}/line", height, advance, width_px)
            yield _placed(line, (0.0, 0.0), start, cos, sin)
        cos, sin = math.cos(run.turn + run.letter_turn), math.sin(run.turn + run.letter_turn)
        yield from (_placed(mark, (0.0, 0.0), start, cos, sin) for mark in marks)

    def _em_px(self, run: TextRun) -> float:
        is_family = isinstance(self._face, StrokeFamily)
        return run.size * (_CAP_HEIGHT_EM / self._face.cap_height_em if is_family else 1.0)

    def _line(self, run: TextRun) -> SetLine:
        """A run's letters, with white between words and letters as it asks for."""
        if run not in self._lines:
            em_px = self._em_px(run)
            line = set_line(self._face, run.text, spacing_em=run.letter_space / em_px)
            n_gaps = len({item.letter for item in line.glyphs}) - 1
            if run.length is not None and not run.is_stretched and n_gaps > 0:
                spare = (run.length - line.advance_em * em_px) / n_gaps  # SVG 2, 11.5
                white = run.letter_space + spare
                line = set_line(self._face, run.text, spacing_em=white / em_px)
            if run.word_space:
                step, text = run.word_space / em_px, line.text
                glyphs = tuple(
                    replace(item, x_em=item.x_em + step * text.count(" ", 0, item.letter))
                    for item in line.glyphs
                )
                whole = line.advance_em + step * text.count(" ")
                line = replace(line, glyphs=glyphs, advance_em=whole)
            self._lines[run] = line
        return self._lines[run]

    def _natural(self, run: TextRun) -> float:
        """How long a run is by itself, without the white after its last letter, px."""
        return self._line(run).advance_em * self._em_px(run)

    def _start(self, run: TextRun, length: float) -> tuple[float, float]:
        """Where a run begins that is so long with all that follows: a place, or along its path."""
        back = 0.0 if run.follows else {"middle": 0.5, "end": 1.0}.get(run.anchor, 0.0) * length
        along, below = run.shift
        if run.path is not None:
            self._below = below + (self._below if run.follows else 0.0)
            return (along + (self._along if run.follows else run.path_from - back), 0.0)
        cos, sin = math.cos(run.turn), math.sin(run.turn)
        if run.follows:
            x, y = self._end
            return (x + cos * along - sin * below, y + sin * along + cos * below)
        x, y = run.at
        return (x - back * cos, y - back * sin)


def _line_along(run: TextRun, name: str, height: float, length: float, width_px: float) -> Stroke:
    """A line that is drawn along a run at a height over its baseline."""
    points = np.array([[0.0, -height], [length, -height]])
    return Stroke(
        name=name if height == run.line_heights[0] else f"{name}~{run.line_heights.index(height)}",
        group=name,
        role=Role.RULE,
        points=points,
        width_px=min(width_px, _LINE_EM * run.size),
        cap=Cap.ROUND,
        origin=(0.0, -height),
    )


def _middles(line: SetLine) -> Points:
    """Where the letters of a line begin, and where their middles lie, in em, `(n, 2)`."""
    return np.array([(one.x_em, one.x_em + 0.5 * one.glyph.advance_em) for one in line.glyphs])


def _on_path(marks: Sequence[Mark], middles: Points, path: Points, start: float) -> Iterator[Mark]:
    """Marks of a line of letters, each letter upright on a path; those beyond its ends are none.

    A letter stands where its middle does, by its width on the line (SVG 2, 11.8.3).
    """
    lengths = arc_lengths(path)
    letters: dict[str, list[Mark]] = {}
    for mark in marks:
        letters.setdefault(mark.group, []).append(mark)
    for own in letters.values():
        nearest = np.argmin(np.abs(middles[:, 0] - own[0].origin[0]))
        middle = float(middles[nearest, 1])
        at = start + middle
        if not 0.0 <= at <= lengths[-1]:
            continue
        near = np.clip([at - _BESIDE_PX, at, at + _BESIDE_PX], 0.0, lengths[-1])
        before, place, beyond = at_arc_lengths(path, lengths, near)
        turn = math.atan2(*(beyond - before)[::-1])
        where = (float(place[0]), float(place[1]))
        for mark in own:
            yield _placed(mark, (middle, 0.0), where, math.cos(turn), math.sin(turn))


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

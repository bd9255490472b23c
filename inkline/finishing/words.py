"""Runs of text, set in letters of the user's choice at the place where the artwork has them."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from inkline.artwork.model import TextRun
from inkline.drawing import Mark, Role, Stroke
from inkline.geometry.arrays import Points
from inkline.lettering.face import Face
from inkline.lettering.line import marks_from_line, set_line

_CAP_HEIGHT_EM = 0.7
"""Height of capitals to an em in most text faces (common practice, no source); letters are set so
that their capitals are as high as that, since families here have ems of their own."""


class TextSetter:
    """Sets runs of text one after another.

    A run that follows begins where the one before it ended.
    """

    def __init__(self, face: Face) -> None:
        self._face = face
        self._end = (0.0, 0.0)

    def marks(self, run: TextRun, name: str) -> Iterator[Mark]:
        """The marks of one run.

        Raises:
            MissingGlyphError: the face lacks characters of it.
        """
        face = self._face
        text = run.text.rstrip() if not run.follows else run.text
        line = set_line(face, text)
        em_px = run.size * _CAP_HEIGHT_EM / face.cap_height_em
        length = line.advance_em * em_px
        share = {"middle": 0.5, "end": 1.0}.get(run.anchor, 0.0)
        start = self._end if run.follows else run.at
        cos, sin = math.cos(run.turn), math.sin(run.turn)
        back = 0.0 if run.follows else share * length
        start = (start[0] - back * cos, start[1] - back * sin)
        spaces = len(run.text) - len(run.text.rstrip())
        ahead = length + (0 if run.follows else spaces) * 0.25 * em_px
        self._end = (start[0] + ahead * cos, start[1] + ahead * sin)
        if not text.strip():
            return
        for mark in marks_from_line(
            line,
            name=name,
            role=Role.WORD,
            baseline=start,
            size_px=em_px,
            width_px=face.nominal_stem_em * em_px,
        ):
            yield mark if run.turn == 0.0 else _turned(mark, start, cos, sin)


def _turned(mark: Mark, about: tuple[float, float], cos: float, sin: float) -> Mark:
    """A mark turned about a point."""

    def turned(points: Points) -> Points:
        away = points - about
        x, y = cos * away[:, 0] - sin * away[:, 1], sin * away[:, 0] + cos * away[:, 1]
        page: Points = np.stack((x, y), axis=1) + np.array(about)
        return page

    x, y = turned(np.array([mark.origin]))[0]
    if isinstance(mark, Stroke):
        return replace(mark, points=turned(mark.points), origin=(float(x), float(y)))
    contours = tuple(turned(contour) for contour in mark.contours)
    return replace(mark, contours=contours, origin=(float(x), float(y)))

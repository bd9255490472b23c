"""Where twelve months stand on the poster of a year.

Lengths are px of the poster; the values were chosen by eye.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

_MONTHS = 12
_WIDTH = 3600
_SIDE_MARGIN = 210
_FOOT_MARGIN = 230
_HEAD_MARGIN = 250
_LETTERS = 230
"""Height of the year's figures."""
_UNDER_YEAR = 190
_COLUMN_GAP = 150
_ROW_GAP = 120
_COLUMNS = (1, 2, 3, 4, 6)
_PROPORTION = 2.0**0.5
"""Height over width that a poster comes nearest to: that of the paper sizes of ISO 216."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Poster:
    """A poster as set.

    Attributes:
        size: its width and height.
        letters: height of the year's figures.
        baseline: y of their baseline.
        tile: width and height of each month.
        places: upper left corner of each month, January first.
    """

    size: tuple[int, int]
    letters: float
    baseline: float
    tile: tuple[int, int]
    places: tuple[tuple[int, int], ...]

    def mirror(self) -> Poster:
        """The same with its months from right to left."""
        places = tuple((self.size[0] - x - self.tile[0], y) for x, y in self.places)
        return replace(self, places=places)


def set_poster(part: tuple[int, int], *, columns: int | None = None) -> Poster:
    """A poster of twelve months, in as many columns as suit a sheet of paper.

    Args:
        part: width and height of what is shown of a month, in px of its own.
        columns: how many months stand side by side; 1, 2, 3, 4 or 6.
    """
    if columns is not None:
        return _in_columns(part, columns)
    posters = (_in_columns(part, count) for count in _COLUMNS)
    return min(
        posters, key=lambda poster: abs(math.log(poster.size[1] / poster.size[0] / _PROPORTION))
    )


def _in_columns(part: tuple[int, int], columns: int) -> Poster:
    width = (_WIDTH - 2 * _SIDE_MARGIN - (columns - 1) * _COLUMN_GAP) // columns
    height = max(1, round(width * part[1] / part[0]))
    top = _HEAD_MARGIN + _LETTERS + _UNDER_YEAR
    places = []
    for index in range(_MONTHS):
        row, column = divmod(index, columns)
        places.append(
            (_SIDE_MARGIN + column * (width + _COLUMN_GAP), top + row * (height + _ROW_GAP))
        )
    return Poster(
        size=(_WIDTH, places[-1][1] + height + _FOOT_MARGIN),
        letters=float(_LETTERS),
        baseline=float(_HEAD_MARGIN + _LETTERS),
        tile=(width, height),
        places=tuple(places),
    )

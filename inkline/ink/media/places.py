"""Places on the sheet at which media are read: scattered ones, or the pixels of a box."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from inkline.geometry.arrays import Floats, Points, Singles


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Box:
    """Places at the crossings of rows and columns, which are read far faster than scattered ones.

    Attributes:
        xs: where its columns lie, mm, `(columns,)`, ascending.
        ys: where its rows lie, mm, `(rows,)`, ascending.
    """

    xs: Floats
    ys: Floats

    @property
    def shape(self) -> tuple[int, int]:
        """Rows and columns."""
        return len(self.ys), len(self.xs)

    def part(self, rows: slice, columns: slice) -> Box:
        """Some of its rows and columns."""
        return Box(xs=self.xs[columns], ys=self.ys[rows])


Places = Points | Box
"""Scattered places, `(n, 2)` in mm, or a box of them; values at them have the shape `(n,)`, or that
of the box."""


def shape_of(places: Places) -> tuple[int, ...]:
    """The shape of values at `places`."""
    return places.shape if isinstance(places, Box) else (len(places),)


def along_axis(places: Places, x: float, y: float) -> Singles:
    """The places' coordinates along the axis `(x, y)`, mm if that has the length 1."""
    if isinstance(places, Box):
        across, down = places.xs * x, places.ys * y
        return np.add.outer(down.astype(np.float32), across.astype(np.float32))
    return (places[:, 0] * x + places[:, 1] * y).astype(np.float32)

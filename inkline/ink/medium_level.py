"""The level of a medium that leaves the share of a mark bare that its style asks for."""

from __future__ import annotations

import dataclasses

import numpy as np

from inkline.geometry.arrays import Points
from inkline.geometry.polygon import total_area
from inkline.ink.medium import Medium
from inkline.ink.medium_field import MediumField, field_over

# By so much of a square are the probes of a row and a column shifted against the next.
_ROW_SHIFT, _COLUMN_SHIFT = 0.7549, 0.5698


def levelled(
    medium: Medium,
    contours: tuple[Points, ...],
    *,
    dryness: float,
    n_probes: int,
    pixel_mm: float,
) -> Medium:
    """`medium` at the level at which `dryness` of the ink inside `contours` is missing.

    Found on about `n_probes` places, each of which stands for a pixel of `pixel_mm`.
    """
    field = field_over(medium, contours)
    side = float(np.sqrt(max(abs(total_area(contours)), 1e-9) / n_probes))
    level = field.level_for(dryness, _probes(field, side), pixel_mm=pixel_mm)
    return dataclasses.replace(medium, level=level)


def _probes(field: MediumField, side: float) -> Points:
    """Places inside the mark, one in each square of `side`, and at least one.

    Those of each row and column are shifted against their neighbours', so that no stroke and no
    bristle runs along them.
    """
    lattice = field.lattice
    width, height = ((n - 3) * lattice.step for n in (lattice.shape[1], lattice.shape[0]))
    columns, rows = np.arange(int(width / side) + 2), np.arange(int(height / side) + 2)
    x = columns + (_ROW_SHIFT * rows[:, None]) % 1.0
    y = rows[:, None] + (_COLUMN_SHIFT * columns) % 1.0
    places = np.column_stack((x.reshape(-1), y.reshape(-1))) * side
    places += np.array(lattice.corner) + lattice.step - side
    depths = lattice.reading_at(places).read(field.depths)
    inside = places[depths > 0.0]
    return inside if len(inside) else places[[int(np.argmax(depths))]]

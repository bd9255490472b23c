"""Figures beside capitals: whether they look as if one hand had drawn both."""

from __future__ import annotations

import numpy as np

from inkline.lettering.family import StrokeFamily
from inkline.lettering.faults.spread import spread_strokes

LEAST_WIDTH = 0.63
"""The least width of figures over that of capitals, of their ink, by the medians.
Common practice has figures at about three quarters, no source; the bound was chosen by eye."""
_FIGURES, _CAPITALS = "023568", "BDHNORU"
"""Those of middling width."""


def figure_width(family: StrokeFamily) -> float:
    """Median width of the figures' ink over that of the capitals'; infinite without either."""
    figures, capitals = _median_width(family, _FIGURES), _median_width(family, _CAPITALS)
    return figures / capitals if figures > 0.0 and capitals > 0.0 else np.inf


def _median_width(family: StrokeFamily, characters: str) -> float:
    """The median width of ink in pens; 0 where there is none."""
    widths = []
    for character in filter(family.has, characters):
        strokes = spread_strokes(family.glyph(character), stem_em=family.nominal_stem_em)
        if strokes:
            x = np.concatenate([stroke.points[:, 0] for stroke in strokes])
            half = 0.5 * np.concatenate([stroke.shares for stroke in strokes])
            widths.append(float((x + half).max() - (x - half).min()))
    return float(np.median(widths)) if widths else 0.0

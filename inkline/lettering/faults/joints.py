"""Where letters of a joined hand meet: entries at which a line would end in white."""

from __future__ import annotations

import numpy as np

from inkline.lettering.face import Glyph
from inkline.lettering.faults.spread import spread_strokes

LEAST_DEPTH = 0.15
"""How deep within ink an entry lies at least, in pens, where no stroke begins there.
Less, and the end of the line shows on the rim. Chosen by eye."""
_AT_START = 0.03
"""A stroke that starts this near to an entry starts there, in pens."""


def has_bare_entry(glyph: Glyph, *, stem_em: float) -> bool:
    """Whether a line into one of the glyph's entries would end in white, or on the rim of ink."""
    strokes = spread_strokes(glyph, stem_em=stem_em)
    if not glyph.entries or not strokes:
        return bool(glyph.entries)
    points = np.concatenate([stroke.points for stroke in strokes])
    halves = 0.5 * np.concatenate([stroke.shares for stroke in strokes])
    starts = np.array([stroke.points[0] for stroke in strokes])
    return any(
        np.hypot(*(starts - entry).T).min() > _AT_START
        and (np.hypot(*(points - entry).T) - halves).min() > -LEAST_DEPTH
        for entry in np.array(glyph.entries) / stem_em
    )

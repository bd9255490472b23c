"""How a stamp reads at the size at which it is used: strokes, contrast, digits, register."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import scipy
from PIL import Image

from inkline.geometry.arrays import Floats, Grey
from inkline.proof.finding import ListedStamp
from inkline.proof.rule import rule_place
from inkline.proof.things import Sort, things_of

LEAST_ARC_MIN, GOOD_ARC_MIN = 16.0, 20.0
"""How high digits have to be for the eye at the least, and should be (ISO 9241-3 as IBM's guide to
it gives them; read there)."""
MOST_REGISTER_PX = 0.25
"""How far rules may lie off on the mean, in px of the small picture (chosen: a quarter px is not
seen)."""
_MM_PER_INCH = 25.4
_SURVIVES = 0.5
"""A stroke survives where the small picture keeps at least half of its ink."""
_FEW = 1.0
"""Per cent of a stamp's strokes that may be thinner than what is called the thinnest."""


@dataclass(frozen=True, slots=True, kw_only=True)
class UseFigures:
    """What a stamp measures at the size of use; None where it has none of that.

    Attributes:
        stamp: its name.
        used_at: that size, per cent of its canvas.
        thinnest_px: the thinnest stroke that survives, in px of the canvas.
        lost_share: share of its strokes' length that doesn't.
        contrast: ink in the middle of its strokes in the small picture, 0 to 1, at the weakest
            twentieth.
        digit_mm: height of its lowest numeral or word, printed at that size.
        distance_mm: from how far that can be read at the least angle for the eye.
        register_px: how far a rule lies off on the mean, at most, in px of the small picture.
    """

    stamp: str
    used_at: float
    thinnest_px: float | None
    lost_share: float | None
    contrast: float | None
    digit_mm: float | None
    distance_mm: float | None
    register_px: float | None


def figures_at_use(body: Grey, entry: ListedStamp, *, used_at: float, ppi: float) -> UseFigures:
    """The figures of the stamp `entry` whose ink is `body`, used at so many per cent.

    An angle of m minutes at a distance d is 2 d tan(m / 2) high.
    """
    widths, kept, lengths = _strokes_at_use(body, used_at / 100.0)
    lives = kept >= _SURVIVES
    things = things_of(entry)
    heights = [one.exact[3] - one.exact[1] for one in things if one.sort is Sort.LETTERS]
    high_mm = min(heights) * used_at / 100.0 / ppi * _MM_PER_INCH if heights else None
    rules = [one.rule for one in things if one.rule is not None]
    places = [
        rule_place(body, rule, others=[other for other in rules if other is not rule])
        for rule in rules
    ]
    offsets = [abs(place.offset_px) for place in places]
    offsets = [offset for offset in offsets if math.isfinite(offset)]
    return UseFigures(
        stamp=str(entry["name"]),
        used_at=used_at,
        thinnest_px=float(np.percentile(widths[lives], _FEW)) if lives.any() else None,
        lost_share=float(1.0 - np.average(lives, weights=lengths)) if len(kept) else None,
        contrast=float(np.percentile(kept, 5.0)) if len(kept) else None,
        digit_mm=high_mm,
        distance_mm=None
        if high_mm is None
        else high_mm / (2.0 * math.tan(math.radians(LEAST_ARC_MIN / 60.0) / 2.0)),
        register_px=max(offsets) * used_at / 100.0 if offsets else None,
    )


def _strokes_at_use(body: Grey, scale: float) -> tuple[Floats, Floats, Floats]:
    """Width at the middle lines, what the small picture keeps there, and lengths, each `(n,)`.

    The middle of a stroke of an even width is two px across, each of which is half of the length.
    """
    height, width = body.shape
    size = (max(round(width * scale), 1), max(round(height * scale), 1))
    small = np.asarray(Image.fromarray(body).resize(size, Image.Resampling.BOX)) / 255.0
    peaks = scipy.ndimage.maximum_filter(small, 3)
    depth = scipy.ndimage.distance_transform_edt(body >= 128)
    ridge = (depth > 0) & (depth >= scipy.ndimage.maximum_filter(depth, 3))
    y, x = np.nonzero(ridge)
    rows = np.minimum((y * size[1]) // height, size[1] - 1)
    columns = np.minimum((x * size[0]) // width, size[0] - 1)
    across = scipy.ndimage.uniform_filter(ridge.astype(float), 3)[ridge] * 3.0
    return 2.0 * depth[ridge], peaks[rows, columns], 1.0 / across

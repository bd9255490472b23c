"""What a style's stroke measures, read off its picture as proof reads rules."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from inkline.desk.exact import long_stroke
from inkline.drawing import Stroke
from inkline.geometry.arrays import Grey
from inkline.ink.engine import draw
from inkline.ink.inked import InkedDrawing
from inkline.ink.style import Style
from inkline.proof.rule import rule_measurement
from inkline.proof.slices import ExactRule
from inkline.raster.compose import render

_QUARTER = 4.0
"""What is read at quarter size is told in px of the whole."""


def measured_stroke(style: Style, number: int, *, kit_px_per_mm: float) -> dict[str, float]:
    """What a stroke of `style` measures: as wide as the large one, 40 mm long, as JSON.

    Args:
        style: how it is drawn.
        number: the drawing number.
        kit_px_per_mm: pixels of a finished stamp to a millimetre of the sheet.

    Returns:
        `width` in mm and its `spread`, the standard deviation over the mean; `edge`, the standard
        deviation of the edges, and `wander`, that of the middle of the stroke about its exact line,
        both in px of a finished stamp; `bare`, the share of the ink that the paper keeps off.
        What can't be read is left out.
    """
    drawing = long_stroke(drawn_at=style.drawn_at)
    (rule,) = (mark for mark in drawing.marks if isinstance(mark, Stroke))
    inked = draw(drawing, style, number)
    grey = render(inked)
    is_toothed = any(mark.tooth is not None for mark in inked.marks)
    solid = render(_without_tooth(inked)) if is_toothed else grey
    (x0, y), (x1, _) = rule.points.tolist()
    exact = ExactRule(start=(x0, y), end=(x1, y), width_px=rule.width_px)
    found = rule_measurement(solid, exact)
    px_per_mm = drawing.sheet_px / style.drawn_at
    per_px = kit_px_per_mm / px_per_mm
    values = {
        "width": found.width_px / px_per_mm,
        "spread": found.width_deviation_px / found.width_px if found.width_px else math.nan,
        "edge": found.raggedness_px * per_px,
        "wander": found.path_rms * _QUARTER * per_px,
        "bare": _bare_share(grey, solid),
    }
    return {name: float(f"{value:.4g}") for name, value in values.items() if math.isfinite(value)}


def _without_tooth(inked: InkedDrawing) -> InkedDrawing:
    return replace(inked, marks=tuple(replace(mark, tooth=None) for mark in inked.marks))


def _bare_share(grey: Grey, solid: Grey) -> float:
    full = float(solid.sum(dtype=np.int64))
    return max(0.0, 1.0 - float(grey.sum(dtype=np.int64)) / full) if full else math.nan

"""What the large stroke measures, read off its picture as proof reads rules."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from inkline.drawing import Drawing, Stroke
from inkline.geometry.arrays import Grey
from inkline.ink.inked import InkedDrawing
from inkline.proof.rule import rule_measurement
from inkline.proof.slices import ExactRule
from inkline.raster.compose import render

_LEAST_WEIGHT_PX = 24.0
"""A stroke drawn thinner is measured in a larger picture of the same ink."""
_MOST_PX = 2_600
_QUARTER = 4.0


def measured_stroke(
    inked: InkedDrawing, drawing: Drawing, *, kit_px_per_mm: float
) -> dict[str, float]:
    """What the first of the strokes of `drawing` measures in ink, as JSON.

    Args:
        inked: the drawing in ink.
        drawing: straight strokes, of which the first is measured away from the others.
        kit_px_per_mm: pixels of a finished stamp to a millimetre of the sheet.

    Returns:
        `width` in mm and its `spread`, the standard deviation over the mean; `edge`, the standard
        deviation of the edges, and `wander`, that of the middle of the stroke about its exact line,
        both in px of a finished stamp; `bare`, the share of the ink that the paper keeps off.
        What can't be read is left out.
    """
    rules = [mark for mark in drawing.marks if isinstance(mark, Stroke)]
    scale = max(1.0, min(_LEAST_WEIGHT_PX / rules[0].width_px, _MOST_PX / max(drawing.canvas)))
    larger = inked.at_scale(scale)
    along, *others = (_exact(rule, scale) for rule in rules)
    grey = render(larger)
    solid = render(_without_tooth(larger)) if _is_toothed(larger) else grey
    found = rule_measurement(solid, along, others=others)
    px_per_mm = scale * inked.marks[0].px_per_mm
    per_px = kit_px_per_mm / px_per_mm
    values = {
        "width": found.width_px / px_per_mm,
        "spread": found.width_deviation_px / found.width_px if found.width_px else math.nan,
        "edge": found.raggedness_px * per_px,
        "wander": found.path_rms * _QUARTER * per_px,
        "bare": _bare_share(grey, solid),
    }
    return {name: float(f"{value:.4g}") for name, value in values.items() if math.isfinite(value)}


def _exact(rule: Stroke, scale: float) -> ExactRule:
    (x0, y0), (x1, y1) = (rule.points[at] * scale for at in (0, -1))
    return ExactRule(
        start=(float(x0), float(y0)), end=(float(x1), float(y1)), width_px=rule.width_px * scale
    )


def _is_toothed(inked: InkedDrawing) -> bool:
    return any(mark.tooth is not None for mark in inked.marks)


def _without_tooth(inked: InkedDrawing) -> InkedDrawing:
    return replace(inked, marks=tuple(replace(mark, tooth=None) for mark in inked.marks))


def _bare_share(grey: Grey, solid: Grey) -> float:
    full = float(solid.sum(dtype=np.int64))
    return max(0.0, 1.0 - float(grey.sum(dtype=np.int64)) / full) if full else math.nan

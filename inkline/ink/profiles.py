"""The widths that an exact stroke has by itself, and how a pressed nib leaves them."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from inkline.drawing import Stroke
from inkline.geometry.arrays import Floats, Points
from inkline.geometry.polyline import arc_lengths
from inkline.ink.form.forms import Form

# What a stroke that thins by itself keeps of nominal width: a nib's taper on top of its own would
# part a hairline that leads into the next letter. A nib by itself never gets thinner than 0.12.
_HAIRLINE = 0.24


def own_profile(stroke: Stroke, points: Points, form: Form | None) -> Callable[[Floats], Floats]:
    """Width over nominal width that the exact stroke itself has, at arc lengths along it.

    Or, where it takes a form of its own, along that.
    """
    if stroke.profile is None:
        return np.ones_like
    profile, ring = stroke.profile, points
    if stroke.closed:
        profile, ring = np.append(profile, profile[0]), np.concatenate((points, points[:1]))
    lengths = arc_lengths(ring)
    if form is None:
        return lambda wanted: np.interp(wanted, lengths, profile)
    at, around = arc_lengths(form.points), float(lengths[-1]) if stroke.closed else np.inf
    return lambda wanted: np.interp(
        np.mod(np.interp(wanted, at, form.lengths), around), lengths, profile
    )


def pressed_profile(own: Floats, pressed: Floats) -> Floats:
    """Width over nominal width where a stroke's own width and the nib's pressure meet.

    Where it is a hairline of itself, a nib that lifts or tapers leaves it a line: see `_HAIRLINE`.
    """
    return np.asarray(np.maximum(own * pressed, np.minimum(own, _HAIRLINE)))

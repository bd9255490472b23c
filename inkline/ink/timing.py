"""When the pen is where: speed and time along a stroke.

A straight stroke follows the minimum-jerk law x = 10 t^3 - 15 t^4 + 6 t^5, whose peak speed is
1.875 of the mean (Flash and Hogan, J. Neurosci. 5:1688, 1985). A curved one slows with curvature to
the power -1/3 (the two-thirds power law: Lacquaniti, Terzuolo and Viviani, Acta Psychol. 54:115,
1983, from memory).
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from inkline.geometry.arrays import Floats, Indices

# Turns beyond this are stops, with a bell of speed on either side.
STOP_TURN_RAD = np.deg2rad(60.0)
# The slowest that curvature alone makes a pen, as a share of its speed on the straight.
_SLOWEST = 0.25

_TABLE_TIMES = 0.5 - 0.5 * np.cos(np.linspace(0.0, np.pi, 2049))
_TABLE_PLACES = _TABLE_TIMES**3 * (10.0 - 15.0 * _TABLE_TIMES + 6.0 * _TABLE_TIMES**2)


@dataclass(frozen=True, slots=True, kw_only=True)
class Timing:
    """Time and speed along a stroke.

    Attributes:
        times: seconds from touchdown, `(n,)`, ascending.
        speeds: mm/s, `(n,)`, zero at both ends and at stops.
        mean_speed: length over duration, mm/s.
    """

    times: Floats
    speeds: Floats
    mean_speed: float


def _bell_time(places: Floats) -> Floats:
    """The time at which a minimum-jerk movement has covered `places`.

    In shares of its duration, and of its length.
    """
    return np.interp(places, _TABLE_PLACES, _TABLE_TIMES)


def _bell_speed(times: Floats) -> Floats:
    """Minimum-jerk speed over mean speed at `times` (shares of the duration): 30 t^2 (1 - t)^2."""
    return np.asarray(30.0 * times**2 * (1.0 - times) ** 2)


def curve_slowing(curvatures: Floats, reference: float) -> Floats:
    """Speed in a curve over speed on the straight.

    (curvature / reference)^(-1/3), between `_SLOWEST` and 1.
    """
    ratio = np.maximum(np.abs(curvatures) / reference, 1e-12)
    return np.clip(ratio ** (-1.0 / 3.0), _SLOWEST, 1.0)


def timing(
    lengths: Floats, curvatures: Floats, stops: Indices, *, speed: float, reference: float
) -> Timing:
    """Time along a stroke that takes its length over `speed`.

    Args:
        lengths: arc length in mm at each point, `(n,)`, starting at 0.
        curvatures: 1 / mm at each point, `(n,)`.
        stops: indices of inner points at which the pen stops to turn.
        speed: mean speed, mm/s.
        reference: curvature in 1 / mm up to which the pen need not slow.

    Returns:
        The timing; a stroke of no length takes no time.
    """
    total = float(lengths[-1])
    if total <= 0.0:
        return Timing(times=np.zeros_like(lengths), speeds=np.zeros_like(lengths), mean_speed=speed)
    slowing = curve_slowing(curvatures, reference)
    bounds = np.concatenate(([0], stops, [len(lengths) - 1]))
    times, speeds = np.zeros_like(lengths), np.zeros_like(lengths)
    for first, last in pairwise(bounds):
        piece = slice(first, last + 1)
        _fill_piece(times[piece], speeds[piece], lengths[piece], slowing[piece])
    duration = total / speed
    stretch = duration / times[-1]
    return Timing(times=times * stretch, speeds=speeds / stretch, mean_speed=speed)


def _fill_piece(times: Floats, speeds: Floats, lengths: Floats, slowing: Floats) -> None:
    """Writes one bell's times and speeds into `times` and `speeds`.

    Times come after the piece's first; speeds are for unit mean speed before slowing.
    """
    span = lengths[-1] - lengths[0]
    if span <= 0.0:
        times[:] = times[0]
        return
    bell = _bell_time((lengths - lengths[0]) / span)
    steps = np.diff(bell) * span * 0.5 * (1.0 / slowing[1:] + 1.0 / slowing[:-1])
    times[1:] = times[0] + np.cumsum(steps)
    speeds[:] = _bell_speed(bell) * slowing

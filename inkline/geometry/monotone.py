"""Values between places by cubics that never swell beyond the values given.

F. N. Fritsch and J. Butland, "A method for constructing local monotone piecewise cubic
interpolants", SIAM Journal on Scientific and Statistical Computing 5, 1984: inside, the slope is a
weighted harmonic mean of those on either side, or level where they differ in sign. The slopes at
both ends are those of a parabola through three places, held back where it would overshoot (C.
Moler, "Numerical Computing with MATLAB", 2004, section 3.4). A library has the same, at a second's
import.
"""

from __future__ import annotations

import numpy as np

from inkline.geometry.arrays import Floats


def monotone_values(places: Floats, values: Floats, wanted: Floats) -> Floats:
    """The values at `wanted`, `(m,)`, of the cubics through `values` at `places`, both `(n,)`.

    Args:
        places: ascending, no two alike, n >= 2.
        values: at those.
        wanted: from the first of the places to the last.
    """
    steps, rises = np.diff(places), np.diff(values)
    slopes = _slopes(steps, rises / steps)
    at = np.clip(np.searchsorted(places, wanted, side="right") - 1, 0, len(steps) - 1)
    part = (wanted - places[at]) / steps[at]
    rest = 1.0 - part
    return np.asarray(
        values[at]
        + rises[at] * part * part * (3.0 - 2.0 * part)
        + steps[at] * part * rest * (slopes[at] * rest - slopes[at + 1] * part)
    )


def _slopes(steps: Floats, chords: Floats) -> Floats:
    """The slope at each place, `(n,)`, from the steps between them and the slopes of chords."""
    if len(steps) == 1:
        return np.repeat(chords, 2)
    slopes = np.zeros(len(steps) + 1)
    before, after = 2.0 * steps[1:] + steps[:-1], steps[1:] + 2.0 * steps[:-1]
    same = np.sign(chords[1:]) * np.sign(chords[:-1]) > 0.0
    inverse = before[same] / chords[:-1][same] + after[same] / chords[1:][same]
    slopes[1:-1][same] = (before + after)[same] / inverse
    slopes[0] = _end_slope(steps[0], steps[1], chords[0], chords[1])
    slopes[-1] = _end_slope(steps[-1], steps[-2], chords[-1], chords[-2])
    return slopes


def _end_slope(step: float, next_step: float, chord: float, next_chord: float) -> float:
    slope = ((2.0 * step + next_step) * chord - step * next_chord) / (step + next_step)
    if np.sign(slope) != np.sign(chord):
        return 0.0
    turns = np.sign(chord) != np.sign(next_chord)
    return 3.0 * chord if turns and abs(slope) > 3.0 * abs(chord) else slope

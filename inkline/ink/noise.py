"""The noises that hand, nib and edge are made of; `chance` seeds them."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from inkline.geometry.arrays import Floats, Indices

# Modes of a random Fourier series. More make it more nearly Gaussian and cost in proportion; 32
# leave no period to be seen.
N_MODES = 32
# Samples in the shortest wave: straight lines between them keep within (2 pi / 24)^2 / 8 of its
# amplitude.
_SAMPLES_PER_WAVE = 24
# Waves are summed at so many places at a time, in the processor's near memory.
_AT_WORK = 1 << 11


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Waves:
    """Noise along a line: a sum of `N_MODES` cosines of equal power, unit variance.

    Attributes:
        frequencies, phases: of the cosines, `(N_MODES,)`; phases in radians.
        at: places along the line, `(n,)`, monotonous.
    """

    frequencies: Floats
    phases: Floats
    at: Floats


def band_waves(generator: np.random.Generator, at: Floats, *, low: float, high: float) -> Waves:
    """Unit-variance noise with a flat spectrum from `low` to `high`, at the places `at`.

    In cycles per unit of `at`.

    A sum of cosines with stratified random frequencies and random phases (Shinozuka and Deodatis,
    Appl. Mech. Rev. 44(4), 1991, from memory): not periodic, evaluated anywhere, and always the
    same number of draws.
    """
    shares = (np.arange(N_MODES) + generator.random(N_MODES)) / N_MODES
    phases = generator.random(N_MODES) * 2.0 * np.pi
    return Waves(frequencies=low + (high - low) * shares, phases=phases, at=at)


def slow_waves(generator: np.random.Generator, at: Floats, *, corner: float, limit: float) -> Waves:
    """Unit-variance slow noise at the places `at`.

    Its power spectrum is 1 / (1 + (f / corner)^2)^2, cut off at `limit`.

    Frequencies are stratified by power, so that each cosine carries the same share of it.
    """
    shares = (np.arange(N_MODES) + generator.random(N_MODES)) / N_MODES
    phases = generator.random(N_MODES) * 2.0 * np.pi
    grid, power = _wander_power(limit / corner)
    frequencies = corner * np.interp(shares * power[-1], power, grid)
    return Waves(frequencies=frequencies, phases=phases, at=at)


def noises_of(waves: Sequence[Waves]) -> list[Floats]:
    """The noise along each of several lines, summed for all of them at once."""
    if not waves:
        return []
    counts = np.array([len(own.at) for own in waves])
    sums = _sums_of_cosines(
        np.stack([own.frequencies for own in waves]),
        np.stack([own.phases for own in waves]),
        np.concatenate([own.at for own in waves]),
        counts,
    )
    return np.split(sums, np.cumsum(counts)[:-1])


@lru_cache(maxsize=64)
def _wander_power(top: float) -> tuple[Floats, Floats]:
    """Frequencies in corners up to `top`, and the power of slow noise below each."""
    grid = np.linspace(0.0, min(top, 50.0), 1025)
    return grid, 0.5 * (grid / (1.0 + grid**2) + np.arctan(grid))


def wander_noises(
    chances: Floats, at: Floats, counts: Indices, *, corner: float, limit: float
) -> Floats:
    """Noises of `slow_waves`, along several lines laid end to end, `(n,)`.

    Args:
        chances: even numbers from 0 to 1, `(k, 2, N_MODES)`, of which the lines are made.
        at: places of all lines, `(n,)`, monotonous within each.
        counts: how many of them each line has, `(k,)`.
        corner: as of `slow_waves`, as is the next.
        limit: where the spectrum is cut off.
    """
    shares = (np.arange(N_MODES) + chances[:, 0]) / N_MODES
    grid, power = _wander_power(limit / corner)
    frequencies = corner * np.interp(shares * power[-1], power, grid)
    return _sums_of_cosines(frequencies, chances[:, 1] * 2.0 * np.pi, at, counts)


def _sums_of_cosines(frequencies: Floats, phases: Floats, at: Floats, counts: Indices) -> Floats:
    """Sums of cosines of equal power for lines laid end to end; their modes are `(k, N_MODES)`.

    Where a line (monotonous) is finer than the fastest of its modes needs, they are summed on a
    coarser grid and joined by straight lines, which are at most a hundredth of an amplitude off.
    """
    firsts = np.cumsum(counts) - counts
    ends = np.stack((at[firsts], at[firsts + counts - 1]))
    low, high = ends.min(axis=0), ends.max(axis=0)
    coarse = ((high - low) * frequencies.max(axis=1) * _SAMPLES_PER_WAVE).astype(np.intp) + 8
    is_coarse = coarse < counts
    sizes = np.where(is_coarse, coarse, counts)
    starts = np.cumsum(sizes) - sizes
    index = np.arange(sizes.sum()) - np.repeat(starts, sizes)
    places = index * np.repeat((high - low) / np.maximum(sizes - 1, 1), sizes) + np.repeat(
        low, sizes
    )
    places[starts + sizes - 1] = high
    if not is_coarse.all():
        fine = np.repeat(~is_coarse, sizes)
        places[fine] = at[np.repeat(~is_coarse, counts)]
    lines, sums = np.repeat(np.arange(len(sizes)), sizes), np.empty(len(places))
    turns = 2.0 * np.pi * frequencies
    for first in range(0, len(places), _AT_WORK):
        own = lines[first : first + _AT_WORK]
        waves = turns.take(own, axis=0)
        waves *= places[first : first + _AT_WORK, None]
        waves += phases.take(own, axis=0)
        np.cos(waves, out=waves).sum(axis=1, out=sums[first : first + _AT_WORK])
    sums *= np.sqrt(2.0 / N_MODES)
    parts = zip(
        np.split(at, firsts[1:]),
        np.split(places, starts[1:]),
        np.split(sums, starts[1:]),
        is_coarse.tolist(),
        strict=True,
    )
    return np.concatenate(
        [np.interp(mine, grid, own) if rough else own for mine, grid, own, rough in parts]
    )


def _correlated_spectrum(frequencies: Floats, *, correlation: float, exponent: float) -> Floats:
    """Two-sided power spectrum of unit-variance edge noise at `frequencies`.

    In cycles per unit length.

    P(f) = c xi / (1 + (2 pi f xi)^2)^(H + 1/2) with c = 2 sqrt(pi) Gamma(H + 1/2) / Gamma(H), so
    that the integral over all f is 1: the K-correlation model in one dimension (Palasantzas, Phys.
    Rev. B 48, 14472, 1993); H = 1/2 is the exponential autocorrelation.
    """
    factor = _spectrum_factor(exponent)
    return np.asarray(
        factor
        * correlation
        / (1.0 + (2.0 * np.pi * frequencies * correlation) ** 2) ** (exponent + 0.5)
    )


@lru_cache(maxsize=64)
def _spectrum_factor(exponent: float) -> float:
    return 2.0 * math.sqrt(math.pi) * math.gamma(exponent + 0.5) / math.gamma(exponent)


def ring_noise(
    generator: np.random.Generator,
    n_points: int,
    length: float,
    *,
    correlation: float,
    exponent: float,
) -> Floats:
    """Gaussian noise around a closed contour of `length`, at `n_points` equal steps.

    As `ring_noises`. Draws come in order of frequency, so that a contour a little longer keeps its
    noise.
    """
    deviates = generator.standard_normal((1, n_points // 2, 2))
    lengths = np.array([length])
    rows = ring_noises(deviates, n_points, lengths, correlation=correlation, exponent=exponent)
    return np.asarray(rows[0])


def ring_noises(
    deviates: Floats, n_points: int, lengths: Floats, *, correlation: float, exponent: float
) -> Floats:
    """Gaussian noise around closed contours, each at `n_points` equal steps, `(k, n_points)`.

    Its variance is one in the mean of drawings.

    Amplitudes come from `_correlated_spectrum` and are not rescaled by the sample's own deviation;
    the mode that would move the whole contour outwards is left out. The spectrum meant is that of
    the polygon through the points: the straight lines between them pass sinc^4 of a mode's power,
    and the amplitudes make up for it.

    Args:
        deviates: two normal deviates for each mode from the first on, `(k, n_points // 2, 2)`.
        n_points: of each contour.
        lengths: of the contours, `(k,)`.
        correlation: length over which the noise hangs together.
        exponent: roughness exponent.
    """
    return _rings(deviates, _ring_amplitudes(n_points, lengths, correlation, exponent), n_points)


def ring_moods(
    deviates: Floats, levels: Floats, n_points: int, lengths: Floats, *, correlation: float
) -> Floats:
    """As `ring_noises` with exponent 1, but with a level of its own for each whole contour.

    And of unit variance on any contour; `levels` are normal deviates, `(k,)`.

    Around a contour that is short against `correlation` it is nearly constant, and differs from one
    contour to the next.
    """
    amplitudes = _ring_amplitudes(n_points, lengths, correlation, 1.0)
    power = _level_powers(lengths, correlation, 1.0)
    total = power + 2.0 * (amplitudes**2).sum(axis=1) / n_points**2 * 2.0
    waves = _rings(deviates, amplitudes, n_points) + (levels * np.sqrt(power))[:, None]
    return np.asarray(waves / np.sqrt(total)[:, None])


def _rings(deviates: Floats, amplitudes: Floats, n_points: int) -> Floats:
    """The noise around contours from their modes' normal deviates and amplitudes, by rows."""
    spectra = np.zeros((len(deviates), n_points // 2 + 1), dtype=np.complex128)
    spectra[:, 1:] = amplitudes * (deviates[:, :, 0] + 1j * deviates[:, :, 1])
    if n_points % 2 == 0:
        spectra[:, -1] = spectra[:, -1].real * np.sqrt(2.0)
    return np.asarray(np.fft.irfft(spectra, n=n_points, axis=1))


def _ring_amplitudes(n_points: int, lengths: Floats, correlation: float, exponent: float) -> Floats:
    """Amplitude of each mode from the first on, `(k, n_points // 2)`.

    In the scaling of an inverse real Fourier transform.
    """
    turns = np.arange(1, n_points // 2 + 1) / n_points
    power = (
        _correlated_spectrum(
            turns * (n_points / lengths)[:, None], correlation=correlation, exponent=exponent
        )
        / lengths[:, None]
    )
    return np.asarray(np.sqrt(0.5 * power) / np.sinc(turns) ** 2 * n_points)


def _level_powers(lengths: Floats, correlation: float, exponent: float) -> Floats:
    """Power of the mode that is constant around each of some contours."""
    flat = _correlated_spectrum(np.zeros(1), correlation=correlation, exponent=exponent)
    return np.asarray(flat / lengths)


def bent_values(values: Floats, *, knee: Floats | float, limit: Floats | float) -> Floats:
    """`values` unchanged up to `knee` either side of zero, then bending towards `limit`."""
    size = np.abs(values)
    room = np.maximum(np.asarray(limit) - knee, 1e-300)
    over = np.maximum(size - knee, 0.0)
    return np.asarray(
        np.where(size <= knee, values, np.sign(values) * (knee + room * np.tanh(over / room)))
    )

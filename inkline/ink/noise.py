"""The noises that hand, nib and edge are made of; `chance` seeds them."""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np

from inkline.geometry.arrays import Floats

# Modes of a random Fourier series. More make it more nearly Gaussian and cost in proportion; 32
# leave no period to be seen.
_N_MODES = 32
# Samples in the shortest wave: straight lines between them keep within (2 pi / 24)^2 / 8 of its
# amplitude.
_SAMPLES_PER_WAVE = 24


def band_noise(generator: np.random.Generator, at: Floats, *, low: float, high: float) -> Floats:
    """Unit-variance noise with a flat spectrum from `low` to `high`, at the places `at`.

    In cycles per unit of `at`.

    A sum of cosines with stratified random frequencies and random phases (Shinozuka and Deodatis,
    Appl. Mech. Rev. 44(4), 1991, from memory): not periodic, evaluated anywhere, and always the
    same number of draws.
    """
    shares = (np.arange(_N_MODES) + generator.random(_N_MODES)) / _N_MODES
    return _cosines(generator, at, low + (high - low) * shares)


def wander_noise(
    generator: np.random.Generator, at: Floats, *, corner: float, limit: float
) -> Floats:
    """Unit-variance slow noise at the places `at`.

    Its power spectrum is 1 / (1 + (f / corner)^2)^2, cut off at `limit`.

    Frequencies are stratified by power, so that each cosine carries the same share of it.
    """
    shares = (np.arange(_N_MODES) + generator.random(_N_MODES)) / _N_MODES
    grid, power = _wander_power(limit / corner)
    return _cosines(generator, at, corner * np.interp(shares * power[-1], power, grid))


@lru_cache(maxsize=64)
def _wander_power(top: float) -> tuple[Floats, Floats]:
    """Frequencies in corners up to `top`, and the power of slow noise below each."""
    grid = np.linspace(0.0, min(top, 50.0), 1025)
    return grid, 0.5 * (grid / (1.0 + grid**2) + np.arctan(grid))


def _cosines(generator: np.random.Generator, at: Floats, frequencies: Floats) -> Floats:
    """Sum of `_N_MODES` cosines of equal power and random phase, unit variance.

    Where `at` (monotonous) is finer than the fastest of them needs, they are summed on a coarser
    grid and joined by straight lines, which are at most a hundredth of an amplitude off.
    """
    phases = generator.random(_N_MODES) * 2.0 * np.pi
    low, high = sorted((float(at[0]), float(at[-1])))
    n_coarse = int((high - low) * float(frequencies.max()) * _SAMPLES_PER_WAVE) + 8
    places = np.linspace(low, high, n_coarse) if n_coarse < len(at) else at
    waves = np.cos(np.multiply.outer(places, 2.0 * np.pi * frequencies) + phases)
    sums = waves.sum(axis=1) * np.sqrt(2.0 / _N_MODES)
    return np.asarray(sums if places is at else np.interp(at, places, sums))


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

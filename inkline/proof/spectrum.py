"""The spectrum of a rough edge: the model, what measuring takes from it, and a fit to readings.

The model is K-correlation in one dimension (Palasantzas, Phys. Rev. B 48, 14472, 1993), two-sided
and such that its integral over all frequencies is sigma^2:

    P(f) = c sigma^2 xi / (1 + (2 pi f xi)^2)^(H + 1/2),  c = 2 sqrt(pi) Gamma(H + 1/2) / Gamma(H)

H = 1/2 is the exponential autocorrelation. Lengths are in any one unit, frequencies in cycles per
that unit.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import scipy

from inkline.geometry.arrays import Floats

# Integrals over frequency run up to this many waves in the length at hand, in steps of equal ratio
# that are fine enough to follow each of them; beyond, less than a millionth is left.
_TOP_WAVES, _N_FREQUENCIES = 1e3, 200_001
_SMALLEST_EXPONENT, _LARGEST_EXPONENT = 0.05, 2.0


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeSpectrum:
    """Three numbers that say how an edge is rough.

    Attributes:
        sigma: standard deviation of the edge, > 0.
        xi: correlation length, > 0.
        exponent: roughness exponent H, > 0.
    """

    sigma: float
    xi: float
    exponent: float

    def __post_init__(self) -> None:
        if not min(self.sigma, self.xi, self.exponent) > 0.0:
            raise ValueError(
                f"a spectrum needs sigma, xi and exponent above 0, not {self.sigma}, {self.xi} "
                f"and {self.exponent}"
            )

    def power(self, frequencies: Floats) -> Floats:
        """Two-sided power density at `frequencies`."""
        corner = 2.0 * np.pi * np.asarray(frequencies) * self.xi
        factor = (
            2.0
            * np.sqrt(np.pi)
            * np.exp(
                scipy.special.gammaln(self.exponent + 0.5) - scipy.special.gammaln(self.exponent)
            )
        )
        return np.asarray(
            factor * self.sigma**2 * self.xi * (1.0 + corner**2) ** (-self.exponent - 0.5)
        )


def line_fit_share(spectrum: EdgeSpectrum, length: float) -> float:
    """Share of the variance that is left, 0 to 1, when the best line over `length` is taken off.

    The mean and the slope are the first two Legendre polynomials over the length; a wave of
    frequency f has j0(pi f L)^2 and 3 j1(pi f L)^2 of its power in them (spherical Bessel
    functions; derived here).
    """

    def share_in_line(f: Floats) -> Floats:
        return np.asarray(
            scipy.special.spherical_jn(0, np.pi * f * length) ** 2
            + 3.0 * scipy.special.spherical_jn(1, np.pi * f * length) ** 2
        )

    return 1.0 - _weighted_power(spectrum, share_in_line, scale=length)


def mean_fit_share(spectrum: EdgeSpectrum, length: float) -> float:
    """Share of the variance that is left when the mean over `length` is taken off, 0 to 1."""
    return 1.0 - _weighted_power(spectrum, lambda f: np.sinc(f * length) ** 2, scale=length)


def pixel_box_share(spectrum: EdgeSpectrum, pixel: float = 1.0) -> float:
    """Share of the variance that is left, 0 to 1, when an edge is averaged over `pixel` along it.

    Columns of exact coverage do that.
    """
    return _weighted_power(spectrum, lambda f: np.sinc(f * pixel) ** 2, scale=pixel)


def read_share(spectrum: EdgeSpectrum, *, length: float, pixel: float = 1.0) -> float:
    """Share of the variance that columns one `pixel` wide read about the line over `length`.

    What the line takes is slow and what the pixel takes is fast, so the two losses add.
    """
    return line_fit_share(spectrum, length) + pixel_box_share(spectrum, pixel) - 1.0


def hann_periodogram(rows: Floats, *, pitch: float = 1.0) -> tuple[Floats, Floats]:
    """Frequencies and the mean two-sided power density of `rows`, `(k, n)`.

    Samples are `pitch` apart, and each row counts less its own line. The window is Hann's; powers
    are divided by its mean square, so white noise of unit variance reads `pitch` everywhere.
    """
    n_samples = rows.shape[1]
    along = np.linspace(-1.0, 1.0, n_samples)
    basis = np.column_stack((np.ones(n_samples), along))
    residuals = rows - (rows @ np.linalg.pinv(basis).T) @ basis.T
    window = 0.5 - 0.5 * np.cos(2.0 * np.pi * (np.arange(n_samples) + 0.5) / n_samples)
    waves = np.fft.rfft(residuals * window, axis=1)
    power = (np.abs(waves) ** 2).mean(axis=0) * pitch / (window**2).sum()
    return np.fft.rfftfreq(n_samples, d=pitch).astype(np.float64), np.asarray(power)


def fit_spectrum(frequencies: Floats, power: Floats, *, pixel: float = 1.0) -> EdgeSpectrum:
    """The spectrum that makes the mean periodogram `power` at `frequencies` likeliest.

    It is seen through columns one `pixel` wide. Maximum likelihood in Whittle's form: the sum of
    log S + power / S is least, S = P(f) sinc^2(f pixel). A straight line through logarithms would
    be biased; this is not. For given xi and H the best sigma^2 is the mean of power / S.

    Args:
        frequencies: `(n,)`, > 0, only those to be fitted.
        power: mean periodogram at each, > 0.
        pixel: width of the columns, in the unit of length.

    Raises:
        ValueError: fewer than four frequencies, or a power that is not above 0.
    """
    if len(frequencies) < 4 or not (power > 0.0).all():
        raise ValueError(
            f"at least four frequencies, each with a power above 0, are required, not "
            f"{len(frequencies)} from {power.min(initial=0.0)}"
        )
    box = np.sinc(frequencies * pixel) ** 2

    def unlikeliness(parameters: Floats) -> float:
        ratio = power / _unit_power(frequencies, parameters) / box
        return float(np.log(ratio.mean()) - np.log(ratio).mean())

    starts = [
        np.array([np.log(1.0 / (2.0 * np.pi * f)), h])
        for f in np.geomspace(frequencies[0], frequencies[-1], 5)
        for h in (0.5, 1.0)
    ]
    best = min(starts, key=unlikeliness)
    found = scipy.optimize.minimize(
        unlikeliness, best, method="Nelder-Mead", options={"xatol": 1e-5, "fatol": 1e-10}
    ).x
    variance = float((power / _unit_power(frequencies, found) / box).mean())
    return EdgeSpectrum(
        sigma=float(np.sqrt(variance)), xi=float(np.exp(found[0])), exponent=_exponent(found[1])
    )


def _unit_power(frequencies: Floats, parameters: Floats) -> Floats:
    """Power for sigma = 1 and `parameters` = (log xi, H)."""
    return EdgeSpectrum(
        sigma=1.0, xi=float(np.exp(parameters[0])), exponent=_exponent(parameters[1])
    ).power(frequencies)


def _exponent(value: float) -> float:
    return float(np.clip(value, _SMALLEST_EXPONENT, _LARGEST_EXPONENT))


def _weighted_power(
    spectrum: EdgeSpectrum, weight: Callable[[Floats], Floats], *, scale: float
) -> float:
    """Share of the variance that `weight` picks; it is 1 at rest and falls as 1 / (f scale)^2."""
    unit = EdgeSpectrum(sigma=1.0, xi=spectrum.xi, exponent=spectrum.exponent)
    slowest, fastest = 1e-5 / max(scale, spectrum.xi), _TOP_WAVES / scale
    frequencies = np.geomspace(slowest, fastest, _N_FREQUENCIES)
    densities = unit.power(frequencies) * weight(frequencies)
    within = float(np.trapezoid(densities * frequencies, np.log(frequencies)))
    return 2.0 * (within + slowest * float(densities[0]))

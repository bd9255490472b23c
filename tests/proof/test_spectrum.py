"""The edge's spectrum, what measuring takes from it, and the fit.

They are held against published values and independent integrals.
"""

import numpy as np
import pytest
from scipy.integrate import dblquad, quad
from scipy.special import gamma, kv

from inkline.proof.spectrum import (
    EdgeSpectrum,
    fit_spectrum,
    hann_periodogram,
    line_fit_share,
    mean_fit_share,
    pixel_box_share,
    read_share,
)


def synthetic_edges(spectrum, n_edges, n_samples, *, fineness=8, seed=1):
    """Edges of the given spectrum averaged over pixels.

    They are made from `fineness` samples a pixel and cut from rings twice as long.
    """
    rng = np.random.default_rng(seed)
    n_fine = 2 * n_samples * fineness
    power = spectrum.power(np.fft.rfftfreq(n_fine, d=1.0 / fineness)) * n_fine * fineness / 2.0
    waves = (
        rng.normal(size=(n_edges, len(power))) + 1j * rng.normal(size=(n_edges, len(power)))
    ) * np.sqrt(power)
    fine = np.fft.irfft(waves, n=n_fine, axis=1)[:, : n_fine // 2]
    return fine.reshape(n_edges, n_samples, fineness).mean(axis=2)


def autocorrelation(distance, spectrum):
    """2^(1 - H) / Gamma(H) (x / xi)^H K_H(x / xi), the transform of the K-correlation spectrum.

    Source: open documentation of a scattering code.
    """
    x, h = max(abs(distance) / spectrum.xi, 1e-9), spectrum.exponent
    return spectrum.sigma**2 * 2.0 ** (1.0 - h) / gamma(h) * x**h * kv(h, x)


@pytest.mark.parametrize("exponent", [0.25, 0.5, 0.75, 1.0])
def test_spectrum_holds_its_variance(exponent):
    spectrum = EdgeSpectrum(sigma=1.7, xi=6.0, exponent=exponent)
    whole = 2.0 * quad(lambda f: float(spectrum.power(np.array([f]))[0]), 0.0, np.inf, limit=400)[0]
    assert whole == pytest.approx(1.7**2, rel=1e-6)


@pytest.mark.parametrize(
    ("exponent", "factor"), [(0.25, 1.198140), (0.5, 2.0), (0.75, 2.622058), (1.0, np.pi)]
)
def test_spectrum_at_rest_is_its_factor(exponent, factor):
    """c = 2 sqrt(pi) Gamma(H + 1/2) / Gamma(H), worked out beforehand."""
    spectrum = EdgeSpectrum(sigma=2.0, xi=3.0, exponent=exponent)
    assert spectrum.power(np.zeros(1))[0] == pytest.approx(12.0 * factor, rel=1e-6)


@pytest.mark.parametrize("exponent", [0.5, 1.0])
def test_spectrum_falls_by_its_slope(exponent):
    spectrum = EdgeSpectrum(sigma=1.0, xi=5.0, exponent=exponent)
    high = spectrum.power(np.array([50.0, 500.0]))
    assert np.log10(high[1] / high[0]) == pytest.approx(-(2 * exponent + 1), abs=1e-4)


@pytest.mark.parametrize(
    ("length", "mean_share", "line_share"),
    [(10, 0.8200, 0.6776), (20, 0.9050, 0.8198), (50, 0.9608, 0.9231), (100, 0.9802, 0.9607)],
)
def test_fits_take_from_an_exponential_edge_what_was_worked_out(length, mean_share, line_share):
    """Shares of the variance for H = 1/2.

    They were worked out beforehand from the exponential autocorrelation.
    """
    spectrum = EdgeSpectrum(sigma=0.4, xi=1.0, exponent=0.5)
    assert mean_fit_share(spectrum, float(length)) == pytest.approx(mean_share, abs=1e-4)
    assert line_fit_share(spectrum, float(length)) == pytest.approx(line_share, abs=1.5e-4)


def test_mean_of_an_exponential_edge_follows_its_closed_form():
    """1 - (2 xi / L)(1 - (xi / L)(1 - e^(-L / xi)))."""
    ratio = 1.0 / 37.0
    expected = 1.0 - 2.0 * ratio * (1.0 - ratio * (1.0 - np.exp(-1.0 / ratio)))
    assert mean_fit_share(EdgeSpectrum(sigma=1.0, xi=2.0, exponent=0.5), 74.0) == pytest.approx(
        expected, abs=1e-6
    )


@pytest.mark.parametrize("exponent", [0.3, 0.8, 1.0])
def test_line_fit_agrees_with_the_autocorrelation(exponent):
    """The same loss in the other domain, a double integral.

    It is that of R(t - s)(1 + 3 p(t) p(s)), p from -1 to 1 over the length.
    """
    spectrum, length = EdgeSpectrum(sigma=1.0, xi=1.0, exponent=exponent), 12.0

    def lost(s, t):
        return autocorrelation(t - s, spectrum) * (
            1.0 + 3.0 * (2 * s / length - 1) * (2 * t / length - 1)
        )

    # R depends on the distance alone, so one half of the square is enough.
    half = dblquad(lost, 0.0, length, 0.0, lambda t: t, epsabs=1e-6)[0]
    assert line_fit_share(spectrum, length) == pytest.approx(1.0 - 2.0 * half / length**2, abs=2e-4)


@pytest.mark.parametrize("exponent", [0.3, 0.5, 1.0])
def test_pixel_box_agrees_with_the_autocorrelation(exponent):
    """A box of one pixel keeps twice the integral of R(x)(1 - x) over it."""
    spectrum = EdgeSpectrum(sigma=1.0, xi=2.5, exponent=exponent)
    expected = 2.0 * quad(lambda x: autocorrelation(x, spectrum) * (1.0 - x), 0.0, 1.0)[0]
    assert pixel_box_share(spectrum) == pytest.approx(expected, abs=2e-5)


@pytest.mark.parametrize(("xi", "exponent"), [(4.0, 0.5), (10.0, 0.9), (20.0, 0.75)])
def test_synthetic_edges_read_as_computed_and_are_fitted(xi, exponent):
    spectrum = EdgeSpectrum(sigma=0.7, xi=xi, exponent=exponent)
    edges = synthetic_edges(spectrum, 200, 2048)
    frequencies, power = hann_periodogram(edges)
    usable = (frequencies >= 4.0 / 2048) & (frequencies <= 0.35)
    fitted = fit_spectrum(frequencies[usable], power[usable])
    assert fitted.exponent == pytest.approx(exponent, abs=0.05)
    assert fitted.xi == pytest.approx(xi, rel=0.1)
    assert fitted.sigma == pytest.approx(0.7, rel=0.02)
    along = np.linspace(-1, 1, 2048)
    residuals = (
        edges.T
        - np.polynomial.polynomial.polyval(
            along, np.polynomial.polynomial.polyfit(along, edges.T, 1)
        ).T
    )
    assert residuals.std() == pytest.approx(
        0.7 * np.sqrt(read_share(spectrum, length=2048.0)), rel=0.02
    )


def test_fit_finds_the_model_itself_again():
    spectrum = EdgeSpectrum(sigma=3.0, xi=7.0, exponent=0.6)
    frequencies = np.linspace(0.002, 0.35, 300)
    fitted = fit_spectrum(frequencies, spectrum.power(frequencies) * np.sinc(frequencies) ** 2)
    assert (fitted.sigma, fitted.xi, fitted.exponent) == pytest.approx((3.0, 7.0, 0.6), rel=1e-3)


def test_periodogram_of_white_noise_is_flat_and_holds_its_variance():
    rows = np.random.default_rng(3).normal(0, 2.0, (400, 256))
    frequencies, power = hann_periodogram(rows, pitch=0.5)
    assert frequencies[-1] == 1.0
    assert power[8:-8].mean() == pytest.approx(4.0 * 0.5, rel=0.02)
    assert power[8:-8].std() / power[8:-8].mean() < 0.1


def test_periodogram_shows_a_wave_where_it_is_and_no_line():
    along = np.arange(500.0)
    frequencies, power = hann_periodogram(
        (np.sin(2 * np.pi * 0.1 * along) + 5.0 + 0.3 * along)[None, :]
    )
    assert frequencies[np.argmax(power)] == pytest.approx(0.1)
    assert 2 * power.sum() * frequencies[1] == pytest.approx(0.5, rel=0.02)


def test_spectrum_needs_values_above_zero():
    with pytest.raises(
        ValueError, match=r"sigma, xi and exponent above 0, not 1\.0, 0\.0 and 0\.5"
    ):
        EdgeSpectrum(sigma=1.0, xi=0.0, exponent=0.5)


def test_fit_needs_frequencies_and_power():
    with pytest.raises(ValueError, match="at least four frequencies"):
        fit_spectrum(np.array([0.1, 0.2, 0.3]), np.ones(3))
    with pytest.raises(ValueError, match=r"a power above 0, are required, not 5 from 0\.0"):
        fit_spectrum(np.linspace(0.1, 0.3, 5), np.array([1.0, 1.0, 0.0, 1.0, 1.0]))

"""Linear light and sRGB, against the numbers of IEC 61966-2-1."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from inkline.pages.light import (
    light_from_hex,
    linear_from_srgb,
    srgb_bytes_from_light,
    srgb_from_linear,
)


@pytest.mark.parametrize(
    ("light", "srgb"), [(0.5, 188), (0.25, 137), (0.75, 225), (0.0, 0), (1.0, 255)]
)
def test_light_written_as_srgb(light, srgb):
    # IEC 61966-2-1, evaluated by hand: encode(0.5) = 0.735357, encode(0.25) = 0.5371, encode(0.75)
    # = 0.8808.
    assert srgb_bytes_from_light(np.full((1, 1), light, np.float32))[0, 0] == srgb


def test_srgb_read_as_light():
    # IEC 61966-2-1, evaluated by hand: decode(128/255) = 0.215861, decode(0.5) = 0.214041.
    assert linear_from_srgb(np.array([128 / 255, 0.5, 0.02])) == pytest.approx(
        [0.215861, 0.214041, 0.02 / 12.92], abs=1e-6
    )


@settings(max_examples=50, deadline=None)
@given(st.floats(0, 1))
def test_encoding_undoes_decoding(value):
    assert srgb_from_linear(linear_from_srgb(np.array([value])))[0] == pytest.approx(
        value, abs=1e-7
    )


def test_the_table_is_at_most_one_off_the_formula():
    light = np.linspace(0, 1, 20001)
    formula = np.round(255 * srgb_from_linear(light))
    assert np.abs(srgb_bytes_from_light(light.astype(np.float32)) - formula).max() <= 1


@pytest.mark.parametrize("wrong", ["f6f1e7", "#f6f1", "#f6f1e7ff"])
def test_other_colours_are_refused(wrong):
    with pytest.raises(ValueError, match="a colour must be written like"):
        light_from_hex(wrong)

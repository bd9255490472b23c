"""The contrast ratio of WCAG 2 (W3C), against what the standard and its documents say of it."""

import numpy as np
import pytest

from inkline.pages.contrast import contrast_ratio, relative_luminance


def colour(text):
    return np.array(list(bytes.fromhex(text)), np.uint8)


@pytest.mark.parametrize(
    ("one", "other", "ratio", "within"),
    [
        # WCAG 2, "contrast ratio", note 1: ratios range from 1 to 21.
        ("000000", "ffffff", 21.0, 1e-9),
        ("4a7c21", "4a7c21", 1.0, 1e-12),
        # Rule "Text has minimum contrast" (afw4f7) of the W3C's ACT rules, passed example 1 and
        # failed example 1; from memory.
        ("333333", "ffffff", 12.6, 0.05),
        ("aaaaaa", "ffffff", 2.3, 0.05),
        # The greys on either side of 4.5:1 on white, as Understanding 1.4.3 tells why ratios are
        # not rounded; from memory.
        ("767676", "ffffff", 4.54, 0.005),
        ("777777", "ffffff", 4.48, 0.005),
    ],
)
def test_ratios_that_the_standard_states(one, other, ratio, within):
    assert contrast_ratio(colour(one), colour(other)) == pytest.approx(ratio, abs=within)
    assert contrast_ratio(colour(other), colour(one)) == contrast_ratio(colour(one), colour(other))


def test_luminance_is_by_the_shares_of_the_definition():
    """L = 0.2126 R + 0.7152 G + 0.0722 B (WCAG 2, "relative luminance")."""
    pure = np.eye(3, dtype=np.uint8) * 255
    np.testing.assert_allclose(relative_luminance(pure), [0.2126, 0.7152, 0.0722], atol=1e-12)
    assert relative_luminance(colour("0a0a0a")) == pytest.approx(10 / 255 / 12.92, rel=1e-9)

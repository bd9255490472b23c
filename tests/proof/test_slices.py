"""Slices across a rule: which are clear, and where stretches begin."""

import numpy as np
import pytest

from inkline.proof.slices import ExactRule, clear_of, slices_across, stretches

LENGTH, HEIGHT, WIDTH = 2000, 140, 20.83


MIDDLE = 70.3


def rule(slope=0.0, width=WIDTH):
    return ExactRule(
        start=(0.0, MIDDLE), end=(float(LENGTH), MIDDLE + slope * LENGTH), width_px=width
    )


def test_rules_that_stop_short_do_not_cross_but_those_that_run_over_do():
    line = rule()
    slices = slices_across(np.zeros((HEIGHT, LENGTH), np.uint8), line, reach_px=WIDTH)
    far_off = ExactRule(start=(1000, MIDDLE + 80), end=(1000, MIDDLE + 300), width_px=WIDTH)
    near_by = ExactRule(start=(1000, MIDDLE + 30), end=(1000, MIDDLE + 300), width_px=WIDTH)
    beside = ExactRule(start=(0, MIDDLE + 30), end=(LENGTH, MIDDLE + 30), width_px=WIDTH)
    whole = clear_of(slices, line, (), cut_weights=2)
    assert (clear_of(slices, line, (far_off, beside), cut_weights=2) == whole).all()
    assert clear_of(slices, line, (near_by,), cut_weights=2).sum() < whole.sum()


def test_stretches_are_numbered_in_order():
    assert stretches(np.array([True, False, True, True, False, False, True])).tolist() == [
        1,
        0,
        2,
        2,
        0,
        0,
        3,
    ]


def test_rule_needs_length_and_width():
    with pytest.raises(ValueError, match=r"a length and a width above 0 px, not 0\.0 and 3"):
        ExactRule(start=(1, 1), end=(1, 1), width_px=3)

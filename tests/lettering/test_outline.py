"""Outlines as pens give them: numbers that no font has are refused."""

import pytest

from inkline.lettering.outline import FARTHEST_UNITS, refuse_far_points


@pytest.mark.parametrize("far", [1e300, -1e300, 12_345_678, float("nan"), float("inf"), 10**400])
def test_what_lies_beyond_any_font_is_refused(far):
    commands = [("moveTo", ((0, 0),)), ("lineTo", ((far, 5),)), ("endPath", ())]
    with pytest.raises(ValueError, match="must lie within 32767 font units, not at"):
        refuse_far_points(commands, width=500)
    with pytest.raises(ValueError, match="must lie within 32767 font units"):
        refuse_far_points([("addComponent", ("a", (1, 0, 0, 1, far, 0)))], width=500)
    with pytest.raises(ValueError, match="must lie within 32767 font units"):
        refuse_far_points([], width=far)


def test_what_a_font_can_hold_is_not():
    """OpenType keeps coordinates as int16 (glyf table)."""
    far = FARTHEST_UNITS
    refuse_far_points([("moveTo", ((far, -far),)), ("addComponent", ("a", (1,) * 6))], width=far)

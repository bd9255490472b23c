"""Stamps of which not everything can be judged: what still is, and what is said of the rest."""

import numpy as np
import pytest

from inkline.proof.finding import Bounds, Check, bounds_in_style
from inkline.proof.stamp_proof import picture_findings, unjudged_things

SIDE = 300
USUAL = Bounds()
BOX = {"x0": 100, "y0": 100, "x1": 200, "y1": 200, "radius": 0.0}
GLYPH = {"text": "7", "cell": [90, 90, 210, 210], "ink": [130, 120, 170, 180]}


def picture(*boxes):
    grey = np.zeros((SIDE, SIDE), np.uint8)
    for (x0, y0, x1, y1), value in boxes:
        grey[y0:y1, x0:x1] = value
    return grey


def found(grey, dryness=0.0, bounds=USUAL, **geometry):
    """The faults and what was not judged."""
    findings = picture_findings(
        "s", grey, geometry, dryness=dryness, least_edge_px=5.0, bounds=bounds
    )
    unjudged = unjudged_things("s", geometry, dryness=dryness, bounds=bounds)
    return {one.check for one in findings if not one.holds}, [one.sentence for one in unjudged]


def test_blocks_with_numerals_cut_out_are_judged_by_their_places():
    cut = picture(((100, 100, 200, 200), 255), ((130, 120, 170, 180), 0))
    faults, (unjudged,) = found(cut, kind="blocks", boxes=[BOX], glyphs=[GLYPH])
    assert faults == set()
    assert "what is cut out of it" in unjudged
    faults, _ = found(np.roll(cut, 25, axis=1), kind="blocks", boxes=[BOX], glyphs=[GLYPH])
    assert faults == {Check.PLACE, Check.OUTSIDE}
    assert found(cut, kind="blocks", boxes=[BOX])[0] == {Check.AREA}


def test_outlined_blocks_are_judged_by_their_places():
    ring = picture(((100, 100, 200, 200), 255), ((110, 110, 190, 190), 0))
    faults, (unjudged,) = found(ring, kind="blocks", boxes=[BOX | {"line_px": 10.0}])
    assert faults == set()
    assert "the weight of its outlines" in unjudged
    assert found(np.roll(ring, 25, axis=0), kind="blocks", boxes=[BOX | {"line_px": 10.0}])[0] == {
        Check.PLACE,
        Check.OUTSIDE,
    }


def test_lines_under_numerals_are_judged_as_rules():
    line = {"from": [60, 150], "to": [240, 150], "width_px": 6.0}
    drawn = picture(((60, 147, 240, 153), 255))
    assert found(drawn, kind="blocks", lines=[line]) == (set(), [])
    assert found(np.roll(drawn, 3, axis=0), kind="blocks", lines=[line])[0] == {Check.POSITION}


def test_rules_side_by_side_are_judged_only_if_their_ink_can_be_told_apart():
    lines = [{"from": [60, y], "to": [240, y], "width_px": 6.0} for y in (150, 162)]
    drawn = picture(((60, 147, 240, 153), 255), ((60, 159, 240, 165), 255))
    faults, (unjudged,) = found(np.roll(drawn, 2, axis=0), kind="grid", lines=lines)
    assert faults == set()
    assert "can't be told apart" in unjudged
    lines[1] = {"from": [60, 170], "to": [240, 170], "width_px": 6.0}
    apart = picture(((60, 147, 240, 153), 255), ((60, 167, 240, 173), 255))
    assert found(apart, kind="grid", lines=lines) == (set(), [])
    assert found(np.roll(apart, 2, axis=0), kind="grid", lines=lines)[0] == {Check.POSITION}


def test_ink_is_looked_for_as_far_as_the_hand_of_a_style_strays():
    """A rule of 1 px wanders by 4: its mean lies right, unless another's ink may be its own."""
    bounds = bounds_in_style(
        Bounds(), {"hand": {"stray": "1.2 mm"}, "drawn_at": "90 mm"}, side_px=SIDE
    )
    assert bounds.stray_px == pytest.approx(4.0)
    heights = (154, 148, 148, 148, 148, 154)
    boxes = [((60 + 30 * i, y, 90 + 30 * i, y + 1), 255) for i, y in enumerate(heights)]
    lines = [{"from": [60, 150.5], "to": [240, 150.5], "width_px": 1.0}]
    assert found(picture(*boxes), bounds=bounds, kind="grid", lines=lines) == (set(), [])
    assert Check.POSITION in found(picture(*boxes), kind="grid", lines=lines)[0]
    lines.append({"from": [60, 156.5], "to": [240, 156.5], "width_px": 1.0})
    boxes += [((60, 156, 240, 157), 255)]
    faults, (unjudged,) = found(picture(*boxes), bounds=bounds, kind="grid", lines=lines)
    assert faults == set()
    assert "can't be told apart" in unjudged


def test_values_that_are_none_of_a_style_are_no_bounds():
    with pytest.raises(ValueError, match="a length needs a number"):
        bounds_in_style(Bounds(), {"hand": {"stray": "far"}, "drawn_at": "9 mm"}, side_px=SIDE)
    assert bounds_in_style(Bounds(), {}, side_px=SIDE) == Bounds()


def test_two_dates_of_one_cell_are_judged_together():
    both = [
        GLYPH | {"ink": [100, 110, 130, 150]},
        GLYPH | {"text": "30", "ink": [160, 150, 200, 190]},
    ]
    drawn = picture(((100, 110, 130, 150), 255), ((160, 150, 200, 190), 255))
    assert found(drawn, kind="dates", glyphs=both) == (set(), [])
    assert found(picture(((100, 110, 130, 150), 255)), kind="dates", glyphs=both)[0] == {
        Check.PLACE
    }


@pytest.mark.parametrize(
    ("kind", "geometry", "sentence"),
    [
        ("seals", {"glyphs": [GLYPH]}, "the proof knows no stamps of its kind"),
        ("dates", {}, "the manifest says nothing of it"),
    ],
)
def test_what_is_unknown_is_said_and_the_rest_judged(kind, geometry, sentence):
    near_the_edge = picture(((3, 100, 50, 140), 255))
    faults, (unjudged,) = found(near_the_edge, kind=kind, **geometry)
    assert faults == {Check.EDGE}
    assert sentence in unjudged


def test_small_blocks_are_allowed_the_same_rough_edge():
    small, large = BOX | {"x1": 120, "y1": 120}, BOX
    assert found(picture(((100, 100, 121, 122), 255)), kind="blocks", boxes=[small])[0] == set()
    assert found(picture(((100, 100, 105, 120), 255)), kind="blocks", boxes=[small])[0] >= {
        Check.AREA
    }
    assert found(picture(((95, 95, 205, 205), 255)), kind="blocks", boxes=[large])[0] == {
        Check.AREA
    }


def test_blocks_that_stand_close_may_stray_outwards_as_far_as_others():
    """A hand that strays 2 px is no ink outside, though the gap between two blocks is narrower."""
    close = [BOX | {"x1": 149}, BOX | {"x0": 151}]
    drawn = picture(((100, 98, 149, 202), 255), ((151, 100, 202, 200), 255))
    assert found(drawn, kind="blocks", boxes=close)[0] == set()
    far = picture(((100, 100, 149, 200), 255), ((151, 100, 200, 200), 255), ((240, 90, 244, 94), 9))
    assert found(far, kind="blocks", boxes=close)[0] == {Check.OUTSIDE}


def test_the_ends_of_a_marks_line_are_as_free_as_it_is_long():
    line = GLYPH | {"text": "underline", "ink": [100, 150, 200, 156]}
    drawn = picture(((108, 150, 193, 156), 255))
    assert found(drawn, kind="marks", glyphs=[line]) == (set(), [])
    assert found(drawn, kind="words", glyphs=[line])[0] == {Check.PLACE}
    assert found(np.roll(drawn, 15, axis=0), kind="marks", glyphs=[line])[0] == {Check.PLACE}

"""Where things lie, alone and together, on pictures made here.

Student's t against a printed table.
"""

import numpy as np
import pytest

from inkline.proof.finding import Bounds, Check, bounds_for
from inkline.proof.places import Item, grow_apart, near_px, place_findings


def picture(boxes, *, side=400):
    grey = np.zeros((side, side), np.uint8)
    for x0, y0, x1, y1 in boxes:
        grey[y0:y1, x0:x1] = 255
    return grey


def items(boxes, *, near=4.0):
    return [
        Item(
            what=str(number),
            exact=box,
            around=(box[0] - 10, box[1] - 10, box[2] + 10, box[3] + 10),
            near_px=near,
        )
        for number, box in enumerate(boxes)
    ]


def laid_out(n):
    return [
        (20 + 60 * (i % 6), 20 + 60 * (i // 6), 50 + 60 * (i % 6), 50 + 60 * (i // 6))
        for i in range(n)
    ]


def shifts(offsets):
    """The findings of a row of boxes that lie off by whole px."""
    exact = laid_out(len(offsets))
    inked = [
        (x0 + dx, y0, x1 + dx, y1) for (x0, y0, x1, y1), dx in zip(exact, offsets, strict=True)
    ]
    found = place_findings("s", picture(inked), items(exact), what="boxes", bounds=Bounds())
    return [one for one in found if one.check is Check.SHIFT]


def test_chance_is_students_t():
    """Two-sided 0.001 with 30 degrees of freedom is 3.646, and with 4 is 8.610.

    Source: tables of Student's t; from memory.
    """
    for offsets, t in (
        ([-2, -1, 0, 1, 2, 1, -1] * 4 + [0, 2, 1], 3.646),
        ([-1, 0, 1, 2, 0], 8.610),
    ):
        across, down = shifts(offsets)
        limit = 0.5 + t * np.std(offsets, ddof=1) / np.sqrt(len(offsets))
        assert across.share == pytest.approx(abs(np.mean(offsets)) / limit, rel=2e-4)
        assert f"where {limit:.2f} px are allowed" in across.sentence
        assert down.share == 0.0


def test_what_strays_evenly_holds_and_what_is_shifted_does_not():
    stray = [-3, -2, -1, 0, 1, 2, 3] * 4
    assert all(one.holds for one in shifts(stray))
    assert [one.holds for one in shifts([offset + 3 for offset in stray])] == [False, True]


def test_of_few_things_the_mean_says_nothing():
    assert shifts([3, 3, 3, 3]) == []


def test_ink_between_things_belongs_to_the_nearer():
    boxes = [(0.0, 0.0, 10.0, 10.0), (14.0, 0.0, 24.0, 10.0), (0.0, 40.0, 10.0, 50.0)]
    assert grow_apart(boxes, reach_px=[5.0, 5.0, 5.0]) == (
        (-2.0, -2.0, 12.0, 12.0),
        (12.0, -2.0, 26.0, 12.0),
        (-5.0, 35.0, 15.0, 55.0),
    )


def test_small_and_large_things_may_stray_as_far_as_the_hand_does():
    bounds = bounds_for(2500.0)
    assert [near_px(size, bounds=bounds) for size in (20.0, 100.0, 900.0)] == [8.5, 13.0, 30.0]
    assert near_px(5.0, bounds=bounds_for(250.0)) == 2.0


def test_the_arms_of_a_figure_may_be_another_length_each_time():
    """A 3 of the wash, 24.9 px high on a sheet of 600 px, whose arm reached 2.7 px out."""
    assert near_px(24.9, bounds=bounds_for(600.0)) > 2.7

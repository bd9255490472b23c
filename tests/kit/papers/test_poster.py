"""Posters of a year: twelve places on the sheet and apart, in proportions that suit paper."""

from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from inkline.kit.papers.poster import set_poster

parts = st.tuples(st.integers(100, 4000), st.integers(100, 4000))


@settings(max_examples=60, deadline=None)
@given(parts)
def test_twelve_months_lie_on_the_poster_apart_and_under_the_year(part):
    poster = set_poster(part)
    (width, height), (across, down) = poster.size, poster.tile
    assert len(poster.places) == 12
    for x, y in poster.places:
        assert 0 < x <= x + across < width
        assert poster.baseline < y <= y + down < height
    for (x0, y0), (x1, y1) in combinations(poster.places, 2):
        assert abs(x0 - x1) > across or abs(y0 - y1) > down
    assert across / down == pytest.approx(part[0] / part[1], abs=across / down / down + 1e-9)
    assert list(poster.places) == sorted(poster.places, key=lambda place: (place[1], place[0]))


@given(parts)
@settings(max_examples=20, deadline=None)
def test_a_mirrored_poster_is_the_mirror_image(part):
    poster = set_poster(part)
    for (x, y), (mirrored, same) in zip(poster.places, poster.mirror().places, strict=True):
        assert (poster.size[0] - x - poster.tile[0], y) == (mirrored, same)


def test_square_months_stand_three_abreast_and_strips_alone():
    assert len({x for x, _ in set_poster((1000, 1000)).places}) == 3
    assert len({x for x, _ in set_poster((2400, 260)).places}) == 1
    assert len({x for x, _ in set_poster((1000, 1000), columns=6).places}) == 6

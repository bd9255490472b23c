"""Bowls that must read as bowls: an a that is open at the top reads as a u.

Common practice of lettering, no source.
"""

import numpy as np
import pytest

from inkline.lettering.families import family_path
from inkline.lettering.family import open_family


def _distance(point, line):
    """How far a point lies from a polyline."""
    starts, ends = line[:-1], line[1:]
    along = ends - starts
    shares = np.einsum("nk,nk->n", point - starts, along) / np.einsum("nk,nk->n", along, along)
    nearest = starts + np.clip(shares, 0, 1)[:, np.newaxis] * along
    return np.hypot(*(nearest - point).T).min()


@pytest.mark.parametrize("letter", "abdgpq")
def test_both_ends_of_a_bowl_of_porchlight_lie_within_its_stem(letter):
    family = open_family(family_path("porchlight"))
    lines = [stroke.points for stroke in family.glyph(letter).strokes]
    stem, bowl = sorted(lines, key=lambda line: np.ptp(line[:, 0]) / np.ptp(line[:, 1]))
    if letter == "g":  # its tail makes the stem the wider of the two
        bowl, stem = sorted(lines, key=lambda line: np.ptp(line[:, 1]))
    for end in (bowl[0], bowl[-1]):
        assert _distance(end, stem) < family.nominal_stem_em / 2


def test_the_eight_of_porchlight_is_a_ring():
    (ring,) = open_family(family_path("porchlight")).glyph("8").strokes
    assert ring.closed

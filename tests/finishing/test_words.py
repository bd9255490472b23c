"""Text on paths and text that fills a length, by geometry."""

import numpy as np
import pytest

from inkline.artwork.size import PictureSize
from inkline.finishing.marks import ink_runs
from inkline.finishing.request import FinishRequest, open_finish

RING = '<path id="ring" d="M20 60A40 40 0 0 1 100 60" fill="none"/>'


def found(tmp_path, body):
    file = tmp_path / "ring.svg"
    file.write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" width="120" height="80" '
        f'xmlns:xlink="http://www.w3.org/1999/xlink">{RING}{body}</svg>'
    )
    opened = open_finish(FinishRequest(files=(file,), size=PictureSize(ppi=384.0)))
    (runs, _), artwork = ink_runs(opened, opened.sheets[0]), opened.sheets[0].artwork
    return [mark for run in runs for mark in run.drawing.marks], artwork.lacks


def test_letters_stand_upright_on_a_path(tmp_path):
    """On a half circle of 160 px about (240, 240): feet on it, heads outwards."""
    text = '<text font-size="10"><textPath xlink:href="#ring" startOffset="50%" '
    marks, lacks = found(tmp_path, f'{text} text-anchor="middle">lllll</textPath></text>')
    assert not lacks
    assert len(marks) == 5
    for mark in marks:
        radii = np.hypot(*(mark.points - (240.0, 240.0)).T)
        assert radii.min() == pytest.approx(160.0, abs=6.0)
        assert radii.max() - radii.min() > 25.0
        ends = mark.points[[0, -1]] - (240.0, 240.0)
        turns = np.arctan2(ends[:, 0], -ends[:, 1])
        assert abs(turns[0] - turns[1]) < 0.05
    middles = np.array([mark.points.mean(axis=0) for mark in marks])
    assert middles[2, 0] == pytest.approx(240.0, abs=4.0)
    assert np.all(np.diff(middles[:, 0]) > 0)


def test_letters_beyond_a_path_are_not_there(tmp_path):
    text = '<text font-size="10"><textPath href="#ring" startOffset="119">llllll</textPath></text>'
    marks, _ = found(tmp_path, text)
    assert 0 < len(marks) < 5


def test_text_on_no_path_is_told(tmp_path):
    marks, (lack,) = found(tmp_path, '<text><textPath href="#none">l</textPath></text>')
    assert not marks
    assert lack.what == "<textPath>"
    assert "names no path" in lack.sentence


def test_letters_fill_the_length_that_is_asked_for(tmp_path):
    """What is missing lies in equal parts between them, and the last ends where all does."""
    text = '<text x="5" y="40" font-size="10"{}>llll</text>'
    plain, _ = found(tmp_path, text.format(""))
    wide, lacks = found(tmp_path, text.format(' textLength="90"'))
    assert not lacks
    steps = [np.diff(starts(marks)[:, 0]) for marks in (plain, wide)]
    assert np.allclose(np.diff(steps), 0.0, atol=0.5)
    assert steps[1].sum() + steps[0].mean() == pytest.approx(90.0, abs=1.0)


def test_spans_are_centred_together(tmp_path):
    """As one word is, wherever it is cut into spans; one that has a place begins anew."""
    text = '<text x="60" y="40" font-size="10" text-anchor="{}">{}</text>'
    for anchor in ("middle", "end"):
        whole, _ = found(tmp_path, text.format(anchor, "lolo"))
        parts, _ = found(tmp_path, text.format(anchor, "l<tspan>ol</tspan>o"))
        assert starts(parts)[:, 0] == pytest.approx(starts(whole)[:, 0], abs=0.3)
    apart, _ = found(tmp_path, text.format("end", 'll<tspan x="60">ll</tspan>'))
    assert starts(apart)[2:] == pytest.approx(starts(apart)[:2])


def test_letters_that_are_cut_by_a_clip_path_are_cut(tmp_path):
    clip = '<clipPath id="c"><rect width="120" height="37"/></clipPath>'
    text = f'{clip}<g clip-path="url(#c)"><text x="60" y="40" font-size="10">l.</text></g>'
    (mark,), lacks = found(tmp_path, text)
    assert not lacks
    low, high = mark.contours[0].min(axis=0), mark.contours[0].max(axis=0)
    assert high[1] == pytest.approx(4.0 * 37.0, abs=0.01)
    assert high[1] - low[1] > 10.0


def test_lines_are_drawn_along_text(tmp_path):
    marks, _ = found(
        tmp_path, '<text x="5" y="40" font-size="10" text-decoration="underline">ll</text>'
    )
    (line,) = [mark for mark in marks if mark.name.endswith("/line")]
    assert line.points[0] == pytest.approx((20.0, 164.0))
    assert line.points[1, 0] > max(mark.origin[0] for mark in marks)


def extent(mark):
    return np.ptp(mark.points if hasattr(mark, "points") else np.concatenate(mark.contours), axis=0)


def test_letters_are_stretched_where_that_is_asked_for(tmp_path):
    """SVG 2, 11.5: spacingAndGlyphs stretches the letters along with what lies between them."""
    text = '<text x="5" y="40" font-size="10"{}>oo</text>'
    plain, _ = found(tmp_path, text.format(""))
    wide, lacks = found(tmp_path, text.format(' textLength="60" lengthAdjust="spacingAndGlyphs"'))
    assert not lacks
    factors = [extent(two)[0] / extent(one)[0] for one, two in zip(plain, wide, strict=True)]
    assert min(factors) > 2.0
    assert np.ptp(factors) < 1e-6
    assert extent(wide[0])[1] == pytest.approx(extent(plain[0])[1])


def starts(marks):
    return np.array([mark.origin for mark in marks]) / 4.0


def test_letters_stand_at_places_of_their_own(tmp_path):
    """SVG 2, 11.4.2: lists of x, y, dx and dy place the letters one by one."""
    text = '<text x="10 30 60" y="20 25" font-size="10">llll</text>'
    marks, lacks = found(tmp_path, text)
    assert not lacks
    places = starts(marks)
    assert places[:3] == pytest.approx(np.array([[10, 20], [30, 25], [60, 25]]), abs=0.01)
    assert 60.5 < places[3, 0] < 68.0
    plain = starts(found(tmp_path, '<text x="10" y="20" font-size="10">lll</text>')[0])
    moved = found(tmp_path, '<text x="10" y="20" dx="0 2" dy="0 3 -3" font-size="10">lll</text>')
    away = starts(moved[0]) - plain
    assert away == pytest.approx(np.array([[0, 0], [2, 3], [2, 0]]), abs=0.2)


def test_a_raised_span_goes_on_where_the_word_before_it_ends(tmp_path):
    plain = starts(found(tmp_path, '<text x="10" y="40" font-size="10">lll</text>')[0])
    text = '<text x="10" y="40" font-size="10">ll<tspan dx="1" dy="-4">l</tspan></text>'
    raised = starts(found(tmp_path, text)[0])
    assert raised - plain == pytest.approx(np.array([[0, 0], [0, 0], [1, -4]]), abs=0.2)


def test_letters_are_turned_about_their_own_feet(tmp_path):
    """The last turn holds for all letters after it."""
    text = '<text x="10" y="40" font-size="10" rotate="0 90">lll</text>'
    marks, lacks = found(tmp_path, text)
    assert not lacks
    upright, one, other = (extent(mark) for mark in marks)
    assert upright[1] > 3.0 * upright[0]
    assert one[0] > 3.0 * one[1]
    assert other == pytest.approx(one, abs=1e-6)
    assert starts(marks)[:, 1] == pytest.approx(40.0, abs=1.0)

"""Ink that builds up, runs into other ink, or ends firmly, as it is read off pictures."""

import numpy as np
import pytest

from ink_scenes import box, drawing, rule
from inkline.ink.engine import draw
from inkline.ink.style import style_from_dict
from inkline.raster.compose import render


def medium(kind, **more):
    paper = {"medium": kind, "dryness": 0.3, "grain": "40 um", "coarsest": "0.6 mm"} | more
    return style_from_dict({"drawn_at": "84 mm", "paper": paper}, where="test")


def block_in(style, number=3):
    scene = drawing("t", [box("t/b", 20.0, 20.0, 380.0, 280.0)], canvas=(400, 300))
    return render(draw(scene, style, number))[30:270, 30:370]


def test_ink_that_builds_up_covers_less_of_the_grain_where_it_is_darkest():
    """The same share stays bare, but fewer pixels are wholly covered."""
    at_once, slowly = (
        block_in(medium("contact", play=0.6, softness=1.0, build_up=build_up))
        for build_up in (0.0, 0.6)
    )
    assert slowly.mean() == pytest.approx(at_once.mean(), abs=255 * 0.06)
    assert (slowly == 255).mean() < 0.75 * (at_once == 255).mean()


@pytest.mark.parametrize("kind", ["contact", "bristles"])
def test_ink_that_builds_up_still_covers_all_that_is_asked(kind):
    assert block_in(medium(kind, dryness=0.01, build_up=0.8)).mean() > 255 * 0.98


def crossing(**more):
    """Two rules of 60 px that cross, in a wash with a dark rim; 25 px about their crossing."""
    style = medium("wash", dryness=0.4, granulation=0.0, rim=-0.4, **more)
    rules = [
        rule("t/g/1", (20.0, 150.0), (280.0, 150.0), width_px=60.0),
        rule("t/g/2", (150.0, 20.0), (150.0, 280.0), width_px=60.0),
    ]
    grey = render(draw(drawing("t", rules, canvas=(300, 300)), style, 1)).astype(float)
    return grey[110:191, 148:153]


def test_wet_strokes_that_run_into_one_show_no_rim_where_they_meet():
    """Along one rule, through the other: its rims are dark bars unless both merge."""
    apart, merged = (np.ptp(crossing(merging=merging).mean(axis=1)) for merging in (0.0, 1.0))
    assert apart > 30.0
    assert merged < 0.1 * apart


def test_wet_strokes_that_merge_are_darker_together_by_their_overlap():
    plain, darker = (crossing(merging=1.0, overlap=overlap)[38:43].mean() for overlap in (0.0, 0.5))
    through = plain / 255.0
    assert darker / 255.0 == pytest.approx(through + 0.5 * through * (1.0 - through), abs=0.02)


def test_firm_bristles_end_as_full_as_they_are_in_the_middle():
    scene = drawing(
        "t", [rule("t/g/1", (20.0, 40.0), (580.0, 40.0), width_px=30.0)], canvas=(600, 80)
    )
    ends = {}
    for firm in (0.0, 1.0):
        style = medium("bristles", dryness=0.2, firm_ends=firm, granulation=0.2)
        greys = [render(draw(scene, style, number))[30:50].astype(float) for number in range(6)]
        ends[firm] = np.mean([grey[:, 555:575].mean() / grey[:, 200:400].mean() for grey in greys])
    assert ends[0.0] < 0.7
    assert ends[1.0] == pytest.approx(1.0, abs=0.1)


def test_water_runs_back_into_blocks_and_leaves_strokes_alone():
    plain, blooming = medium("wash"), medium("wash", bloom=0.3)
    changes = [
        np.abs(block_in(plain, number).astype(int) - block_in(blooming, number)).max()
        for number in range(8)
    ]
    assert min(changes) == 0
    assert max(changes) > 20
    scene = drawing("t", [rule("t/g/1", (20.0, 40.0), (580.0, 40.0))], canvas=(600, 80))
    assert np.array_equal(*(render(draw(scene, style, 3)) for style in (plain, blooming)))


def test_dust_is_palest_in_the_pits_where_ink_builds_up():
    """Rubbed in evenly it would be one grey; so pale places still show the grain."""
    even, rubbed = (
        block_in(medium("contact", softness=0.1, smear=0.6, build_up=build_up))
        for build_up in (0.0, 0.4)
    )
    pale = [grey[(grey > 8) & (grey < 200)].astype(float) for grey in (even, rubbed)]
    assert np.std(pale[1]) > 1.15 * np.std(pale[0])

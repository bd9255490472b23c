"""Forms of letters: what differs from one drawing to the next, and what holds."""

from dataclasses import replace
from itertools import combinations

import numpy as np
import pytest
from scipy.spatial import cKDTree

from inkline.chance import stream
from inkline.drawing import Cap, Drawing, Layer, Play, Role, Stroke
from inkline.geometry.polyline import turning_angles
from inkline.ink.engine import draw
from inkline.ink.form.forms import drawn_forms
from inkline.lettering.families import family_path
from inkline.lettering.family import open_family
from inkline.lettering.line import marks_from_line
from inkline.lettering.optical import set_numeral
from inkline.proof.numeral import half_ink_outline, outline_distance, stance_change
from inkline.raster.compose import render
from inkline.styles.files import load_style, style_files

FAMILIES = ("scullery", "stairwell", "errand", "porchlight")
EM_PX, PAD = 240.0, 40.0
SHEET_PX = 2500.0


def forms(family, character, number, *, freedom=1.0):
    """The forms of one character in mm about its origin, and its exact strokes."""
    face = open_family(family_path(family))
    size = EM_PX * 84.0 / SHEET_PX
    strokes = [
        (stroke.points * (size, -size), stroke.closed) for stroke in face.glyph(character).strokes
    ]
    play = face.play_of(character)
    assert play is not None
    drawn = drawn_forms(
        strokes,
        replace(play.times(size * freedom), lines=tuple(-size * line for line in play.lines)),
        width=face.nominal_stem_em * size,
        stray=1.0,
        letter=stream(number, character, 0, "form"),
        own=[stream(number, f"{character}/{at}", 0, "form") for at in range(len(strokes))],
    )
    return drawn, strokes, face.nominal_stem_em * size


def every_point(parts):
    return np.concatenate(parts)


@pytest.mark.parametrize("family", FAMILIES)
@pytest.mark.parametrize("character", "0123456789AEHKRaegt&")
def test_top_and_foot_hold_and_nothing_leans(family, character):
    for number in range(5):
        drawn, strokes, _ = forms(family, character, number)
        here = every_point([form.points for form in drawn])
        exact = every_point([points for points, _ in strokes])
        assert np.ptp(here[:, 1]) == pytest.approx(np.ptp(exact[:, 1]), rel=2e-3)
        assert here[:, 1].max() == pytest.approx(exact[:, 1].max(), abs=0.02)


@pytest.mark.parametrize("family", FAMILIES)
def test_what_is_joined_stays_joined(family):
    for character in "45AEFHKRbdghkmnpqt":
        _, strokes, width = forms(family, character, 0)
        ends = [
            (one, at, cKDTree(other).query(points[at])[0])
            for one, (points, _) in enumerate(strokes)
            for at in (0, -1)
            for other in [every_point([p for n, (p, _) in enumerate(strokes) if n != one] or [[]])]
            if len(strokes) > 1
        ]
        for number in range(6):
            drawn, _, _ = forms(family, character, number)
            for one, at, before in ends:
                if before > 0.5 * width:
                    continue
                others = every_point([f.points for n, f in enumerate(drawn) if n != one])
                now = cKDTree(others).query(drawn[one].points[at])[0]
                assert now < before + 0.12 * width, (character, number)


def test_a_ring_closes_now_here_now_there_and_always_closes():
    starts = []
    for number in range(12):
        (form,), ((exact, _),), _ = forms("scullery", "0", number)
        assert np.allclose(form.points[0], form.points[-1], atol=1e-9)
        assert np.abs(turning_angles(form.points)).max() < 0.2
        middle = 0.5 * (exact.min(axis=0) + exact.max(axis=0))
        starts.append(np.degrees(np.arctan2(*(form.points[0] - middle)[::-1])))
    assert np.ptp(starts) > 25.0


def test_an_open_ring_runs_on_over_its_start_elsewhere():
    around = np.linspace(0.0, 2.0 * np.pi + 0.4, 200)
    circle = 2.0 * np.column_stack((np.sin(-around), -np.cos(around)))
    play = Play(waist=0.1, width=0.1, arms=0.2, turns=0.1, closing=1.0, lines=())
    starts = []
    for number in range(12):
        (form,) = drawn_forms(
            [(circle, False)],
            play,
            width=0.7,
            stray=0.3,
            letter=stream(number, "o", 0, "form"),
            own=[stream(number, "o/1", 0, "form")],
        )
        assert form.ring is not None
        assert form.joined == (True, True)
        gap = cKDTree(form.points[: len(form.points) // 2]).query(form.points[-1])[0]
        assert gap < 0.15 * 0.7
        starts.append(np.degrees(np.arctan2(*form.points[0][::-1])))
    assert np.ptp(starts) > 25.0


def test_a_press_of_the_pen_and_a_dash_take_forms_too():
    play = Play(waist=0.1, width=0.1, arms=0.2, turns=0.1, closing=0.5, lines=(0.0,))
    dot, dash = np.array([[0.0, -1.0]]), np.array([[0.0, -0.5], [1.0, -0.5]])
    own = [stream(1, name, 0, "form") for name in "ab"]
    drawn = drawn_forms(
        [(dot, False), (dash, False)],
        play,
        width=0.3,
        stray=0.15,
        letter=stream(1, "c", 0, "form"),
        own=own,
    )
    for form, exact in zip(drawn, (dot, dash), strict=True):
        assert np.isfinite(form.points).all()
        assert np.hypot(*(form.points[0] - exact[0])) <= 0.15 + 1e-9


def numeral(face, text, name):
    line = set_numeral(face, text)
    marks = marks_from_line(
        line,
        name=name,
        role=Role.NUMERAL,
        baseline=(PAD, 220.0),
        size_px=EM_PX,
        width_px=face.nominal_stem_em * EM_PX,
    )
    canvas = (round(line.advance_em * EM_PX + 2 * PAD), 270)
    return Drawing(
        name="t", canvas=canvas, sheet_px=SHEET_PX, layers=(Layer(name="a", marks=marks),)
    )


def bare(style):
    return replace(style, paper=replace(style.paper, dryness=0.0, specks=0.0))


@pytest.mark.parametrize("name", ["round-pen", "quick-note", "dip-pen"])
def test_two_drawings_of_a_numeral_differ_by_a_share_of_the_nib(name):
    """0.15 to 0.5 nib at the 95th percentile of the contours, 0.25 in the median (by eye)."""
    face, style = open_family(family_path("scullery")), bare(load_style(style_files()[name]))
    apart, stances = [], []
    for digit in "0123456789":
        drawings = [numeral(face, digit, f"t/{k}/{digit}") for k in range(4)]
        outlines = [half_ink_outline(render(draw(one, style, 7))) for one in drawings]
        found = [stance_change(one, outlines[0]) for one in outlines[1:]]
        stances += [(c.slant_deg, 100 * c.height_share, 100 * c.baseline_share) for c in found]
        nib = face.nominal_stem_em * EM_PX
        apart += [outline_distance(*pair) / nib for pair in combinations(outlines, 2)]
    assert 0.23 <= np.median(apart) <= 0.36
    assert np.mean(np.array(apart) < 0.15) < 0.16
    assert np.mean(np.array(apart) > 0.5) < 0.08
    # Against another drawing and not the mean of many: the square root of 2 times the bounds.
    slant, height, foot = np.percentile(np.abs(stances), 90.0, axis=0) / np.sqrt(2.0)
    assert slant < 1.6
    assert height < 1.25
    assert foot < 1.0


def test_prints_keep_the_form():
    for name in ("worn-print", "linocut"):
        assert load_style(style_files()[name]).hand.form_play == 0.0


def test_a_moved_letter_keeps_its_form_and_its_strokes_know_each_other():
    face, style = open_family(family_path("scullery")), load_style(style_files()["round-pen"])
    one = numeral(face, "4", "t/a/4")
    moved = replace(
        one,
        layers=(
            Layer(
                name="a",
                marks=tuple(
                    replace(
                        mark,
                        points=mark.points + 31.25,
                        origin=(mark.origin[0] + 31.25, mark.origin[1] + 31.25),
                    )
                    for mark in one.marks
                    if isinstance(mark, Stroke)
                ),
            ),
        ),
    )
    keys = [[master.key for master in draw(d, style, 7).masters] for d in (one, moved)]
    assert keys[0] == keys[1]
    first, second = one.marks
    assert isinstance(second, Stroke)
    longer = replace(second, points=second.points * (1.0, 1.01))
    changed = replace(one, layers=(Layer(name="a", marks=(first, longer)),))
    assert draw(changed, style, 7).masters[0].key != keys[0][0]


def test_a_stroke_without_play_keeps_the_form():
    style = load_style(style_files()["round-pen"])
    stroke = Stroke(
        name="t/5/1",
        group="t/5",
        role=Role.NUMERAL,
        points=np.array([[10.0, 10.0], [10.0, 90.0]]),
        width_px=20.0,
        cap=Cap.ROUND,
        origin=(10.0, 90.0),
    )
    drawing = Drawing(
        name="t", canvas=(100, 100), sheet_px=SHEET_PX, layers=(Layer(name="a", marks=(stroke,)),)
    )
    without = replace(style, hand=replace(style.hand, form_play=0.0))
    assert np.array_equal(
        draw(drawing, style, 3).masters[0].path, draw(drawing, without, 3).masters[0].path
    )

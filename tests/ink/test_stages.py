"""Stages are kept only as long as what they depend on stays, and marks know nothing of each other.

Whatever was drawn before, and beside whatever else, ink is as if it were drawn alone and afresh.
"""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ink_scenes import LIVELY, box, drawing, numeral_stroke, rule
from inkline.drawing import Drawing, Layer, Leaves, Play
from inkline.ink import stages
from inkline.ink.engine import draw
from inkline.ink.stages import Stages
from inkline.ink.style import EXACT, style_from_dict

STYLE = style_from_dict(LIVELY | {"firmness": {"numeral": 0.2}}, where="test")
DRY = style_from_dict({"paper": {"dryness": 0.3, "medium": "contact"}}, where="test", base=STYLE)
SPECKLED = style_from_dict({"paper": {"specks": 6.0}}, where="test", base=STYLE)
TINED = style_from_dict(
    {"nib": {"flex": 0.3, "speeding": 0.1, "contrast": 0.4}}, where="test", base=STYLE
)
WASHED = style_from_dict(
    {"paper": {"dryness": 0.2, "medium": "wash", "overlap": 0.5, "pressing": 0.3}},
    where="test",
    base=STYLE,
)
CHANGES = {
    "none": lambda style: style,
    "hand": lambda style: replace(style, hand=replace(style.hand, drift=0.05)),
    "form": lambda style: replace(style, hand=replace(style.hand, form_play=1.5)),
    "nib": lambda style: replace(style, nib=replace(style.nib, pressure=0.25)),
    "ends": lambda style: replace(style, nib=replace(style.nib, ends="tapered")),
    "edge": lambda style: replace(style, edge=replace(style.edge, raggedness=0.06)),
    "quiet": lambda style: replace(style, edge=EXACT.edge),
    "fillet": lambda style: replace(style, edge=replace(style.edge, fillet=0.1)),
    "paper": lambda style: replace(style, paper=replace(style.paper, dryness=0.15)),
    "firm": lambda style: replace(style, firmness=replace(style.firmness, numeral=0.9)),
    "sheet": lambda style: replace(style, drawn_at=120.0),
    "root": lambda style: replace(style, root="another hand"),
    "exact": lambda style: replace(EXACT, drawn_at=style.drawn_at),
}
PLAY = Play(waist=4.0, width=4.0, arms=4.0, turns=4.0, closing=6.0)


def arc(cx, cy, radius, first, last, n=60):
    angles = np.linspace(first, last, n)
    return np.column_stack((cx + radius * np.cos(angles), cy + radius * np.sin(angles)))


def lettered(name, points, **options):
    return replace(numeral_stroke(name, points, **options), play=PLAY)


MARKS = (
    rule("t/r/1", (60, 60), (660, 60), crossings=(5.0, 300.0, 595.0), room_px=(14.0, 14.0)),
    rule("t/r/2", (60, 30), (60, 470), crossings=(30.0,), room_px=(30.0, 30.0), shared="t/down"),
    rule("t/r/3", (600, 30), (600, 470), shared="t/down"),
    numeral_stroke("t/d/1/1", [(100, 150), (120, 130), (120, 260)], origin=(100, 260)),
    numeral_stroke("t/d/0/1", arc(200, 200, 50, 0, 6.1), origin=(150, 250), closed=True),
    lettered("t/d/7/1", [(300, 140), (370, 140), (320, 260)], origin=(300, 260)),
    lettered("t/d/7/2", [(310, 200), (360, 200)], origin=(300, 260)),
    lettered("t/d/6/1", arc(450, 200, 40, -1.0, 6.4), origin=(410, 240)),
    numeral_stroke("t/d/i/2", [(520, 140), (520, 140)], origin=(520, 260)),
    replace(
        numeral_stroke("t/d/2/1", arc(150, 380, 50, 3.2, 6.2), origin=(100, 430)),
        profile=np.linspace(0.3, 1.4, 60),
    ),
    box("t/b/1", 300, 320, 420, 440),
)
LAYOUT = drawing("t/all", MARKS)


def facts(master):
    """All that a master holds of its lines, as bytes."""
    arrays = (*master.contours, master.path, master.times, master.pressures, master.levels)
    tooth = () if master.tooth is None else (master.tooth.spine, master.tooth.levels)
    return master.key, [np.ascontiguousarray(array).tobytes() for array in (*arrays, *tooth)]


@pytest.mark.parametrize("style", [STYLE, DRY, SPECKLED], ids=["wet", "dry", "speckled"])
@given(names=st.lists(st.sampled_from(sorted(CHANGES)), min_size=1, max_size=3))
@settings(max_examples=5, deadline=None)
def test_ink_is_as_if_drawn_afresh_whatever_was_kept(style, names):
    held = Stages(LAYOUT, 11)
    held.inked(style)
    for name in names:
        style = CHANGES[name](style)
        got, fresh = held.inked(style), draw(LAYOUT, style, 11)
        assert got.fillet_px == fresh.fillet_px
        for mine, theirs in zip(got.masters, fresh.masters, strict=True):
            assert facts(mine) == facts(theirs)
            assert (mine.tooth is None) == (theirs.tooth is None)


@pytest.fixture(scope="module")
def alone():
    return {
        mark.name: facts(draw(drawing("t/all", with_letter(mark)), STYLE, 11).masters[0])
        for mark in MARKS
    }


def with_letter(mark):
    """A mark and, after it, the other strokes of its letter, whose form it shares."""
    others = [other for other in MARKS if other.group == mark.group and other is not mark]
    return [mark, *others] if getattr(mark, "play", None) else [mark]


@given(
    order=st.permutations([mark for mark in MARKS if not mark.name.startswith("t/d/7")]),
    count=st.integers(2, 9),
)
@settings(max_examples=12, deadline=None)
def test_no_mark_depends_on_those_drawn_beside_it(alone, order, count):
    mates = order[:count]
    for mark, master in zip(mates, draw(drawing("t/all", mates), STYLE, 11).masters, strict=True):
        assert facts(master) == alone[mark.name]


def crowd(count):
    """Marks like those of the layout, under other names, and before the last of them its own."""
    mates = [
        replace(mark, name=f"u{round_}/{mark.name}", group=f"u{round_}/{mark.group}")
        for round_ in range(count // len(MARKS) + 1)
        for mark in MARKS
    ][: count - len(MARKS)]
    return [*mates[:-1], *MARKS, mates[-1]]


@pytest.mark.parametrize(
    ("style", "count"),
    [(STYLE, 400), (TINED, 100), (DRY, 60), (WASHED, 60)],
    ids=["wet", "tined", "dry", "washed"],
)
def test_a_mark_among_hundreds_is_what_it_is_alone(style, count):
    among = draw(drawing("t/all", crowd(count)), style, 11)
    assert among.n_drawn == count
    masters = {master.key: master for master in among.masters}
    for mark in MARKS:
        own = draw(drawing("t/all", with_letter(mark)), style, 11).masters[0]
        other = masters[own.key]
        assert facts(other) == facts(own)
        assert getattr(other.tooth, "level", None) == getattr(own.tooth, "level", None)


def refuse(*_):
    raise AssertionError("this stage was to be kept")


@pytest.mark.parametrize(
    ("change", "stays"),
    [
        (
            "none",
            ["drawn_way", "moved_shape", "swept_strokes", "inked_outlines", "finished_master"],
        ),
        ("edge", ["drawn_way", "moved_shape", "swept_strokes"]),
        ("paper", ["drawn_way", "moved_shape", "swept_strokes", "inked_outlines"]),
        ("fillet", ["drawn_way", "moved_shape", "swept_strokes", "inked_outlines"]),
        ("nib", ["drawn_way", "moved_shape"]),
    ],
)
def test_a_change_keeps_the_stages_before_it(monkeypatch, change, stays):
    layout = drawing("t/all", [*MARKS[2:5], *MARKS[9:]])
    held = Stages(layout, 11)
    held.inked(DRY)
    for name in stays:
        monkeypatch.setattr(stages, name, refuse)
    inked = held.inked(CHANGES[change](DRY))
    assert inked.n_drawn == (0 if change == "none" else len(layout.layers[0].marks))


def test_what_is_cut_out_has_stages_of_its_own():
    whole = Drawing(
        name="t/cut",
        canvas=(700, 500),
        sheet_px=2500.0,
        layers=(
            Layer(name="blocks", marks=(MARKS[-1],)),
            Layer(name="numerals", marks=(MARKS[3],), leaves=Leaves.WHITE),
        ),
    )
    held = Stages(whole, 11)
    held.inked(STYLE, cut_style=EXACT)
    got = held.inked(STYLE, cut_style=CHANGES["nib"](STYLE))
    fresh = draw(whole, STYLE, 11, cut_style=CHANGES["nib"](STYLE))
    assert got.n_drawn == 1
    assert [facts(one) for one in got.masters] == [facts(one) for one in fresh.masters]
    assert np.array_equal(got.cut.marks[0].contours[0], fresh.cut.marks[0].contours[0])


def test_masters_that_are_kept_elsewhere_are_not_drawn():
    first = draw(LAYOUT, STYLE, 11)
    kept = {master.key: master for master in first.masters[2:]}
    again = Stages(LAYOUT, 11).inked(STYLE, kept=kept)
    assert again.n_drawn == 2
    assert again.masters[2] is first.masters[2]

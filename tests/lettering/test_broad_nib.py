"""A broad nib: widths by direction, cut ends, and the families that are written with one."""

import numpy as np
import pytest

from inkline.drawing import Role
from inkline.lettering.broad_nib import BroadNib, stroke_by_nib
from inkline.lettering.errors import FamilyError
from inkline.lettering.face import GlyphStroke
from inkline.lettering.families import family_path
from inkline.lettering.family import open_family
from inkline.lettering.line import ink_bounds, marks_from_line, set_line
from inkline.lettering.swap import swapped_face

STEM = 0.1
NIB = BroadNib(angle_deg=30.0, thin=0.2)


def stroke(*points, closed=False):
    return GlyphStroke(points=np.array(points, dtype=np.float64), closed=closed)


def nib_lib(**nib):
    return {"inkline.nominalStem": 90, "inkline.nib": {"angle": 30, "thin": 0.2} | nib}


def test_a_stroke_is_as_wide_as_the_edge_seen_across_it():
    """An edge of length 1 and thickness t at 30 degrees, by its projections.

    Upright: hypot(cos 30, t sin 30); level: hypot(sin 30, t cos 30); across the edge 1; along it t.
    """
    along = np.array([[0.0, 1.0], [1.0, 0.0], [-0.5, np.sqrt(0.75)], [np.sqrt(0.75), 0.5]])
    upright = np.hypot(np.sqrt(0.75), 0.2 * 0.5)
    expected = np.array([upright, np.hypot(0.5, 0.2 * np.sqrt(0.75)), 1.0, 0.2]) / upright
    np.testing.assert_allclose(NIB.shares(along), expected)


def test_a_turned_nib_keeps_its_width():
    """Turned by 60 degrees to an upright edge, a stem is the nib's thin side."""
    (share,) = NIB.turned_to(90.0).shares(np.array([[0.0, -1.0]]))
    assert share == pytest.approx(0.2 / np.hypot(np.sqrt(0.75), 0.1))


def test_an_upright_stroke_has_the_stem_and_a_level_one_less():
    written = stroke_by_nib(stroke((0, 0.7), (0, 0)), NIB, stem_em=STEM)
    np.testing.assert_allclose(written.widths_em, STEM)
    level = stroke_by_nib(stroke((0, 0), (0.5, 0)), NIB, stem_em=STEM)
    assert level.widths_em.max() < 0.65 * STEM


def test_widths_change_where_the_stroke_turns_and_nowhere_else():
    written = stroke_by_nib(stroke((0, 0.7), (0, 0), (0.5, 0)), NIB, stem_em=STEM)
    away = np.abs(written.points - (0, 0)).max(axis=1) > STEM
    stems, levels = away & (written.points[:, 1] > 0), away & (written.points[:, 0] > 0)
    np.testing.assert_allclose(written.widths_em[stems], STEM)
    assert np.ptp(written.widths_em[levels]) == pytest.approx(0.0, abs=1e-12)
    assert np.abs(np.diff(written.widths_em)).max() < 0.2 * STEM


def test_the_path_stays_where_it_is():
    corners = np.array([(0, 0.7), (0.1, 0.2), (0.5, 0)])
    written = stroke_by_nib(stroke(*corners), NIB, stem_em=STEM)
    for corner in corners:
        assert np.abs(written.points - corner).max(axis=1).min() < 1e-12


def test_points_that_rounding_left_apart_are_one():
    written = stroke_by_nib(stroke((0, 0), (0.3, 0), (np.nextafter(0.3, 1), 0)), NIB, stem_em=STEM)
    assert np.isfinite(written.widths_em).all()
    assert np.hypot(*np.diff(written.points, axis=0).T).min() > 1e-9


@pytest.mark.parametrize("angle", [0.0, 20.0])
def test_the_edge_cuts_ends_at_its_own_angle(angle):
    """The two corners of a cut end lie on a line at the angle of the edge."""
    nib = BroadNib(angle_deg=angle, thin=0.2)
    for degrees in (-90.0, -65.0, -115.0, 90.0):
        way = np.array([np.cos(np.deg2rad(degrees)), np.sin(np.deg2rad(degrees))])
        cut, right = nib.cut(way), np.array([way[1], -way[0]])
        across = 2.0 * right + cut.lean * way
        if abs(cut.lean) < 1.0:
            slope = np.rad2deg(np.arctan2(across[1], across[0])) % 180.0
            assert min(abs(slope - angle), 180.0 - abs(slope - angle)) < 1e-6


def test_feet_stand_where_a_round_pen_would_leave_them():
    for degrees in (-90.0, -70.0, -110.0):
        way = np.array([np.cos(np.deg2rad(degrees)), np.sin(np.deg2rad(degrees))])
        cut, right = BroadNib(angle_deg=0.0, thin=0.5).cut(way), np.array([way[1], -way[0]])
        sides = (
            right * side + way * (cut.reach + max(side * cut.lean, 0.0)) for side in (1.0, -1.0)
        )
        assert min(side[1] for side in sides) == pytest.approx(-1.0)


def test_a_slanting_stroke_s_ink_reaches_to_the_corners_of_its_cuts(tmp_path, line, write_family):
    """An edge that is level cuts a stroke at 60 degrees level: as wide there as 90 / sin 60."""
    lib = nib_lib(angle=0, thin=1.0)
    foot = (100 + round(610 / np.sqrt(3)), 45)
    glyphs = {"H": (600, "H", line((100, 655), foot))}
    family = open_family(write_family(tmp_path / "nib.ufo", glyphs, lib=lib))
    x0, y0, x1, y1 = ink_bounds(set_line(family, "H"), size_px=1000.0, width_px=90.0)
    assert (y0, y1) == pytest.approx((-700.0, 0.0), abs=1.0)
    beyond = 45.0 / np.tan(np.pi / 3) + 45.0 / np.sin(np.pi / 3)
    assert (x0, x1) == pytest.approx((100.0 - beyond, foot[0] + beyond), abs=4.0)


def test_strokes_along_the_edge_are_cut_square():
    assert BroadNib(angle_deg=0.0, thin=0.5).cut(np.array([1.0, 0.0])).lean == 0.0


def test_a_press_stays_round():
    dot = stroke((0.1, 0.1), (0.1, 0.1))
    assert stroke_by_nib(dot, NIB, stem_em=STEM) is dot


def test_a_closed_stroke_has_no_ends():
    ring = stroke((0, 0), (0.5, 0), (0.5, 0.5), (0, 0.5), closed=True)
    written = stroke_by_nib(ring, NIB, stem_em=STEM)
    assert written.closed
    assert written.cuts is None
    assert len(written.widths_em) == len(written.points)


@pytest.fixture
def nib_family(tmp_path, line, write_family):
    glyphs = {
        "H": (300, "H", line((150, 655), (150, 45))),
        "seven": (500, "7", line((50, 655), (400, 655))),
    }
    return open_family(write_family(tmp_path / "nib.ufo", glyphs, lib=nib_lib(), info={}))


def test_a_family_with_a_nib_is_written_by_it(nib_family):
    (mark,) = marks_from_line(
        set_line(nib_family, "H"),
        name="h",
        role=Role.WORD,
        baseline=(0.0, 0.0),
        size_px=1000.0,
        width_px=90.0,
    )
    np.testing.assert_allclose(mark.profile, 1.0)
    assert mark.cuts == tuple(cut.mirrored for cut in nib_family.glyph("H").strokes[0].cuts)
    assert nib_family.digit_height_em < 0.7  # the 7's bar is thinner than a stem
    box = ink_bounds(set_line(nib_family, "H"), size_px=1000.0, width_px=90.0)
    np.testing.assert_allclose(box, [105.0, -700.0, 195.0, 0.0])


def test_contours_may_have_angles_of_their_own_also_within_components(tmp_path, write_family):
    def draw(pen):
        for x in (100, 300):
            pen.beginPath()
            pen.addPoint((x, 655), "move")
            pen.addPoint((x, 45), "line")
            pen.endPath()

    def compose(pen):
        pen.addComponent("N", (1, 0, 0, 1, 20, 0))
        pen.addComponent("N", (1, 0, 0, 1, 500, 0))

    folder = write_family(
        tmp_path / "nib.ufo",
        {"N": (400, "N", draw), "NN": (900, "M", compose)},
        lib=nib_lib(),
    )
    glif = folder / "glyphs" / "N_.glif"
    glif.write_text(
        glif.read_text().replace(
            "</glyph>",
            "<lib><dict><key>inkline.nibAngles</key><array><integer>75</integer>"
            "<real>30</real></array></dict></lib></glyph>",
        )
    )
    strokes = open_family(folder).glyph("M").strokes
    widths = [float(one.widths_em.mean()) for one in strokes]
    assert widths == pytest.approx([widths[0], 0.09, widths[0], 0.09])
    assert widths[0] < 0.05
    glif.write_text(glif.read_text().replace("<real>30</real>", ""))
    with pytest.raises(FamilyError, match="one angle in degrees for each of its 2 contours"):
        open_family(folder)


@pytest.mark.parametrize("nib", [{"thin": 0.0}, {"thin": 1.5}, {"angle": "steep"}])
def test_a_nib_that_cannot_write_is_refused(tmp_path, line, write_family, nib):
    folder = write_family(
        tmp_path / "nib.ufo", {"H": (300, "H", line((150, 655), (150, 45)))}, lib=nib_lib(**nib)
    )
    with pytest.raises(FamilyError, match=r"inkline\.nib as an angle in degrees and thin"):
        open_family(folder)


def test_a_glyph_of_such_a_family_keeps_its_shares_in_another(nib_family, tmp_path):
    face = swapped_face(
        open_family(family_path("scullery")),
        {"7": f"{tmp_path / 'nib.ufo'}:seven"},
        folder=tmp_path,
    )
    (bar,) = face.glyph("7").strokes
    (own,) = nib_family.glyph("7").strokes
    np.testing.assert_allclose(
        bar.widths_em / face.nominal_stem_em, own.widths_em / nib_family.nominal_stem_em
    )

"""Stroke families, that which comes along and those that the tests write.

They are written as UFO folders with fontTools.
"""

import re

import numpy as np
import pytest

from inkline.lettering import families as families_module
from inkline.lettering.errors import FamilyError, MissingGlyphError
from inkline.lettering.face import FLATTENING_EM, Figures
from inkline.lettering.families import family_names, family_path
from inkline.lettering.family import open_family


def test_measures_come_from_the_information(tiny_family):
    family = open_family(tiny_family)
    assert family.name == "Tiny"
    assert family.is_drawn_with_pen
    assert family.cap_height_em == 0.7
    assert family.nominal_stem_em == 0.09
    assert family.digit_height_em == pytest.approx(0.7)  # the 7's skeleton at 655 and half a stem


def test_open_contours_are_strokes_in_their_direction(tiny_family):
    glyph = open_family(tiny_family).glyph("1")
    assert glyph.advance_em == 0.3
    assert glyph.contours == ()
    (stroke,) = glyph.strokes
    assert not stroke.closed
    np.testing.assert_allclose(stroke.points, [[0.15, 0.655], [0.15, 0.045]])


def test_space_has_an_advance_and_no_ink(tiny_family):
    glyph = open_family(tiny_family).glyph(" ")
    assert glyph.advance_em == 0.25
    assert not glyph.has_ink


def test_a_lone_point_is_a_press_of_the_pen(tmp_path, line, write_family):
    folder = write_family(tmp_path / "dot.ufo", {"period": (200, ".", line((100, 45)))})
    (stroke,) = open_family(folder).glyph(".").strokes
    np.testing.assert_allclose(stroke.points, [[0.1, 0.045], [0.1, 0.045]])


def test_a_line_of_no_length_is_a_press_of_the_pen(tmp_path, line, write_family):
    folder = write_family(tmp_path / "dot.ufo", {"period": (200, ".", line((100, 45), (100, 45)))})
    (stroke,) = open_family(folder).glyph(".").strokes
    np.testing.assert_allclose(stroke.points, [[0.1, 0.045], [0.1, 0.045]])


def test_closed_contour_with_implied_points_is_a_circle_of_parabolas(tmp_path, write_family):
    """Four off-curve points alone: TrueType's implied on-curve points lie in their middles.

    Source: OpenType, glyf table.
    """

    def draw(pen):
        pen.beginPath()
        for point in [(0, 0), (600, 0), (600, 600), (0, 600)]:
            pen.addPoint(point)
        pen.endPath()

    family = open_family(write_family(tmp_path / "o.ufo", {"O": (600, "O", draw)}))
    (stroke,) = family.glyph("O").strokes
    assert stroke.closed
    assert not np.array_equal(stroke.points[0], stroke.points[-1])
    x0, y0 = stroke.points.min(axis=0)
    x1, y1 = stroke.points.max(axis=0)
    np.testing.assert_allclose([x0, y0, x1, y1], [0, 0, 0.6, 0.6], atol=1e-12)
    x, y = stroke.points.T
    area = 0.5 * abs(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1)))
    # A parabola arc over a corner of legs h cuts off h^2 / 6 (Archimedes): 4 corners with h = 0.3.
    assert area == pytest.approx(0.36 - 4 * 0.3**2 / 6, abs=4 * FLATTENING_EM)


def test_cubics_keep_within_the_tolerance(tmp_path, write_family):
    """A quarter of a circle by the usual cubic leaves the circle by 2.7e-4 of its radius.

    Source: Dokken and others, 1990.
    """

    def draw(pen):
        k = 600 * 0.5522847498
        pen.beginPath()
        pen.addPoint((600, 0), "move")
        pen.addPoint((600, k))
        pen.addPoint((k, 600))
        pen.addPoint((0, 600), "curve")
        pen.endPath()

    family = open_family(write_family(tmp_path / "c.ufo", {"C": (600, "C", draw)}))
    (stroke,) = family.glyph("C").strokes
    radii = np.hypot(*stroke.points.T)
    assert radii.min() > 0.6 - FLATTENING_EM
    assert radii.max() == pytest.approx(0.6 * 1.000273, abs=2 * FLATTENING_EM)


def test_components_are_drawn_in_place(tmp_path, line, write_family):
    def draw(pen):
        pen.addComponent("bar", (1, 0, 0, 1, 0, 0))
        pen.addComponent("bar", (0, 2, -1, 0, 300, 10))

    glyphs = {"bar": (300, "1", line((0, 0), (0, 100))), "cross": (300, "+", draw)}
    family = open_family(write_family(tmp_path / "x.ufo", glyphs))
    first, second = family.glyph("+").strokes
    np.testing.assert_allclose(first.points, [[0, 0], [0, 0.1]])
    np.testing.assert_allclose(second.points, [[0.3, 0.01], [0.2, 0.01]])


def test_kerning_goes_by_glyph_then_group(tmp_path, line, write_family):
    """Exceptions come before groups, as the UFO 3 specification lists them (kerning.plist)."""
    glyphs = {name: (500, name, line((0, 0), (0, 700))) for name in "AVTO"}
    groups = {"public.kern1.A": ["A"], "public.kern2.V": ["V", "T"]}
    kerning = {
        ("public.kern1.A", "public.kern2.V"): -80,
        ("A", "T"): -50,
        ("O", "public.kern2.V"): 12,
    }
    family = open_family(write_family(tmp_path / "k.ufo", glyphs, groups=groups, kerning=kerning))
    placed, advance = family.placed_glyphs("AVOTAT", figures=Figures.LINING)
    steps = np.diff([item.x_em for item in placed])
    np.testing.assert_allclose(steps, [0.42, 0.5, 0.512, 0.5, 0.45])
    assert advance == pytest.approx(placed[-1].x_em + 0.5)


def test_every_missing_character_is_named_once(tiny_family):
    family = open_family(tiny_family)
    assert family.has("1")
    assert not family.has("É")
    with pytest.raises(
        MissingGlyphError,
        match=re.escape('Tiny has no glyph for "É" (U+00C9 LATIN CAPITAL LETTER E'),
    ) as caught:
        family.placed_glyphs("1É7É!", figures=Figures.LINING)
    assert caught.value.characters == ("É", "!")
    assert caught.value.face == "Tiny"
    with pytest.raises(MissingGlyphError, match=re.escape('"x" (U+0078 LATIN SMALL LETTER X)')):
        family.glyph("x")
    with pytest.raises(MissingGlyphError, match=re.escape("for (U+0007)")):
        family.glyph("\a")


def test_missing_heights_are_measured(tmp_path, line, write_family):
    glyphs = {"H": (500, "H", line((50, 0), (50, 620)))}
    folder = write_family(tmp_path / "h.ufo", glyphs)
    text = (
        (folder / "fontinfo.plist")
        .read_text()
        .replace("<key>capHeight</key>", "")
        .replace("<integer>700</integer>", "")
    )
    (folder / "fontinfo.plist").write_text(text)
    family = open_family(folder)
    assert family.cap_height_em == pytest.approx(0.665)
    assert family.digit_height_em == pytest.approx(0.665)  # no 7 to measure


def test_no_folder(tmp_path):
    with pytest.raises(
        FamilyError, match=r"must be a UFO folder, but there is no folder .*gone\.ufo"
    ):
        open_family(tmp_path / "gone.ufo")


def test_a_folder_that_is_no_ufo(tmp_path):
    with pytest.raises(
        FamilyError, match=r"is not a UFO folder that can be read: .*metainfo"
    ) as caught:
        open_family(tmp_path)
    assert caught.value.path == str(tmp_path)


@pytest.mark.parametrize(
    "damage",
    [
        b"",
        b"<glyph",
        b"\xff\xfe\x00",
        b"<glyph name='one' format='2'><outline><contour><point/></contour></outline></glyph>",
    ],
)
def test_a_broken_glyph_names_its_file(tiny_family, damage):
    (tiny_family / "glyphs" / "one.glif").write_bytes(damage)
    with pytest.raises(FamilyError, match=r"one\.glif cannot be read as a glyph: \S") as caught:
        open_family(tiny_family)
    assert caught.value.path.endswith("one.glif")
    assert "\n" not in str(caught.value)


def test_a_component_of_nothing_names_the_file(tmp_path, write_family):
    glyphs = {"A": (300, "A", lambda pen: pen.addComponent("nothing", (1, 0, 0, 1, 0, 0)))}
    with pytest.raises(FamilyError, match=r"A_\.glif cannot be read as a glyph: .*nothing"):
        open_family(write_family(tmp_path / "a.ufo", glyphs))


def test_a_component_of_itself_names_the_file(tmp_path, write_family):
    glyphs = {"A": (300, "A", lambda pen: pen.addComponent("A", (1, 0, 0, 1, 0, 0)))}
    with pytest.raises(FamilyError, match=r"A_\.glif cannot be read as a glyph"):
        open_family(write_family(tmp_path / "a.ufo", glyphs))


def test_a_broken_list_of_glyphs(tiny_family):
    (tiny_family / "glyphs" / "contents.plist").write_text("<plist")
    with pytest.raises(FamilyError, match=r"has a list of glyphs that cannot be read"):
        open_family(tiny_family)


def test_broken_information(tiny_family):
    (tiny_family / "fontinfo.plist").write_text("<plist>")
    with pytest.raises(FamilyError, match=r"fontinfo\.plist cannot be read"):
        open_family(tiny_family)


def test_broken_lib(tiny_family):
    (tiny_family / "lib.plist").write_text("<plist>")
    with pytest.raises(FamilyError, match=r"lib\.plist cannot be read"):
        open_family(tiny_family)


def test_broken_kerning(tiny_family):
    (tiny_family / "kerning.plist").write_text("<plist>")
    with pytest.raises(FamilyError, match=r"has kerning or groups that cannot be read"):
        open_family(tiny_family)


def test_units_are_needed(tmp_path, line, write_family):
    folder = write_family(tmp_path / "u.ufo", {"A": (300, "A", line((0, 0), (0, 9)))})
    (folder / "fontinfo.plist").unlink()
    with pytest.raises(
        FamilyError, match=r"fontinfo\.plist must give unitsPerEm, a number above 0"
    ):
        open_family(folder)


@pytest.mark.parametrize(
    "lib",
    [{}, {"inkline.nominalStem": "90"}, {"inkline.nominalStem": 0}, {"inkline.nominalStem": True}],
)
def test_the_nominal_stem_is_needed(tmp_path, lib, line, write_family):
    folder = write_family(tmp_path / "s.ufo", {"A": (300, "A", line((0, 0), (0, 9)))}, lib=lib)
    with pytest.raises(
        FamilyError,
        match=r"lib\.plist must give inkline\.nominalStem, the designed stem in font units",
    ):
        open_family(folder)


@pytest.mark.parametrize("bounce", [-1, 101, "20", True])
def test_a_bounce_is_a_length_within_a_tenth_of_the_em(tmp_path, bounce, line, write_family):
    glyphs, lib = {"A": (300, "A", line((0, 0), (0, 9)))}, {"inkline.nominalStem": 90}
    with pytest.raises(
        FamilyError,
        match=r"lib\.plist must give inkline\.bounce, how far letters stand off their lines, in "
        "font units between 0 and 100, not",
    ):
        open_family(write_family(tmp_path / "b.ufo", glyphs, lib=lib | {"inkline.bounce": bounce}))
    held = write_family(tmp_path / "c.ufo", glyphs, lib=lib | {"inkline.bounce": 25})
    assert open_family(held).bounce_em == 0.025


def test_own_families_are_found_by_name():
    assert "scullery" in family_names()
    assert family_path("scullery").name == "scullery.ufo"
    for name in ("nobody", "../glyphs/scullery", ""):
        with pytest.raises(
            FamilyError, match=r"there is no stroke family '.*'; there is .*scullery"
        ):
            family_path(name)


def test_own_family_sets_what_calendars_need(scullery):
    needed = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ.-' "
    assert [character for character in needed if not scullery.has(character)] == []
    for character in needed.strip():
        glyph = scullery.glyph(character)
        assert glyph.strokes
        assert not glyph.contours
    assert scullery.cap_height_em == pytest.approx(scullery.digit_height_em, rel=0.02)


def test_figures_make_no_difference(tiny_family):
    family = open_family(tiny_family)
    places = [
        [item.x_em for item in family.placed_glyphs("17", figures=figures)[0]]
        for figures in Figures
    ]
    assert places[0] == places[1] == places[2]


def test_licence_text_is_handed_on(tmp_path, line, write_family):
    glyphs = {"A": (300, "A", line((0, 0), (0, 9)))}
    folder = write_family(tmp_path / "l.ufo", glyphs, info={"openTypeNameLicense": "Ours, MIT"})
    assert open_family(folder).licence == "Ours, MIT"


def test_installed_families_are_found_within_the_package(tmp_path, monkeypatch, tiny_family):
    """A wheel carries the families inside the package, where there is no checkout beside it."""
    package = tmp_path / "site" / "inkline"
    (package / "data" / "glyphs").mkdir(parents=True)
    tiny_family.rename(package / "data" / "glyphs" / "tiny.ufo")
    monkeypatch.setattr(families_module, "__file__", str(package / "lettering" / "families.py"))
    assert family_names() == ("tiny",)
    assert open_family(family_path("tiny")).name == "Tiny"


def test_no_families_at_all(tmp_path, monkeypatch):
    monkeypatch.setattr(
        families_module,
        "__file__",
        str(tmp_path / "site" / "inkline" / "lettering" / "families.py"),
    )
    with pytest.raises(
        FamilyError, match=r"there is no stroke family 'scullery'; there is none at all"
    ):
        family_path("scullery")


def test_many_missing_characters_are_told_in_one_short_sentence():
    sentence = str(MissingGlyphError("\u0966\u0967\u0968\u0969\u096a\u096b", face="Tiny"))
    assert sentence.endswith(
        '"\u0968" (U+0968 DEVANAGARI DIGIT TWO) and 3 more: \u0969 \u096a \u096b'
    )
    assert len(str(MissingGlyphError(map(chr, range(0x900, 0x980)), face="Tiny"))) < 250

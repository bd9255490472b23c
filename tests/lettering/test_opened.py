"""Faces that are opened once, and again as soon as anything in their files has changed."""

import os

import pytest
from fontTools.ttLib import TTFont
from fontTools.ttLib.tables.DefaultTable import DefaultTable

from inkline.lettering.errors import FamilyError, FontError
from inkline.lettering.family import open_family
from inkline.lettering.font import open_font
from inkline.lettering.opened import _MOST, OpenedFaces, mark_of_folder


def glyph_file(folder):
    """The file of the glyph for 1, which is 300 units wide."""
    (glyph,) = [path for path in folder.rglob("*.glif") if 'name="one"' in path.read_text()]
    assert 'width="300"' in glyph.read_text()
    return glyph


def test_a_family_that_nobody_touched_is_the_same(tiny_family):
    assert open_family(tiny_family) is open_family(str(tiny_family))


def test_a_changed_glyph_is_seen(tiny_family):
    before = open_family(tiny_family)
    glyph = glyph_file(tiny_family)
    glyph.write_text(glyph.read_text().replace('width="300"', 'width="310"'))
    after = open_family(tiny_family)
    assert (before.glyph("1").advance_em, after.glyph("1").advance_em) == (0.3, 0.31)


def test_a_glyph_replaced_by_one_of_its_age_and_size_is_seen(tiny_family):
    open_family(tiny_family)
    glyph = glyph_file(tiny_family)
    facts, other = glyph.stat(), glyph.with_suffix(".new")
    other.write_text(glyph.read_text().replace('width="300"', 'width="310"'))
    os.utime(other, ns=(facts.st_atime_ns, facts.st_mtime_ns))
    other.replace(glyph)
    assert open_family(tiny_family).glyph("1").advance_em == 0.31


def test_a_family_that_broke_is_refused_and_one_that_was_mended_is_read(tiny_family):
    before = open_family(tiny_family)
    information = tiny_family / "fontinfo.plist"
    sound = information.read_bytes()
    information.write_bytes(sound[:40])
    with pytest.raises(FamilyError, match=r"fontinfo\.plist cannot be read"):
        open_family(tiny_family)
    information.write_bytes(sound)
    assert open_family(tiny_family).characters == before.characters


def test_places_are_told_apart_from_wherever_one_looks(tmp_path, monkeypatch, line, write_family):
    for name, width in (("one", 300), ("two", 310)):
        (tmp_path / name).mkdir()
        write_family(tmp_path / name / "a.ufo", {"A": (width, "A", line((0, 0), (0, 9)))})
    advances = []
    for name in ("one", "two"):
        monkeypatch.chdir(tmp_path / name)
        advances.append(open_family("a.ufo").glyph("A").advance_em)
    assert advances == [0.3, 0.31]


def test_a_font_is_the_same_while_its_bytes_are(tmp_path, font_files):
    file = tmp_path / "a.ttf"
    file.write_bytes(font_files["roboto"].read_bytes())
    before = open_font(file)
    os.utime(file, ns=(1, 1))
    assert open_font(file) is before
    changed = TTFont(file)
    changed["hmtx"]["one"] = (changed["head"].unitsPerEm, 0)
    changed.save(file)
    assert open_font(file).glyph("1").advance_em == 1.0
    file.write_bytes(file.read_bytes()[:1000])
    with pytest.raises(FontError, match="is not a font that can be read"):
        open_font(file)


def test_the_face_asked_for_longest_ago_is_let_go():
    faces, opened = OpenedFaces(), []

    def ask(place, mark=1):
        return faces.face_at(place, mark, lambda: opened.append(place) or object())

    first = ask(0)
    for place in range(1, _MOST):
        ask(place)
    assert ask(0) is first
    ask(_MOST)
    assert ask(0) is first
    assert opened == [*range(_MOST), _MOST]
    ask(1)
    assert opened[-1] == 1


def test_a_face_that_was_let_go_is_opened_anew():
    faces = OpenedFaces()
    first = faces.face_at("here", 1, object)
    faces.let_go(first)
    assert faces.face_at("here", 1, object) is not first


def test_a_broken_table_is_named_every_time(tmp_path, build_font, box):
    """A table that could be read half only must not pass for a whole one when it is asked again."""

    def breaking(builder):
        builder.font["OS/2"] = DefaultTable("OS/2")
        builder.font["OS/2"].data = b"\0\4"

    draws = {"A": lambda pen: box(pen, 0, 0, 9, 9)}
    path = build_font(tmp_path / "b.ttf", draws, {"A": "A"}, finish=breaking)
    for _ in range(3):
        with pytest.raises(FontError, match=r"OS/2 table that cannot be read"):
            _ = open_font(path).cap_height_em


def test_what_cannot_be_marked_is_opened_every_time():
    faces = OpenedFaces()
    assert faces.face_at("here", None, object) is not faces.face_at("here", None, object)


def test_a_folder_with_a_link_to_nowhere_has_no_mark(tmp_path):
    assert mark_of_folder(tmp_path) == ()
    (tmp_path / "lost").symlink_to(tmp_path / "nowhere")
    assert mark_of_folder(tmp_path) is None

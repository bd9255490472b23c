"""Fast files of families: the letters of the folder, never older ones, and never an error."""

import os
from concurrent.futures import ThreadPoolExecutor

import numpy as np
import pytest
from fontTools.ufoLib import UFOReader
from fontTools.ufoLib.kerning import lookupKerningValue

from inkline.folder.cache import cache_folder
from inkline.lettering.errors import FamilyError
from inkline.lettering.families import family_names, family_path
from inkline.lettering.family import StrokeFamily, open_family
from inkline.lettering.ufo import fast
from inkline.lettering.ufo.fast import read_ufo
from inkline.lettering.ufo.source import UfoSource, source_from_files


@pytest.fixture(autouse=True)
def shelf(tmp_path, monkeypatch):
    """An empty cache folder, and where families lie in it."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "caches"))
    monkeypatch.setenv("LOCALAPPDATA", str(tmp_path / "caches"))
    return cache_folder() / "families"


@pytest.fixture
def readings(monkeypatch):
    """How often the folder itself was read."""
    folders = []

    def read(folder):
        folders.append(folder)
        return source_from_files(folder)

    monkeypatch.setattr(fast, "source_from_files", read)
    return folders


def values_of(source: UfoSource):
    """All that was read, types included: 1 and 1.0 differ, and so do lists and tuples."""
    recordings = {
        name: (one.width, one.commands, one.nib_angles, one.widths, one.entries, one.exit)
        for name, one in source.recordings.items()
    }
    own = (source.info, source.lib, source.kerning, source.groups, recordings, source.names)
    return repr([dict(one) for one in own])


@pytest.mark.parametrize("name", family_names())
def test_a_fast_file_holds_what_the_folder_says(name, readings):
    folder = family_path(name)
    assert values_of(read_ufo(folder)) == values_of(read_ufo(folder))
    assert values_of(read_ufo(folder)) == values_of(source_from_files(folder))
    assert readings == [folder]


def test_a_letter_redrawn_without_a_trace_of_time_is_read_anew(tiny_family, readings):
    """The file keeps its size and its time."""
    read_ufo(tiny_family)
    file = tiny_family / "glyphs" / "one.glif"
    facts, text = file.stat(), file.read_text()
    file.write_text(text.replace("655", "654"))
    os.utime(file, ns=(facts.st_atime_ns, facts.st_mtime_ns))
    assert file.stat().st_size == facts.st_size
    assert read_ufo(tiny_family).recordings["one"].commands[0] == ("moveTo", ((150, 654),))
    assert len(readings) == 2


def test_a_glyph_that_is_taken_away_is_gone(tiny_family):
    read_ufo(tiny_family)
    contents = tiny_family / "glyphs" / "contents.plist"
    text = contents.read_text()
    contents.write_text(text.replace("<key>one</key>", "").replace("<string>one.glif</string>", ""))
    assert "one" not in read_ufo(tiny_family).recordings


@pytest.mark.parametrize(
    "damaged", [b"", b"{}", b"\x00" * 400, lambda data: data[:-1], lambda data: data + b" "]
)
def test_a_damaged_fast_file_is_made_again(damaged, tiny_family, shelf, readings):
    read_ufo(tiny_family)
    (file,) = shelf.iterdir()
    whole = file.read_bytes()
    file.write_bytes(damaged(whole) if callable(damaged) else damaged)
    assert values_of(read_ufo(tiny_family)) == values_of(source_from_files(tiny_family))
    assert file.read_bytes() == whole
    assert len(readings) == 2


def test_where_nothing_can_be_kept_the_folder_is_read(tiny_family, shelf, readings):
    shelf.parent.parent.mkdir()
    shelf.parent.write_text("a file where a folder should be")
    assert {"one", "seven", "space"} == set(read_ufo(tiny_family).recordings)
    read_ufo(tiny_family)
    assert len(readings) == 2


def test_other_code_makes_no_use_of_it(tiny_family, monkeypatch, readings):
    read_ufo(tiny_family)
    monkeypatch.setattr(fast, "_digest_of_code", lambda: b"other")
    read_ufo(tiny_family)
    assert len(readings) == 2


def test_a_lib_that_json_cannot_say_is_not_kept(tmp_path, line, write_family, shelf):
    lib = {"inkline.nominalStem": 90, "inkline.other": b"data"}
    glyphs = {"one": (300, "1", line((150, 655), (150, 45)))}
    folder = write_family(tmp_path / "odd.ufo", glyphs, lib=lib)
    assert read_ufo(folder).lib == lib
    assert not shelf.exists()


def test_a_broken_folder_is_told_each_time(tiny_family, shelf):
    (tiny_family / "glyphs" / "one.glif").write_text("<glyph")
    for _ in range(2):
        with pytest.raises(FamilyError, match=r"one\.glif cannot be read as a glyph"):
            read_ufo(tiny_family)
    assert not shelf.exists()


def test_a_folder_that_changes_while_it_is_read_is_not_kept(tiny_family, shelf, monkeypatch):
    def read(folder):
        source = source_from_files(folder)
        (folder / "glyphs" / "one.glif").write_text("saved meanwhile")
        return source

    monkeypatch.setattr(fast, "source_from_files", read)
    read_ufo(tiny_family)
    assert not shelf.exists()


def test_several_at_once_all_get_the_letters(tiny_family, shelf):
    with ThreadPoolExecutor(8) as pool:
        read = list(pool.map(read_ufo, [tiny_family] * 24))
    assert len({values_of(one) for one in read}) == 1
    assert len([file for file in shelf.iterdir() if not file.name.startswith(".")]) == 1


@pytest.mark.parametrize("name", ["scullery", "stairwell"])
def test_glyphs_and_kerning_are_those_of_the_folder(name):
    """Kerning as fontTools looks it up in the folder's own tables."""
    folder = family_path(name)
    read_ufo(folder)
    family: StrokeFamily = open_family(folder)
    with UFOReader(str(folder)) as reader:
        kerning, groups = reader.readKerning(), reader.readGroups()
    names = [family.glyph(character).name for character in "AVTLoey17."]
    for pair in ((one, other) for one in names for other in names):
        expected = lookupKerningValue(pair, kerning, groups) / family.units_per_em
        assert np.isclose(family._kern(*pair), expected, atol=1e-12)

"""Where values stand, and where the files lie that they name."""

from pathlib import Path

import pytest

from inkline.source.places import (
    FileLine,
    fault_at,
    has_file,
    has_folder,
    path_from_folder,
    place_of,
)

TABLE = FileLine(source="base.toml", line=4, folder=Path("lines"))
PLACES = {"formats.tall": TABLE, "title": FileLine(source="own.toml", line=2)}


@pytest.mark.parametrize("key", ["formats.tall", "formats.tall.rule", "formats.tall.shift.17"])
def test_a_value_stands_where_the_nearest_table_around_it_does(key):
    assert place_of(key, PLACES) == TABLE
    fault = fault_at(key, "a\nb", places=PLACES, source="own.toml")
    assert (fault.source, fault.line, fault.key, fault.sentence) == ("base.toml", 4, key, "a\\nb")


@pytest.mark.parametrize("key", ["formats", "formats.wide", ""])
def test_what_stands_nowhere_has_no_line(key):
    assert place_of(key, PLACES) is None
    fault = fault_at(key, "a", places=PLACES, source="own.toml")
    assert (str(fault), fault.line) == ("own.toml: a", 0)


def test_a_place_is_seen_from_a_folder_unless_it_is_whole(tmp_path, monkeypatch):
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("USERPROFILE", str(tmp_path))
    assert path_from_folder(Path("lines"), "mine.toml") == Path("lines/mine.toml")
    assert path_from_folder(Path("lines"), str(tmp_path)) == tmp_path
    assert path_from_folder(Path("lines"), "~/mine.toml") == tmp_path / "mine.toml"
    unknown = "~nobody-of-this-name/mine.toml"
    assert path_from_folder(Path("lines"), unknown) == Path("lines") / unknown


def test_files_and_folders_are_told_apart_and_impossible_places_are_neither(tmp_path):
    file = tmp_path / "a"
    file.write_bytes(b"")
    assert (has_file(file), has_folder(file)) == (True, False)
    assert (has_file(tmp_path), has_folder(tmp_path)) == (False, True)
    for impossible in (Path("a\0b"), Path("a" * 5000)):
        assert (has_file(impossible), has_folder(impossible)) == (False, False)

"""The user's cache folder: what is kept there, and that nothing about it is ever an error."""

import os
from pathlib import Path

import pytest

from inkline.folder import cache
from inkline.folder.cache import cache_folder, keep_bytes, kept_bytes

posix = pytest.mark.skipif(os.name != "posix", reason="its folder is told by another variable")


@pytest.fixture(autouse=True)
def folder(tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    monkeypatch.setenv("LOCALAPPDATA", str(tmp_path))
    return tmp_path / "inkline"


def test_what_is_kept_comes_back(folder):
    assert cache_folder() == folder
    assert kept_bytes("letters", "a") is None
    keep_bytes("letters", "a", b"one")
    keep_bytes("letters", "a", b"two")
    assert kept_bytes("letters", "a") == b"two"
    assert [file.name for file in (folder / "letters").iterdir()] == ["a"]


@posix
@pytest.mark.parametrize("said", ["", "not/absolute"])
def test_without_a_folder_of_its_own_it_is_in_the_home(said, monkeypatch, tmp_path):
    """XDG Base Directory Specification: all paths must be absolute, others are ignored."""
    monkeypatch.setenv("XDG_CACHE_HOME", said)
    monkeypatch.setenv("HOME", str(tmp_path))
    assert cache_folder() in {tmp_path / ".cache/inkline", tmp_path / "Library/Caches/inkline"}


def test_without_a_home_nothing_is_kept(monkeypatch):
    def no_home():
        raise RuntimeError("Could not determine home directory.")

    monkeypatch.delenv("XDG_CACHE_HOME")
    monkeypatch.delenv("LOCALAPPDATA")
    monkeypatch.setattr(Path, "home", no_home)
    assert cache_folder() is None
    keep_bytes("letters", "a", b"one")
    assert kept_bytes("letters", "a") is None


def test_what_cannot_be_written_is_not_kept(folder):
    folder.write_text("a file where a folder should be")
    keep_bytes("letters", "a", b"one")
    assert kept_bytes("letters", "a") is None


def test_a_shelf_keeps_the_newest(folder, monkeypatch):
    monkeypatch.setattr(cache, "_MOST_FILES", 3)
    for age, name in enumerate("edcba"):
        keep_bytes("letters", name, b"one")
        if (folder / "letters" / name).exists():
            os.utime(folder / "letters" / name, (1000 + age, 1000 + age))
    keep_bytes("letters", "f", b"one")
    assert {file.name for file in (folder / "letters").iterdir()} == {"f", "a", "b"}

"""A small kit for tests: the whole way through, on a canvas so small that it costs little."""

import hashlib
import os
import re
from pathlib import Path

import pytest

from inkline.kit import build
from inkline.kit.recipe import recipe_from_text
from inkline.kit.workshop import Workshop

SMALL = """
version = 1
title = "S"
number = 7
[canvas]
side = "160 px"
margin = "2.4 %"
[formats.standard]
[words]
years = [2027]
"""


@pytest.fixture
def recipe_of():
    """The small recipe with pieces of its text replaced."""

    def changed(**pieces):
        text = SMALL
        for key, value in pieces.items():
            text = re.sub(rf"^{key} = .*$", f"{key} = {value}", text, flags=re.MULTILINE)
        return recipe_from_text(text, source="small.toml", folder=Path())

    return changed


@pytest.fixture
def contents():
    """Checksums of all files of a folder by their paths in it."""

    def sums(folder):
        files = (path for path in Path(folder).rglob("*") if path.is_file())
        return {path.relative_to(folder).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest() for path in files}

    return sums


@pytest.fixture
def small(recipe_of):
    return recipe_of()


@pytest.fixture(autouse=True)
def _no_waiting_for_the_disk(monkeypatch):
    """Nobody cuts the power here, and a test may sync a thousand times."""
    monkeypatch.setattr(os, "fsync", lambda _: None)


@pytest.fixture(autouse=True)
def _one_workshop(monkeypatch):
    """Open each recipe once a test run: a workshop holds nothing that a build changes."""

    def opened(recipe):
        key = repr(recipe)
        if key not in _SHOPS:
            _SHOPS[key] = Workshop(recipe)
        return _SHOPS[key]

    opened.drawn = Workshop.drawn
    monkeypatch.setattr(build, "Workshop", opened)


_SHOPS = {}

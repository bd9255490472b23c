"""Settings for all tests, and a small kit.

It goes the whole way through, on a canvas so small that it costs little.

Where CI is set, hypothesis tries the same examples each time, so that a change is judged by itself
and not by chance.
"""

import hashlib
import os
import re
from pathlib import Path

import pytest
from hypothesis import settings

import faces
from inkline.kit.papers.sheet import Sheet
from inkline.kit.product import Papers
from inkline.kit.recipe.loading import recipe_from_text

settings.register_profile("same each time", derandomize=True)
if os.environ.get("CI"):
    settings.load_profile("same each time")

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


def pytest_xdist_auto_num_workers(config):
    """No more processes than files that were asked for, and none but this one for a single file.

    A file's tests stay together, and a process of its own takes seconds to start. None leaves the
    number to the plugin, which takes one process a core.
    """
    places = {Path(argument.split("::")[0]) for argument in config.args}
    if not all(place.is_file() for place in places):
        return None
    return 0 if len(places) == 1 else min(len(places), os.cpu_count() or 1)


@pytest.fixture(scope="session")
def scullery():
    """The stroke family whose letters a kit has when its recipe asks for no others."""
    return faces.scullery()


@pytest.fixture(scope="session")
def arabic():
    """A font whose letters join and run from right to left."""
    return faces.arabic()


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
        return {
            path.relative_to(folder).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
            for path in files
        }

    return sums


@pytest.fixture
def small(recipe_of):
    return recipe_of()


@pytest.fixture(scope="session", autouse=True)
def _own_caches(tmp_path_factory):
    """What is kept between runs lies apart from the user's, and from other processes of tests."""
    with pytest.MonkeyPatch.context() as patch:
        folder = str(tmp_path_factory.mktemp("caches"))
        patch.setenv("XDG_CACHE_HOME", folder)
        patch.setenv("LOCALAPPDATA", folder)
        yield


@pytest.fixture(autouse=True)
def _no_waiting_for_the_disk(monkeypatch):
    """Nobody cuts the power here, and a test may sync a thousand times."""
    monkeypatch.setattr(os, "fsync", lambda _: None)


@pytest.fixture
def quick_papers():
    """Papers that name what would stand on them, in place of sheets whose drawing takes long."""

    def sheet(_, job):
        return Sheet(name=job.name, picture=b"sheet " + repr(job.names).encode())

    def guide(kit, *_):
        return f"{kit.recipe.title}: {len(kit.plans)}".encode()

    return Papers(sheet=sheet, guide=guide)

"""The first family, whole and with letters that its maker had not come to."""

import shutil

import pytest

from inkline.lettering.families import family_path
from inkline.lettering.family import open_family


@pytest.fixture(scope="module")
def scullery():
    return open_family(family_path("scullery"))


@pytest.fixture
def lacking(tmp_path):
    """The first family without its 8, z and é, as if its maker had not come to them yet."""
    folder = tmp_path / "mine.ufo"
    shutil.copytree(family_path("scullery"), folder)
    for name in ("eight", "z", "eacute"):
        file = folder / "glyphs" / f"{name}.glif"
        file.write_text(
            "".join(
                line
                for line in file.read_text().splitlines(keepends=True)
                if "<unicode" not in line
            )
        )
    return open_family(folder)

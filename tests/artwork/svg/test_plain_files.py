"""A hundred plain files that others have drawn, against resvg's picture of them.

They are the drawings of heroicons 2.14.0 (MIT), which lie in that package; none is kept here.
"""

import zipfile
from importlib import resources

import numpy as np
import pytest
from scipy.ndimage import binary_dilation

from svg_drawn import as_resvg_draws, drawn, misses

N_FILES = 100
AS_WIDE = 4
"""How many times as large as they say they are drawn, so that their thin lines show."""


def plain_files():
    """The texts of a hundred files, as many of each kind, by their names."""
    with (
        (resources.files("heroicons") / "heroicons.zip").open("rb") as packed,
        zipfile.ZipFile(packed) as archive,
    ):
        names = sorted(name for name in archive.namelist() if name.endswith(".svg"))
        some = [names[round(index)] for index in np.linspace(0, len(names) - 1, N_FILES)]
        return {name: archive.read(name).decode() for name in some}


FILES = plain_files()


def in_black(text):
    """The file as it is used: in black, and larger."""
    view = text.split('viewBox="', 1)[1].split('"')[0].split()
    size = f'width="{AS_WIDE * float(view[2])}" height="{AS_WIDE * float(view[3])}" '
    return text.replace("<svg ", f"<svg {size}", 1).replace("currentColor", "#000")


def test_there_are_a_hundred():
    assert len(FILES) == N_FILES
    assert len({name.split("/")[0] for name in FILES}) >= 3


@pytest.mark.parametrize("name", FILES)
def test_a_plain_file_is_drawn_as_by_another_renderer(name, tmp_path):
    text = in_black(FILES[name])
    ours, theirs = drawn(text, tmp_path), as_resvg_draws(text)
    off = np.abs(ours - theirs).max(axis=2)
    ink = (ours[..., 3] > 2) | (theirs[..., 3] > 2)
    assert off[binary_dilation(ink, iterations=2)].mean() < 4.0
    assert not misses(ours, theirs)
    assert not misses(theirs, ours)

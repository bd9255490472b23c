"""Specimens of families: what they show, read back from their pixels."""

import io
import shutil

import numpy as np
from PIL import Image

from inkline.ink.style import EXACT
from inkline.lettering.families import family_path
from inkline.lettering.family import open_family
from inkline.sampler.families_sheet import specimen_png


def test_a_specimen_shows_every_family_in_ink(scullery, lacking):
    one = np.array(
        Image.open(io.BytesIO(specimen_png([scullery], style=EXACT, number=1, captions=scullery)))
    )
    two = np.array(
        Image.open(
            io.BytesIO(specimen_png([scullery, lacking], style=EXACT, number=1, captions=scullery))
        )
    )
    assert one.shape[1] == two.shape[1] == 2480
    assert two.shape[0] > 1.8 * one.shape[0]
    paper, ink = one[0, 0], np.array([0x27, 0x34, 0x3D])
    assert (one[:100] == paper).all()
    dark = (np.abs(one.astype(int) - ink) < 3).all(axis=2)
    assert 0.02 < dark.mean() < 0.3
    assert not dark[:, :100].any()
    assert not dark[:, -100:].any()


def test_a_specimen_draws_what_there_is(tmp_path, scullery):
    folder = tmp_path / "one.ufo"
    shutil.copytree(family_path("scullery"), folder)
    for file in (folder / "glyphs").glob("*.glif"):
        if file.name != "one.glif":
            file.write_text(
                "".join(
                    line
                    for line in file.read_text().splitlines(keepends=True)
                    if "<unicode" not in line
                )
            )
    heard = []
    specimen_png(
        [open_family(folder)], style=EXACT, number=1, captions=scullery, listener=heard.append
    )
    assert [(step.name, step.done, step.total) for step in heard] == [("Scullery", 1, 1)]

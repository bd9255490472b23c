"""What each command pulls in before it does anything: nothing slow that it may never want."""

import json
import subprocess
import sys

import pytest

SLOW = frozenset(
    {
        "PIL",
        "babel",
        "contourpy",
        "cssselect2",
        "fontTools.cffLib",
        "fontTools.ttLib",
        "fontTools.ufoLib",
        "lxml",
        "multiprocessing",
        "numpy",
        "opensimplex",
        "pikepdf",
        "pyclipper",
        "pypdfium2",
        "rich",
        "scipy.fft",
        "scipy.interpolate",
        "scipy.ndimage",
        "scipy.optimize",
        "scipy.signal",
        "scipy.sparse",
        "scipy.spatial",
        "scipy.special",
        "scipy.stats",
        "tifffile",
        "tinycss2",
        "uharfbuzz",
        "zlib_ng",
    }
)
"""Packages and parts of them that take some 10 ms or more to import."""
LETTERS = {"numpy", "pyclipper"}
DRAWS = LETTERS | {"PIL", "opensimplex", "zlib_ng"}
RUNS = DRAWS | {"babel", "multiprocessing"}
FONTS = {"fontTools.cffLib", "fontTools.ttLib", "lxml", "uharfbuzz"}
WANTED = {
    "inkline": set(),
    "inkline.cli.running": set(),
    "inkline.cli.style_run": {"numpy"},
    "inkline.cli.recipe_run": LETTERS | {"babel"},
    "inkline.cli.kit_run": RUNS,
    "inkline.cli.month_run": RUNS,
    "inkline.cli.prove_run": RUNS,
    "inkline.cli.export_run": DRAWS | {"multiprocessing"},
    "inkline.cli.pack_run": DRAWS | {"multiprocessing"},
    "inkline.cli.sampler_run": DRAWS | {"babel"},
    "inkline.cli.glyphs_run": DRAWS | {"babel"},
    "inkline.cli.finish_run": RUNS,
    "inkline.cli.chart_run": RUNS | FONTS | {"pikepdf"},
    "inkline.cli.numerals_run": RUNS | FONTS,
}
"""What of it each module of a command may import."""


def slow_modules_after(code):
    """Which slow modules a process has imported once it has run `code`."""
    code = f"{code}\nimport json, sys\nprint(json.dumps([*sys.modules]))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    return SLOW & set(json.loads(done.stdout.splitlines()[-1]))


@pytest.mark.parametrize("module", WANTED)
def test_a_command_imports_nothing_slow_beyond_what_it_surely_wants(module):
    assert slow_modules_after(f"import {module}") <= WANTED[module]


def test_drawing_and_its_papers_want_nothing_of_scipy():
    code = (
        "import dataclasses\n"
        "from inkline.kit.product import KitOrder\n"
        "from inkline.kit.recipe.loading import default_recipe\n"
        "from inkline.output.png import png_bytes\n"
        "from inkline.raster.compose import render\n"
        "from inkline.ink.engine import draw\n"
        "kit = KitOrder(recipe=default_recipe()).open().kit\n"
        "pen = dataclasses.replace(kit.style, nib=dataclasses.replace(kit.style.nib, flex=0.4))\n"
        "for name in ('words/digit-8', 'words/month-01'):\n"
        "    png_bytes(render(draw(kit.plans[name].drawing(), pen, 1)), ppi=300)\n"
        "import inkline.kit.papers.guide, inkline.kit.papers.overview, inkline.kit.papers.layouts\n"
        "from inkline.lettering.families import family_names, family_path\n"
        "from inkline.lettering.family import open_family\n"
        "for family in map(open_family, map(family_path, family_names())):\n"
        "    [glyph for glyph in map(family.glyph, family.characters)]"
    )
    assert not [name for name in slow_modules_after(code) if name.startswith("scipy")]


def test_slow_modules_are_seen_where_there_are_some():
    assert slow_modules_after("import scipy.ndimage, PIL") >= {"scipy.ndimage", "PIL"}


def test_opening_a_family_again_needs_no_reader_of_ufo(tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    monkeypatch.setenv("LOCALAPPDATA", str(tmp_path))
    code = (
        "from inkline.lettering.family import open_family\n"
        "from inkline.lettering.families import family_path\n"
        "open_family(family_path('scullery'))"
    )
    assert "fontTools.ufoLib" in slow_modules_after(code)
    assert slow_modules_after(code) <= LETTERS

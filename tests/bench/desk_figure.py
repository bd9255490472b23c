"""Takes shared/pictures/desk.png for the README: the page, with a kit on it, in a browser.

Run with `python tests/bench/desk_figure.py`; needs Chromium, which `INKLINE_BROWSER` may name.
"""

from __future__ import annotations

import io
import sys
import tempfile
from pathlib import Path

from PIL import Image

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT / "tests" / "desk"))

from browser import chromium, desk_running, page_at  # noqa: E402 - it lies there

PICTURE = ROOT / "shared" / "pictures" / "desk.png"
SIZE, COLOURS = (1440, 900), 48
STAMP = "standard/dates-3"
RECIPE = """
version = 1
title = "Fog Bell"
number = 5140
[style]
name = "brush-pen"
[formats.standard]
cell = 1.0
[formats.tall]
cell = 1.25
"""


def main():
    with tempfile.TemporaryDirectory() as name:
        recipe = Path(name) / "fog-bell.toml"
        recipe.write_text(RECIPE)
        with (
            desk_running(recipe) as address,
            chromium() as browser,
            page_at(browser, address, size=SIZE) as page,
        ):
            page.click(f'#strip button[data-stamp="{STAMP}"]')
            page.wait_for_selector(f'html[data-shows="{STAMP}"]')
            page.wait_for_timeout(25_000)  # until the strip and the samples are drawn
            shown = Image.open(io.BytesIO(page.screenshot()))
    small = shown.convert("RGB").quantize(COLOURS, Image.Quantize.MEDIANCUT, kmeans=3, dither=0)
    small.save(PICTURE, optimize=True)


if __name__ == "__main__":
    main()

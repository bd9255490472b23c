"""Draws shared/pictures/on-artwork.png for the README: a month on a painting made by code.

Run with `python tests/bench/artwork_figure.py`; takes a few seconds. The painting is
`tests/support/hills.py`.
"""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

from PIL import Image

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT / "tests" / "support"))

from hills import hills_at_dusk  # noqa: E402 - it lies there
from inkline.cli.running import run  # noqa: E402

PICTURE = ROOT / "shared" / "pictures" / "on-artwork.png"
SIZE, SHOWN = (2200, 1500), (1100, 750)
CREAM = "#fdf3dc"
RECIPE = """
version = 1
title = "Dusk"
number = 5
[formats.standard]
"""
OPTIONS = ("--at", "35%,47%", "--across", "56%", "--ink", CREAM, "--ink", "blocks=beneath")


def main():
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        (folder / "dusk.toml").write_text(RECIPE)
        Image.fromarray(hills_at_dusk(*SIZE)).save(folder / "hills.png")
        out = folder / "february"
        run(
            [
                "month",
                "2027-02",
                str(folder / "dusk.toml"),
                "-o",
                str(out),
                "--on",
                str(folder / "hills.png"),
                *OPTIONS,
            ]
        )
        with Image.open(out / "2027-02-standard" / "on-artwork.png") as picture:
            small = picture.resize(SHOWN, Image.Resampling.BOX)
    small.quantize(256, dither=Image.Dither.NONE).save(PICTURE, optimize=True)
    sys.stdout.write(f"{PICTURE.stat().st_size / 1000:.0f} kB\n")


if __name__ == "__main__":
    main()

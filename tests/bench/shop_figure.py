"""Draws shared/pictures/shop.png for the README: pictures that sell a kit, side by side.

Run with `python tests/bench/shop_figure.py [KIT]`; draws a kit first unless the folder of one is
given, which takes a minute. The painting is `tests/support/hills.py`.
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

PICTURE = ROOT / "shared" / "pictures" / "shop.png"
SHOWN, GAP, SIDE = ("cover", "inside", "colours", "on-artwork"), 12, 600
RECIPE = """
version = 1
title = "Fog Bell"
number = 5140
[shop]
sizes = ["1200 x 1200"]
"""


def main():
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        (folder / "fog-bell.toml").write_text(RECIPE)
        kit = Path(sys.argv[1]) if len(sys.argv) > 1 else folder / "kit"
        if not kit.exists():
            run(["kit", str(folder / "fog-bell.toml"), "-o", str(kit)])
        Image.fromarray(hills_at_dusk(1600, 1200)).save(folder / "hills.png")
        run(["shop", str(kit), "-o", str(folder / "shop"), "--on", str(folder / "hills.png")])
        sheet = Image.new("RGB", (2 * SIDE + GAP, 2 * SIDE + GAP), "white")
        for index, one in enumerate(SHOWN):
            with Image.open(folder / "shop" / "square" / f"{one}.png") as picture:
                small = picture.convert("RGB").resize((SIDE, SIDE), Image.Resampling.BOX)
            row, column = divmod(index, 2)
            sheet.paste(small, (column * (SIDE + GAP), row * (SIDE + GAP)))
    PICTURE.parent.mkdir(exist_ok=True)
    sheet.quantize(256, dither=Image.Dither.NONE).save(PICTURE, optimize=True)
    sys.stdout.write(f"{PICTURE.stat().st_size / 1000:.0f} kB\n")


if __name__ == "__main__":
    main()

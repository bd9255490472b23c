"""How long a picture takes to be read as artwork, and how much memory at most.

2500 px a side are to take under 3 s, and 10 000 px under 1 GB. Each picture is read in a process of
its own, whose largest resident size is told.

Run by hand: `python tests/bench/bench_pictures.py`; takes a minute and 1 GB.
"""

from __future__ import annotations

import resource
import sys
import tempfile
from multiprocessing import get_context
from pathlib import Path
from time import process_time

import numpy as np
from PIL import Image, ImageDraw

from inkline.artwork.picture.file import artwork_from_picture

SIDES = (2_500, 10_000)
LOOKS = {
    "grey": ("L", 247, 30),
    "colour": ("RGB", "#f7f3ea", "#23303a"),
    "clear": ("RGBA", (0, 0, 0, 0), (20, 20, 20, 255)),
}
"""Mode, ground and ink."""
INKS = ("#23303a", "#b23a3c")


def planner(side: int, look: str) -> Image.Image:
    """A grid with rings strewn over it and waves above, `side` px wide and high."""
    mode, ground, ink = LOOKS[look]
    page = Image.new(mode, (side, side), ground)
    pencil = ImageDraw.Draw(page)
    unit = side / 2500
    for column in range(8):
        x = (200 + 300 * column) * unit
        pencil.line((x, 400 * unit, x, 2000 * unit), fill=ink, width=round(9 * unit))
    for row in range(6):
        y = (400 + 320 * row) * unit
        pencil.line((200 * unit, y, 2300 * unit, y), fill=ink, width=round(9 * unit))
    rng = np.random.default_rng(1)
    for _ in range(60):
        (x, y), across = rng.uniform(100, 2300, 2) * unit, rng.uniform(20, 120) * unit
        pencil.ellipse((x, y, x + across, y + across), outline=ink, width=round(7 * unit))
    at = np.linspace(0.0, 1.0, 2_000)
    for wave in range(4):
        y = 120 + 60 * wave + 30 * np.sin(30 * at + wave)
        points = np.stack((100 + 2300 * at, y), axis=1) * unit
        pencil.line(list(map(tuple, points.tolist())), fill=ink, width=round(8 * unit))
    return page


def read(file: Path, inks: tuple[str, ...]) -> tuple[float, float]:
    """Seconds of one core, and the largest resident size in MB."""
    start = process_time()
    artwork_from_picture(file, colours=inks)
    return process_time() - start, resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1e3


def main() -> None:
    """Print a line for each picture."""
    with tempfile.TemporaryDirectory() as name:
        for side in SIDES:
            for look in LOOKS:
                file = Path(name) / f"{side}-{look}.png"
                with get_context("spawn").Pool(1) as pool:  # so that this process stays small
                    pool.apply(save, (side, look, file))
                for inks in ((), INKS) if look == "colour" else ((),):
                    with get_context("spawn").Pool(1) as pool:
                        seconds, size = pool.apply(read, (file, inks))
                    kinds = f"{side} px, {look}, {max(1, len(inks))} ink(s)"
                    sys.stdout.write(f"{kinds}: {seconds:.1f} s, {size:.0f} MB\n")


def save(side: int, look: str, file: Path) -> None:
    """Keep a picture in a file."""
    planner(side, look).save(file)


if __name__ == "__main__":
    main()

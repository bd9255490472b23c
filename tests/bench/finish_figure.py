"""Draws shared/pictures/finish.png and finish-grid.png: layouts before and after they are inked.

The one is a floor plan, the other a grid in a rough picture, which is found and filled with dates.

Run with `python tests/bench/finish_figure.py`.
"""

from __future__ import annotations

import io
from pathlib import Path
from tempfile import TemporaryDirectory

import numpy as np
from PIL import Image, ImageDraw, ImageFilter

from inkline.artwork.size import PictureSize
from inkline.finishing.drawn import sheet_png
from inkline.finishing.request import FinishRequest, open_finish
from inkline.ink.style import EXACT
from inkline.output.look import Ground

ROOT = Path(__file__).resolve().parents[2]
PLAN = ROOT / "tests" / "bench" / "artwork" / "orchard.svg"
WIDTH, N_COLOURS = 560, 64
PAPER = "#fbf9f5"
NUMBER = 31
INKS = ("#23303a", "#b23a3c")


def picture(style: str | None) -> Image.Image:
    """The plan in a style, exact without one, on paper."""
    request = FinishRequest(
        files=(PLAN,),
        style=style or "round-pen",
        number=NUMBER,
        ground=Ground.CLEAR,
        family="scullery" if style is None else "errand",
        size=PictureSize(across=4 * WIDTH),
    )
    opened = open_finish(request, style=EXACT if style is None else None)
    data = sheet_png(opened, opened.sheets[0])
    drawn = Image.open(io.BytesIO(data)).convert("RGBA")
    sheet = Image.alpha_composite(Image.new("RGBA", drawn.size, PAPER), drawn)
    return sheet.convert("RGB").resize((WIDTH, drawn.height // 4), Image.Resampling.BOX)


def rough_grid() -> Image.Image:
    """A grid of seven by five cells under a wave, as a scanner may give it."""
    width, height = 4 * WIDTH, 3 * WIDTH
    page = Image.new("RGB", (width, height), "#f7f3ea")
    pencil = ImageDraw.Draw(page)
    left, top, across, down = 0.07 * width, 0.24 * height, 0.86 * width / 7, 0.68 * height / 5
    for column in range(8):
        x = left + column * across
        pencil.line((x, top, x, top + 5 * down), fill=INKS[0], width=7)
    for row in range(6):
        y = top + row * down
        pencil.line((left - 3, y, left + 7 * across + 3, y), fill=INKS[0], width=7)
    at = np.linspace(0.0, 1.0, 900)
    wave = np.stack(
        (left + at * 7 * across, 0.12 * height + 60 * np.sin(22 * at) + 14 * np.sin(71 * at)),
        axis=1,
    )
    pencil.line([tuple(point) for point in wave.tolist()], fill=INKS[1], width=11, joint="curve")
    soft = np.asarray(page.filter(ImageFilter.GaussianBlur(1.2))).astype(float)
    noise = np.random.default_rng(NUMBER).normal(0.0, 2.0, soft.shape)
    return Image.fromarray(np.clip(soft + noise, 0, 255).astype(np.uint8))


def grid_pair() -> list[Image.Image]:
    """The rough grid, and what is drawn of it."""
    with TemporaryDirectory() as folder:
        file = Path(folder) / "grid.png"
        rough = rough_grid()
        rough.save(file, dpi=(280, 280))
        request = FinishRequest(
            files=(file,),
            style="dip-pen",
            number=NUMBER,
            ground=Ground.CLEAR,
            family="errand",
            colours=INKS,
            into_cells="dates=2027-03",
            week_start=0,
        )
        opened = open_finish(request)
        drawn = Image.open(io.BytesIO(sheet_png(opened, opened.sheets[0]))).convert("RGBA")
    sheet = Image.alpha_composite(Image.new("RGBA", drawn.size, PAPER), drawn).convert("RGB")
    size = (WIDTH, 3 * WIDTH // 4)
    return [one.resize(size, Image.Resampling.BOX) for one in (rough, sheet)]


def save_pair(pair: list[Image.Image], name: str) -> None:
    """Two pictures side by side as a small file."""
    values = np.concatenate([np.asarray(one) for one in pair], axis=1)
    file = ROOT / "shared" / "pictures" / name
    few = Image.fromarray(values).quantize(
        N_COLOURS, method=Image.Quantize.MEDIANCUT, kmeans=2, dither=Image.Dither.NONE
    )
    few.save(file, optimize=True)
    print(file, values.shape, file.stat().st_size)


def main() -> None:
    """Draw both figures."""
    save_pair([picture(style) for style in (None, "dip-pen")], "finish.png")
    save_pair(grid_pair(), "finish-grid.png")


if __name__ == "__main__":
    main()

"""Draws shared/pictures/finish.png: a floor plan as it was drawn up, and as a pen redraws it.

Run with `python tests/bench/finish_figure.py`.
"""

from __future__ import annotations

import io
from pathlib import Path

import numpy as np
from PIL import Image

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


def main() -> None:
    """Draw both side by side."""
    pair = np.concatenate([np.asarray(picture(style)) for style in (None, "dip-pen")], axis=1)
    file = ROOT / "shared" / "pictures" / "finish.png"
    few = Image.fromarray(pair).quantize(
        N_COLOURS, method=Image.Quantize.MEDIANCUT, kmeans=2, dither=Image.Dither.NONE
    )
    few.save(file, optimize=True)
    print(file, pair.shape, file.stat().st_size)


if __name__ == "__main__":
    main()

"""The page on media: three crops of every style, and the figures that its file holds.

Run with `python tests/bench/media_page.py`; writes `shared/pages/media.md` and a picture for each
style in `shared/pages/media/`, at the size of a stamp of 2500 px, in 24 greys.
"""

from __future__ import annotations

import textwrap
from dataclasses import replace
from pathlib import Path

import numpy as np
from PIL import Image

from inkline.drawing import Layer
from inkline.ink.engine import draw
from inkline.ink.style import EXACT
from inkline.kit.letters import face_of
from inkline.kit.recipe.loading import default_recipe
from inkline.kit.stamps.catalogue import plan_by_name
from inkline.raster.compose import render
from inkline.styles.files import load_style, style_files

PAGE = Path(__file__).parents[2] / "shared" / "pages" / "media.md"
PICTURES = PAGE.parent / "media"
NUMBER, SIDE, GAP, GREYS = 12, 300, 12, 24
HEAD = """# What each style is made of

Twelve styles, each in three crops at the size of a stamp of 2500 px: rules that cross, a numeral, a
corner of a block. Under them stand the values of nib and paper that the style's file in
`shared/styles` sets; `inkline style NAME` explains each. `tests/bench/media_page.py` makes this
page, `tests/bench/measure_media.py` measures what is dry about each style.

Where ink is dry, what a tool gives, `q`, meets the height `h` of the paper, both as normal deviates
z: `ink = clip((z(q) - h) / softness + 1/2, 0, 1)`. In **contact** (chalk, pencil, charcoal) q dies
away from the middle of a stroke to its rims, and edge and holes are one thing. **Bristles** (brush,
dry marker) lie along the stroke and run dry each by itself. A **film** (prints) is squeezed heavy
at its rims and starves in the middle. A **wash** is grey itself: its tone pools, dries darker at
its rims, and darkens once where strokes cross; ballpoint, dip pen and felt are washes of thick ink.
A level sought for each mark leaves bare the share that `dryness` asks for.
"""


def crop_of(recipe, face, name, style, corner):
    """A square of a stamp; only the marks that touch it are drawn."""
    drawing = plan_by_name(recipe, face, name).drawing()
    x, y = corner

    def touches(mark):
        points = mark.points if hasattr(mark, "points") else np.concatenate(mark.contours)
        low, high = points.min(axis=0) - 50.0, points.max(axis=0) + 50.0
        return bool(np.all(low < (x + SIDE, y + SIDE)) and np.all(high > (x, y)))

    layers = tuple(
        Layer(name=layer.name, marks=tuple(mark for mark in layer.marks if touches(mark)))
        for layer in drawing.layers
    )
    picture = render(draw(replace(drawing, layers=layers), style, NUMBER))
    return 255 - picture[y : y + SIDE, x : x + SIDE]


def values_of(style, part):
    """The values of one part that differ from those that change nothing, as in the file."""
    mine, plain = style.to_dict()[part], EXACT.to_dict()[part]
    return ", ".join(f"{key} {mine[key]}" for key in mine if mine[key] != plain[key])


def item(name, values):
    """A line of a list, folded at 100 columns."""
    return textwrap.fill(f"- {name}: {values}", 100, subsequent_indent="  ", break_on_hyphens=False)


def main():
    recipe = default_recipe()
    face = face_of(recipe)
    crops = (
        ("standard/grid-6-head", (930, 840)),
        ("standard/dates-3", (760, 680)),
        ("standard/blocks-6", (770, 690)),
    )
    PICTURES.mkdir(exist_ok=True)
    parts = [HEAD]
    white = np.full((SIDE, GAP), 255, dtype=np.uint8)
    for name, path in style_files().items():
        style = load_style(path)
        one, two, three = (crop_of(recipe, face, stamp, style, at) for stamp, at in crops)
        strip = np.concatenate((one, white, two, white, three), axis=1)
        steps = np.rint(strip / 255.0 * (GREYS - 1)).astype(np.uint8)
        picture = Image.fromarray(steps, mode="P")
        greys = np.rint(np.arange(GREYS) * (255.0 / (GREYS - 1))).astype(np.uint8)
        picture.putpalette(np.repeat(greys, 3).tolist())
        picture.save(PICTURES / f"{name}.png", optimize=True)
        parts.append(
            f"\n## {name}: {style.imitates}\n\n"
            f"![Crossing rules, a numeral and a corner of a block](media/{name}.png)\n\n"
            f"{item('nib', values_of(style, 'nib') or 'even')}\n"
            f"{item('paper', values_of(style, 'paper') or 'smooth, all of the ink stays')}\n"
        )
        print(name, (PICTURES / f"{name}.png").stat().st_size)
    PAGE.write_text("".join(parts), encoding="utf-8")


if __name__ == "__main__":
    main()

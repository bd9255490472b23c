"""What ink costs: by the metre of stroke, by part, and against the exact raster.

Run with `python tests/bench/bench_ink.py`, on a machine that has nothing else to do. Best of five,
warm, one process.

- For every style, the engine's time for each metre of stroke on the sheet, and the share of each
  part: hand, nib, sweep, edge, union of a stroke's own outline, paper; the rest is keys, grids and
  bookkeeping.
- A drawn 2500 px grid, from its exact drawing to the picture, against filling the same contours: by
  our exact raster, and by aggdraw, a C rasteriser. Bound 3 for styles without tooth, 5 for dry
  ones. Beside it the whole way of the same grid in the style that draws nothing but the layout.
- The tables (a) and (c) of `bench_kit.py`: a stamp against a C rasteriser, and 10000 px against
  2500 px.
"""

from __future__ import annotations

import time
from collections import defaultdict
from unittest.mock import patch

import numpy as np
from bench_kit import STAMP, best, filled_by_agg, size_table, stamp_table

from inkline.drawing import Drawing, Stroke
from inkline.ink import shapes, stages, strokes
from inkline.ink.engine import draw
from inkline.ink.inked import united_contours
from inkline.ink.style import EXACT
from inkline.kit.product import KitOrder
from inkline.kit.recipe.loading import default_recipe
from inkline.raster.compose import render
from inkline.raster.coverage import grey_from_contours
from inkline.styles.files import load_style, style_files

DATES = "standard/dates-3"
BOUND, DRY_BOUND = 3.0, 5.0
PARTS = {
    "hand": ((stages, "drawn_together"), (stages, "moved_shape")),
    "nib": ((strokes, "pressures"),),
    "sweep": ((strokes, "swept_outlines"), (strokes, "_swept_ring")),
    "edge": ((stages, "inked_outlines"),),
    "union": ((strokes, "union_of_contours"), (shapes, "union_of_contours")),
    "paper": ((stages, "finished_master"),),
}


class Clock:
    """Adds up the time spent in each part.

    What one part spends inside another counts for the inner one.
    """

    def __init__(self):
        self.seconds = defaultdict(float)
        self.inner = []

    def timed(self, part, work):
        def run(*args, **options):
            self.inner.append(0.0)
            start = time.perf_counter()
            result = work(*args, **options)
            spent = time.perf_counter() - start
            self.seconds[part] += spent - self.inner.pop()
            if self.inner:
                self.inner[-1] += spent
            return result

        return run


def shares(drawing, style, number):
    """Share of the engine's time that each part takes."""
    clock = Clock()
    patches = [
        patch.object(module, name, clock.timed(part, getattr(module, name)))
        for part, places in PARTS.items()
        for module, name in places
    ]
    for one in patches:
        one.start()
    start = time.perf_counter()
    draw(drawing, style, number)
    whole = time.perf_counter() - start
    for one in patches:
        one.stop()
    return {part: clock.seconds[part] / whole for part in PARTS}


def metres(drawing: Drawing, style):
    """Length of all strokes on the sheet, in m."""
    lengths = (
        np.hypot(*np.diff(mark.points, axis=0).T).sum()
        for mark in drawing.marks
        if isinstance(mark, Stroke)
    )
    return sum(lengths) / (drawing.sheet_px / style.drawn_at) / 1000.0


def part_table(shop, styles):
    for name in (STAMP, DATES):
        drawing = shop.plans[name].drawing()
        print(
            f"the ink engine on {name}: ms for a metre of stroke on the sheet, and each part's "
            f"share in %"
        )
        print(
            "    "
            + " " * 14
            + "ms".rjust(8)
            + "ms/m".rjust(8)
            + "".join(part.rjust(8) for part in PARTS)
            + "    rest"
        )
        for title, style in styles.items():
            _, seconds = best(
                lambda drawing=drawing, style=style: draw(drawing, style, shop.recipe.number)
            )
            found = shares(drawing, style, shop.recipe.number)
            columns = [1e3 * seconds, 1e3 * seconds / metres(drawing, style)]
            columns += [100 * share for share in (*found.values(), 1.0 - sum(found.values()))]
            print("    " + title.ljust(14) + "".join(f"{value:8.1f}" for value in columns))


def raster_table(shop, styles):
    plan = shop.plans[STAMP]
    drawing, number = plan.drawing(), shop.recipe.number
    _, exact = best(lambda: render(draw(drawing, EXACT, number)))
    print(
        f"{STAMP} drawn, in ms, and as a multiple of filling its contours (bound {BOUND:g}, dry "
        f"{DRY_BOUND:g})"
    )
    print(f"    the same stamp in the exact style, drawing to picture: {1e3 * exact:.1f} ms")
    heads = ("engine", "union", "raster", "tooth", "whole", "aggdraw", "x raster", "x aggdraw")
    print("    " + " " * 14 + "".join(head.rjust(10) for head in heads))
    for title, style in styles.items():
        inked, engine = best(lambda style=style: draw(drawing, style, number))
        contours, union = best(lambda inked=inked: united_contours(inked))
        _, raster = best(lambda contours=contours: grey_from_contours(contours, canvas=plan.canvas))
        _, racer = best(lambda contours=contours: filled_by_agg(contours, plan.canvas))
        _, pictured = best(lambda inked=inked: render(inked))
        _, whole = best(lambda style=style: render(draw(drawing, style, number)))
        tooth = max(pictured - union - raster, 0.0)
        bound = DRY_BOUND if style.paper.dryness > 0.0 else BOUND
        ratios = (whole / raster, whole / racer)
        missed = [
            name for name, ratio in zip(("raster", "aggdraw"), ratios, strict=True) if ratio > bound
        ]
        row = "".join(
            f"{1e3 * value:10.1f}" for value in (engine, union, raster, tooth, whole, racer)
        )
        row += "".join(f"{ratio:10.2f}" for ratio in ratios)
        print(
            "    "
            + title.ljust(14)
            + row
            + (f"  over {bound:g} times {' and '.join(missed)}" if missed else "")
        )


if __name__ == "__main__":
    workshop = KitOrder(recipe=default_recipe()).open().kit
    all_styles = {name: load_style(path) for name, path in style_files().items()}
    part_table(workshop, all_styles)
    raster_table(workshop, all_styles)
    stamp_table(workshop)
    size_table()

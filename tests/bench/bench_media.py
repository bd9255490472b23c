"""What a stamp costs in a dry or wash style, as a multiple of the same one wet.

Run with `python tests/bench/bench_media.py [STYLE...]`, on a machine that has nothing else to do.
From the exact drawing to the bytes of the PNG, warm, best of several, one process; wet is the style
with all its values but on paper that leaves nothing bare. Bound 2.5 for each kind of stamp.
"""

from __future__ import annotations

import argparse
import time
from dataclasses import replace

from inkline.ink.engine import draw
from inkline.kit.product import KitOrder
from inkline.kit.recipe.loading import default_recipe
from inkline.output.png import png_bytes
from inkline.raster.compose import render
from inkline.styles.files import load_style, style_files

STAMPS = {
    "grid": "standard/grid-6-head",
    "blocks": "standard/blocks-6",
    "dates": "standard/dates-3",
    "weekdays": "standard/weekdays-sunday",
    "words": "words/month-09",
}
BOUND = 2.5


def shortest(works, n_times):
    """The shortest time of each work, s; in turns, so that a slow spell hits all alike."""
    times = [[] for _ in works]
    for _ in range(n_times):
        for work, found in zip(works, times, strict=True):
            start = time.process_time()
            work()
            found.append(time.process_time() - start)
    return [min(found) for found in times]


def bytes_of(drawing, style, number):
    return lambda: png_bytes(render(draw(drawing, style, number)), ppi=300)


def main():
    files = style_files()
    parser = argparse.ArgumentParser(description="What dry stamps cost against wet ones.")
    parser.add_argument("styles", nargs="*", choices=[*files, []], help="all if none is named")
    parser.add_argument("--times", type=int, default=7, help="how often each is made")
    chosen = parser.parse_args()
    shop = KitOrder(recipe=default_recipe()).open().kit
    drawings = {kind: shop.plans[name].drawing() for kind, name in STAMPS.items()}
    print(f"drawing to PNG, ms dry / ms wet = ratio (bound {BOUND:g})")
    print(" " * 13 + "".join(kind.rjust(20) for kind in drawings))
    for name in chosen.styles or list(files):
        style = load_style(files[name])
        if style.paper.dryness == 0.0:
            continue
        wet = replace(style, paper=replace(style.paper, dryness=0.0, specks=0.0))
        line = ""
        for drawing in drawings.values():
            dry_s, wet_s = shortest(
                [bytes_of(drawing, one, shop.recipe.number) for one in (style, wet)], chosen.times
            )
            line += f"{1e3 * dry_s:8.0f}/{1e3 * wet_s:4.0f} ={dry_s / wet_s:5.2f}"
        print(f"{name:13s}{line}", flush=True)


if __name__ == "__main__":
    main()

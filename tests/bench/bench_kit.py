"""The speed of a grid stamp, of a whole kit, and of large canvases, as ratios taken in one run.

Run with `python tests/bench/bench_kit.py`, on a machine that has nothing else to do. Three tables:

(a) one grid stamp of the default kit, warm, best of five, from its exact drawing to the bytes of
its PNG, stage by stage, against a C rasteriser filling
    the same polygons (aggdraw, or cairo where pycairo is installed) plus Pillow packing the same
    picture with the settings that we ship. Bound 3.0, aim 1.5.
(b) the default kit on two workers, start to finish, as a person runs it, and the largest process.
Bound 15 s, aim 10 s, 400 MB. (c) the same stamp at 10000 px against 2500 px, without packing. Bound
12 times, 600 MB; the ink engine alone 1.2 times.
"""

from __future__ import annotations

import io
import json
import resource
import subprocess
import sys
import tempfile
import time
from dataclasses import replace
from pathlib import Path

import aggdraw
import numpy as np
from PIL import Image

from inkline.ink.engine import draw
from inkline.ink.inked import united_contours
from inkline.ink.master import arrays_from_masters
from inkline.kit.product import KitOrder
from inkline.kit.recipe.loading import default_recipe
from inkline.output import png
from inkline.press.masters import npz_bytes
from inkline.raster.compose import render
from inkline.raster.coverage import grey_from_contours

try:
    import cairo
except ImportError:
    cairo = None

STAMP = "standard/grid-6-head"
N_TIMES = 5
RUNS_OF_EQUAL_BYTES = 3
"""What zlib calls the way of packing that grey stamps are shipped with; Pillow hands it through."""


def best(work):
    """The result of `work` and its shortest time in s."""
    times = []
    for _ in range(N_TIMES):
        start = time.perf_counter()
        result = work()
        times.append(time.perf_counter() - start)
    return result, min(times)


def filled_by_agg(contours, canvas):
    picture = Image.new("L", canvas, 0)
    surface = aggdraw.Draw(picture)
    path = aggdraw.Path()
    for contour in contours:
        path.moveto(*contour[0])
        for point in contour[1:]:
            path.lineto(*point)
        path.close()
    surface.path(path, None, aggdraw.Brush(255))
    surface.flush()
    return picture


def filled_by_cairo(contours, canvas):
    surface = cairo.ImageSurface(cairo.FORMAT_A8, *canvas)
    context = cairo.Context(surface)
    for contour in contours:
        context.move_to(*contour[0])
        for point in contour[1:]:
            context.line_to(*point)
        context.close_path()
    context.fill()
    grey = np.frombuffer(surface.get_data(), np.uint8).reshape(canvas[1], surface.get_stride())
    return Image.fromarray(grey[:, : canvas[0]])


def packed_by_pillow(picture):
    buffer = io.BytesIO()
    picture.save(
        buffer, "PNG", compress_level=png._LEVEL, compress_type=RUNS_OF_EQUAL_BYTES, dpi=(300, 300)
    )
    return buffer.getvalue()


def stamp_table(shop):
    plan = shop.plans[STAMP]
    drawing = plan.drawing()
    inked, ink = best(lambda: draw(drawing, shop.style, shop.recipe.number))
    contours, union = best(lambda: united_contours(inked))
    grey, fill = best(lambda: grey_from_contours(contours, canvas=plan.canvas))
    data, pack = best(lambda: png.png_bytes(grey, ppi=300))
    _, whole = best(
        lambda: png.png_bytes(render(draw(drawing, shop.style, shop.recipe.number)), ppi=300)
    )
    _, masters = best(lambda: npz_bytes(arrays_from_masters(inked.masters)))
    fill_racer, racer = (filled_by_cairo, "cairo") if cairo else (filled_by_agg, "aggdraw")
    picture, other_fill = best(lambda: fill_racer(contours, plan.canvas))
    other_data, other_pack = best(lambda: packed_by_pillow(Image.fromarray(grey)))
    print(f"(a) {STAMP}, {sum(map(len, contours))} points, best of {N_TIMES}")
    rows = {
        "ink engine": ink,
        "union": union,
        "raster": fill,
        "PNG": pack,
        "drawing to PNG bytes": whole,
    }
    rows |= {
        f"{racer} fills": other_fill,
        "Pillow packs": other_pack,
        "beside: masters as bytes": masters,
    }
    for name, seconds in rows.items():
        print(f"    {name:26s}{1e3 * seconds:8.1f} ms")
    print(f"    PNG {len(data) / 1e3:.0f} kB, by Pillow {len(other_data) / 1e3:.0f} kB")
    print(
        f"    ratio to {racer} and Pillow {whole / (other_fill + other_pack):.2f} (bound 3.0, "
        f"aim 1.5)"
    )
    assert np.asarray(picture).shape == grey.shape


def kit_table():
    def build(folder, *options):
        start = time.perf_counter()
        command = [sys.executable, "-m", "inkline", "kit", "-o", folder, "--workers", "2", *options]
        subprocess.run(command, check=True, capture_output=True)
        return time.perf_counter() - start

    with tempfile.TemporaryDirectory() as folder:
        fresh = build(folder)
        largest = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024
        again = build(folder)
        for picture in Path(folder).rglob("*.png"):
            picture.unlink()
        from_masters = build(folder)
        sizes = {
            end: sum(p.stat().st_size for p in Path(folder).rglob(f"*{end}"))
            for end in (".png", ".npz", ".json")
        }
    print("(b) the default kit on two workers, process started to process ended")
    print(f"    drawn from nothing        {fresh:8.1f} s  (bound 15, aim 10)")
    print(f"    pictures from masters     {from_masters:8.1f} s")
    print(f"    nothing to do             {again:8.1f} s")
    print(f"    largest process           {largest:8.0f} MB (bound 400)")
    print(
        "    on disk: " + ", ".join(f"{size / 1e6:.1f} MB of {end}" for end, size in sizes.items())
    )


def stamp_at(side_px):
    """Seconds of engine and of engine plus raster for one stamp on a canvas of `side_px`."""
    shop = KitOrder(recipe=replace(default_recipe(), side_px=side_px)).open().kit
    drawing = shop.plans[STAMP].drawing()
    _, ink = best(lambda: draw(drawing, shop.style, shop.recipe.number))
    _, both = best(lambda: render(draw(drawing, shop.style, shop.recipe.number)))
    return ink, both


def size_table():
    rows = {}
    for side in (2500, 10_000):
        code = [sys.executable, __file__, str(side)]
        rows[side] = json.loads(
            subprocess.run(code, check=True, capture_output=True, text=True).stdout
        )
    print("(c) the same stamp on other canvases, without packing")
    for side, (ink, both, peak) in rows.items():
        print(
            f"    {side:6d} px   engine {1e3 * ink:7.1f} ms   with raster {1e3 * both:7.1f} ms   "
            f"process {peak:5.0f} MB"
        )
    small, large = rows.values()
    print(
        f"    ratio {large[1] / small[1]:.2f} (bound 12), engine alone {large[0] / small[0]:.2f} "
        f"(bound 1.2)"
    )


if __name__ == "__main__":
    if len(sys.argv) > 1:
        times = stamp_at(int(sys.argv[1]))
        print(json.dumps([*times, resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024]))
    else:
        stamp_table(KitOrder(recipe=default_recipe()).open().kit)
        kit_table()
        size_table()

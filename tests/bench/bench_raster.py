"""Where the raster's time goes on a grid of sixteen rough rules, and a race against a C rasteriser.

Run with `python tests/bench/bench_raster.py`. aggdraw fills the same polygons, as a racer and not
as a reference (it samples coverage). The rules are united beforehand, so only filling is timed;
best of nine, one process.
"""

from __future__ import annotations

import time
import tracemalloc

import aggdraw
import numpy as np
import pyclipper

from inkline.raster.coverage import (
    _coverage_from_pieces,
    coverage_from_contours,
    grey_from_contours,
)
from inkline.raster.edges import cell_pieces, cut_to_canvas, edges_from_contours, row_pieces

N_TIMES = 9
N_RULES_EACH_WAY = 8
N_EDGES = 64_000
UNITS_PER_PX = 2**16


def best_ms(work):
    """The result of `work` and its shortest time in ms."""
    times = []
    for _ in range(N_TIMES):
        start = time.perf_counter()
        result = work()
        times.append(time.perf_counter() - start)
    return result, 1e3 * min(times)


def rough_rule(start, end, width, n_points, rng):
    """A rule whose two sides wander and are rough, as one contour."""
    share = np.linspace(0, 1, n_points)[:, None]
    along = np.subtract(end, start)
    across = np.array([-along[1], along[0]]) / np.hypot(*along)
    sides = []
    for side in (-0.5, 0.5):
        wander = 0.002 * width * np.cumsum(rng.normal(size=n_points))
        offset = side * width + wander - wander.mean() + rng.normal(0, 0.015 * width, n_points)
        sides.append(start + share * along + offset[:, None] * across)
    return np.concatenate([sides[0], sides[1][::-1]])


def grid(side_px):
    """Eight rules each way on a square canvas, united, about `N_EDGES` edges."""
    rng = np.random.default_rng(7)
    near, far, width = 0.024 * side_px, 0.976 * side_px, side_px / 120
    n_points = N_EDGES // (4 * N_RULES_EACH_WAY)
    rules = []
    for at in np.linspace(near, far, N_RULES_EACH_WAY):
        rules.append(rough_rule((near, at), (far, at), width, n_points, rng))
        rules.append(rough_rule((at, near), (at, far), width, n_points, rng))
    clipper = pyclipper.Pyclipper()
    whole = [np.rint(rule * UNITS_PER_PX).astype(np.int64) for rule in rules]
    clipper.AddPaths(whole, pyclipper.PT_SUBJECT, closed=True)
    united = clipper.Execute(pyclipper.CT_UNION, pyclipper.PFT_NONZERO, pyclipper.PFT_NONZERO)
    return [np.array(contour) / UNITS_PER_PX for contour in united]


def raced(contours, side_px):
    """The same picture by aggdraw: outer contours in white, then holes in black."""
    canvas = aggdraw.Draw("L", (side_px, side_px), 0)
    x, y = 0, 1
    for contour in contours:
        area = np.sum(
            contour[:, x] * np.roll(contour[:, y], -1) - contour[:, y] * np.roll(contour[:, x], -1)
        )
        canvas.polygon(contour.ravel().tolist(), aggdraw.Brush(255 if area > 0 else 0))
    return canvas.tobytes()


def stages(contours, side_px):
    """The time of each stage in ms, by name."""
    canvas = (side_px, side_px)
    edges, edges_ms = best_ms(lambda: cut_to_canvas(edges_from_contours(contours), canvas=canvas))
    rows, rows_ms = best_ms(lambda: row_pieces(edges))
    cells, cells_ms = best_ms(lambda: cell_pieces(rows))
    coverage, summed_ms = best_ms(lambda: _coverage_from_pieces(cells, canvas=canvas))
    _, grey_ms = best_ms(coverage.grey)
    return {
        "edges": edges_ms,
        "rows": rows_ms,
        "cells": cells_ms,
        "sums": summed_ms,
        "bytes": grey_ms,
    }


def peak_mb(contours, side_px):
    """The largest memory in use while filling, canvas included, in MB."""
    tracemalloc.start()
    grey_from_contours(contours, canvas=(side_px, side_px))
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    return peak / 1e6


def report(side_px):
    """Prints one canvas size and returns its whole time in ms."""
    contours = grid(side_px)
    _, whole_ms = best_ms(lambda: grey_from_contours(contours, canvas=(side_px, side_px)))
    _, racer_ms = best_ms(lambda: raced(contours, side_px))
    touched = len(coverage_from_contours(contours, canvas=(side_px, side_px)).pixels)
    table = "  ".join(f"{name} {ms:.1f}" for name, ms in stages(contours, side_px).items())
    print(
        f"{side_px} px, {sum(map(len, contours))} edges, {touched} touched pixels, peak "
        f"{peak_mb(contours, side_px):.0f} MB"
    )
    print(
        f"  ms: {table}  whole {whole_ms:.1f}  aggdraw {racer_ms:.1f}  ratio "
        f"{whole_ms / racer_ms:.2f}"
    )
    return whole_ms


if __name__ == "__main__":
    small_ms, large_ms = report(2_500), report(10_000)
    print(f"10000 px / 2500 px: {large_ms / small_ms:.1f}")

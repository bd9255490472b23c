"""Small exact drawings for the ink tests; px on a sheet of 2500 px unless said otherwise."""

import numpy as np

from inkline.drawing import Cap, Drawing, Layer, Role, Shape, Stroke

SHEET_PX = 2500.0

LIVELY = {
    "hand": {
        "drift": "150 um",
        "drift_length": "8 mm",
        "tremor": "20 um",
        "stray": "0.4 mm",
        "run_over": "0.5 mm",
        "fall_short": "0.3 mm",
        "tilt": "0.8 deg",
        "size_play": 0.006,
        "bounce": "30 um",
    },
    "nib": {
        "pressure": 0.1,
        "touchdown": 0.1,
        "lift": -0.2,
        "pooling": 0.1,
        "crossing_pool": 0.1,
        "ends": "round",
    },
    "edge": {
        "raggedness": "25 um",
        "correlation": "150 um",
        "liveliness": 0.5,
        "softening": "80 um",
    },
}


def rule(
    name, start, end, *, width_px=18.0, crossings=(), shared="", scale=1.0, room_px=(np.inf, np.inf)
):
    return Stroke(
        name=name,
        group=name,
        role=Role.RULE,
        points=np.array([start, end], dtype=float) * scale,
        width_px=width_px * scale,
        cap=Cap.BUTT,
        origin=(start[0] * scale, start[1] * scale),
        crossings=tuple(crossing * scale for crossing in crossings),
        shared=shared,
        room_px=(room_px[0] * scale, room_px[1] * scale),
    )


def numeral_stroke(name, points, *, origin=(0.0, 0.0), width_px=22.0, closed=False):
    return Stroke(
        name=name,
        group=name.rsplit("/", 1)[0],
        role=Role.NUMERAL,
        points=np.array(points, dtype=float),
        width_px=width_px,
        cap=Cap.ROUND,
        origin=origin,
        closed=closed,
    )


def box(name, x0, y0, x1, y1, *, role=Role.BLOCK):
    contour = np.array([[x0, y0], [x0, y1], [x1, y1], [x1, y0]], dtype=float)
    return Shape(name=name, group=name, role=role, contours=(contour,), origin=(x0, y0))


def small_grid(scale=1.0):
    """A grid of 3 x 2 cells on 700 x 500 px, its rules crossing at fractions of a pixel."""
    xs, ys = [50.3, 250.45, 450.6, 650.75], [60.7, 240.2, 419.7]
    down = [
        rule(
            f"t/grid/down-{i}",
            (x, ys[0]),
            (x, ys[-1]),
            crossings=[y - ys[0] for y in ys],
            shared="t/grid/down",
            scale=scale,
        )
        for i, x in enumerate(xs)
    ]
    across = [
        rule(
            f"t/grid/across-{i}",
            (xs[0], y),
            (xs[-1], y),
            crossings=[x - xs[0] for x in xs],
            shared="t/grid/across",
            scale=scale,
        )
        for i, y in enumerate(ys)
    ]
    return drawing(
        "t/grid", [*down, *across], canvas=(round(700 * scale), round(500 * scale)), scale=scale
    )


def drawing(name, marks, *, canvas=(700, 500), scale=1.0):
    return Drawing(
        name=name,
        canvas=canvas,
        sheet_px=SHEET_PX * scale,
        layers=(Layer(name="all", marks=tuple(marks)),),
    )

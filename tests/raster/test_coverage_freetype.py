"""The picture against FreeType's own rasteriser, called directly with the same vertices.

Vertices lie on the 1/64 px grid on both sides, which is what FreeType's 26.6 fixed-point numbers
hold. FreeType rounds inside a pixel too, so single pixels may differ: 2/255 was measured, 3/255 is
allowed.
"""

import ctypes

import freetype
import numpy as np
import pytest
import shapely

from inkline.raster.coverage import grey_from_contours

CANVAS = (160, 120)
UNITS_PER_PX = 64
LIMIT = 3


def freetype_grey(contours, canvas):
    """The picture that FT_Outline_Get_Bitmap draws of contours in whole 1/64 px, page space."""
    width, height = canvas
    points = np.concatenate(contours)
    vectors = (freetype.FT_Vector * len(points))(
        *[(x, height * UNITS_PER_PX - y) for x, y in points.tolist()]
    )
    tags = (ctypes.c_ubyte * len(points))(*[1] * len(points))
    ends = np.cumsum([len(contour) for contour in contours]) - 1
    contour_ends = (ctypes.c_short * len(ends))(*ends.tolist())
    outline = freetype.FT_Outline()
    outline.n_contours, outline.n_points = len(contours), len(points)
    outline.points, outline.tags, outline.contours = vectors, tags, contour_ends
    buffer = (ctypes.c_ubyte * (width * height))()
    bitmap = freetype.FT_Bitmap()
    bitmap.rows, bitmap.width, bitmap.pitch = height, width, width
    bitmap.buffer = ctypes.cast(buffer, type(bitmap.buffer))
    bitmap.num_grays, bitmap.pixel_mode = 256, freetype.FT_PIXEL_MODE_GRAY
    error = freetype.FT_Outline_Get_Bitmap(
        freetype.get_handle(), ctypes.byref(outline), ctypes.byref(bitmap)
    )
    assert error == 0
    return np.frombuffer(buffer, dtype=np.uint8).reshape(height, width)


def on_grid(shape):
    """The contours of a shapely shape in whole 1/64 px.

    Outer ones and holes have opposite directions.
    """
    whole = shapely.set_precision(shape, 1 / UNITS_PER_PX)
    rings = []
    for polygon in shapely.get_parts(whole):
        oriented = shapely.geometry.polygon.orient(polygon)
        rings += [np.array(ring.coords)[:-1] for ring in (oriented.exterior, *oriented.interiors)]
    return [np.rint(ring * UNITS_PER_PX).astype(int) for ring in rings]


def rough_rule(start, end, width, seed):
    rng = np.random.default_rng(seed)
    along = np.subtract(end, start) / 300
    across = np.array([-along[1], along[0]]) / np.hypot(*along)
    centre = np.asarray(start) + np.arange(301)[:, None] * along
    sides = [
        centre + (side * width / 2 + rng.normal(0, 0.5, (301, 1))) * across for side in (-1, 1)
    ]
    return shapely.Polygon(np.concatenate([sides[0], sides[1][::-1]])).buffer(0)


SHAPES = {
    "disk": shapely.Point(80.2, 60.7).buffer(50, 64),
    "ring": shapely.Point(80.2, 60.7).buffer(50, 64) - shapely.Point(78, 62).buffer(36, 64),
    "triangle": shapely.Polygon([(3.1, 4.7), (155.2, 31.4), (40.9, 117.3)]),
    "box": shapely.box(10.25, 8.5, 150.75, 110.125),
    "crossing rough rules": shapely.union_all([
        rough_rule((10, 30), (150, 36), 9, 1),
        rough_rule((12, 90), (148, 84), 9, 2),
        rough_rule((40, 6), (44, 114), 9, 3),
        rough_rule((120, 6), (114, 114), 9, 4),
    ]),
}  # fmt: skip


@pytest.mark.parametrize("name", SHAPES)
def test_picture_agrees_with_freetype(name):
    contours = on_grid(SHAPES[name])
    expected = freetype_grey(contours, CANVAS).astype(int)
    got = grey_from_contours(
        [contour / UNITS_PER_PX for contour in contours], canvas=CANVAS
    ).astype(int)
    difference = np.abs(got - expected)
    assert expected.max() == 255
    assert difference.max() <= LIMIT
    assert difference.mean() < 0.05

"""Pictures as artwork: straight rules found as lines, and all other ink as shapes.

The edge of the ink is followed to a small part of a pixel where the grey values cross the middle
between ink and ground, as an exact raster leaves them at half covered pixels.
"""

from __future__ import annotations

import struct
import warnings
from collections.abc import Iterator, Sequence
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageOps

from inkline.artwork.model import ArtPath, Artwork, FillRule, Lack, Paint, Pen, Subpath
from inkline.artwork.picture.colours import coverage_of_colours
from inkline.artwork.picture.contours import ink_contours, without_rules
from inkline.artwork.picture.pixels import Pixels, luma_of, pixels_of_picture
from inkline.artwork.picture.rules import FoundRule, rules_in_contours
from inkline.errors import InputError
from inkline.geometry.arrays import Grey, Points
from inkline.geometry.polygon import signed_area

PICTURES = frozenset({".png", ".jpg", ".jpeg", ".tif", ".tiff", ".webp"})
"""Endings of the pictures that are read."""
_FORMATS = ("PNG", "JPEG", "TIFF", "WEBP")
_MOST_SIDE, _MOST_PIXELS = 20_000, 101_000_000
_LEAST_SIDE = 16
_SIZES = (
    f"pictures from {_LEAST_SIDE} px a side to {_MOST_PIXELS // 1_000_000} million px can be "
    "finished"
)
_DAMAGE = (
    ArithmeticError,
    EOFError,
    LookupError,
    OSError,
    struct.error,
    SyntaxError,
    TypeError,
    ValueError,
)
"""What a picture that is damaged can raise while it is read."""
_USUAL_PPI, _LEAST_PPI, _MOST_PPI = 300.0, 30.0, 5_000.0
_MM_PER_INCH = 25.4
_LEAST_CONTRAST = 24
"""Steps of 255 by which ink and ground differ at least."""
_LUMA = np.array([0.299, 0.587, 0.114])
"""Shares of red, green and blue in luma (ITU-R BT.601)."""
_PALE = 215.0
"""Luma from which on ink is the light part of a negative."""
_LEAST_AREA_PX = 3.0
"""Ink of less area is dust."""
_MOST_LOOKED_AT = 4_000_000
"""Pixels by which the ink's colour is judged; of more only some are looked at."""
_MANY_COLOURS = 40
"""Mean distance of the ink's pixels from its mean colour from which on it has several colours."""


def artwork_from_picture(file: Path, *, colours: Sequence[str] = ()) -> Artwork:
    """What a picture shows, in its own px.

    Args:
        file: where it lies.
        colours: its inks as `#rrggbb`, at least two, each of which becomes a layer that is called
            as it; none to take all ink for one colour.

    Raises:
        InputError: it can't be read, is too large, or has no ink on an even ground.
    """
    pixels, ppi = _pixels_of(file)
    height, width = pixels.colours.shape[:2]
    inks, is_mixed = _inks(pixels, file, colours)
    del pixels  # a large picture takes a lot of memory
    items = [
        item for layer, paint, coverage in inks for item in _items(coverage, paint, layer=layer)
    ]
    if not items:
        raise InputError(f"{file}: nothing is drawn in the picture")
    lacks = [
        Lack(line=0, what="colours", sentence="all ink of a picture is taken for one colour")
    ] * is_mixed
    return Artwork(
        title="",
        canvas=(width, height),
        px_per_mm=(ppi or _USUAL_PPI) / _MM_PER_INCH,
        is_true_size=ppi is not None,
        items=tuple(items),
        lacks=tuple(lacks),
    )


def ink_of_picture(file: Path) -> Grey:
    """How much ink each pixel of a picture holds, uint8 `(height, width)`, 255 full.

    Raises:
        InputError: it can't be read, is too large, or has no ink on an even ground.
    """
    pixels, _ = _pixels_of(file)
    return _coverage(pixels, file)[0]


def _inks(
    pixels: Pixels, file: Path, colours: Sequence[str]
) -> tuple[list[tuple[str, Paint, Grey]], bool]:
    """Each ink's layer, colour and coverage, and whether one stands for several."""
    if len(colours) < 2:
        coverage, paint, is_mixed = _coverage(pixels, file)
        return [("", paint, coverage)], is_mixed
    paints = [_paint_from_hex(colour) for colour in colours]
    coverages = coverage_of_colours(pixels, paints)
    return [(f"#{p.hex[1:]}", p, c) for p, c in zip(paints, coverages, strict=True)], False


def _paint_from_hex(colour: str) -> Paint:
    red, green, blue = (int(colour[at : at + 2], 16) / 255.0 for at in (1, 3, 5))
    return Paint(red=red, green=green, blue=blue)


def _items(coverage: Grey, paint: Paint, *, layer: str) -> Iterator[ArtPath]:
    """The rules and shapes of one ink."""
    contours = ink_contours(coverage)
    rules = rules_in_contours(contours, coverage)
    left = ink_contours(without_rules(coverage, rules)) if rules else contours
    islands = [contour for contour in left if signed_area(contour) > _LEAST_AREA_PX]
    holes = [contour for contour in left if signed_area(contour) < -_LEAST_AREA_PX]
    yield from (_rule_item(rule, paint, layer) for rule in rules)
    if islands:
        yield _shape_item([*islands, *holes], paint, layer)


def _pixels_of(file: Path) -> tuple[Pixels, float | None]:
    """The pixels, upright, and px to an inch if stated."""
    if not file.is_file():
        raise InputError(f"{file}: there is no such file")
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # what matters comes as an error
            with Image.open(file, formats=_FORMATS) as picture:
                _refuse_size(picture.size, file)
                dpi = picture.info.get("dpi", (0.0, 0.0))
                ImageOps.exif_transpose(picture, in_place=True)
                upright: Image.Image = picture
                if upright.mode.startswith("I"):
                    grey = (np.asarray(upright).astype(np.uint32) >> 8).astype(np.uint8)
                    upright = Image.fromarray(grey)
                values = pixels_of_picture(upright)
    except Image.DecompressionBombError as error:
        raise InputError(f"{file} has more pixels than can be read; {_SIZES}") from error
    except _DAMAGE as error:
        raise InputError(f"{file} cannot be read as a picture: {error}") from error
    ppi = float(dpi[0])
    return values, ppi if _LEAST_PPI <= ppi <= _MOST_PPI else None


def _refuse_size(size: tuple[int, int], file: Path) -> None:
    width, height = size
    is_large = max(size) > _MOST_SIDE or width * height > _MOST_PIXELS
    if is_large or min(size) < _LEAST_SIDE:
        raise InputError(f"{file} has {width} x {height} px; {_SIZES}")


def _coverage(pixels: Pixels, file: Path) -> tuple[Grey, Paint, bool]:
    """How much ink each pixel holds, 0 to 255, the ink's colour, and whether it has several."""
    if pixels.alpha is not None:
        inked = pixels.alpha > 127
        if not inked.any():
            raise InputError(f"{file}: nothing is drawn in the picture")
        return pixels.alpha, *_colour_of(pixels.colours[inked])
    ground = np.median(_rim(pixels.colours), axis=0)
    luma = luma_of(pixels.colours)
    grey = Image.fromarray(luma)
    counts = np.array(grey.histogram(), dtype=np.float64)
    away = np.abs(np.arange(256) - float(ground @ _LUMA))
    threshold = _otsu_threshold(away, counts)
    is_ink = away > threshold
    if threshold < 0.5 * _LEAST_CONTRAST or not counts[is_ink].any():
        raise InputError(f"{file}: no ink is told from the ground of the picture")
    full = _upper_quartile(away[is_ink], counts[is_ink])
    table = np.clip(np.rint(away * (255.0 / full)), 0, 255).astype(int).tolist()
    step = max(1, luma.size // _MOST_LOOKED_AT)
    places = np.arange(0, luma.size, step)
    rows, columns = np.divmod(places[is_ink[luma.ravel()[::step]]], luma.shape[1])
    return np.asarray(grey.point(table)), *_colour_of(pixels.colours[rows, columns])


def _upper_quartile(values: NDArray[np.float64], counts: NDArray[np.float64]) -> float:
    """The value that three quarters of the pixels don't pass."""
    order = np.argsort(values)
    passed = np.cumsum(counts[order])
    return float(values[order][np.searchsorted(passed, 0.75 * passed[-1])])


def _rim(colours: NDArray[np.uint8]) -> NDArray[np.uint8]:
    return np.concatenate((colours[0], colours[-1], colours[:, 0], colours[:, -1]))


def _colour_of(colours: NDArray[np.uint8]) -> tuple[Paint, bool]:
    """The median colour of inked pixels, and whether they are far from it.

    Pale ink on a dark ground is a negative, as stamps are: its colour is black.
    """
    some = colours[:: max(1, len(colours) // 100_000)].astype(np.float64)
    middle = np.median(some, axis=0)
    distance = float(np.abs(some - middle).max(axis=1).mean())
    if float(middle @ _LUMA) > _PALE:
        middle = np.zeros(3)
    red, green, blue = (float(part) / 255.0 for part in middle)
    return Paint(red=red, green=green, blue=blue), distance > _MANY_COLOURS


def _otsu_threshold(values: NDArray[np.float64], pixels: NDArray[np.float64]) -> float:
    """The value that parts two groups best, of values that so many pixels have.

    By the largest variance between them (N. Otsu, A threshold selection method from gray-level
    histograms, IEEE Transactions on Systems, Man, and Cybernetics 9, 1979).
    """
    counts, _ = np.histogram(values, bins=256, range=(0.0, 256.0), weights=pixels)
    levels = np.arange(256) + 0.5
    below, above = np.cumsum(counts), counts.sum() - np.cumsum(counts)
    mass = np.cumsum(counts * levels)
    with np.errstate(divide="ignore", invalid="ignore"):
        between = below * above * (mass / below - (mass[-1] - mass) / above) ** 2
    if np.isnan(between).all():
        return 0.0
    best = np.flatnonzero(between >= np.nanmax(between) * (1.0 - 1e-12))
    return float(best.mean()) + 1.0


def _rule_item(rule: FoundRule, paint: Paint, layer: str) -> ArtPath:
    return ArtPath(
        name="",
        layer=layer,
        line=0,
        subpaths=(Subpath(points=rule.points, closed=False),),
        stroke=paint,
        pen=Pen(width=rule.width),
    )


def _shape_item(contours: list[Points], paint: Paint, layer: str) -> ArtPath:
    return ArtPath(
        name="",
        layer=layer,
        line=0,
        subpaths=tuple(Subpath(points=contour, closed=True) for contour in contours),
        fill=paint,
        fill_rule=FillRule.NONZERO,
        is_seen=True,
    )

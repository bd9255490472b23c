"""Ways in which a picture can have been changed as a whole, and which of them explains another.

Each way gives what the expected picture would have become; the way that leaves least unexplained is
taken, if that is little.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np
import scipy
from PIL import Image

from inkline.geometry.arrays import Floats, Grey
from inkline.geometry.boxes import Box

_EXPLAINED = 0.3
"""Largest share of a difference that may stay unexplained. Chosen from planted changes, of which
none left more than 0.2, and from other drawings, of which none left less than 0.5."""
_SURE = 0.02
_STRAIGHT = 0.05
"""A gamma that differs by less from 1 bends nothing."""
_BLURS_PX = (0.3, 0.5, 0.7, 1.0, 1.4, 2.0, 3.0)
_SHRINKS = (0.5, 0.75, 1 / 3, 0.25)
_RESAMPLINGS = (
    Image.Resampling.BICUBIC,
    Image.Resampling.BILINEAR,
    Image.Resampling.LANCZOS,
    Image.Resampling.BOX,
    Image.Resampling.NEAREST,
)
_WEIGHTS_PX = (1, 2, 3)
_LEAST_SHIFT_PX = 0.05
_LEAST_LEFT = 0.3
"""What loses more of its ink than this is gone rather than made smaller."""
_FULL = 255.0
_FAR_SHARE, _AS_LIKE = 0.05, 0.99
"""A shift over more than this share of the picture counts only if it fits so much better than none:
what repeats in columns and rows fits nearly as well one farther."""


_WINDOW_PX = 640
"""Softness and weight are told from the part of so many px in which most differs, and places from
pictures made so small first."""

_Made = tuple[str, str, Floats, tuple[float, float]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One way in which a picture was changed.

    Attributes:
        kind: a word for it.
        sentence: what happened to it, such as "mirrored left to right".
        left: share of the difference that this leaves unexplained.
        shift: how far it moved right and down, in px.
        box: where in px, if it isn't the whole of what it is about.
    """

    kind: str
    sentence: str
    left: float
    shift: tuple[float, float] = (0.0, 0.0)
    box: Box | None = None


def change_between(got: Grey, expected: Grey, *, reach_px: int | None = None) -> Change | None:
    """The change that made `got` of `expected`, both of one size; None if none explains it.

    Args:
        got: the picture there is.
        expected: the picture there should be.
        reach_px: how far it may have been moved; None for any distance.
    """
    best = _best_change(got, expected, _made_pictures(got, expected, reach_px), None)
    if best is not None and best.left < _SURE:
        return best
    window = telling_window(got, expected)
    made_pictures = _soft_and_weight_changes(expected, window)
    return _best_change(got[window], expected[window], made_pictures, best)


def _best_change(
    got: Grey, expected: Grey, made_pictures: Iterator[_Made], best: Change | None
) -> Change | None:
    """The change that leaves least, if that is clearly less than `best` leaves."""
    difference = float(np.abs(got.astype(np.int16) - expected).sum())
    for kind, sentence, made, shift in made_pictures:
        left = float(np.abs(made - got).sum()) / difference
        if left < (_EXPLAINED if best is None else 0.9 * best.left):
            best = Change(kind=kind, sentence=sentence, left=left, shift=shift)
        if best is not None and best.left < _SURE:
            return best
    return best


def _made_pictures(got: Grey, expected: Grey, reach_px: int | None) -> Iterator[_Made]:
    """What each change would have made of `expected`: kind, sentence, picture and shift."""
    plain = expected.astype(np.float64)
    yield from _value_changes(got, expected)
    yield from _moved_pictures(got, plain, reach_px)
    for kind, sentence, flip in _FLIPS:
        turned = flip(plain)
        at = shift_between(got, turned, reach_px=reach_px)
        yield kind, sentence, move_picture(turned, (round(at[0]), round(at[1]))), (0.0, 0.0)


_FLIPS: tuple[tuple[str, str, Callable[[Floats], Floats]], ...] = (
    ("mirrored", "mirrored left to right", np.fliplr),
    ("turned", "turned upside down", lambda ink: ink[::-1, ::-1]),
    ("mirrored", "mirrored top to bottom", np.flipud),
)


def _value_changes(got: Grey, expected: Grey) -> Iterator[_Made]:
    """The best that changed values alone can do: the mean of `got` for each expected value."""
    counts = np.bincount(expected.ravel(), minlength=256)
    sums = np.bincount(expected.ravel(), got.ravel(), minlength=256)
    there = counts > 0
    curve = np.where(there, sums / np.maximum(counts, 1), np.arange(256))
    if curve[0] > curve[255]:
        yield "inverted", "black on white: its values are upside down", curve[expected], (0.0, 0.0)
        return
    sharp = ((got > 0) & (got < _FULL)).sum() < 0.02 * ((expected > 0) & (expected < _FULL)).sum()
    if sharp:
        hard = np.where(expected >= 128, _FULL, 0.0)
        yield "values", "without half tones: its edges are hard steps", hard, (0.0, 0.0)
        return
    inner = there & (np.arange(256) > 25) & (np.arange(256) < 230) & (curve > 0) & (curve < 255)
    gamma = 1.0
    if inner.any():
        values = np.flatnonzero(inner)
        gamma = float(np.median(np.log(curve[inner] / _FULL) / np.log(values / _FULL)))
    sentence = f"bent in its values, as by a gamma of {1.0 / gamma if gamma > 0 else 1.0:.2g}"
    if curve[255] < 250 or curve[0] > 5:
        sentence = f"changed in its values: ground {curve[0]:.0f}, full ink {curve[255]:.0f}"
    elif abs(gamma - 1.0) < _STRAIGHT:
        return  # what the mean of moved edges bends as well
    yield "values", sentence, curve[expected], (0.0, 0.0)


def _moved_pictures(got: Grey, plain: Floats, reach_px: int | None) -> Iterator[_Made]:
    shift = shift_between(got, plain, reach_px=reach_px)
    if math.hypot(*shift) < _LEAST_SHIFT_PX:
        return
    for at in dict.fromkeys(((float(round(shift[0])), float(round(shift[1]))), shift)):
        if at != (0.0, 0.0):
            yield "moved", f"moved {shift_in_words(at)}", move_picture(plain, at), at


def telling_window(got: Grey, expected: Grey) -> tuple[slice, slice]:
    """The part of two pictures, of at most `_WINDOW_PX` px, in which they differ most."""
    change = np.abs(got.astype(np.int16) - expected)
    sides = []
    for axis in (1, 0):
        sums = np.cumsum(np.concatenate(([0], change.sum(axis=axis, dtype=np.int64))))
        width = min(_WINDOW_PX, len(sums) - 1)
        first = int(np.argmax(sums[width:] - sums[:-width]))
        sides.append(slice(first, first + width))
        if axis == 1:
            change = change[sides[0]]
    return sides[0], sides[1]


def _soft_and_weight_changes(expected: Grey, window: tuple[slice, slice]) -> Iterator[_Made]:
    """What changes of weight and softness would have made of the part `window` of `expected`."""
    plain = expected[window].astype(np.float64)
    yield from _weight_changes(plain)
    for px in _BLURS_PX:
        yield (
            "soft",
            f"blurred by about {px:g} px",
            scipy.ndimage.gaussian_filter(plain, px),
            (0.0, 0.0),
        )
    yield from _shrunk_pictures(expected, window)


def _weight_changes(plain: Floats) -> Iterator[_Made]:
    for px in _WEIGHTS_PX:
        for square in (True, False):
            foot = _foot(px, square=square)
            fat, thin = (
                scipy.ndimage.grey_dilation(plain, footprint=foot),
                scipy.ndimage.grey_erosion(plain, footprint=foot),
            )
            yield "heavier", f"fattened by {px} px all round", fat, (0.0, 0.0)
            if thin.sum() > _LEAST_LEFT * plain.sum():
                yield "lighter", f"made {px} px smaller all round", thin, (0.0, 0.0)


def _foot(px: int, *, square: bool) -> Floats:
    y, x = np.mgrid[-px : px + 1, -px : px + 1]
    return np.ones_like(x) if square else (np.hypot(x, y) <= px + 0.5)


def _shrunk_pictures(expected: Grey, window: tuple[slice, slice]) -> Iterator[_Made]:
    """Saved smaller, the whole of it, and enlarged again, of which `window` is shown."""
    picture, (height, width), (rows, columns) = Image.fromarray(expected), expected.shape, window
    size = (columns.stop - columns.start, rows.stop - rows.start)
    smaller = dict.fromkeys(
        (share, (max(whole(width * share), 1), max(whole(height * share), 1)))
        for share in _SHRINKS
        for whole in (math.floor, math.ceil)  # programs do either
    )
    for share, small in smaller:
        sentence = f"saved at {100.0 * share:.0f} % of its size and enlarged again"
        across, down = small[0] / width, small[1] / height
        part = (columns.start * across, rows.start * down, columns.stop * across, rows.stop * down)
        for shrinking in _RESAMPLINGS:
            shrunk = picture.resize(small, shrinking)
            for enlarging in _RESAMPLINGS:
                made = np.asarray(shrunk.resize(size, enlarging, box=part), dtype=np.float64)
                yield "shrunk", sentence, made, (0.0, 0.0)


def shift_between(
    got: Grey, expected: Floats | Grey, *, reach_px: int | None = None
) -> tuple[float, float]:
    """How far right and down `expected` has to be moved to lie best on `got`, in px.

    Whole px by cross-correlation, of large pictures first at a fraction of their size; then parts
    of one by least squares (Lucas and Kanade's step).
    """
    plain, by = np.asarray(expected, dtype=np.float64), (0, 0)
    shrink = -(-max(got.shape) // _WINDOW_PX)
    if shrink > 1:
        reach = None if reach_px is None else -(-reach_px // shrink)
        coarse = _whole_shift(_shrunk(got, shrink), _shrunk(plain, shrink), reach)
        by = (shrink * coarse[0], shrink * coarse[1])
        plain = move_picture(plain, (float(by[0]), float(by[1])))
        window = _window_of_most(plain)
        got, plain, reach_px = got[window], plain[window], shrink + 1
    fine = _whole_shift(got, plain, reach_px)
    part = _part_of_a_px(got, move_picture(plain, (float(fine[0]), float(fine[1]))))
    return by[0] + fine[0] + part[0], by[1] + fine[1] + part[1]


def _window_of_most(plain: Floats) -> tuple[slice, slice]:
    """The part of at most `_WINDOW_PX` px with most ink."""
    zero = np.zeros(plain.shape, dtype=np.uint8)
    return telling_window(np.clip(plain, 0, _FULL).astype(np.uint8), zero)


def _shrunk(grey: Floats | Grey, by: int) -> Floats:
    height, width = (side // by * by for side in grey.shape)
    cut = np.asarray(grey[:height, :width], dtype=np.float64)
    return np.asarray(cut.reshape(height // by, by, width // by, by).mean(axis=(1, 3)))


def _whole_shift(got: Floats | Grey, plain: Floats, reach_px: int | None) -> tuple[int, int]:
    """The whole px by which `plain` lies best on `got`, at most `reach_px` either way."""
    height, width = got.shape
    size = (2 * height, 2 * width)
    likeness = scipy.fft.irfft2(
        scipy.fft.rfft2(got / _FULL, size) * np.conj(scipy.fft.rfft2(plain / _FULL, size)), size
    )
    if reach_px is not None:
        y, x = (np.minimum(np.arange(n), n - np.arange(n)) for n in size)
        likeness = np.where((y[:, None] <= reach_px) & (x[None, :] <= reach_px), likeness, -np.inf)
    dy, dx = (int(value) for value in np.unravel_index(np.argmax(likeness), size))
    here = likeness[np.ix_([-1, 0, 1], [-1, 0, 1])]
    far = min(dy, size[0] - dy) + min(dx, size[1] - dx) > _FAR_SHARE * max(size)
    if far and here.max() >= _AS_LIKE * likeness[dy, dx]:  # one column on the next
        dy, dx = (int(value) - 1 for value in np.unravel_index(np.argmax(here), here.shape))
        return dx, dy
    return (dx - size[1] if dx > width else dx), (dy - size[0] if dy > height else dy)


def _part_of_a_px(got: Grey, plain: Floats) -> tuple[float, float]:
    """The small shift by which `plain` would lie better on `got`, at most 1 px either way."""
    soft, target = (
        scipy.ndimage.gaussian_filter(plain, 1.0),
        scipy.ndimage.gaussian_filter(got.astype(np.float64), 1.0),
    )
    down, right = np.gradient(soft)
    miss = target - soft
    normal = np.array(
        [[(right * right).sum(), (right * down).sum()], [(right * down).sum(), (down * down).sum()]]
    )
    normal += np.eye(2) * (1e-6 * np.trace(normal) + 1e-9)
    x, y = np.linalg.solve(normal, -np.array([(right * miss).sum(), (down * miss).sum()]))
    return float(np.clip(x, -1.0, 1.0)), float(np.clip(y, -1.0, 1.0))


def move_picture(plain: Floats, by: tuple[float, float]) -> Floats:
    """`plain` moved right and down by so many px, nothing coming in from beyond its edges."""
    if by == (0.0, 0.0):
        return plain
    if all(float(value).is_integer() for value in by):
        moved = np.zeros_like(plain)
        dx, dy = int(by[0]), int(by[1])
        height, width = plain.shape
        if abs(dx) < width and abs(dy) < height:
            moved[max(dy, 0) : height + min(dy, 0), max(dx, 0) : width + min(dx, 0)] = plain[
                max(-dy, 0) : height + min(-dy, 0), max(-dx, 0) : width + min(-dx, 0)
            ]
        return moved
    return np.asarray(scipy.ndimage.shift(plain, (by[1], by[0]), order=1, mode="constant"))


def shift_in_words(by: tuple[float, float]) -> str:
    """`2.5 px right and 1 px up` for a shift in px; parts below 0.05 px are left out."""
    parts = [
        f"{abs(value):.1f} px {way if value > 0 else back}".replace(".0 px", " px")
        for value, way, back in ((by[0], "right", "left"), (by[1], "down", "up"))
        if abs(value) >= _LEAST_SHIFT_PX
    ]
    return " and ".join(parts) or "nowhere"

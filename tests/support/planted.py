"""Faults planted in the pictures of a drawn kit, each with the names by which it may be told.

The faults are those by which a picture can be spoiled without anybody meaning to: by a slip of the
hand, by a program that saves otherwise, or by a file that is put in another's place.
"""

# ruff: noqa: ARG001, ARG005 - every change is called alike: picture, entry, other pictures

import hashlib
import io
import json
from dataclasses import dataclass

import numpy as np
from PIL import Image, ImageDraw
from scipy import ndimage

from inkline.proof.things import things_of


@dataclass(frozen=True)
class Fault:
    """One fault: on which stamp, how it is made, which kinds name it, and which marks."""

    stem: str
    what: str
    change: object
    kinds: tuple[str, ...]
    marks: tuple[str, ...] = ()


def thing(entry, what):
    return next(one for one in things_of(entry) if one.what == what)


def box_of(entry, what, grow=2):
    x0, y0, x1, y1 = thing(entry, what).exact
    pad = grow + 0.04 * max(x1 - x0, y1 - y0)
    return int(x0 - pad), int(y0 - pad), int(np.ceil(x1 + pad)), int(np.ceil(y1 + pad))


def cell_of(entry, what):
    x0, y0, x1, y1 = thing(entry, what).around
    return int(np.ceil(x0)), int(np.ceil(y0)), int(x1), int(y1)


def whole(function):
    return lambda grey, entry, others: function(grey)


def in_cell(what, function):
    def change(grey, entry, others):
        x0, y0, x1, y1 = cell_of(entry, what)
        out = grey.copy()
        out[y0:y1, x0:x1] = function(grey[y0:y1, x0:x1].copy())
        return out

    return change


def ink_of(patch):
    rows, columns = np.flatnonzero((patch > 0).any(1)), np.flatnonzero((patch > 0).any(0))
    return columns[0], rows[0], columns[-1] + 1, rows[-1] + 1


def in_ink(function):
    """Change the box of the ink of a patch."""

    def change(patch):
        x0, y0, x1, y1 = ink_of(patch)
        patch[y0:y1, x0:x1] = function(patch[y0:y1, x0:x1].copy())
        return patch

    return change


def erased(first, last):
    def change(ink):
        n = ink.shape[1]
        ink[:, round(first * n) : round(last * n)] = 0
        return ink

    return in_ink(change)


def rolled(dx, dy):
    return lambda patch: np.roll(patch, (dy, dx), axis=(0, 1))


def part_moved(grey, by, axis=1):
    return ndimage.shift(grey.astype(float), (by, 0) if axis == 0 else (0, by), order=1)


def as_grey(values):
    return np.clip(np.rint(values), 0, 255).astype(np.uint8)


def rule_patch(entry, number):
    """Where a rule lies: a slice of the picture with two weights beside it, and its weight."""
    rule = thing(entry, f"rule {number}").rule
    x0, y0, x1, y1 = thing(entry, f"rule {number}").exact
    reach = 1.5 * rule.width_px
    level = x1 - x0 > y1 - y0
    rows = slice(int(y0 - reach), int(y1 + reach) + 1) if level else slice(int(y0), int(y1) + 1)
    columns = slice(int(x0), int(x1) + 1) if level else slice(int(x0 - reach), int(x1 + reach) + 1)
    return rows, columns, rule.width_px, level


def moved_rule(number, by):
    def change(grey, entry, others):
        rows, columns, _, level = rule_patch(entry, number)
        out = grey.copy()
        out[rows, columns] = as_grey(part_moved(grey[rows, columns], by, 0 if level else 1))
        return out

    return change


def widened_rule(number, share):
    def change(grey, entry, others):
        rows, columns, weight, level = rule_patch(entry, number)
        out = grey.copy()
        patch = grey[rows, columns].astype(float)
        half = 0.5 * share * weight
        one, other = (part_moved(patch, by, 0 if level else 1) for by in (half, -half))
        out[rows, columns] = as_grey(np.maximum(np.maximum(one, other), patch))
        return out

    return change


def all_rules_widened(share):
    def change(grey, entry, others):
        out = grey
        for number in range(1, len(entry["lines"]) + 1):
            out = widened_rule(number, share)(out, entry, others)
        return out

    return change


def gone_rule(number, first=0.0, last=1.0):
    """A rule, or a share of its length, without ink, apart from what crosses it."""

    def change(grey, entry, others):
        rows, columns, _, level = rule_patch(entry, number)
        out = grey.copy()
        patch = out[rows, columns]
        n = patch.shape[1 if level else 0]
        a, b = round(first * n), round(last * n)
        if level:
            patch[:, a:b] = 0
        else:
            patch[a:b, :] = 0
        return out

    return change


def gap_in_rule(number, weights):
    def change(grey, entry, others):
        rows, columns, weight, level = rule_patch(entry, number)
        n = (columns if level else rows).stop - (columns if level else rows).start
        at, share = 0.5 + 0.07, weights * weight / n
        return gone_rule(number, at, at + share)(grey, entry, others)

    return change


def no_corner(grey, entry, others):
    x0, y0 = (min(thing(entry, t.what).exact[i] for t in things_of(entry)) for i in (0, 1))
    out, weight = grey.copy(), entry["lines"][0]["width_px"]
    n = int(6 * weight)
    out[int(y0 - 2 * weight) : int(y0) + n, max(int(x0 - 2 * weight), 0) : int(x0) + n] = 0
    return out


def extra_rule(grey, entry, others):
    out = grey.copy()
    xs = sorted({line["from"][0] for line in entry["lines"] if line["from"][0] == line["to"][0]})
    x, weight = round(0.5 * (xs[2] + xs[3])), max(round(entry["lines"][0]["width_px"]), 1)
    rows = np.flatnonzero(grey.any(axis=1))
    out[rows[0] : rows[-1], x : x + weight] = 255
    return out


def spot(value, where, size=5):
    def change(grey, entry, others):
        x, y = where(grey, entry)
        out = grey.copy()
        out[y : y + size, x : x + size] = value
        return out

    return change


def stroke(place):
    """A stroke within the frame, 1/250 of the canvas wide; `place` is in shares of the frame."""

    def change(grey, entry, others):
        ends = [line[end] for line in entry["lines"] for end in ("from", "to")]
        low, high = np.min(ends, axis=0), np.max(ends, axis=0)
        points = [tuple(low + (high - low) * place(t)) for t in np.linspace(0.1, 0.9, 60)]
        picture = Image.fromarray(grey)
        width = max(3, grey.shape[1] // 250)
        ImageDraw.Draw(picture).line(points, fill=255, width=width, joint="curve")
        return np.asarray(picture)

    return change


def in_a_cell(grey, entry):
    xs = sorted({line["from"][0] for line in entry["lines"] if line["from"][0] == line["to"][0]})
    ys = sorted({line["from"][1] for line in entry["lines"] if line["from"][1] == line["to"][1]})
    return round(0.5 * (xs[1] + xs[2])), round(0.5 * (ys[1] + ys[2]))


def outside(grey, entry):
    return round(0.5 * grey.shape[1]), round(0.012 * grey.shape[0]) + 1


def in_block(number):
    def where(grey, entry):
        x0, y0, x1, y1 = thing(entry, f"block {number}").exact
        return round(0.5 * (x0 + x1)), round(0.5 * (y0 + y1))

    return where


def between_blocks(number):
    def where(grey, entry):
        _, y0, x1, y1 = thing(entry, f"block {number}").exact
        x2 = thing(entry, f"block {number + 1}").exact[0]
        return round(0.5 * (x1 + x2)) - 2, round(0.5 * (y0 + y1))

    return where


def in_white_of(what):
    def where(grey, entry):
        x0, y0, x1, y1 = cell_of(entry, what)
        _, _, _, iy1 = ink_of(grey[y0:y1, x0:x1])
        return x0 + 3, y0 + (iy1 + (y1 - y0)) // 2 - 2

    return where


def exchanged(one, other):
    def change(grey, entry, others):
        out = grey.copy()
        boxes = [cell_of(entry, what) for what in (one, other)]
        patches = [grey[y0:y1, x0:x1] for x0, y0, x1, y1 in boxes]
        height = min(patch.shape[0] for patch in patches)
        width = min(patch.shape[1] for patch in patches)
        for (x0, y0, _, _), patch in zip(boxes, patches[::-1], strict=True):
            out[y0 : y0 + height, x0 : x0 + width] = patch[:height, :width]
        return out

    return change


def moved_row(dx, dy):
    """The numerals of one row, moved."""

    def change(grey, entry, others):
        rows = {}
        for one in things_of(entry):
            rows.setdefault(round(one.around[1]), []).append(one)
        row = list(rows.values())[1]
        out = grey
        for one in row:
            out = in_cell(one.what, rolled(dx, dy))(out, entry, others)
        return out

    return change


def blocks_inset(px):
    return whole(lambda grey: ndimage.grey_erosion(grey, size=(2 * px + 1, 2 * px + 1)))


def disc(px):
    y, x = np.mgrid[-px : px + 1, -px : px + 1]
    return np.hypot(x, y) <= px + 0.5


def shrunk(grey):
    height, width = grey.shape
    small = Image.fromarray(grey).resize((width // 2, height // 2), Image.Resampling.BILINEAR)
    return np.asarray(small.resize((width, height), Image.Resampling.BICUBIC))


def strangers_picture(grey):
    """Rings about the middle: nothing of a calendar."""
    y, x = np.indices(grey.shape)
    ring = np.hypot(x - grey.shape[1] / 2, y - grey.shape[0] / 2)
    return np.where((ring % 90 < 12) & (ring < 0.4 * min(grey.shape)), 255, 0).astype(np.uint8)


def other(which):
    return lambda grey, entry, others: others[which][entry["name"]]


def gamma(value):
    return whole(lambda grey: as_grey(255.0 * (grey / 255.0) ** (1.0 / value)))


MIRRORED = whole(lambda grey: grey[:, ::-1])
BLURRED = whole(lambda grey: as_grey(ndimage.gaussian_filter(grey.astype(float), 1.0)))
HARD = whole(lambda grey: np.where(grey >= 128, 255, 0).astype(np.uint8))


def moved_whole(dx, dy):
    return whole(rolled(dx, dy))


GRID, DATES, BLOCKS, WORD = "grid-5", "dates-3", "blocks-5", "words/month-05"
_LOOKS = [
    ("its half tones lost", HARD, ("values",)),
    ("a gamma of 2.2", gamma(2.2), ("values",)),
    ("blurred by 1 px", BLURRED, ("soft",)),
    ("saved at half size and enlarged", whole(shrunk), ("shrunk",)),
    ("black on white", whole(lambda grey: 255 - grey), ("inverted",)),
    ("a stranger's picture", whole(strangers_picture), ("stranger",)),
    ("of another drawing number", other("number"), ("other drawing",)),
    ("all of it 3 px right", moved_whole(3, 0), ("moved",)),
    ("all of it 1 px down", moved_whole(0, 1), ("moved",)),
    ("no ink at all", whole(np.zeros_like), ("gone",)),
    ("mirrored", MIRRORED, ("mirrored",)),
]
FAULTS = [
    *(
        Fault(stem, what, change, kinds)
        for stem in (GRID, DATES, BLOCKS, WORD)
        for what, change, kinds in _LOOKS
    ),
    *(
        Fault(stem, "raggedness doubled", other("rough"), ("edges",))
        for stem in (GRID, DATES, BLOCKS, WORD)
    ),
    Fault(GRID, "a rule 0.5 px off", moved_rule(3, 0.5), ("moved",), ("rule 3",)),
    Fault(GRID, "a rule 1 px off", moved_rule(9, 1.0), ("moved",), ("rule 9",)),
    Fault(GRID, "a rule 3 px off", moved_rule(9, -3.0), ("moved",), ("rule 9",)),
    Fault(GRID, "a rule 3 % wider", widened_rule(3, 0.03), ("wider",), ("rule 3",)),
    Fault(GRID, "a rule 10 % wider", widened_rule(9, 0.10), ("wider",), ("rule 9",)),
    Fault(GRID, "all rules 3 % wider", all_rules_widened(0.03), ("wider", "heavier")),
    Fault(GRID, "a rule gone", gone_rule(3), ("gone", "broken"), ("rule 3",)),
    Fault(GRID, "a gap of 4 weights", gap_in_rule(4, 4), ("broken",), ("rule 4",)),
    Fault(GRID, "a corner gone", no_corner, ("broken",)),
    Fault(GRID, "an extra rule", extra_rule, ("line",)),
    Fault(GRID, "a line by hand across it", stroke(lambda t: (t, 0.2 + 0.5 * t)), ("line",)),
    Fault(
        GRID,
        "a loop by hand over some cells",
        stroke(lambda t: (0.5 + 0.2 * np.cos(6 * t), 0.5 + 0.15 * np.sin(6 * t))),
        ("line",),
    ),
    Fault(GRID, "a speck of 5 px in a cell", spot(255, in_a_cell), ("speck",)),
    Fault(GRID, "a speck of 5 px outside", spot(255, outside), ("speck",)),
    Fault(
        DATES, "16 and 17 exchanged", exchanged("'16'", "'17'"), ("exchanged",), ("'16'", "'17'")
    ),
    Fault(DATES, "half of 17 erased", in_cell("'17'", erased(0.5, 1.0)), ("part gone",), ("'17'",)),
    Fault(
        DATES,
        "the middle of 17 erased",
        in_cell("'17'", erased(0.35, 0.65)),
        ("part gone",),
        ("'17'",),
    ),
    Fault(
        DATES, "8 % of 17 clipped", in_cell("'17'", erased(0.92, 1.0)), ("part gone",), ("'17'",)
    ),
    Fault(DATES, "17 gone", in_cell("'17'", np.zeros_like), ("gone",), ("'17'",)),
    *(
        Fault(DATES, f"17 {n} px right", in_cell("'17'", rolled(n, 0)), ("moved",), ("'17'",))
        for n in (1, 3, 6, 10)
    ),
    *(Fault(DATES, f"a row {n} px down", moved_row(0, n), ("moved",)) for n in (3, 6)),
    Fault(DATES, "2 mirrored", in_cell("'2'", in_ink(np.fliplr)), ("mirrored",), ("'2'",)),
    Fault(
        DATES,
        "6 upside down",
        in_cell("'6'", in_ink(lambda ink: ink[::-1, ::-1])),
        ("turned",),
        ("'6'",),
    ),
    Fault(DATES, "24 mirrored", in_cell("'24'", in_ink(np.fliplr)), ("mirrored",), ("'24'",)),
    Fault(DATES, "a hole of 5 px in 17", None, ("hole", "part gone"), ("'17'",)),
    Fault(DATES, "a speck near 3", spot(255, in_white_of("'3'"), 3), ("speck",), ("'3'",)),
    Fault(DATES, "17 drawn by another number", None, ("redrawn",), ("'17'",)),
    Fault(BLOCKS, "1 px in", blocks_inset(1), ("lighter",)),
    Fault(BLOCKS, "2 px in", blocks_inset(2), ("lighter",)),
    Fault(
        BLOCKS,
        "fattened by 1 px",
        whole(lambda grey: ndimage.grey_dilation(grey, footprint=disc(1))),
        ("heavier",),
    ),
    Fault(
        BLOCKS,
        "fattened by 2 px",
        whole(lambda grey: ndimage.grey_dilation(grey, footprint=disc(2))),
        ("heavier",),
    ),
    Fault(BLOCKS, "a hole of 5 px", spot(0, in_block(5)), ("hole",), ("block 5",)),
    Fault(BLOCKS, "a speck between two", spot(255, between_blocks(3), 3), ("speck",)),
    Fault(BLOCKS, "one gone", in_cell("block 5", np.zeros_like), ("gone",), ("block 5",)),
    Fault(BLOCKS, "one 3 px right", in_cell("block 5", rolled(3, 0)), ("moved",), ("block 5",)),
    Fault(
        BLOCKS,
        "half of one gone",
        in_cell("block 5", erased(0.5, 1.0)),
        ("part gone",),
        ("block 5",),
    ),
]


def _hole_in_17(grey, entry, others):
    x0, y0, x1, y1 = cell_of(entry, "'17'")
    out = grey.copy()
    patch = out[y0:y1, x0:x1]
    inner = ndimage.distance_transform_cdt(patch == 255, "chessboard")
    row, column = np.unravel_index(np.argmax(inner), inner.shape)
    n = min(5, max(int(inner.max()) - 1, 1))
    patch[row - n // 2 : row - n // 2 + n, column - n // 2 : column - n // 2 + n] = 0
    return out


def _seventeen_of_another(grey, entry, others):
    x0, y0, x1, y1 = cell_of(entry, "'17'")
    out = grey.copy()
    out[y0:y1, x0:x1] = others["number"][entry["name"]][y0:y1, x0:x1]
    return out


_MADE = {"a hole of 5 px in 17": _hole_in_17, "17 drawn by another number": _seventeen_of_another}
FAULTS = [
    fault
    if fault.change is not None
    else Fault(fault.stem, fault.what, _MADE[fault.what], fault.kinds, fault.marks)
    for fault in FAULTS
]


def png_of(grey, ppi=300.0):
    buffer = io.BytesIO()
    Image.fromarray(np.ascontiguousarray(grey)).save(buffer, format="png", dpi=(ppi, ppi))
    return buffer.getvalue()


def grey_at(path):
    limit, Image.MAX_IMAGE_PIXELS = Image.MAX_IMAGE_PIXELS, None
    try:
        with Image.open(path) as image:
            return np.asarray(image)
    finally:
        Image.MAX_IMAGE_PIXELS = limit


def entry_named(folder, name):
    manifest = json.loads((folder / "manifest.json").read_text())
    return next(entry for entry in manifest["stamps"] if entry["name"] == name)


def full_name(stem, form="tall"):
    return stem if "/" in stem else f"{form}/{stem}"


def plant(folder, name, data):
    """Put a picture in a stamp's place as if it had been drawn so: its checksum is noted."""
    manifest = json.loads((folder / "manifest.json").read_text())
    entry = next(entry for entry in manifest["stamps"] if entry["name"] == name)
    (folder / entry["file"]).write_bytes(data)
    entry["sha256"] = hashlib.sha256(data).hexdigest()
    (folder / "manifest.json").write_text(json.dumps(manifest))

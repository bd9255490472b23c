"""A whole kit against its own manifest: every picture by itself, and how they register when stamped over each other."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from typing import Any

import numpy as np

from inkline.errors import InputError
from inkline.proof.finding import Bounds, Check, Finding
from inkline.proof.picture import HALF, Grey
from inkline.proof.png_facts import grey_from_png, png_facts
from inkline.proof.stamp_proof import Box, format_findings, picture_findings, rules_from_lines

Entry = Mapping[str, Any]
"""A stamp as the manifest lists it."""

MANIFEST_FILE = "manifest.json"
# A word on its own canvas fits it closely; one free pixel shows that nothing is cut off.
_LEAST_WORD_EDGE_PX = 1.0


def prove_kit(folder: Path, *, bounds: Bounds | None = None) -> list[Finding]:
    """All that is amiss in the kit in `folder`, in the order of its manifest; an empty list is a clean kit.

    Pictures that do not have the manifest's checksum are named and not measured: they were retouched by hand or damaged.

    Raises:
        InputError: the folder has no manifest, or one that can't be read.
    """
    bounds = bounds or Bounds()
    ppi, entries = _manifest(folder)
    findings: list[Finding] = []
    for entry in entries:
        findings += _stamp_findings(folder, entry, ppi=ppi, bounds=bounds)
    for name in dict.fromkeys(entry["format"] for entry in entries if entry["format"] is not None):
        findings += _format_register(folder, [entry for entry in entries if entry["format"] == name], bounds=bounds)
    return findings


def _manifest(folder: Path) -> tuple[float, list[Entry]]:
    path = folder / MANIFEST_FILE
    try:
        values = json.loads(path.read_bytes())
        return float(values["ppi"]), list(values["stamps"])
    except FileNotFoundError as problem:
        raise InputError(f"{folder} holds no kit: it has no {MANIFEST_FILE}") from problem
    except (ValueError, KeyError, TypeError) as problem:
        raise InputError(f"{path} cannot be read as the manifest of a kit ({problem})") from problem


def _stamp_findings(folder: Path, entry: Entry, *, ppi: float, bounds: Bounds) -> Iterator[Finding]:
    name = entry["name"]
    data = _bytes_of(folder, entry)
    if data is None:
        yield Finding(stamp=name, check=Check.FILE, sentence=f"{entry['file']} is missing")
        return
    if hashlib.sha256(data).hexdigest() != entry["sha256"]:
        sentence = f"{entry['file']} is not the picture that was drawn: it was retouched or damaged"
        yield Finding(stamp=name, check=Check.FILE, sentence=sentence)
        return
    try:
        facts, grey = png_facts(data), grey_from_png(data)
    except (ValueError, OSError) as problem:
        yield Finding(stamp=name, check=Check.FILE, sentence=f"{entry['file']} cannot be read: {problem}")
        return
    canvas = tuple(entry["canvas"])
    yield from format_findings(name, facts, canvas=canvas, ppi=ppi)
    if facts.size == canvas:
        least = _LEAST_WORD_EDGE_PX if entry["format"] is None else bounds.edge_px
        yield from picture_findings(name, grey, entry, least_edge_px=least, bounds=bounds)


def _format_register(folder: Path, entries: list[Entry], *, bounds: Bounds) -> Iterator[Finding]:
    """Whether all stamps of one format fit over each other: by their exact geometry, then by their pictures."""
    grids = [entry for entry in entries if "lines" in entry]
    if not grids:
        return
    largest = max(grids, key=lambda entry: len(entry["lines"]))
    xs, ys = _lines_of(largest)
    for entry in entries:
        for what, sides in _sides(entry):
            distance = max(_distance(sides[0::2], xs), _distance(sides[1::2], ys))
            if not distance <= bounds.register_px:
                sentence = f"{what} stands {distance:.3g} px off the rules of {largest['name']}"
                yield Finding(stamp=entry["name"], check=Check.REGISTER, sentence=sentence)
        for what, insets in _insets(entry, xs, ys):
            if not max(insets) - min(insets) <= bounds.register_px:
                shown = ", ".join(f"{inset:.6g}" for inset in insets)
                sentence = f"{what} must be set in equally from the rules about it, not by {shown} px"
                yield Finding(stamp=entry["name"], check=Check.REGISTER, sentence=sentence)
    yield from _overlap_findings(folder, largest, [entry for entry in entries if "glyphs" in entry])


def _sides(entry: Entry) -> Iterator[tuple[str, Box]]:
    """What of a stamp must lie on rules: left, top, right and bottom."""
    for glyph in entry.get("glyphs", ()):
        yield f"the cell of {glyph['text']!r}", tuple(glyph["cell"])
    if "lines" in entry:
        xs, ys = _lines_of(entry)
        for x in xs:
            yield f"the rule at x = {x:g}", (x, ys[0], x, ys[-1])
        for y in ys:
            yield f"the rule at y = {y:g}", (xs[0], y, xs[-1], y)


def _insets(entry: Entry, xs: list[float], ys: list[float]) -> Iterator[tuple[str, Box]]:
    """How far each block stands from the rules left of it, above, right of it and below; infinite without a rule there."""
    for number, box in enumerate(entry.get("boxes", ()), start=1):
        gaps = [
            [box["x0"] - x for x in xs],
            [box["y0"] - y for y in ys],
            [x - box["x1"] for x in xs],
            [y - box["y1"] for y in ys],
        ]
        left, top, right, bottom = (min((gap for gap in row if gap >= 0), default=float("inf")) for row in gaps)
        yield f"block {number}", (left, top, right, bottom)


def _lines_of(grid: Entry) -> tuple[list[float], list[float]]:
    """Where the grid's upright rules stand in x and its level ones in y, ascending."""
    rules = rules_from_lines(grid["lines"])
    xs = sorted(rule.start[0] for rule in rules if abs(rule.end[0] - rule.start[0]) < abs(rule.end[1] - rule.start[1]))
    ys = sorted(rule.start[1] for rule in rules if abs(rule.end[0] - rule.start[0]) > abs(rule.end[1] - rule.start[1]))
    return xs, ys


def _distance(values: Iterable[float], places: list[float]) -> float:
    """The largest distance of any of `values` from the nearest of `places`."""
    return max(min((abs(value - place) for place in places), default=float("inf")) for value in values)


def _overlap_findings(folder: Path, grid: Entry, entries: list[Entry]) -> Iterator[Finding]:
    """Whether numerals or words run into the rules when stamped over the grid."""
    rules = _picture(folder, grid)
    for entry in entries:
        letters = _picture(folder, entry)
        if rules is None or letters is None or rules.shape != letters.shape:
            continue
        n_both = int(np.count_nonzero((rules >= HALF) & (letters >= HALF)))
        if n_both:
            sentence = f"its ink runs into the rules of {grid['name']} in {n_both} px"
            yield Finding(stamp=entry["name"], check=Check.REGISTER, sentence=sentence)


def _bytes_of(folder: Path, entry: Entry) -> bytes | None:
    path = folder / str(entry["file"])
    try:
        return path.read_bytes()
    except FileNotFoundError:
        return None


def _picture(folder: Path, entry: Entry) -> Grey | None:
    """The stamp's picture, or None where it is missing or unreadable (which was reported with the stamp itself)."""
    data = _bytes_of(folder, entry)
    try:
        return None if data is None else grey_from_png(data)
    except OSError:
        return None

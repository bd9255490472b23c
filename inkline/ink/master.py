"""A master: the ink of one mark, kept so that it need never be drawn again.

A master lies in mm of the sheet about its mark's own origin, so that it serves any resolution and
moves with its mark. Its key is a digest of all that the ink depends on; a mark whose key is known
is not drawn again.
"""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from inkline.drawing import Mark, Role, Stroke
from inkline.geometry.arrays import Floats, Points
from inkline.ink.media.medium import Medium
from inkline.ink.media.paper import Tooth
from inkline.ink.media.row import MEDIUM_COLUMNS, medium_from_row, row_from_medium
from inkline.ink.style import EXACT, Style

_FORMAT_VERSION, _OLDEST_VERSION = 5, 1
"""Version of the arrays that masters are kept in, and the first that can still be read: before 2
there were no media, before 3 their ink had softer rims where little was bare, before 4 the load of
a stroke that crosses itself jumped there."""

# Masters are kept on a grid of a nanometre of the sheet, 0.00003 px where a sheet of 84 mm is 2500
# px wide.
_NM_PER_MM = 1_000_000.0
_PROFILE_STEPS = 1_000_000.0


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Master:
    """The ink of one mark.

    Attributes:
        key: digest of all that it depends on, 32 hex digits.
        contours: united contours in mm, each `(n, 2)`.
        path: drawn centreline in mm, `(k, 2)`; none for an outline or a block.
        times: seconds along it, `(k,)`.
        pressures: width over nominal width along it, `(k,)`.
        levels: level of ink along it, `(k,)`.
        tooth: the paper under it or its medium, or `None` where it is solid.
    """

    key: str
    contours: tuple[Points, ...]
    path: Points = field(default_factory=lambda: np.zeros((0, 2)))
    times: Floats = field(default_factory=lambda: np.zeros(0))
    pressures: Floats = field(default_factory=lambda: np.zeros(0))
    levels: Floats = field(default_factory=lambda: np.zeros(0))
    tooth: Tooth | Medium | None = None


def points_on_grid(points: Points) -> Points:
    """`points` in mm rounded to the grid that masters are kept on."""
    return np.asarray(np.rint(points * _NM_PER_MM) / _NM_PER_MM)


def rounded_values(values: Floats) -> Floats:
    """`values` rounded as masters keep them.

    So a picture from a kept master equals the first one.
    """
    return values.astype(np.float32).astype(np.float64)


def master_key(
    mark: Mark,
    style: Style,
    *,
    number: int,
    again: int,
    px_per_mm: float,
    letter: Sequence[Stroke] = (),
) -> str:
    """The key of the master of `mark`, without drawing it.

    It covers the mark's geometry in mm about its own origin to a nanometre, its names, crossings,
    shared drift and room, the style's parts as its role has them, the drawing number and how often
    it was drawn again. Where a letter takes a form of its own, `letter` are all its strokes, and
    their geometry counts for each of them.
    """
    facts = {
        "number": number,
        "again": again,
        "name": mark.name,
        "group": mark.group,
        "role": mark.role.value,
        "style": _style_facts(style, mark.role),
        "geometry": _stroke_facts(mark, px_per_mm, style) if isinstance(mark, Stroke) else "shape",
    }
    if style.root:
        facts["root"] = style.root
    if mark.role is Role.RULE and style.paper.dryness > 0.0 and style.paper.medium != "patches":
        # Rules of one stamp lie on one sheet of paper, each where its own origin does.
        facts["on_sheet"] = [_whole_nm(at / px_per_mm) for at in mark.origin]
    if letter and isinstance(mark, Stroke) and mark.play is not None:
        facts["play"] = [
            _whole_nm(value / px_per_mm) for value in (*mark.play.most, *mark.play.lines)
        ]
    digest = hashlib.blake2b(json.dumps(facts, sort_keys=True).encode(), digest_size=16)
    own = (mark.points,) if isinstance(mark, Stroke) else mark.contours
    for points in (*own, *(stroke.points for stroke in letter)):
        local = (points - np.array(mark.origin)) / px_per_mm
        digest.update(np.rint(local * _NM_PER_MM).astype("<i8").tobytes() + b";")
    if isinstance(mark, Stroke) and mark.profile is not None:
        digest.update(np.rint(mark.profile * _PROFILE_STEPS).astype("<i8").tobytes())
    if isinstance(mark, Stroke) and mark.cuts is not None:
        cuts = np.array([(cut.reach, cut.lean) for cut in mark.cuts])
        digest.update(np.rint(cuts * _PROFILE_STEPS).astype("<i8").tobytes())
    return digest.hexdigest()


@lru_cache(maxsize=64)
def _style_facts(style: Style, role: Role) -> dict[str, Any]:
    """The values of the style that touch marks of `role` and differ from their defaults.

    A value that a later version adds leaves old keys as they are, so long as its default changes
    nothing.
    """
    mine, plain = style.to_dict(), EXACT.to_dict()
    parts = ("hand", "nib", "edge", "paper")
    changed = {part: {k: v for k, v in mine[part].items() if v != plain[part][k]} for part in parts}
    return changed | {"firmness": style.firmness.for_role(role)}


def _stroke_facts(stroke: Stroke, px_per_mm: float, style: Style) -> dict[str, Any]:
    """What a stroke's ink depends on besides its centreline.

    Room counts only as far as its ends could use it.
    """
    used = style.hand.run_over + stroke.width_px / px_per_mm
    return {
        "width": _whole_nm(stroke.width_px / px_per_mm),
        "cap": stroke.cap.value,
        "closed": stroke.closed,
        "shared": stroke.shared,
        "crossings": [_whole_nm(crossing / px_per_mm) for crossing in stroke.crossings],
        "room": [_whole_nm(min(room / px_per_mm, used)) for room in stroke.room_px],
    }


def _whole_nm(length: float) -> int:
    return round(length * _NM_PER_MM)


def arrays_from_masters(masters: Iterable[Master]) -> dict[str, NDArray[Any]]:
    """Compact arrays that hold `masters`.

    `masters_from_arrays` gives them back without loss (they lie on the grid already).
    """
    kept = list(masters)
    contours = [contour for master in kept for contour in master.contours]
    teeth = [_tooth_row(master.tooth) for master in kept]
    media = [row_from_medium(master.tooth) for master in kept]
    return {
        "format": np.array([_FORMAT_VERSION], dtype=np.int32),
        "keys": np.array([master.key for master in kept], dtype="S32"),
        "contour_counts": np.array([len(master.contours) for master in kept], dtype=np.int32),
        "contour_lengths": np.array([len(contour) for contour in contours], dtype=np.int32),
        "contour_points": _nm_array(contours),
        "path_lengths": np.array([len(master.path) for master in kept], dtype=np.int32),
        "path_points": _nm_array([master.path for master in kept]),
        "times": _joined_array(master.times for master in kept),
        "pressures": _joined_array(master.pressures for master in kept),
        "levels": _joined_array(master.levels for master in kept),
        "teeth": np.array(teeth, dtype=np.float64).reshape(len(kept), _TOOTH_COLUMNS),
        "media": np.array(media, dtype=np.float64).reshape(len(kept), MEDIUM_COLUMNS),
        "spine_lengths": np.array(
            [0 if m.tooth is None else len(m.tooth.spine) for m in kept], dtype=np.int32
        ),
        "spine_points": _nm_array([m.tooth.spine for m in kept if m.tooth is not None]),
        "spine_levels": _joined_array(m.tooth.levels for m in kept if m.tooth is not None),
        "spine_halves": _joined_array(m.tooth.halves for m in kept if m.tooth is not None),
    }


def masters_from_arrays(arrays: Mapping[str, NDArray[Any]]) -> dict[str, Master]:
    """The masters that `arrays` hold, by key.

    None if they were written in a format that this version cannot read.

    Raises:
        ValueError, KeyError, TypeError: they are of other kinds or shapes, don't fit together, or
            hold what isn't finite.
    """
    if "format" not in arrays or not (
        _OLDEST_VERSION <= int(arrays["format"][0]) <= _FORMAT_VERSION
    ):
        return {}
    _refuse_odd_arrays(arrays)
    none = np.zeros((len(arrays["keys"]), MEDIUM_COLUMNS))
    media = arrays.get("media", none)
    points = arrays["contour_points"] / _NM_PER_MM
    contours = (
        np.split(points, np.cumsum(arrays["contour_lengths"])[:-1])
        if len(arrays["contour_lengths"])
        else []
    )
    firsts = np.concatenate(([0], np.cumsum(arrays["contour_counts"])))
    paths = _ranges(arrays["path_lengths"])
    spines = _ranges(arrays["spine_lengths"])
    masters = {}
    for index, raw in enumerate(arrays["keys"]):
        key, path = raw.decode(), paths[index]
        masters[key] = Master(
            key=key,
            contours=tuple(contours[firsts[index] : firsts[index + 1]]),
            path=arrays["path_points"][path] / _NM_PER_MM,
            times=arrays["times"][path].astype(np.float64),
            pressures=arrays["pressures"][path].astype(np.float64),
            levels=arrays["levels"][path].astype(np.float64),
            tooth=_tooth(arrays["teeth"][index], arrays, spines[index])
            or _medium(media[index], arrays, spines[index]),
        )
    return masters


_TOOTH_COLUMNS = 11
_KEY = re.compile(rb"[0-9a-f]{32}")
_LARGEST_VALUE = 1000.0
"""Of any value along a path: a width over the nominal one, a level, or seconds by the thousand."""


def _refuse_odd_arrays(arrays: Mapping[str, NDArray[Any]]) -> None:
    """Refuse arrays that `arrays_from_masters` can't have given.

    Raises:
        ValueError, KeyError: as `masters_from_arrays`.
    """
    n = len(arrays["keys"])
    n_contours = _checked_total("contour_counts", arrays, n)
    n_points = _checked_total("contour_lengths", arrays, n_contours)
    n_path, n_spine = (_checked_total(f"{part}_lengths", arrays, n) for part in ("path", "spine"))
    shapes = {
        "contour_points": ((n_points, 2), "i"),
        "path_points": ((n_path, 2), "i"),
        "times": ((n_path,), "f"),
        "pressures": ((n_path,), "f"),
        "levels": ((n_path,), "f"),
        "teeth": ((n, _TOOTH_COLUMNS), "f"),
        "spine_points": ((n_spine, 2), "i"),
        "spine_levels": ((n_spine,), "f"),
        "spine_halves": ((n_spine,), "f"),
    }
    for name, (shape, kind) in shapes.items():
        array = arrays[name]
        if array.shape != shape or array.dtype.kind != kind or not np.isfinite(array).all():
            raise ValueError(f"{name} is {array.dtype} {array.shape}, where {shape} is required")
    if not all(_KEY.fullmatch(bytes(key)) for key in arrays["keys"]):
        raise ValueError("a key is no digest")
    has_tooth = arrays["teeth"][:, 0] != 0.0
    if np.any(has_tooth & (arrays["spine_lengths"] == 0)):
        raise ValueError("a tooth has no spine")
    if np.any(np.abs(arrays["pressures"]) > _LARGEST_VALUE):
        raise ValueError("a pressure is no pressure")


def _checked_total(name: str, arrays: Mapping[str, NDArray[Any]], n: int) -> int:
    """The sum of `n` counts.

    Raises:
        ValueError: there are more or fewer, or they aren't counts.
    """
    counts = arrays[name]
    if counts.shape != (n,) or counts.dtype.kind != "i" or np.any(counts < 0):
        raise ValueError(f"{name} is no row of {n} counts")
    return int(counts.sum(dtype=np.int64))


def _tooth_row(tooth: Tooth | Medium | None) -> list[float]:
    """A tooth's numbers in one row; the first says whether there is one."""
    if not isinstance(tooth, Tooth):
        return [0.0] * _TOOTH_COLUMNS
    return [
        1.0,
        *tooth.sizes,
        tooth.fine_share,
        *tooth.place,
        tooth.threshold,
        tooth.softness,
        tooth.streaks,
        tooth.rim,
    ]


def _tooth(row: Floats, arrays: Mapping[str, NDArray[Any]], spine: slice) -> Tooth | None:
    """The tooth of one row and its piece of the spines."""
    if row[0] == 0.0:
        return None
    return Tooth(
        sizes=(float(row[1]), float(row[2])),
        fine_share=float(row[3]),
        place=(float(row[4]), float(row[5]), float(row[6])),
        threshold=float(row[7]),
        softness=float(row[8]),
        spine=arrays["spine_points"][spine] / _NM_PER_MM,
        levels=arrays["spine_levels"][spine].astype(np.float64),
        halves=arrays["spine_halves"][spine].astype(np.float64),
        streaks=float(row[9]),
        rim=float(row[10]),
    )


def _medium(row: Floats, arrays: Mapping[str, NDArray[Any]], spine: slice) -> Medium | None:
    """The medium of one row and its piece of the spines."""
    return medium_from_row(
        row,
        spine=arrays["spine_points"][spine] / _NM_PER_MM,
        levels=arrays["spine_levels"][spine].astype(np.float64),
        halves=arrays["spine_halves"][spine].astype(np.float64),
    )


def _nm_array(parts: Iterable[Points]) -> NDArray[np.int32]:
    kept = [part for part in parts if len(part)]
    return (
        np.rint(np.concatenate(kept) * _NM_PER_MM).astype(np.int32)
        if kept
        else np.zeros((0, 2), dtype=np.int32)
    )


def _joined_array(parts: Iterable[Floats]) -> NDArray[np.float32]:
    kept = [part.astype(np.float32) for part in parts]
    return np.concatenate(kept) if kept else np.zeros(0, dtype=np.float32)


def _ranges(lengths: NDArray[np.int32]) -> list[slice]:
    ends = np.cumsum(lengths).tolist()
    return [slice(end - length, end) for end, length in zip(ends, lengths.tolist(), strict=True)]

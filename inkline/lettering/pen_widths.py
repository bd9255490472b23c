"""Widths that a glyph itself carries: how hard the pen presses at each node of a stroke.

They stand in the lib of the glyph's GLIF file, a list for each of its contours with a number for
each node on the curve, in stems. Between nodes the width follows a monotone cubic, which never
swells beyond what the nodes say.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

import numpy as np

from inkline.geometry.arrays import Floats, Points
from inkline.geometry.monotone import monotone_values
from inkline.geometry.polyline import arc_lengths, at_arc_lengths
from inkline.lettering.errors import FamilyError
from inkline.lettering.face import GlyphStroke
from inkline.lettering.outline import FlatContour

WIDTHS_KEY = "inkline.widths"
_LEAST_WIDTH, _MOST_WIDTH = 0.1, 3.0
"""Bounds of a width in stems: a thinner one is no line at the size of use, a wider one a blot."""
_STEP_EM = 0.012
"""Widths are known at least so closely along a stroke; an eighth of a usual stem."""
_NODE_OPERATORS = ("moveTo", "lineTo", "curveTo")

NodeWidths = tuple[float, ...]


def checked_widths(
    said: Any, recording: Sequence[tuple[str, Any]], path: Path
) -> tuple[NodeWidths | None, ...]:
    """For each contour of a glyph its widths at the nodes in stems; None for each if none are said.

    Args:
        said: what the glyph's lib has under `WIDTHS_KEY`.
        recording: the glyph's own contours as a segment pen gets them.
        path: the glyph's file.

    Raises:
        FamilyError: not a list for each contour with a number within bounds for each of its nodes.
    """
    counts = list(_node_counts(recording))
    if said is None:
        return (None,) * len(counts)
    if not isinstance(said, list) or len(said) != len(counts):
        given = f"{len(said)} lists" if isinstance(said, list) else f"{said!r}"
        raise FamilyError(
            f"{path} must give {WIDTHS_KEY} as one list of numbers for each of its {len(counts)} "
            f"strokes, not {given}",
            path=str(path),
        )
    return tuple(
        _checked_stroke(one, n_nodes, f"{path}, stroke {number}:", path)
        for number, (one, n_nodes) in enumerate(zip(said, counts, strict=True), start=1)
    )


def stroke_with_widths(
    contour: FlatContour, widths: NodeWidths, *, units_per_em: float, stem: float
) -> GlyphStroke:
    """A contour as a stroke in em that is as wide at its nodes as `widths` says.

    Args:
        contour: in font units.
        widths: in stems, one for each node of the contour.
        units_per_em: font units to an em.
        stem: the family's nominal stem in font units.
    """
    points, nodes = contour.points / units_per_em, contour.nodes / units_per_em
    own = np.array(widths) * (stem / units_per_em)
    if len(points) == 1:
        return GlyphStroke(points=np.repeat(points, 2, axis=0), widths_em=np.repeat(own[:1], 2))
    is_ring = contour.closed and len(points) > 2
    ring = np.concatenate((points, points[:1])) if is_ring else points
    lengths = arc_lengths(ring)
    if is_ring:
        nodes, own = np.append(nodes, lengths[-1]), np.append(own, own[0])
    wanted = _with_steps(lengths)
    values = _between_nodes(nodes, own, wanted)
    even: Points = at_arc_lengths(ring, lengths, wanted)
    last = -1 if is_ring else len(even)
    return GlyphStroke(points=even[:last], closed=is_ring, widths_em=values[:last])


def _node_counts(recording: Sequence[tuple[str, Any]]) -> Iterator[int]:
    """How many nodes on the curve each contour has; 0 where quadratic curves leave them implied."""
    nodes: list[tuple[float, float]] = []
    is_plain = True
    for operator, operands in recording:
        if operator in ("closePath", "endPath"):
            returns = operator == "closePath" and len(nodes) > 1 and nodes[0] == nodes[-1]
            yield (len(nodes) - returns) if is_plain else 0
            nodes, is_plain = [], True
        else:
            is_plain = is_plain and operator in _NODE_OPERATORS
            nodes.append(operands[-1])


def _checked_stroke(said: Any, n_nodes: int, where: str, path: Path) -> NodeWidths:
    if not n_nodes:
        raise FamilyError(
            f"{where} a stroke with {WIDTHS_KEY} must be of lines and cubic curves", path=str(path)
        )
    if not isinstance(said, list) or len(said) != n_nodes:
        given = f"{len(said)}" if isinstance(said, list) else f"{said!r}"
        raise FamilyError(
            f"{where} {WIDTHS_KEY} must have a number for each of its {n_nodes} nodes, not {given}",
            path=str(path),
        )
    wrong = [value for value in said if not _is_width(value)]
    if wrong:
        raise FamilyError(
            f"{where} {WIDTHS_KEY} must be between {_LEAST_WIDTH:g} and {_MOST_WIDTH:g} stems, not "
            f"{wrong[0]!r}",
            path=str(path),
        )
    return tuple(float(value) for value in said)


def _is_width(value: Any) -> bool:
    is_number = isinstance(value, int | float) and not isinstance(value, bool)
    return is_number and _LEAST_WIDTH <= value <= _MOST_WIDTH


def _with_steps(lengths: Floats) -> Floats:
    """Arc lengths of the points, and of further ones so that no step is longer than `_STEP_EM`."""
    more = np.arange(0.0, float(lengths[-1]), _STEP_EM)
    near = np.searchsorted(lengths, more).clip(1, len(lengths) - 1)
    wide = np.diff(lengths)[near - 1] > _STEP_EM
    return np.unique(np.concatenate((lengths, more[wide])))


def _between_nodes(nodes: Floats, widths: Floats, wanted: Floats) -> Floats:
    places, first = np.unique(nodes, return_index=True)
    if len(places) == 1:
        return np.full(len(wanted), widths[0])
    inside = np.clip(wanted, places[0], places[-1])
    return monotone_values(places, widths[first], inside)

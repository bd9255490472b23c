"""The mean colours of what a PDF page blends or repeats (ISO 32000-1, 8.7), roughly."""

from __future__ import annotations

from typing import Any

import numpy as np
import pikepdf

from inkline.artwork.pdf.limits import checked_stream

_OF_COLOURS = frozenset({"g", "rg", "k", "G", "RG", "K"})
_BLACK = (0.0,)
_DEEPEST = 4


def mean_of_pattern(pattern: Any) -> tuple[float, ...]:
    """The mean of a blend, or of the colours that the tile of a pattern names; else black."""
    if pattern is None:
        return _BLACK
    if "/Shading" in pattern:
        return mean_of_shading(pattern["/Shading"])
    found = [
        tuple(float(one) for one in instruction.operands)
        for instruction in pikepdf.parse_content_stream(checked_stream(pattern))
        if str(instruction.operator) in _OF_COLOURS
    ]
    alike = [one for one in found if len(one) == len(found[0])]
    return _mean(alike)


def mean_of_shading(shading: Any) -> tuple[float, ...]:
    """The mean of the colours at which the parts of a blend begin and end; black where none are."""
    function = None if shading is None else shading.get("/Function")
    if isinstance(function, pikepdf.Array):  # one for each part of the colour
        return tuple(value for one in function for value in _mean(_ends(one))[:1])
    return _mean(_ends(function))


def _ends(function: Any, depth: int = 0) -> list[tuple[float, ...]]:
    if function is None or depth > _DEEPEST:
        return []
    if "/Functions" in function:
        return [end for one in function["/Functions"] for end in _ends(one, depth + 1)]
    return [
        tuple(float(part) for part in function[key]) for key in ("/C0", "/C1") if key in function
    ]


def _mean(colours: list[tuple[float, ...]]) -> tuple[float, ...]:
    if not colours:
        return _BLACK
    return tuple(float(part) for part in np.mean(colours, axis=0))

"""How far letters stand above or below their line in an SVG file (SVG 2, 11.10.2)."""

from __future__ import annotations

from inkline.artwork.svg.place import Place

_DROPS = {
    "middle": 0.25,
    "central": 0.35,
    "mathematical": 0.4,
    "hanging": 0.75,
    "text-top": 0.9,
    "text-before-edge": 0.9,
    "before-edge": 0.9,
    "top": 0.9,
    "center": 0.35,
    "text-bottom": -0.22,
    "text-after-edge": -0.22,
    "after-edge": -0.22,
    "bottom": -0.22,
    "ideographic": -0.12,
}
"""How far below a line the feet of letters stand that lie on it otherwise, in em, as in most text
faces (common practice, no source): capitals are 0.7 em high here, small letters 0.5."""
_SUPER, _SUB = -0.35, 0.2
"""Raised and lowered letters, in em of those beside them (common practice, no source)."""


def baseline_drop(place: Place) -> float:
    """How far below its line the feet of text stand by its baseline, in user units."""
    own = place.style["alignment-baseline"]
    name = place.style["dominant-baseline"] if own in {"auto", "baseline"} else own
    return _DROPS.get(name, 0.0) * place.viewport.font_size


def level_shift(inner: Place, around: Place) -> float:
    """How far a span stands below the text around it, in user units."""
    text = inner.style["baseline-shift"]
    em = around.viewport.font_size
    if text in {"super", "sub"}:
        return em * (_SUPER if text == "super" else _SUB)
    return -inner.length(text, 0.0, em)

"""Placing by the white between: numerals beside a rule, and a numeral's digits beside each other.

What the eye compares is the white between two edges, not their distance at one height. The white is taken at many heights, each
capped in depth, because a deep bay (under the arm of a 7) counts only so far; its mean is made equal.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from inkline.lettering.face import Face, Figures, Glyph, PlacedGlyph
from inkline.lettering.line import SetLine, ink_bounds, on_page, set_line
from inkline.lettering.profiles import contour_reach, stroke_reach

Points = NDArray[np.float64]
Floats = NDArray[np.float64]

N_HEIGHTS = 256
"""Heights at which white is measured: half as many move a numeral by less than a thousandth of its height."""

DIGITS = "0123456789"


@dataclass(frozen=True, slots=True, kw_only=True)
class DigitSpacing:
    """How the digits of one numeral are brought to even white.

    Attributes:
        depth: depth of white that still counts, as a share of the digit height. Chosen by eye; deeper lets 7 and 4 be drawn nearer.
        limit: farthest that a digit is moved from the face's own place, as a share of the digit height. Chosen by eye: the two 1s of a
            tabular 11 need about 0.25, and more than that would be another face.
    """

    depth: float = 0.25
    limit: float = 0.3

    def __post_init__(self) -> None:
        if not self.depth > 0:
            raise ValueError(f"the depth of white that counts must be above 0, not {self.depth}")
        if not self.limit >= 0:
            raise ValueError(f"the limit of a digit's move must be at least 0, not {self.limit}")


EVEN = DigitSpacing()
"""The spacing used unless another is asked for."""


def optical_left(line: SetLine, *, size_px: float, width_px: float, depth_px: float) -> float:
    """Where a numeral's left side lies to the eye, in px to the right of its baseline's start.

    With L(y) the left end of the ink at height y (infinite where there is none), it is the x for which

        mean over the ink's height of min(L(y) - x, depth) = 0.

    To leave a mean white of g between a vertical guide line and the numeral, place the guide at x - g: the white at a height is then
    min(L(y) - (x - g), g + depth) and its mean is g, so numerals of all shapes stand equally far from the line.

    Args:
        line: what is set.
        size_px: the em in px, > 0.
        width_px: the strokes' width in px, > 0; of no effect on a font's outlines.
        depth_px: how far behind that x white still counts, > 0; an eighth of the numeral's height is a good start. A small
            depth aligns the outermost ink, a large one lets open shapes (4, 7, 1 with a flag) stand farther out.

    Raises:
        ValueError: no ink, or a depth that is not above 0.
    """
    _, y0, _, y1 = ink_bounds(line, size_px=size_px, width_px=width_px)
    pieces = _page_pieces(line, size_px)
    return _even_edge(_reach(pieces, 0.5 * width_px, _middles(y0, y1)), depth_px)


def optical_top(line: SetLine, *, size_px: float, width_px: float, depth_px: float) -> float:
    """Where a numeral's top lies to the eye, in px below its baseline (so mostly negative).

    As `optical_left`, with the upper end of the ink T(x) over the ink's width: the y for which the mean of
    min(T(x) - y, depth) is 0. Numerals that share a row should share a baseline: take the top of one text with all digits for
    all of them, and not each its own.

    Args:
        line: what is set.
        size_px: the em in px, > 0.
        width_px: the strokes' width in px, > 0; of no effect on a font's outlines.
        depth_px: how far below that y white still counts, > 0.

    Raises:
        ValueError: no ink, or a depth that is not above 0.
    """
    x0, _, x1, _ = ink_bounds(line, size_px=size_px, width_px=width_px)
    sideways = [(points[:, ::-1], kind) for points, kind in _page_pieces(line, size_px)]
    return _even_edge(_reach(sideways, 0.5 * width_px, _middles(x0, x1)), depth_px)


def set_numeral(
    face: Face,
    text: str,
    *,
    width_em: float | None = None,
    figures: Figures = Figures.LINING,
    spacing: DigitSpacing = EVEN,
) -> SetLine:
    """A numeral with even white between its digits: 11 doesn't gape and 10 doesn't touch.

    The white between two neighbours is the mean over the digit height of min(distance of the inks at that height, depth). Each digit after
    the first is moved so that this equals the median of all hundred pairs of digits as the face itself sets them, so the
    numeral stays as open or tight as its face. No pair comes nearer anywhere than a stem, or than the face's median pair if that
    is nearer (the least gap between characters in ISO 3098 is one stroke width), and no digit moves by more than `spacing.limit`.

    Args:
        face: a font or a stroke family.
        text: digits; other characters stay where the face has them relative to their neighbours.
        width_em: the strokes' width in em, > 0, the face's nominal stem if not given; of no effect on a font's outlines.
        figures: which figures a font should use.
        spacing: depth and limit of the evening.

    Raises:
        MissingGlyphError: names every character that the face lacks.
    """
    line = set_line(face, text, figures=figures)
    sides = _digit_sides(face, figures, width_em or face.nominal_stem_em, spacing.depth)
    moved, shift = [], 0.0
    for before, item in zip((None, *line.glyphs), line.glyphs, strict=False):
        if before is not None and line.text[before.letter] in DIGITS and line.text[item.letter] in DIGITS:
            gaps = sides.gaps(before.glyph, item.glyph, item.x_em - before.x_em)
            if gaps is not None:
                shift += sides.evening_shift(gaps, limit=spacing.limit * sides.height)
        moved.append(replace(item, x_em=item.x_em + shift))
    return replace(line, glyphs=tuple(moved), advance_em=line.advance_em + shift)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _DigitSides:
    """Both sides of every digit of a face at common heights, and the white that the face itself leaves between digits.

    Attributes:
        lefts: smallest x of the ink by glyph name, in em about the glyph's origin.
        rights: largest x of the ink by glyph name.
        height: digit height in em.
        depth: depth of white that counts, in em.
        white: the median mean white of the face's own pairs, in em.
        clearance: no two digits come nearer than this, in em.
    """

    lefts: dict[str, Floats]
    rights: dict[str, Floats]
    height: float
    depth: float
    white: float = 0.0
    clearance: float = 0.0

    def gaps(self, first: Glyph, second: Glyph, step: float) -> Floats | None:
        """Distance between two digits' inks at each height with their origins `step` apart; None for glyphs that are no digits of the face."""
        if first.name not in self.rights or second.name not in self.lefts:
            return None
        gaps = self.lefts[second.name] + step - self.rights[first.name]
        return gaps if np.isfinite(gaps).any() else None

    def evening_shift(self, gaps: Floats, *, limit: float) -> float:
        """How far the second digit moves to the right to make the mean white even, within clearance and limit."""
        even = -_even_edge(gaps - self.white, self.depth - self.white)
        return float(np.clip(max(even, self.clearance - gaps.min()), -limit, limit))


@lru_cache(maxsize=64)
def _digit_sides(face: Face, figures: Figures, width_em: float, depth: float) -> _DigitSides:
    """The sides of a face's digits for one pen, and the white between them, measured once."""
    heights = _middles(0.0, face.digit_height_em)
    lines = [set_line(face, digit, figures=figures) for digit in DIGITS if face.has(digit)]
    items = [item for line in lines for item in line.glyphs]
    sides = _DigitSides(
        lefts={item.glyph.name: _glyph_reach(item, 0.5 * width_em, heights, 1.0) for item in items},
        rights={item.glyph.name: -_glyph_reach(item, 0.5 * width_em, heights, -1.0) for item in items},
        height=face.digit_height_em,
        depth=depth * face.digit_height_em,
    )
    own = [sides.gaps(a.glyph, b.glyph, a.glyph.advance_em) for a in items for b in items]
    known = [gaps for gaps in own if gaps is not None]
    if not known:
        return sides
    white = float(np.median([np.minimum(gaps, sides.depth).mean() for gaps in known]))
    nearest = float(np.median([gaps.min() for gaps in known]))
    return replace(sides, white=min(white, 0.9 * sides.depth), clearance=min(width_em, nearest))


def _glyph_reach(item: PlacedGlyph, radius: float, heights: Floats, sense: float) -> Floats:
    """Smallest x of a glyph's ink (`sense` 1) or of its mirror image (`sense` -1) at each height, in em."""
    mirror = np.array([sense, 1.0])
    pieces = [(stroke.points * mirror, stroke.closed) for stroke in item.glyph.strokes]
    outlines = [(contour * mirror, None) for contour in item.glyph.contours]
    return _reach([*pieces, *outlines], radius, heights)


def _page_pieces(line: SetLine, size_px: float) -> list[tuple[Points, bool | None]]:
    """The line's strokes and contours in px, y down: each with whether it is closed, or None for a filled contour."""
    pieces: list[tuple[Points, bool | None]] = []
    for item in line.glyphs:
        place = np.array([item.x_em, item.y_em])
        pieces += [(on_page(s.points + place, size_px=size_px), s.closed) for s in item.glyph.strokes]
        pieces += [(on_page(c + place, size_px=size_px), None) for c in item.glyph.contours]
    return pieces


def _reach(pieces: list[tuple[Points, bool | None]], radius: float, heights: Floats) -> Floats:
    """Smallest x of all pieces' ink at each height."""
    reach = contour_reach([points for points, closed in pieces if closed is None], heights)
    for points, closed in pieces:
        if closed is not None:
            reach = np.minimum(reach, stroke_reach(points, radius=radius, closed=closed, heights=heights))
    return reach


def _middles(low: float, high: float) -> Floats:
    """The middles of `N_HEIGHTS` equal slices between two values, ascending."""
    return np.asarray(low + (high - low) * (np.arange(N_HEIGHTS) + 0.5) / N_HEIGHTS)


def _even_edge(reach: Floats, depth: float) -> float:
    """The x for which mean(min(reach - x, depth)) is 0, exactly.

    With the values ascending and the first k of them within depth of x, x = (sum of those k + (n - k) depth) / k; the
    right k is the one that agrees with its own x.

    Raises:
        ValueError: a depth that is not above 0.
    """
    if not depth > 0:
        raise ValueError(f"the depth of white that counts must be above 0, not {depth}")
    ascending = np.sort(reach[np.isfinite(reach)])
    k = np.arange(1, len(ascending) + 1)
    edges = (np.cumsum(ascending) + (len(reach) - k) * depth) / k
    beyond = np.append(ascending[1:], np.inf)
    return float(edges[np.argmax(beyond > edges + depth)])

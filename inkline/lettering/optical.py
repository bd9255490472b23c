"""Numerals beside a rule, and the digits of a numeral, placed by the white between them.

What the eye compares is the white between two edges, not their distance at one height. The white is
taken at many heights, each capped in depth, because a deep bay (under the arm of a 7) counts only
so far; its mean is made equal.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from inkline.geometry.arrays import Floats, Points
from inkline.lettering.broad_nib import parts_of_ink
from inkline.lettering.face import Face, Figures, Glyph
from inkline.lettering.forms import DIGITS, NO_FORMS, Forms
from inkline.lettering.line import SetLine, on_page, set_line
from inkline.lettering.profiles import RoundStroke, contour_reach, stroke_reach

_N_HEIGHTS = 1024
"""Heights at which white is measured.
A level edge is placed to within 1/1024 of the numeral's height, and moves its mean white by no more
than that share of the depth."""

_AS_IT_IS, _MIRRORED = np.diag([1.0, 1.0]), np.diag([-1.0, 1.0])
_FROM_ABOVE, _FROM_BELOW = np.array([[0.0, 1.0], [1.0, 0.0]]), np.array([[0.0, 1.0], [-1.0, 0.0]])
"""The axes by which a side is looked at, so that it is always the left one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DigitSpacing:
    """How the digits of one numeral are brought to even white.

    Attributes:
        evenness: how much of the way to even white each digit goes, 0 (the face's own places) to 1.
            Chosen by eye: at 1 two 0s stand too far apart and 2 and 4 too near, because the eye
            also knows how wide a digit should stand.
        depth: depth of white that still counts, as a share of the digit height, > 0. Chosen by eye;
            it matters little beyond 0.2.
        limit: farthest that a digit is moved from the face's own place, as a share of the digit
            height, >= 0. The two 1s of a tabular 11 need about 0.2; more would be another face.
    """

    evenness: float = 0.65
    depth: float = 0.25
    limit: float = 0.25

    def __post_init__(self) -> None:
        if not 0 <= self.evenness <= 1:
            raise ValueError(
                f"the evenness of a numeral's white must be 0 to 1, not {self.evenness}"
            )
        if not self.depth > 0:
            raise ValueError(f"the depth of white that counts must be above 0, not {self.depth}")
        if not self.limit >= 0:
            raise ValueError(f"the limit of a digit's move must be at least 0, not {self.limit}")


EVEN = DigitSpacing()
"""The spacing used unless another is asked for."""


def optical_left(line: SetLine, *, size_px: float, width_px: float, depth_px: float) -> float:
    """Where a numeral's left side lies to the eye, in px to the right of its baseline's start.

    With L(y) the left end of the ink at height y (infinite where there is none), it is the x for
    which

        mean over the ink's height of min(L(y) - x, depth) = 0.

    To leave a mean white of g between a vertical guide line and the numeral, place the guide at x -
    g: the white at a height is then min(L(y) - (x - g), g + depth) and its mean is g, so numerals
    of all shapes stand equally far from the line. One exception: the outermost ink reaches at most
    `depth` beyond x, so that a thin flag or bar comes no nearer to the line than g - depth.

    The other three sides are the same sum on turned axes, with the same arguments and errors.

    Args:
        line: what is set.
        size_px: the em in px, > 0.
        width_px: the strokes' width in px, > 0; of no effect on a font's outlines.
        depth_px: how far into the numeral white still counts, > 0; a twelfth of its height is a
            good start. A small depth aligns the outermost ink, a large one lets open shapes (4, 7,
            1 with a flag) stand farther out.

    Raises:
        ValueError: no ink, or a depth that is not above 0.
    """
    return _side(line, _AS_IT_IS, size_px=size_px, width_px=width_px, depth=depth_px)


def optical_right(line: SetLine, *, size_px: float, width_px: float, depth_px: float) -> float:
    """Where its right side lies, in px to the right of its baseline's start.

    As `optical_left`, seen from the right.
    """
    return -_side(line, _MIRRORED, size_px=size_px, width_px=width_px, depth=depth_px)


def optical_top(line: SetLine, *, size_px: float, width_px: float, depth_px: float) -> float:
    """Where its top lies, in px below its baseline, so mostly negative.

    As `optical_left`, seen from above. Numerals that share a row should share a baseline: take the
    top of one text with all digits for all of them, and not each its own.
    """
    return _side(line, _FROM_ABOVE, size_px=size_px, width_px=width_px, depth=depth_px)


def optical_bottom(line: SetLine, *, size_px: float, width_px: float, depth_px: float) -> float:
    """Where its foot lies, in px below its baseline: as `optical_left`, seen from below."""
    return -_side(line, _FROM_BELOW, size_px=size_px, width_px=width_px, depth=depth_px)


def set_numeral(
    face: Face,
    text: str,
    *,
    width_em: float | None = None,
    figures: Figures = Figures.LINING,
    spacing: DigitSpacing = EVEN,
    forms: Forms = NO_FORMS,
) -> SetLine:
    """A numeral with even white between its digits: 11 doesn't gape and 10 doesn't touch.

    Both digits are given a halo of half a stem, which closes bays too narrow to look into. The
    white between two neighbours is then the mean over the digit height of min(distance of the halos
    at that height, depth). The second digit is moved by the asked share of what would make this
    equal to the median of all hundred pairs of digits as the face itself sets them, so a numeral
    stays as open or tight as its face. The halos don't overlap more than those of the face's median
    pair: inks keep a stem apart, unless the face itself sets them nearer (the least gap between
    characters in ISO 3098 is one stroke width). No digit moves by more than `spacing.limit` against
    its neighbour.

    Args:
        face: a font or a stroke family.
        text: digits; other characters stay where the face has them relative to their neighbours.
        width_em: the strokes' width in em, > 0, the face's nominal stem if not given; of no effect
            on a font's outlines.
        figures: which figures a font should use.
        spacing: depth and limit of the evening.
        forms: glyphs to draw in place of the face's own, by the digit's index in the text.

    Raises:
        MissingGlyphError: names every character that the face lacks.
    """
    line = set_line(face, text, figures=figures, forms=forms)
    pen_em = width_em if width_em is not None and face.is_drawn_with_pen else face.nominal_stem_em
    sides = _digit_sides(face, figures, pen_em, spacing.depth)
    moved, shift = [], 0.0
    for before, item in zip((None, *line.glyphs), line.glyphs, strict=False):
        if (
            before is not None
            and line.text[before.letter] in DIGITS
            and line.text[item.letter] in DIGITS
        ):
            gaps = sides.gaps(before.glyph, item.glyph, item.x_em - before.x_em)
            if gaps is not None:
                shift += sides.shift(gaps, spacing)
        moved.append(replace(item, x_em=item.x_em + shift))
    return replace(line, glyphs=tuple(moved), advance_em=line.advance_em + shift)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _DigitSides:
    """Both sides of every digit of a face at common heights, and the white between digits.

    The white is that which the face itself leaves.

    Attributes:
        lefts: smallest x of the haloed ink by glyph name, in em about the glyph's origin.
        rights: largest x of the haloed ink by glyph name.
        height: digit height in em.
        depth: depth of white that counts, in em.
        white: the median mean white between halos of the face's own pairs, in em.
        clearance: no two halos come nearer than this, in em; 0, or negative for a face that sets
            its own digits nearer.
    """

    lefts: dict[str, Floats]
    rights: dict[str, Floats]
    height: float
    depth: float
    white: float = 0.0
    clearance: float = 0.0

    def gaps(self, first: Glyph, second: Glyph, step: float) -> Floats | None:
        """Distance between two digits' halos at each height with their origins `step` apart.

        None for glyphs that are no digits of the face.
        """
        if first.name not in self.rights or second.name not in self.lefts:
            return None
        gaps = self.lefts[second.name] + step - self.rights[first.name]
        return gaps if np.isfinite(gaps).any() else None

    def shift(self, gaps: Floats, spacing: DigitSpacing) -> float:
        """How far the second digit moves to the right for more even white, in em.

        Within clearance and limit.
        """
        even = -_even_edge(gaps - self.white, self.depth - self.white)
        wanted = max(spacing.evenness * even, self.clearance - float(gaps.min()))
        limit = spacing.limit * self.height
        return min(max(wanted, -limit), limit)


@lru_cache(maxsize=64)
def _digit_sides(face: Face, figures: Figures, width_em: float, depth: float) -> _DigitSides:
    """The sides of a face's digits for one pen, and the white between them, measured once."""
    heights = _middles(0.0, face.digit_height_em)
    lines = [set_line(face, digit, figures=figures) for digit in DIGITS if face.has(digit)]
    items = [item for line in lines for item in line.glyphs]
    own_radius = 0.5 * width_em if face.is_drawn_with_pen else 0.0
    radii = (own_radius + 0.5 * width_em, 0.5 * width_em)
    forms = [item.glyph for item in items] + [
        form for digit in DIGITS for form in face.alternates(digit)
    ]
    sides = _DigitSides(
        lefts={glyph.name: _halo_reach(glyph, radii, heights, 1.0) for glyph in forms},
        rights={glyph.name: -_halo_reach(glyph, radii, heights, -1.0) for glyph in forms},
        height=face.digit_height_em,
        depth=depth * face.digit_height_em,
    )
    own = [sides.gaps(a.glyph, b.glyph, a.glyph.advance_em) for a in items for b in items]
    known = [gaps for gaps in own if gaps is not None]
    if not known:
        return sides
    white = float(np.median([np.minimum(gaps, sides.depth).mean() for gaps in known]))
    nearest = float(np.median([gaps.min() for gaps in known]))
    return replace(sides, white=min(white, 0.9 * sides.depth), clearance=min(0.0, nearest))


def _halo_reach(glyph: Glyph, radii: tuple[float, float], heights: Floats, sense: float) -> Floats:
    """Smallest x of a glyph's ink with a halo, at each height in em.

    Or, with `sense` -1, of its mirror image.

    Args:
        glyph: about its own origin.
        radii: half the width of its strokes with their halo, and the width of a contour's halo.
        heights: ascending.
        sense: 1 or -1.
    """
    mirror = np.array([sense, 1.0])
    contours, outlines = list(glyph.contours), list[RoundStroke]()
    for stroke in glyph.strokes:
        points, widths, ends = parts_of_ink(stroke, stroke.widths_with(2.0 * (radii[0] - radii[1])))
        contours += ends
        if len(points):
            radius = radii[1] + 0.5 * widths
            outlines.append(RoundStroke(points * mirror, radius, stroke.closed))
    outlines += [RoundStroke(contour * mirror, radii[1], closed=True) for contour in contours]
    return stroke_reach(outlines, heights)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Piece:
    """A stroke or a filled contour in px.

    Whether a stroke is closed (None for a contour), and how far its ink reaches beyond its points.
    """

    points: Points
    closed: bool | None
    radius: float | Floats

    def by_axes(self, axes: Points) -> _Piece:
        """The piece with its points by other axes, `(2, 2)`."""
        return replace(self, points=self.points @ axes)


def _pieces(line: SetLine, size_px: float, width_px: float) -> list[_Piece]:
    """The line's strokes and contours in px, y down.

    A traced stroke's ink reaches as far as its own widths say. Cut ends are contours.
    """
    pieces, stem = list[_Piece](), line.face.nominal_stem_em
    share = width_px / (size_px * stem)
    for item in line.glyphs:
        place = np.array([item.x_em, item.y_em])
        contours = list(item.glyph.contours)
        for stroke in item.glyph.strokes:
            points, widths, ends = parts_of_ink(stroke, share * stroke.widths_with(stem))
            contours += ends
            if len(points):
                on, radius = on_page(points + place, size_px=size_px), 0.5 * size_px * widths
                pieces.append(_Piece(points=on, closed=stroke.closed, radius=radius))
        for contour in contours:
            points = on_page(contour + place, size_px=size_px)
            pieces.append(_Piece(points=points, closed=None, radius=0.0))
    return pieces


def _side(line: SetLine, axes: Points, *, size_px: float, width_px: float, depth: float) -> float:
    """Where the left side of a line's ink lies to the eye.

    With x and y along other axes than the page's.

    Raises:
        ValueError: no ink, or a depth that is not above 0.
    """
    pieces = [piece.by_axes(axes) for piece in _pieces(line, size_px, width_px)]
    if not pieces:
        raise ValueError(f"the line {line.text!r} has no ink and so no bounds")
    reaches = [(piece.points, np.reshape(piece.radius, (-1, 1))) for piece in pieces]
    left, top = np.min([(points - reach).min(axis=0) for points, reach in reaches], axis=0)
    bottom = np.max([(points + reach)[:, 1].max() for points, reach in reaches])
    return min(
        _even_edge(_reach(pieces, _middles(float(top), float(bottom))), depth), float(left) + depth
    )


def _reach(pieces: list[_Piece], heights: Floats) -> Floats:
    """Smallest x of all pieces' ink at each height."""
    reach = contour_reach([piece.points for piece in pieces if piece.closed is None], heights)
    strokes = [
        RoundStroke(piece.points, piece.radius, piece.closed)
        for piece in pieces
        if piece.closed is not None
    ]
    return np.minimum(reach, stroke_reach(strokes, heights))


def _middles(low: float, high: float) -> Floats:
    """The middles of `_N_HEIGHTS` equal slices between two values, ascending."""
    return np.asarray(low + (high - low) * (np.arange(_N_HEIGHTS) + 0.5) / _N_HEIGHTS)


def _even_edge(reach: Floats, depth: float) -> float:
    """The x for which mean(min(reach - x, depth)) is 0, exactly.

    With the values ascending and the first k of them within depth of x, x = (sum of those k + (n -
    k) depth) / k; the right k is the one that agrees with its own x.

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

"""Text set on one line, and its exact marks on the page."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from inkline.drawing import Cap, Mark, Play, Role, Shape, Stroke
from inkline.geometry.arrays import Floats, Points
from inkline.geometry.polygon import bounds
from inkline.geometry.union import union_of_contours
from inkline.lettering.broad_nib import cut_corners
from inkline.lettering.errors import MissingGlyphError, TextError, description_of_character
from inkline.lettering.face import Face, Figures, GlyphStroke, PlacedGlyph
from inkline.lettering.forms import NO_FORMS, Forms, with_forms
from inkline.lettering.joining import join_pairs, with_joints
from inkline.lettering.scripts import joined_runs

MOST_LETTERS = 500
"""A line of more is no numeral and no word; what is longer was given by mistake."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SetLine:
    """A text set along a baseline that starts at x = 0; em units, y up.

    Attributes:
        face: what it is set in.
        text: as set: accents joined to their letters where Unicode has the joined letter.
        glyphs: in the order of writing.
        advance_em: where a next letter would start.
    """

    face: Face
    text: str
    glyphs: tuple[PlacedGlyph, ...]
    advance_em: float


def set_line(
    face: Face,
    text: str,
    *,
    figures: Figures = Figures.LINING,
    spacing_em: float = 0.0,
    forms: Forms = NO_FORMS,
) -> SetLine:
    """The text in this face, kerned.

    Args:
        face: a font or a stroke family.
        text: one line of characters; an empty one gives an empty line.
        figures: which figures a font should use.
        spacing_em: extra white after every letter but the last, in em; negative sets tighter.
            Letters that join (Arabic, and a family's own) are never spaced, or the joins would
            tear, as CSS Text Level 3 has it too.
        forms: glyphs to draw in place of the face's own, by the letter's index in the text.

    Raises:
        MissingGlyphError: names every character that the face lacks, or has only as an empty glyph.
        TextError: the text has control characters, or more than `MOST_LETTERS` letters.
    """
    text = unicodedata.normalize("NFC", _checked_text(text))
    glyphs, advance = with_forms(*face.placed_glyphs(text, figures=figures), forms)
    empty = [text[letter] for letter in _letters_without_ink(glyphs) if _is_visible(text[letter])]
    if empty:
        raise MissingGlyphError(empty, face=face.name)
    pairs = join_pairs(glyphs)
    runs = _with_pairs(joined_runs(text), [(glyphs[at], glyphs[at + 1]) for at in pairs])
    glyphs = with_joints(glyphs, pairs, stem_em=face.nominal_stem_em) if pairs else glyphs
    steps = {
        run: step for step, run in enumerate(dict.fromkeys(runs[item.letter] for item in glyphs))
    }
    spaced = tuple(
        PlacedGlyph(
            glyph=item.glyph,
            x_em=item.x_em + spacing_em * steps[runs[item.letter]],
            y_em=item.y_em,
            letter=runs[item.letter],
        )
        for item in glyphs
    )
    return SetLine(
        face=face,
        text=text,
        glyphs=spaced,
        advance_em=advance + spacing_em * max(len(steps) - 1, 0),
    )


def _with_pairs(
    runs: Sequence[int], pairs: Sequence[tuple[PlacedGlyph, PlacedGlyph]]
) -> tuple[int, ...]:
    """The runs, with letters of a family that join in one."""
    joined = list(runs)
    for one, other in pairs:
        joined[other.letter] = joined[one.letter]
    return tuple(joined)


def ink_bounds(
    line: SetLine, *, size_px: float, width_px: float
) -> tuple[float, float, float, float]:
    """The box `(x0, y0, x1, y1)` about the undrawn ink, in px, y down.

    Relative to the baseline's start. Exact: a round-ended stroke reaches half its width beyond its
    centreline on every side, a traced one at each point by its own width there.

    Args:
        line: what is set.
        size_px: the em in px, > 0.
        width_px: the strokes' width in px, > 0; of no effect on a font's outlines.

    Raises:
        ValueError: the line has no ink.
    """
    corners: list[Points] = []
    for item in line.glyphs:
        place = np.array([item.x_em, item.y_em])
        pen_em = width_px / size_px
        for points, share in _inked_points(item, line.face.nominal_stem_em, pen_em):
            page, reach = on_page(points + place, size_px=size_px), 0.5 * width_px * share
            corners.extend(((page - reach).min(axis=0), (page + reach).max(axis=0)))
    if not corners:
        raise ValueError(f"the line {line.text!r} has no ink and so no bounds")
    x0, y0 = np.min(corners, axis=0)
    x1, y1 = np.max(corners, axis=0)
    return float(x0), float(y0), float(x1), float(y1)


def marks_from_line(
    line: SetLine,
    *,
    name: str,
    role: Role,
    baseline: tuple[float, float],
    size_px: float,
    width_px: float,
) -> tuple[Mark, ...]:
    """The line's exact marks on the page, letter by letter in the order of drawing.

    Args:
        line: what is set.
        name: full name of the numeral or word, such as `tall/dates-3/17`. Its marks are called
            `name/1`, `name/2`, ...; its letters' groups are `name.1`, `name.2`, ..., or plain
            `name` where only one letter has ink.
        role: what the marks are in the calendar.
        baseline: where the baseline starts, in px of the page.
        size_px: the em in px, > 0.
        width_px: the strokes' width in px, > 0; of no effect on a font's outlines.

    Returns:
        Strokes with round ends for a stroke family, one shape a letter for a font; none for a line
        without ink. Each mark's origin is its letter's point on the baseline.
    """
    letters = list(_inked_letters(line))
    marks: list[Mark] = []
    for number, items in enumerate(letters, start=1):
        group = name if len(letters) == 1 else f"{name}.{number}"
        origin = (baseline[0] + size_px * items[0].x_em, baseline[1])
        play = _play_on_page(line.face.play_of(line.text[items[0].letter]), size_px)
        for stroke in _placed_strokes(items):
            width, profile = _pen_on(stroke, width_px, line.face.nominal_stem_em)
            marks.append(
                Stroke(
                    name=f"{name}/{len(marks) + 1}",
                    group=group,
                    role=role,
                    points=on_page(stroke.points, size_px=size_px) + baseline,
                    width_px=width,
                    cap=Cap.ROUND,
                    origin=origin,
                    closed=stroke.closed,
                    profile=profile,
                    play=play,
                    cuts=stroke.cuts and (stroke.cuts[0].mirrored, stroke.cuts[1].mirrored),
                )
            )
        contours = _placed_contours(items)
        if contours:
            page = tuple(on_page(contour, size_px=size_px)[::-1] + baseline for contour in contours)
            marks.append(
                Shape(
                    name=f"{name}/{len(marks) + 1}",
                    group=group,
                    role=role,
                    contours=page,
                    origin=origin,
                )
            )
    return tuple(marks)


def on_page(points: Points, *, size_px: float) -> Points:
    """Points in em, y up, as points in px, y down, about the same origin.

    The one place where y is turned over.
    """
    return np.asarray(points * (size_px, -size_px))


def _play_on_page(play: Play | None, size_px: float) -> Play | None:
    """A letter's play in px, its lines about the letter's origin, y down."""
    if play is None:
        return None
    on = play.times(size_px)
    return replace(on, lines=tuple(-line for line in on.lines))


def _placed_strokes(items: list[PlacedGlyph]) -> Iterator[GlyphStroke]:
    """Strokes of a letter's glyphs at their place on the line, in em."""
    for item in items:
        place = np.array([item.x_em, item.y_em])
        yield from (replace(stroke, points=stroke.points + place) for stroke in item.glyph.strokes)


def _pen_on(stroke: GlyphStroke, width_px: float, stem_em: float) -> tuple[float, Floats | None]:
    """Nominal width of the pen on one stroke in px, and the profile by which it swells there.

    A stroke with widths of its own is as much wider or narrower than the pen as they are than the
    face's stems.
    """
    if stroke.widths_em is None:
        return width_px, None
    profile = stroke.widths_em / stem_em
    if np.array_equal(stroke.points, np.broadcast_to(stroke.points[0], stroke.points.shape)):
        return width_px * float(profile[0]), None
    return width_px, profile


def _placed_contours(items: list[PlacedGlyph]) -> list[Points]:
    """Contours of a letter's glyphs at their place on the line, in em.

    United where letters join into one piece.
    """
    places = [(item, np.array([item.x_em, item.y_em])) for item in items if item.glyph.contours]
    contours = [contour + place for item, place in places for contour in item.glyph.contours]
    return (
        list(union_of_contours(contours))
        if _overlap([bounds(item.glyph.contours) + np.tile(at, 2) for item, at in places])
        else contours
    )


def _overlap(boxes: list[Floats]) -> bool:
    """Whether any two boxes `(x0, y0, x1, y1)` share area."""
    pairs = ((a, b) for index, a in enumerate(boxes) for b in boxes[:index])
    return any(bool(np.all(a[:2] < b[2:]) and np.all(b[:2] < a[2:])) for a, b in pairs)


def _inked_points(
    item: PlacedGlyph, stem_em: float, pen_em: float
) -> Iterator[tuple[Points, Points]]:
    """A glyph's point sets in em, and how many half pens its ink reaches beyond each point.

    About its own origin; the reach is `(n, 1)`. The corners of cut ends are points by themselves.
    """
    for stroke in item.glyph.strokes:
        shares = stroke.widths_with(stem_em) / stem_em
        yield stroke.points, shares[:, None]
        if stroke.cuts is not None:
            yield cut_corners(stroke, shares * pen_em), np.zeros((4, 1))
    yield from ((contour, np.zeros((len(contour), 1))) for contour in item.glyph.contours)


def _inked_letters(line: SetLine) -> Iterator[list[PlacedGlyph]]:
    """The glyphs of each letter that has ink, in the order of writing."""
    letters: dict[int, list[PlacedGlyph]] = {}
    for item in line.glyphs:
        letters.setdefault(item.letter, []).append(item)
    return (items for items in letters.values() if any(item.glyph.has_ink for item in items))


def _checked_text(text: str) -> str:
    """The text, if a line can be set from it."""
    if len(text) > MOST_LETTERS:
        raise TextError(
            f"a line of lettering must have at most {MOST_LETTERS} letters, and the one that "
            f"begins {text[:24]!r} has {len(text)}",
            text=text,
        )
    controls = [character for character in text if unicodedata.category(character) in {"Cc", "Cs"}]
    if controls:
        named = ", ".join(
            description_of_character(character) for character in dict.fromkeys(controls)
        )
        raise TextError(
            f"a line of lettering must have no control characters, and {text[:40]!r} has {named}",
            text=text,
        )
    return text


def _letters_without_ink(glyphs: tuple[PlacedGlyph, ...]) -> list[int]:
    inked = {item.letter for item in glyphs if item.glyph.has_ink}
    return sorted({item.letter for item in glyphs} - inked)


def _is_visible(character: str) -> bool:
    """Whether a reader expects ink: no space, no control or joining character."""
    return unicodedata.category(character)[0] not in "ZC"

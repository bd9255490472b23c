"""What the operators of a PDF page do that set text (ISO 32000-1, 9.3 and 9.4)."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import pikepdf

from inkline.artwork.maps import Matrix, after, scale_of, scaled, unmoved
from inkline.artwork.model import ArtPath, Paint, Subpath, TextRun
from inkline.artwork.pdf.page import Operator, PageRun

_INVISIBLE, _BOUNDING = 3, 4
_OUTLINED = frozenset({1, 5})
"""Modes of showing text (table 106): from `_BOUNDING` on letters also bound what follows."""
_OF_FONTS = (
    "its letters are those of the file's fonts, whose licences say what may be made of them and "
    "sold; where they don't, ask whoever made the font, or a lawyer"
)
_THOUSAND = 1000.0


def _begin(run: PageRun, _: list[Any]) -> None:
    run.line_matrix = run.letter_matrix = unmoved()


def _put(run: PageRun, matrix: Matrix) -> None:
    run.line_matrix = run.letter_matrix = matrix


def _next_line(run: PageRun, x: float, y: float) -> None:
    _put(run, after(run.line_matrix, scaled(1.0, 1.0, x, y)))


def _matrix(run: PageRun, operands: list[Any]) -> None:
    a, b, c, d, e, f = (float(one) for one in operands)
    _put(run, np.array([[a, c, e], [b, d, f]]))


def _font(run: PageRun, operands: list[Any]) -> None:
    put_font(run, run.resource("/Font", operands[0]), operands[1])


def put_font(run: PageRun, font: Any, size: Any) -> None:
    """Set what follows in a font."""
    run.set_state(font=run.drawer.codes_of(font), font_size=float(size))


def _move(run: PageRun, operands: list[Any]) -> None:
    _next_line(run, float(operands[0]), float(operands[1]))


def _move_leading(run: PageRun, operands: list[Any]) -> None:
    run.set_state(leading=-float(operands[1]))
    _move(run, operands)


def _down(run: PageRun, _: list[Any]) -> None:
    _next_line(run, 0.0, -run.state.leading)


def _number(name: str, factor: float = 1.0) -> Operator:
    def put(run: PageRun, operands: list[Any]) -> None:
        run.set_state(**{name: factor * float(operands[0])})

    return put


def _mode(run: PageRun, operands: list[Any]) -> None:
    run.set_state(text_mode=int(operands[0]))


def _show_one(run: PageRun, operands: list[Any]) -> None:
    _show(run, [operands[0]])


def _show_row(run: PageRun, operands: list[Any]) -> None:
    _show(run, list(operands[0]))


def _show_below(run: PageRun, operands: list[Any]) -> None:
    _down(run, [])
    _show(run, [operands[0]])


def _show_spaced(run: PageRun, operands: list[Any]) -> None:
    run.set_state(word_space=float(operands[0]), letter_space=float(operands[1]))
    _show_below(run, [operands[2]])


@dataclass(slots=True)
class _Letter:
    """A code of a font at its place: a map from its em to px."""

    code: int
    matrix: Matrix


def _show(run: PageRun, parts: Sequence[Any]) -> None:
    """Show strings, with numbers between them that move what follows."""
    texts = [isinstance(part, (pikepdf.String, str, bytes)) for part in parts]
    letters = run.drawer.letters
    if letters is None or not any(
        bytes(part) for part, is_text in zip(parts, texts, strict=True) if is_text
    ):
        _skip(run, parts, texts)
        return
    index = run.drawer.next_show()
    if index >= letters.n_shows:
        return
    placed = list[_Letter]()
    for part, is_text in zip(parts, texts, strict=True):
        if is_text:
            placed += _placed(run, bytes(part), index)
        else:
            _advance(run, -float(part) / _THOUSAND * run.state.font_size)
    if placed and not run.is_hidden and run.state.text_mode != _INVISIBLE:
        _draw(run, index, placed)


def _skip(run: PageRun, parts: Sequence[Any], texts: Sequence[bool]) -> None:
    for part, is_text in zip(parts, texts, strict=True):
        if not is_text:
            _advance(run, -float(part) / _THOUSAND * run.state.font_size)


def _placed(run: PageRun, data: bytes, index: int) -> list[_Letter]:
    """The codes of a string at their places; what follows goes on behind them."""
    state, letters = run.state, run.drawer.letters
    step = state.font.n_bytes
    found = list[_Letter]()
    size = np.array(
        [[state.font_size * state.stretch, 0.0, 0.0], [0.0, state.font_size, state.rise]]
    )
    for start in range(0, len(data) - step + 1, step):
        code = int.from_bytes(data[start : start + step], "big")
        matrix = after(state.matrix, after(run.letter_matrix, size))
        found.append(_Letter(code=code, matrix=matrix))
        width = state.font.width(code)
        if width is None and letters is not None and step == 1:
            width = letters.width(index, code)
        blank = state.word_space if step == 1 and code == ord(" ") else 0.0
        _advance(run, (width or 0.0) * state.font_size + state.letter_space + blank)
    return found


def _advance(run: PageRun, length: float) -> None:
    """Move what follows along the line, in units of the text before it is stretched."""
    along = scaled(1.0, 1.0, length * run.state.stretch, 0.0)
    run.letter_matrix = after(run.letter_matrix, along)


def _draw(run: PageRun, index: int, placed: Sequence[_Letter]) -> None:
    """Add what a step shows: its text, or the outlines of its letters."""
    drawer, state = run.drawer, run.state
    if not run.is_seen() or drawer.letters is None:
        return
    is_outlined = state.text_mode in _OUTLINED
    space = state.stroke_space if is_outlined else state.fill_space
    if not run.has_colour(space):
        return
    if state.text_mode >= _BOUNDING:
        drawer.lack("text", "what letters bound is drawn unbounded")
    if is_outlined:
        drawer.lack("text", "outlined letters are full")
    paint = state.paint(strokes=is_outlined)
    if drawer.has_own_letters:
        codes = [letter.code for letter in placed]
        said = [state.font.signs.get(code, "") for code in codes]
        signs = tuple(said) if all(said) else drawer.letters.signs(index, codes)
        if signs is not None and not state.font.is_drawn:
            _add_outlines(run, index, placed, signs, paint)
            return
        drawer.lack("text", "letters whose outlines can't be read are set in those you choose")
    text, own = drawer.letters.text(index).rstrip(), placed[0].matrix
    size = scale_of(own)
    if not text or not 0.0 < size < math.inf:
        return
    drawer.add(
        TextRun(
            name="",
            layer=run.layer,
            line=0,
            text=text,
            at=(float(own[0, 2]), float(own[1, 2])),
            size=size,
            anchor="start",
            turn=math.atan2(float(own[1, 0]), float(own[0, 0])),
            fill=paint,
            clip=state.clip,
        )
    )


def _add_outlines(
    run: PageRun, index: int, placed: Sequence[_Letter], signs: Sequence[str], paint: Paint
) -> None:
    letters = run.drawer.letters
    run.drawer.lack("text", _OF_FONTS)
    subpaths = list[Subpath]()
    for letter, sign in zip(placed, signs, strict=True):
        outline = None if letters is None else letters.outline(index, sign)
        subpaths += outline.subpaths(letter.matrix) if outline else ()
    if subpaths:
        run.drawer.add(
            ArtPath(
                name="",
                layer=run.layer,
                line=0,
                subpaths=tuple(subpaths),
                fill=paint,
                clip=run.state.clip,
                is_letter=True,
            )
        )


WRITING: dict[str, Operator] = {
    "BT": _begin,
    "Tf": _font,
    "Td": _move,
    "TD": _move_leading,
    "Tm": _matrix,
    "T*": _down,
    "Tc": _number("letter_space"),
    "Tw": _number("word_space"),
    "Tz": _number("stretch", 0.01),
    "TL": _number("leading"),
    "Ts": _number("rise"),
    "Tr": _mode,
    "Tj": _show_one,
    "TJ": _show_row,
    "'": _show_below,
    '"': _show_spaced,
}
"""The operators that set text, by their names (table 105 to 109)."""

"""Samplers: one sheet of styles side by side, or of one style at many settings, measured."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from inkline.drawing import Cap, Drawing, Layer, Role, Stroke
from inkline.errors import InputError
from inkline.geometry.arrays import Grey
from inkline.ink.engine import draw
from inkline.ink.style import Style
from inkline.lettering.face import Face
from inkline.output.png import colour_png_bytes
from inkline.pages.faces import usual_family
from inkline.pages.letters import PLAIN, line_picture
from inkline.pages.page import Page, part_on_page
from inkline.pages.palette import ACCENT, BLOCK, INK, PAPER, colour_of_tone
from inkline.progress import Listener, Step, unheard
from inkline.proof.picture import quarter_picture
from inkline.raster.compose import render
from inkline.sampler.readings import SPECIMEN_MEASURES, MeasuredValue, measure_for
from inkline.sampler.scenes import (
    BLOCKS,
    LETTERS,
    RULES,
    SPECIMEN,
    SUBJECT,
    corner,
    only_layer,
    specimen,
)
from inkline.sampler.setting import (
    PPI,
    Axis,
    Caption,
    SamplerSetting,
    set_matrix,
    set_specimens,
)
from inkline.sampler.vary import Vary, varied_styles

MOST_STYLES = 40
"""Beyond this a sheet would be larger than most programs open."""

_TITLE = "Sampler"
_ONE_HAND = "One hand draws all, and only the values differ."
_SIZES = "Each style at full size, and at the quarter at which stamps are used."
_MATRIX_HAND = "sampler"
"""One hand for a whole matrix: its pictures differ by the values alone."""


def specimens_png(styles: Sequence[Style], *, number: int, listener: Listener = unheard) -> bytes:
    """The sheet that shows each of `styles` once, as a PNG file; about a second a style.

    Args:
        styles: at least one.
        number: the drawing number.
        listener: hears of each style when it is drawn.

    Raises:
        InputError: too many styles for one sheet.
    """
    if len(styles) > MOST_STYLES:
        raise InputError(f"a sampler shows at most {MOST_STYLES} styles, not {len(styles)}")
    face = usual_family()
    pictures, captions, readings = [], [], []
    for index, style in enumerate(styles, start=1):
        # As many people as there are styles, or all would wander alike.
        hand = f"sampler/{index}/{style.name}"
        readings = [measure(style, number, hand, face) for measure in SPECIMEN_MEASURES]
        pictures.append(_layers(specimen(face, hand), style, number))
        captions.append(
            Caption(
                name=style.name,
                imitates=_sentence(style.imitates),
                readings=_names_and_values(readings),
            )
        )
        listener(Step(name=style.name, done=index, total=len(styles)))
    setting = set_specimens(
        title=_TITLE,
        note=f"{len(styles)} {'style' if len(styles) == 1 else 'styles'}, drawing {number}",
        about=(_SIZES, *_abouts(readings, per_line=min(2, len(styles)))),
        captions=captions,
        picture=SPECIMEN,
    )
    return _sheet_png(setting, pictures, styles=styles, face=face, number=number)


def matrix_png(
    style: Style, varies: Sequence[Vary], *, number: int, listener: Listener = unheard
) -> bytes:
    """The sheet that shows `style` at every step of one or two values, as a PNG file.

    It takes about a third of a second a picture.

    Args:
        style: the style to vary.
        varies: one or two.
        number: the drawing number.
        listener: hears of each picture when it is drawn.

    Raises:
        StyleError: a step that the style's other values rule out.
    """
    face = usual_family()
    styles = varied_styles(style, varies)
    pictures, readings = [], []
    for index, one in enumerate(styles, start=1):
        readings.append(matrix_readings(one, varies, number=number, face=face))
        pictures.append(_layers(corner(face, _MATRIX_HAND), one, number))
        listener(Step(name=style.name, done=index, total=len(styles)))
    across, *down = (Axis(name=vary.name, steps=vary.labels) for vary in varies)
    setting = set_matrix(
        title=style.name,
        note=f"drawing {number}",
        about=(f"{_sentence(style.imitates)}.", _ONE_HAND, *_abouts(readings[0])),
        across=across,
        down=down[0] if down else None,
        readings=[_names_and_values(measured) for measured in readings],
        picture=SUBJECT,
    )
    return _sheet_png(setting, pictures, styles=(style,), face=face, number=number)


def matrix_readings(
    style: Style, varies: Sequence[Vary], *, number: int, face: Face
) -> list[MeasuredValue]:
    """What one picture of a matrix measures, for each value that is varied, none twice."""
    measured = [measure_for(vary.key)(style, number, _MATRIX_HAND, face) for vary in varies]
    return [one for index, one in enumerate(measured) if one not in measured[:index]]


def _abouts(readings: Sequence[MeasuredValue], *, per_line: int = 1) -> list[str]:
    """The sentences on what was measured, so many on a line."""
    sentences = [reading.about for reading in readings]
    return [
        " ".join(sentences[first : first + per_line])
        for first in range(0, len(sentences), per_line)
    ]


def _sentence(words: str) -> str:
    return words[:1].upper() + words[1:]


def _names_and_values(readings: Sequence[MeasuredValue]) -> tuple[tuple[str, str], ...]:
    return tuple((reading.name, reading.value) for reading in readings)


def _layers(drawing: Drawing, style: Style, number: int) -> tuple[tuple[Grey, str], ...]:
    """The pictures of blocks, and of rules and letters together, each with its colour."""
    solid = [layer for layer in drawing.layers if layer.name in {RULES, LETTERS}]
    lines = Drawing(
        name=drawing.name, canvas=drawing.canvas, sheet_px=drawing.sheet_px, layers=tuple(solid)
    )
    inked = ((only_layer(drawing, BLOCKS), BLOCK), (lines, INK))
    return tuple((render(draw(one, style, number)), colour) for one, colour in inked)


def _sheet_png(
    setting: SamplerSetting,
    pictures: Sequence[Sequence[tuple[Grey, str]]],
    *,
    styles: Sequence[Style],
    face: Face,
    number: int,
) -> bytes:
    """The sheet as set, its pictures mixed in linear light."""
    sheet = np.empty((setting.size[1], setting.size[0], 3), np.uint8)
    sheet[:] = Page((1, 1), colour=PAPER).srgb()[0, 0]
    for place in setting.places:
        page = Page(place.size, colour=place.colour)
        for grey, colour in pictures[place.index]:
            page.ink(quarter_picture(grey) if place.quarter else grey, at=(0, 0), colour=colour)
        sheet[place.y : place.y + place.size[1], place.x : place.x + place.size[0]] = page.srgb()
    for index, line in enumerate(setting.lines):
        style = PLAIN if line.style_index is None else styles[line.style_index]
        name = f"sampler/line-{index + 1}"
        letters = line_picture(line, face=face, style=style, number=number, name=name)
        if letters is not None:
            _print(sheet, letters.grey, letters.at, colour_of_tone(line.tone))
    for index, rule in enumerate(setting.rules):
        grey, at = _rule_picture(rule, styles[0], number, f"sampler/rule-{index + 1}")
        _print(sheet, grey, at, ACCENT)
    return colour_png_bytes(sheet, ppi=PPI)


def _print(sheet: NDArray[np.uint8], grey: Grey, at: tuple[int, int], colour: str) -> None:
    """Print `grey` on the bare paper of `sheet`, without what would lie off it."""
    grey, (x, y) = part_on_page(grey, at=at, size=(sheet.shape[1], sheet.shape[0]))
    page = Page((grey.shape[1], grey.shape[0]), colour=PAPER).ink(grey, at=(0, 0), colour=colour)
    wet = grey > 0
    sheet[y : y + grey.shape[0], x : x + grey.shape[1]][wet] = page.srgb()[wet]


def _rule_picture(
    rule: tuple[int, int, int], style: Style, number: int, name: str
) -> tuple[Grey, tuple[int, int]]:
    """The rule under the title, drawn in `style`."""
    x0, x1, y = rule
    room = 40
    ends = np.array([[room, room], [room + x1 - x0, room]], dtype=np.float64)
    mark = Stroke(
        name=name,
        group=name,
        role=Role.RULE,
        points=ends,
        width_px=8.0,
        cap=Cap.BUTT,
        origin=(room, room),
        room_px=(0.0, 0.0),
    )
    canvas = x1 - x0 + 2 * room, 2 * room
    drawing = Drawing(
        name=name, canvas=canvas, sheet_px=1200.0, layers=(Layer(name=RULES, marks=(mark,)),)
    )
    level = replace(
        style, hand=replace(style.hand, run_over=0.0, fall_short=0.0)
    )  # or it would not be flush with the text
    return render(draw(drawing, level, number)), (x0 - room, y - room)

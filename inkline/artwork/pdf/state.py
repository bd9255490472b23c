"""What holds while a PDF page is drawn: place, colours, pen and bounds (ISO 32000-1, 8.4)."""

from __future__ import annotations

from dataclasses import dataclass, field

from inkline.artwork.maps import Matrix, scale_of
from inkline.artwork.model import LineCap, LineJoin, Paint, Pen
from inkline.artwork.pdf.colours import GREY, ColourSpace, paint_of
from inkline.artwork.pdf.fonts import FontCodes
from inkline.geometry.arrays import Points
from inkline.geometry.clipping import common_area

_CAPS = (LineCap.BUTT, LineCap.ROUND, LineCap.SQUARE)
_JOINS = (LineJoin.MITER, LineJoin.ROUND, LineJoin.BEVEL)
_HAIRLINE_PX = 1.0
"""Width of the thinnest line that a device can draw, which a width of 0 asks for (8.4.3.2)."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class State:
    """The graphics state.

    Attributes:
        matrix: from user space to px of the picture.
        width, cap, join, miter_limit, dashes, dash_offset: of the pen, in user space.
        fill_space, stroke_space: of the colours.
        fill, stroke: the numbers of the colours.
        fill_opacity, stroke_opacity: 0 to 1.
        is_masked: whether a soft mask holds.
        font, font_size: of letters.
        letter_space, word_space, stretch, leading, rise, text_mode: how letters are set (9.3).
        clip: simple contours in px that bound it, `None` for none.
    """

    matrix: Matrix
    width: float = 1.0
    cap: int = 0
    join: int = 0
    miter_limit: float = 10.0
    dashes: tuple[float, ...] = ()
    dash_offset: float = 0.0
    fill_space: ColourSpace = GREY
    stroke_space: ColourSpace = GREY
    fill: tuple[float, ...] = (0.0,)
    stroke: tuple[float, ...] = (0.0,)
    fill_opacity: float = 1.0
    stroke_opacity: float = 1.0
    is_masked: bool = False
    font: FontCodes = field(default_factory=lambda: FontCodes(None))
    font_size: float = 1.0
    letter_space: float = 0.0
    word_space: float = 0.0
    stretch: float = 1.0
    leading: float = 0.0
    rise: float = 0.0
    text_mode: int = 0
    clip: tuple[Points, ...] | None = field(default=None)

    def paint(self, *, strokes: bool) -> Paint:
        """The colour of lines, or of areas."""
        if strokes:
            return paint_of(self.stroke_space, self.stroke, self.stroke_opacity)
        return paint_of(self.fill_space, self.fill, self.fill_opacity)

    def pen(self) -> Pen:
        """The pen in px."""
        scale = scale_of(self.matrix)
        width = self.width * scale
        return Pen(
            width=width if width > 0.0 else _HAIRLINE_PX,
            cap=_CAPS[self.cap] if self.cap in range(3) else LineCap.BUTT,
            join=_JOINS[self.join] if self.join in range(3) else LineJoin.MITER,
            miter_limit=max(self.miter_limit, 1.0),
            dashes=tuple(scale * dash for dash in self.dashes),
            dash_offset=scale * self.dash_offset,
        )

    def clipped_by(self, area: tuple[Points, ...]) -> tuple[Points, ...]:
        """Its bounds within an area."""
        return area if self.clip is None else common_area(self.clip, area)

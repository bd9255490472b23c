"""Parts of a format and plans of stamps: what each stamp is, before anything on it is set."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from typing import Any, Literal

from inkline.drawing import Drawing, Layer, Leaves
from inkline.kit.stamps.content import Content
from inkline.kit.stamps.names import StampName
from inkline.kit.stamps.place import Place

StampKind = Literal["grid", "blocks", "dates", "words", "marks"]

SMALL_RAGGEDNESS = 0.5
"""Share of the style's raggedness that numerals in the small cut keep, so that their edges still
read at a tenth of the size. Chosen by eye."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """What is cut out of a stamp.

    Attributes:
        content: what it is.
        raggedness: share of the style's raggedness that it is drawn with.
    """

    content: Content
    raggedness: float = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One stamp of a format.

    Attributes:
        name: its name.
        kind: grid, blocks, dates, words or marks.
        content: what it holds.
        raggedness: share of the style's raggedness that it is drawn with.
        crisp: whether it keeps its exact edges, whatever the style.
        canvas: width and height in px, if it is not the format's.
        cut: what is cut out of it, or `None`.
    """

    name: StampName
    kind: StampKind
    content: Content
    raggedness: float = 1.0
    crisp: bool = False
    canvas: tuple[int, int] | None = None
    cut: Cut | None = None


PartMaker = Callable[[Place], Iterator[Part]]
"""What gives the parts of a format: one function a kind of stamp, none for formats that have none
of it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StampPlan:
    """One stamp, not yet drawn; cheap to make and to keep.

    Attributes:
        name: such as `tall/dates-3`.
        kind: grid, blocks, dates or words.
        format: name of its format, or `None` for a word used alone.
        canvas: width and height in px.
        sheet_px: how many px make the width of the whole sheet.
        content: what it holds.
        raggedness: share of the style's raggedness that it is drawn with.
        crisp: whether it keeps its exact edges, whatever the style; what is cut out of it is drawn
            all the same.
        cut: what is cut out of it, or `None`.
        picture: where its picture lies, if it is not called by the stamp's name.
    """

    name: str
    kind: StampKind
    format: str | None
    canvas: tuple[int, int]
    sheet_px: float
    content: Content
    raggedness: float = 1.0
    crisp: bool = False
    cut: Cut | None = None
    picture: str = ""

    @property
    def file(self) -> str:
        """Where its picture lies in the kit's folder, with forward slashes."""
        return self.picture or f"{self.name}.png"

    def drawing(self) -> Drawing:
        """Its exact drawing, made anew at every call.

        Cost: 1 ms for a grid, up to 20 ms for a set of dates.
        """
        layers: tuple[Layer, ...] = (self.content.layer(self.name),)
        if self.cut is not None:
            out = self.cut.content.layer(self.name)
            layers += (replace(out, name=f"{out.name} cut out", leaves=Leaves.WHITE),)
        return Drawing(name=self.name, canvas=self.canvas, sheet_px=self.sheet_px, layers=layers)

    def geometry(self) -> dict[str, Any]:
        """Its exact geometry in px for the manifest: `lines`, `boxes` or `glyphs`, as plain values.

        Where something is cut out, the boxes or lines and the glyphs that are missing from them.
        """
        geometry = self.content.geometry(self.name)
        return geometry if self.cut is None else geometry | self.cut.content.geometry(self.name)

"""One thing in which a picture isn't what it should be."""

from __future__ import annotations

from dataclasses import dataclass

from inkline.geometry.boxes import Box


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """One thing in which a picture isn't what it should be.

    Attributes:
        kind: one word for it, such as "moved", "speck" or "gone".
        marks: what it concerns; none for the stamp as a whole.
        sentence: it in words, with marks and measures.
        box: where in px.
        shift_px: how far it was moved.
    """

    kind: str
    marks: tuple[str, ...]
    sentence: str
    box: Box
    shift_px: float = 0.0

"""What files are made of: a stamp as a picture and, where it was not retouched, as curves."""

from __future__ import annotations

from typing import Protocol

from inkline.geometry.arrays import Grey
from inkline.output.outlines import StampOutlines


class Shown(Protocol):
    """A stamp as forms of files see it; pictures and curves are made when they are asked for."""

    @property
    def name(self) -> str:
        """What its page, layer or file is called."""

    @property
    def canvas(self) -> tuple[int, int]:
        """Width and height in px."""

    @property
    def ppi(self) -> float:
        """Pixels per inch."""

    @property
    def colour(self) -> str | None:
        """The colour of its ink as `#rrggbb`, None where that is the file's own."""

    @property
    def is_visible(self) -> bool:
        """Whether a layer of it is seen at first."""

    @property
    def picture(self) -> Grey:
        """Its coverage, `(height, width)`."""

    @property
    def outlines(self) -> StampOutlines | None:
        """Its curves in px, None where there is only a picture."""

"""How large the picture of an artwork is made."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from inkline.errors import InputError

USUAL_PPI = 300.0
_CSS_PPI = 96.0
_LEAST_PX, _MOST_PX = 16, 20_000


@dataclass(frozen=True, slots=True, kw_only=True)
class PictureSize:
    """What is asked of a picture's size.

    Attributes:
        ppi: px to an inch of the artwork's own size.
        across: width in px instead, or `None`.
    """

    ppi: float = USUAL_PPI
    across: int | None = None

    def scale_of(self, width: float, height: float, *, file: Path) -> float:
        """Px of the picture to a CSS px of an artwork of `width` by `height` CSS px.

        Raises:
            InputError: the picture would be too small or too large.
        """
        scale = self.ppi / _CSS_PPI if self.across is None else self.across / width
        if not _LEAST_PX <= max(width, height) * scale <= _MOST_PX:
            across, down = round(width * scale), round(height * scale)
            raise InputError(
                f"{file} would be {across} x {down} px; pictures of {_LEAST_PX} to {_MOST_PX} px "
                f"can be made, so say how wide it is to be",
                setting="across",
            )
        return scale

    def canvas(self, width: float, height: float, scale: float) -> tuple[int, int]:
        """Width and height of the picture in px."""
        return max(1, round(width * scale)), max(1, round(height * scale))

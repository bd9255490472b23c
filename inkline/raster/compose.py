"""From an inked drawing to the finished picture."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from inkline.drawing import Points
from inkline.geometry.union import united
from inkline.raster.coverage import grey_from_contours


class Filled(Protocol):
    """What is asked of a mark: closed contours in px; they may overlap."""

    @property
    def contours(self) -> tuple[Points, ...]: ...  # noqa: D102


class Inked(Protocol):
    """What is asked of an inked drawing: its canvas in px and its marks, back to front."""

    @property
    def canvas(self) -> tuple[int, int]: ...  # noqa: D102

    @property
    def marks(self) -> Sequence[Filled]: ...  # noqa: D102


def render(inked: Inked) -> NDArray[np.uint8]:
    """The picture of `inked` as uint8 `(height, width)`: 0 where there is no ink, 255 where it is full.

    Marks that overlap are united before they are filled: there are no seams and no lighter or darker crossings, which
    combining their pictures by maximum, sum or product would leave (up to 84, 86 and 30 of 255 where rules cross).
    """
    contours = [contour for mark in inked.marks for contour in mark.contours]
    return grey_from_contours(united(contours), canvas=inked.canvas)

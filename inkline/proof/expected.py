"""What a stamp's picture should be, from whoever can draw it: the proof itself draws nothing."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from inkline.geometry.arrays import Grey
from inkline.proof.finding import ListedStamp


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Expected:
    """A stamp's picture as it should be, uint8 `(height, width)`, 255 full ink.

    Attributes:
        picture: as the stamp's file should have it.
        body: the same ink on smooth paper and without specks: what lies where it was laid out.
    """

    picture: Grey
    body: Grey


Drawer = Callable[[Path, ListedStamp], Expected | None]
"""Gives the expected picture of a stamp of the kit in a folder, None where that can't be drawn."""

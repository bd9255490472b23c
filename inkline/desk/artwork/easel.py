"""What draws the user's own artwork as its recipe is turned."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

import numpy as np

from inkline.artwork.model import Paint
from inkline.desk.artwork.reading import ReadArtwork, ReadPicture, ReadStamp
from inkline.desk.exact import boxes_of, part_of
from inkline.desk.looking import PictureWish
from inkline.errors import InputError
from inkline.finishing.inking import inked_stamp, meeting_style
from inkline.finishing.picture import coloured_values
from inkline.finishing.stamps import FinishedStamp
from inkline.finishing.treatment import Treatment, Treatments
from inkline.geometry.arrays import Grey, Values
from inkline.ink.inked import InkedDrawing
from inkline.ink.style import EXACT
from inkline.kit.papers.open_kit import OpenKit
from inkline.output.look import Ground
from inkline.raster.compose import render
from inkline.raster.preview import Preview

_OPAQUE = 255
_BLACK = Paint(red=0.0, green=0.0, blue=0.0)
_MOST_KEPT = 72
"""Stamps of which all stages are kept: as many as a picture may have, and some drawn otherwise."""


class ArtworkEasel:
    """Keeps artwork that was read, and draws it.

    Marks that all have one style are drawn with what is kept of their last picture; where parts
    have styles of their own, all is drawn anew.
    """

    def __init__(self, read: ReadArtwork) -> None:
        self.read = read
        self._previews: OrderedDict[Any, Preview] = OrderedDict()
        self._mixed: OrderedDict[Any, InkedDrawing] = OrderedDict()

    def picture(self, kit: OpenKit, wish: PictureWish) -> Values:
        """What is wished for: grey where it is ink alone, else `(height, width, 4)` in its colours.

        Raises:
            InputError: there is no such picture.
        """
        one = self._picture_called(wish.stamp)
        ground = kit.recipe.finish.ground
        stamps = one.stamps_on(ground)
        greys = [self._grey(one, stamp, wish, kit) for stamp in stamps]
        if not greys:
            raise InputError(f"{one.file.name}: nothing in it can be drawn")
        if wish.is_exact or ground is Ground.BLACK:
            together: Grey = np.maximum.reduce(greys)
            return together
        layers = [(stamp.paint or _BLACK, grey) for stamp, grey in zip(stamps, greys, strict=True)]
        height, width = greys[0].shape
        values = coloured_values(layers, canvas=(width, height), ground=ground)
        if ground is Ground.CLEAR:
            return values
        whole = np.full((height, width, 1), _OPAQUE, dtype=np.uint8)
        return np.concatenate((values, whole), axis=2)

    def places(self, name: str) -> dict[str, list[float]]:
        """The boxes of what can be chosen on a picture, by their names.

        Raises:
            InputError: there is no such picture.
        """
        one = self._picture_called(name)
        return {name: box for stamp in one.stamps for name, box in boxes_of(stamp.drawing).items()}

    def _picture_called(self, name: str) -> ReadPicture:
        for one in self.read.pictures:
            if one.name == name:
                return one
        raise InputError(f'there is no artwork "{name}" any more')

    def _grey(
        self, picture: ReadPicture, stamp: ReadStamp, wish: PictureWish, kit: OpenKit
    ) -> Grey:
        again = {**kit.recipe.again, **wish.again}
        scale, style = wish.width / picture.canvas[0], kit.style
        if wish.is_exact:
            style = replace(EXACT, drawn_at=style.drawn_at)
        elif self.read.request.parts:
            inked = self._mixed_ink(picture, stamp, kit, again).at_scale(scale)
            return part_of(render(inked), wish.window)
        preview = self._preview(stamp, kit.recipe.number, again)
        return preview.picture(meeting_style(style), scale=scale, window=wish.window)

    def _mixed_ink(
        self, picture: ReadPicture, stamp: ReadStamp, kit: OpenKit, again: Mapping[str, int]
    ) -> InkedDrawing:
        """The ink of a stamp whose parts have styles of their own, kept for the next picture."""
        key = (stamp.name, kit.style, kit.recipe.number, tuple(sorted(again.items())))
        if key not in self._mixed:
            usual = Treatment(style=kit.style, face=kit.face, lines=self.read.request.lines)
            treatments = Treatments(usual, self.read.request.parts)
            own = {name: treatments.of(picture.file, at) for name, at in stamp.layers.items()}
            whole = FinishedStamp(
                name=stamp.name, drawing=stamp.drawing, treatments=own, paint=stamp.paint
            )
            while len(self._mixed) >= _MOST_KEPT:
                self._mixed.popitem(last=False)
            self._mixed[key] = inked_stamp(whole, kit.style, kit.recipe.number, again=again)
        return self._mixed[key]

    def _preview(self, stamp: ReadStamp, number: int, again: Mapping[str, int]) -> Preview:
        key = (stamp.name, number, tuple(sorted(again.items())))
        held = self._previews.pop(key, None) or Preview(stamp.drawing, number, again=again)
        self._previews[key] = held
        while len(self._previews) > _MOST_KEPT:
            self._previews.popitem(last=False)
        return held

"""The values of a stamp's picture in any look: grey on black or white, or a colour on nothing."""

from __future__ import annotations

import numpy as np

from inkline.geometry.arrays import Grey, Values
from inkline.output.look import FileLook, Ground
from inkline.output.profiles import Profile, colour_in


def values_in_look(grey: Grey, look: FileLook) -> Values:
    """The values of the coverage `grey` in `look`, `(height, width, n)`, of 8 or 16 bits.

    One value a pixel on black and on white; on a clear ground the ink and its opacity: two for
    black, white and greys, else four. The ink is the same in every pixel, also where nothing of it
    shows, and opacity is not multiplied into it: whatever lies beneath, no fringe shows. Values of
    16 bits are those of 8 bits times 257, which is the same share of the whole. What is said to be
    Display P3 has colours even where it is grey, since that profile is one of colours.
    """
    whole = 65535 if look.bits == 16 else 255
    kind = np.uint16 if look.bits == 16 else np.uint8
    shown = grey.astype(np.uint16) * 257 if look.bits == 16 else grey
    coloured = look.profile is Profile.DISPLAY_P3
    if look.ground is not Ground.CLEAR:
        value = shown if look.ground is Ground.BLACK else (whole - shown)
        return np.repeat(value[:, :, None].astype(kind), 3 if coloured else 1, axis=2)
    ink = [round(value * whole) for value in colour_in(look.profile, look.ink)]
    ink = ink[:1] if len(set(ink)) == 1 and not coloured else ink
    values = np.empty((*grey.shape, len(ink) + 1), kind)
    values[:, :, :-1] = ink
    values[:, :, -1] = shown
    return values

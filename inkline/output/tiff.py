"""TIFF files of many pages, a stamp a page (TIFF 6.0, and its supplements for Deflate).

The pages may be of several sizes. Ink on a clear ground has unassociated alpha, as in PNG files.
"""

from __future__ import annotations

import io
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Any

import numpy as np

from inkline.geometry.arrays import Values
from inkline.output.ground import ground_values
from inkline.output.look import FileLook, Ground
from inkline.output.pixels import values_in_look
from inkline.output.profiles import Profile, colour_in, profile_bytes
from inkline.output.shown import Shown

_ASCII = 2
"""The type of a text; texts beyond ASCII are written as UTF-8, as is common practice, no source."""
_DOCUMENT_NAME, _PAGE_NAME, _ARTIST, _COPYRIGHT = 269, 285, 315, 33432
_PAPER = "paper"
"""The page of the ground."""
_PACKED = 6
"""How hard to pack, 1 to 9: 9 gained 1 % on a drawn page for twice the time."""


def tiff_bytes(stamps: Sequence[Shown], look: FileLook) -> bytes:
    """The TIFF file of `stamps`, a page each under its name; equal pictures give equal bytes.

    Args:
        stamps: at least one.
        look: ground, ink, bits, profile and words.
    """
    import tifffile  # noqa: PLC0415 - slow to import

    data = io.BytesIO()
    with tifffile.TiffWriter(data, bigtiff=False) as file:
        for name, values in _pages(stamps, look):
            n_values = values.shape[2]
            file.write(
                values[:, :, 0] if n_values == 1 else values,
                photometric="rgb" if n_values > 2 else "minisblack",
                planarconfig="contig" if n_values > 1 else None,
                extrasamples=["unassalpha"] if n_values in {2, 4} else None,
                compression="zlib",
                compressionargs={"level": _PACKED},
                resolution=(stamps[0].ppi, stamps[0].ppi),
                resolutionunit="inch",
                iccprofile=_profile(look, n_values),
                software=False,
                metadata=None,
                extratags=_texts(name, look),
            )
    return data.getvalue()


def _pages(stamps: Sequence[Shown], look: FileLook) -> Iterator[tuple[str, Values]]:
    """The pages by their names, back to front.

    Stamps in colours of their own are ink on nothing, over a page of the ground if there is any.
    """
    if any(stamp.colour is not None for stamp in stamps):
        ground = _ground(look, stamps[0].canvas)
        if ground is not None:
            yield _PAPER, ground
    for stamp in stamps:
        own = look
        if stamp.colour is not None:
            own = replace(look, ground=Ground.CLEAR, ink=stamp.colour)
        yield stamp.name, values_in_look(stamp.picture, own)


def _ground(look: FileLook, size: tuple[int, int]) -> Values | None:
    """The values of the ground, `(height, width, 3)`; None if it is clear."""
    whole = 65535 if look.bits == 16 else 255
    if look.picture is not None:
        values = ground_values(look, size, look.profile)
        return values.astype(np.uint16) * 257 if look.bits == 16 else values
    if look.ground_colour is None:
        return None
    paper = np.array(colour_in(look.profile, look.ground_colour)) * whole
    shape = (size[1], size[0], 3)
    if look.bits == 16:
        return np.broadcast_to(np.rint(paper).astype(np.uint16), shape)
    return np.broadcast_to(np.rint(paper).astype(np.uint8), shape)


def _profile(look: FileLook, n_values: int) -> bytes | None:
    """The profile of a page in colours; a grey one can't have it."""
    if look.profile is Profile.NONE or n_values < 3:
        return None
    return profile_bytes(look.profile)


def _texts(name: str, look: FileLook) -> list[tuple[int, int, int, Any, bool]]:
    said = {
        _DOCUMENT_NAME: look.words.title,
        _PAGE_NAME: name,
        _ARTIST: look.words.author,
        _COPYRIGHT: look.words.licence,
    }
    return [
        (tag, _ASCII, len(data) + 1, data + b"\0", True)
        for tag, text in said.items()
        if (data := text.encode())
    ]

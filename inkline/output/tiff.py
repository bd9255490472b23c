"""TIFF files of many pages, a stamp a page (TIFF 6.0, and its supplements for Deflate).

The pages may be of several sizes. Ink on a clear ground has unassociated alpha, as in PNG files.
"""

from __future__ import annotations

import io
from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from inkline.output.look import FileLook, Ground
from inkline.output.pixels import values_in_look
from inkline.output.profiles import Profile, profile_bytes
from inkline.output.shown import Shown

_ASCII = 2
"""The type of a text; texts beyond ASCII are written as UTF-8, as is common practice, no source."""
_DOCUMENT_NAME, _PAGE_NAME, _ARTIST, _COPYRIGHT = 269, 285, 315, 33432
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
        for stamp in stamps:
            own = look if stamp.colour is None else _in_colour(look, stamp.colour)
            values = values_in_look(stamp.picture, own)
            n_values = values.shape[2]
            file.write(
                values[:, :, 0] if n_values == 1 else values,
                photometric="rgb" if n_values > 2 else "minisblack",
                planarconfig="contig" if n_values > 1 else None,
                extrasamples=["unassalpha"] if look.ground is Ground.CLEAR else None,
                compression="zlib",
                compressionargs={"level": _PACKED},
                resolution=(stamp.ppi, stamp.ppi),
                resolutionunit="inch",
                iccprofile=_profile(look, n_values),
                software=False,
                metadata=None,
                extratags=_texts(stamp, look),
            )
    return data.getvalue()


def _in_colour(look: FileLook, colour: str) -> FileLook:
    """`look` with an ink of this colour, which only a clear ground can have."""
    return replace(look, ink=colour) if look.ground is Ground.CLEAR else look


def _profile(look: FileLook, n_values: int) -> bytes | None:
    """The profile of a page in colours; a grey one can't have it."""
    if look.profile is Profile.NONE or n_values < 3:
        return None
    return profile_bytes(look.profile)


def _texts(stamp: Shown, look: FileLook) -> list[tuple[int, int, int, Any, bool]]:
    said = {
        _DOCUMENT_NAME: look.words.title,
        _PAGE_NAME: stamp.name,
        _ARTIST: look.words.author,
        _COPYRIGHT: look.words.licence,
    }
    return [
        (tag, _ASCII, len(data) + 1, data + b"\0", True)
        for tag, text in said.items()
        if (data := text.encode())
    ]

"""PNG files: grey and clear ones for stamps, colour for sheets (PNG, ISO/IEC 15948).

Grey stamps carry no gamma or colour chunk, since their values are coverage and nothing may bend
them. Colour sheets say that they are sRGB.

Rows go in as they are, unpredicted. Grey ones are packed as runs: on a drawn 2500 px grid that took
12 ms for 147 kB, where rows less the row above took as long for 188 kB, the usual search for
repeats 40 ms for 181 kB and Pillow with its usual settings 77 ms for 173 kB; a roughly drawn edge
is as long upright as level, and no prediction pays. Colours repeat every third byte, which runs
can't see: there a quick search for repeats took 73 ms for 1.25 MB of an overview, and runs less the
row above 64 ms for 1.67 MB.

Runs are packed by zlib-ng where it is installed: it gives the bytes that zlib gives, in a fifth of
the time. Searching for repeats it finds others than zlib, so that is left to zlib everywhere.
"""

from __future__ import annotations

import struct
import zlib
from contextlib import suppress
from types import ModuleType

import numpy as np
from numpy.typing import NDArray

from inkline.artwork.picture.plain_png import SIGNATURE
from inkline.geometry.arrays import Values
from inkline.output.look import FileLook
from inkline.output.pixels import values_in_look
from inkline.output.profiles import PROFILE_NAMES, Profile, profile_bytes

_RUNS: ModuleType = zlib
"""Packs runs."""
with suppress(ImportError):  # a platform for which there is no wheel
    from zlib_ng import zlib_ng

    _RUNS = zlib_ng

_MM_PER_METRE = 1000.0
_MM_PER_INCH = 25.4
_GREY, _COLOUR = 0, 2
_KINDS = {1: 0, 2: 4, 3: 2, 4: 6}
"""The kind of a picture by how many values a pixel has."""
_PLAIN, _LESS_LEFT = 0, 1
_PERCEPTUAL = 0
_LEVEL = 3
"""How long to search for repeats, 1 to 9; of no effect on packing by runs beyond the bits that
state it."""
_MEMORY = 9
"""Largest working memory of the packer, 256 kB: longer blocks, 1 % smaller files, no slower."""


def png_bytes(grey: NDArray[np.uint8], *, ppi: float) -> bytes:
    """The PNG file of `grey`, uint8 `(height, width)`; equal pixels give equal bytes.

    Args:
        grey: coverage.
        ppi: pixels per inch.

    Raises:
        ValueError: another shape or type, or no pixels.
    """
    if grey.ndim != 2 or grey.dtype != np.uint8 or grey.size == 0:
        raise ValueError(
            f"a grey picture must be uint8 (height, width), not {grey.dtype} {grey.shape}"
        )
    packed = _compress(_unpredicted_rows(grey), _RUNS, zlib.Z_RLE)
    return _png(grey.shape, packed, kind=_GREY, chunks=(_resolution(ppi),))


def colour_png_bytes(colours: NDArray[np.uint8], *, ppi: float) -> bytes:
    """The PNG file of `colours`, sRGB uint8 `(height, width, 3)`; equal pixels give equal bytes.

    Args:
        colours: of the picture.
        ppi: pixels per inch.

    Raises:
        ValueError: another shape or type, or no pixels.
    """
    if colours.ndim != 3 or colours.shape[2] != 3 or colours.dtype != np.uint8 or colours.size == 0:
        raise ValueError(
            f"a colour picture must be uint8 (height, width, 3), not {colours.dtype} "
            f"{colours.shape}"
        )
    rows = _unpredicted_rows(colours.reshape(len(colours), -1))
    packed = _compress(rows, zlib, zlib.Z_DEFAULT_STRATEGY)
    chunks = (_chunk(b"sRGB", bytes([_PERCEPTUAL])), _resolution(ppi))
    return _png(colours.shape, packed, kind=_COLOUR, chunks=chunks)


def png_bytes_in_look(grey: NDArray[np.uint8], look: FileLook, *, ppi: float) -> bytes:
    """The PNG file of `grey` in `look`, with its profile and what it says of itself.

    On black, of 8 bits and with nothing to say, it is as `png_bytes` has it.

    Args:
        grey: coverage, uint8 `(height, width)`.
        look: ground, ink, bits, profile and words.
        ppi: pixels per inch.

    Raises:
        ValueError: another shape or type, or no pixels.
    """
    if grey.ndim != 2 or grey.dtype != np.uint8 or grey.size == 0:
        raise ValueError(
            f"a grey picture must be uint8 (height, width), not {grey.dtype} {grey.shape}"
        )
    return png_of_values(values_in_look(grey, look), look, ppi=ppi)


def png_of_values(values: Values, look: FileLook, *, ppi: float) -> bytes:
    """The PNG file of values in `look` already, with its profile and what it says of itself."""
    words = tuple(_words(key, text) for key, text in look.words.chunks().items())
    return _png_of_values(values, chunks=(*_profile(look), _resolution(ppi), *words))


def layer_png_bytes(colours: NDArray[np.uint8], *, ppi: float, profile: bytes = b"") -> bytes:
    """The PNG file of `colours` with their opacity, uint8 `(height, width, 4)`.

    It names the colour profile that is given, none if b"".

    Raises:
        ValueError: another shape or type, or no pixels.
    """
    if colours.ndim != 3 or colours.shape[2] != 4 or colours.dtype != np.uint8 or not colours.size:
        raise ValueError(
            f"a layer must be uint8 (height, width, 4), not {colours.dtype} {colours.shape}"
        )
    named = (_named_profile(b"of the picture", profile),) if profile else ()
    return _png_of_values(colours, chunks=(*named, _resolution(ppi)))


def _png_of_values(values: Values, *, chunks: tuple[bytes, ...]) -> bytes:
    """The file of pixels of one to four values of 8 or 16 bits, `(height, width, n)`.

    Of more than a byte a pixel, each pixel is written less the one to its left: an ink that is the
    same everywhere then packs as runs, to half of what a search for repeats gives, as fast.
    """
    height, width, n_values = values.shape
    step, bits = n_values * values.itemsize, 8 * values.itemsize
    rows = np.ascontiguousarray(values.astype(values.dtype.newbyteorder(">"), copy=False))
    rows = rows.view(np.uint8).reshape(height, width * step)
    if step == 1:
        packed = _compress(_unpredicted_rows(rows), _RUNS, zlib.Z_RLE)
    else:
        lines = np.empty((height, 1 + width * step), np.uint8)
        lines[:, 0], lines[:, 1:] = _LESS_LEFT, rows
        lines[:, 1 + step :] -= rows[:, :-step]
        packed = _compress(lines, _RUNS, zlib.Z_RLE)
    return _png((height, width), packed, kind=_KINDS[n_values], chunks=chunks, bits=bits)


def _profile(look: FileLook) -> tuple[bytes, ...]:
    """What says how colours are meant: nothing, that they are sRGB, or a profile."""
    if look.profile is Profile.NONE:
        return ()
    if look.profile is Profile.SRGB:
        return (_chunk(b"sRGB", bytes([_PERCEPTUAL])),)
    name = PROFILE_NAMES[look.profile].encode("latin-1")
    return (_named_profile(name, profile_bytes(look.profile)),)


def _named_profile(name: bytes, profile: bytes) -> bytes:
    return _chunk(b"iCCP", name + b"\0\0" + zlib.compress(profile, 9))


def _words(key: str, text: str) -> bytes:
    """An iTXt chunk, in UTF-8 and unpacked."""
    return _chunk(b"iTXt", key.encode("latin-1") + b"\0\0\0\0\0" + text.encode())


def _png(
    shape: tuple[int, ...],
    packed: bytes,
    *,
    kind: int,
    chunks: tuple[bytes, ...],
    bits: int = 8,
) -> bytes:
    header = _chunk(b"IHDR", struct.pack(">IIBBBBB", shape[1], shape[0], bits, kind, 0, 0, 0))
    return b"".join((SIGNATURE, header, *chunks, _chunk(b"IDAT", packed), _chunk(b"IEND", b"")))


def _unpredicted_rows(rows: NDArray[np.uint8]) -> NDArray[np.uint8]:
    """Each row as it is, led by the byte that says so."""
    return np.pad(rows, ((0, 0), (1, 0)), constant_values=_PLAIN)


def _compress(rows: NDArray[np.uint8], library: ModuleType, strategy: int) -> bytes:
    packer = library.compressobj(_LEVEL, zlib.DEFLATED, zlib.MAX_WBITS, _MEMORY, strategy)
    return bytes(packer.compress(rows.data) + packer.flush())


def _resolution(ppi: float) -> bytes:
    """The pHYs chunk: whole pixels per metre, across and down (300 ppi are 11811)."""
    per_metre = round(ppi * _MM_PER_METRE / _MM_PER_INCH)
    return _chunk(b"pHYs", struct.pack(">IIB", per_metre, per_metre, 1))


def _chunk(name: bytes, data: bytes) -> bytes:
    return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))

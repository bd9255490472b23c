"""A font file as plain bytes; what is wrong with it is said in one sentence."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING

from inkline.folder.reading import bytes_of_plain_file
from inkline.lettering.errors import FontError

if TYPE_CHECKING:
    from fontTools.ttLib import TTFont

_MOST_BYTES = 100_000_000
"""The largest fonts, of all signs of Chinese, have a fifth of that."""


def bytes_of_font(file: Path) -> bytes:
    """The file as it lies on the disk.

    Raises:
        FontError: it cannot be read.
    """
    try:
        return bytes_of_plain_file(file, most=_MOST_BYTES)
    except OSError as error:
        raise FontError(
            f"the font {file} cannot be read: {error.strerror or error}", path=str(file)
        ) from error


@contextmanager
def as_font_error(file: Path, fault: str) -> Iterator[None]:
    """Turns whatever reading a font stumbles over into one sentence.

    A broken font makes fontTools raise nearly anything: its own errors, those of struct, zlib and
    brotli, and plain key, type, index and assertion errors from deep inside; what they have in
    common is only that this file was being read.
    """
    try:
        yield
    except FontError:
        raise
    except Exception as error:
        reason = " ".join(str(error).split()).rstrip(".") or "its data is damaged"
        raise FontError(f"{file} {fault}: {reason}", path=str(file)) from error


def unpacked_font(data: bytes) -> bytes:
    """The font without its WOFF or WOFF2 packing, which the shaper doesn't read."""
    if data[:4] not in (b"wOFF", b"wOF2"):
        return data
    from fontTools.ttLib import TTFont  # noqa: PLC0415 - slow to import; few fonts are packed

    font = TTFont(BytesIO(data), lazy=True, recalcTimestamp=False, recalcBBoxes=False)
    font.flavor = None
    plain = BytesIO()
    font.save(plain, reorderTables=None)
    return plain.getvalue()


def checked_axes(font: TTFont, axes: Mapping[str, float], file: Path) -> dict[str, float]:
    """The places on the font's axes that are asked for, sorted by tag.

    Raises:
        FontError: the font has no such axis, or it ends before the place; the axes that it has are
            named.
    """
    if not axes:
        return {}
    known = {axis.axisTag: axis for axis in font["fvar"].axes} if "fvar" in font else {}
    if not known:
        raise FontError(
            f"{file} is no variable font, so it has no axis {', '.join(sorted(axes))}",
            path=str(file),
        )
    ranges = ", ".join(
        f"{tag} from {axis.minValue:g} to {axis.maxValue:g}" for tag, axis in known.items()
    )
    for tag, value in axes.items():
        if tag not in known:
            raise FontError(f"{file} has no axis {tag!r}; it has {ranges}", path=str(file))
        if not known[tag].minValue <= value <= known[tag].maxValue:
            raise FontError(f"{file} has no {tag} of {value:g}; it has {ranges}", path=str(file))
    return {tag: float(axes[tag]) for tag in sorted(axes)}

"""What a font file says about its licence, read out with care.

Two things are written in a font: a number that says how the font file itself may be embedded in
documents (fsType of the OS/2 table, OpenType specification), and texts of its maker (copyright,
licence, address of the licence) in the name table. Neither is the licence: that is the text that
came with the font or that its maker publishes.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum
from pathlib import Path

from inkline.lettering.face import Face
from inkline.lettering.family import StrokeFamily
from inkline.lettering.font import Font, open_font
from inkline.lettering.swap import SwappedFace
from inkline.lettering.writing import TracedFont, Way

CAUTION = (
    "This is only what the font file says about itself. The licence text decides what you may "
    "do, above all when you sell; read it, and ask its publisher or a professional when it "
    "matters. The embedding number concerns documents that carry the font file: a picture of "
    "drawn letters embeds no font."
)

_EMBEDDING_MASK = 0x000F
_NO_SUBSETTING = 0x0100
_BITMAPS_ONLY = 0x0200
_EXCLUSIVE_FROM_VERSION = 3
"""From this version of the OS/2 table on, only one of the embedding bits may be set."""
_COPYRIGHT, _VERSION, _LICENCE, _LICENCE_ADDRESS = 0, 5, 13, 14


class Embedding(StrEnum):
    """How a font file may be embedded in documents, by the value of its fsType."""

    INSTALLABLE = "installable"
    RESTRICTED = "restricted"
    PREVIEW_AND_PRINT = "preview and print"
    EDITABLE = "editable"
    UNCLEAR = "unclear"
    UNSTATED = "unstated"


_EMBEDDING_BY_VALUE = {
    0x0000: Embedding.INSTALLABLE,
    0x0002: Embedding.RESTRICTED,
    0x0004: Embedding.PREVIEW_AND_PRINT,
    0x0008: Embedding.EDITABLE,
}
_WORDS = {
    Embedding.INSTALLABLE: "The file allows that documents embed and install the font.",
    Embedding.RESTRICTED: "The file says that documents must not embed the font without its "
    "owner's permission.",
    Embedding.PREVIEW_AND_PRINT: "The file allows that documents embed the font for reading and "
    "printing only.",
    Embedding.EDITABLE: "The file allows that documents embed the font and stay editable.",
    Embedding.UNCLEAR: "The file's embedding number has a value that the standard doesn't define.",
    Embedding.UNSTATED: "The file says nothing about embedding.",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class FontLicence:
    """What a font file says of its licence.

    Attributes:
        font: the font's name.
        version: what it says of its version, or "".
        fs_type: the embedding number as it stands in the file, or None where there is none.
        embedding: what its lowest four bits say.
        may_be_subset: documents may embed a part of the font; None where nothing is said.
        bitmaps_only: documents may embed only bitmaps of it; None where nothing is said.
        copyright: the maker's text, or "".
        licence: the maker's text about the licence, or "".
        address: where the maker says that the licence can be read, or "". It is never fetched.
    """

    font: str
    version: str
    fs_type: int | None
    embedding: Embedding
    may_be_subset: bool | None
    bitmaps_only: bool | None
    copyright: str
    licence: str
    address: str

    def words(self) -> str:
        """All of it for a person to read, with the caution that belongs to it."""
        lines = [f"{self.font}: {_WORDS[self.embedding]}"]
        if self.may_be_subset is False:
            lines.append("It asks that documents embed the whole font and not a part.")
        if self.bitmaps_only:
            lines.append("It asks that documents embed only bitmaps of it, no outlines.")
        said = {
            "Copyright": self.copyright,
            "Licence": self.licence,
            "Licence text at": self.address,
        }
        lines += [f"{what}: {text}" for what, text in said.items() if text]
        if not self.licence and not self.address:
            lines.append("The file names no licence; look for the text that came with it.")
        return "\n".join([*lines, CAUTION])


def font_licence(path: str | Path) -> FontLicence:
    """What the font file `path` says of its licence; nothing is fetched from anywhere.

    Raises:
        FontError: the font cannot be used at all; see `open_font`.
    """
    return licence_of_font(open_font(path))


def licence_of_font(font: Font) -> FontLicence:
    """What an open font says of its licence.

    Raises:
        FontError: its OS/2 table is broken.
    """
    fs_type, version = font.embedding_number()
    return FontLicence(
        font=font.name,
        version=font.text(_VERSION),
        fs_type=fs_type,
        embedding=Embedding.UNSTATED
        if fs_type is None
        else embedding_from_number(fs_type, version=version),
        may_be_subset=None if fs_type is None else not fs_type & _NO_SUBSETTING,
        bitmaps_only=None if fs_type is None else bool(fs_type & _BITMAPS_ONLY),
        copyright=font.text(_COPYRIGHT),
        licence=font.text(_LICENCE),
        address=font.text(_LICENCE_ADDRESS),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Origin:
    """Where the letters of a picture come from, in a few words to keep beside it.

    Attributes:
        name: of the font or family.
        version: what it says of its version, or "".
        licence: what it says of its licence, or "".
        address: where it says that the licence can be read, or "".
        copyright: what a font says of its copyright, or "".
        embedding: what a font says of being embedded in documents; "" for a family, which is no
            font file.
        way: how a font's letters are drawn, `stroke` or `contour`; "" for a family.
    """

    name: str
    version: str = ""
    licence: str = ""
    address: str = ""
    copyright: str = ""
    embedding: str = ""
    way: str = ""


def origin_of(face: Face) -> Origin:
    """Where the letters of `face` come from, as far as it says.

    Raises:
        FontError: the font's OS/2 table is broken.
    """
    if isinstance(face, SwappedFace):
        return origin_of(face.face)
    if isinstance(face, TracedFont):
        return replace(origin_of(face.font), way=Way.STROKE.value)
    if isinstance(face, Font):
        said = licence_of_font(face)
        return Origin(
            name=said.font,
            version=said.version,
            licence=said.licence,
            address=said.address,
            copyright=said.copyright,
            embedding=said.embedding.value,
            way=Way.CONTOUR.value,
        )
    if isinstance(face, StrokeFamily):
        return Origin(name=face.name, version=face.version, licence=face.licence)
    return Origin(name=face.name)


def embedding_from_number(fs_type: int, *, version: int) -> Embedding:
    """What the lowest four bits of an fsType say.

    They are one value: 0, 2, 4 or 8. In tables before version 3 several bits could be set and the
    most permissive counted (from memory of the OpenType specification); later ones with several
    bits, and those with bit 0, are unclear.

    Args:
        fs_type: the whole number, 0 to 65535.
        version: of the OS/2 table.
    """
    value = fs_type & _EMBEDDING_MASK
    if value in _EMBEDDING_BY_VALUE:
        return _EMBEDDING_BY_VALUE[value]
    if version < _EXCLUSIVE_FROM_VERSION and not value & 0x0001:
        return Embedding.EDITABLE if value & 0x0008 else Embedding.PREVIEW_AND_PRINT
    return Embedding.UNCLEAR

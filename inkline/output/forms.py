"""The forms of files that people use, in one table: what each is called, holds and is made by.

Recipes read its names, so what makes a form is imported when one is made.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

from inkline.output.look import FileLook
from inkline.output.shown import Shown


@dataclass(frozen=True, slots=True, kw_only=True)
class Form:
    """A form of file.

    Attributes:
        name: what it is called, such as "svg"; also the ending of its files.
        words: what it is, for those who choose.
        make: the file of some stamps, back to front, in a look.
        holds_several: whether a file holds all stamps of a format rather than one.
        of_one_size: whether these must be on canvases of one size.
        needs_curves: whether it can't be made of a picture alone.
    """

    name: str
    words: str
    make: Callable[[Sequence[Shown], FileLook], bytes]
    holds_several: bool = False
    of_one_size: bool = False
    needs_curves: bool = False


def _png(stamps: Sequence[Shown], look: FileLook) -> bytes:
    from inkline.output.flat import flat_values  # noqa: PLC0415 - as of all makers here
    from inkline.output.png import png_bytes_in_look, png_of_values  # noqa: PLC0415

    if len(stamps) > 1:
        return png_of_values(flat_values(stamps, look), look, ppi=stamps[0].ppi)
    (stamp,) = stamps
    return png_bytes_in_look(stamp.picture, look, ppi=stamp.ppi)


def _svg(stamps: Sequence[Shown], look: FileLook) -> bytes:
    from inkline.output.svg_stamp import svg_stamp_bytes  # noqa: PLC0415

    return svg_stamp_bytes(stamps, look)


def _ora(stamps: Sequence[Shown], look: FileLook) -> bytes:
    from inkline.output.layered import open_raster_of_stamps  # noqa: PLC0415

    return open_raster_of_stamps(stamps, look)


def _pdf(stamps: Sequence[Shown], look: FileLook) -> bytes:
    from inkline.output.pdf_stamps import pdf_of_stamps  # noqa: PLC0415

    return pdf_of_stamps(stamps, look)


def _tiff(stamps: Sequence[Shown], look: FileLook) -> bytes:
    from inkline.output.tiff import tiff_bytes  # noqa: PLC0415

    return tiff_bytes(stamps, look)


FORMS: Mapping[str, Form] = MappingProxyType(
    {
        form.name: form
        for form in (
            Form(name="png", words="a picture a stamp", make=_png),
            Form(
                name="svg",
                words="outlines a stamp, a group a mark",
                make=_svg,
                needs_curves=True,
            ),
            Form(
                name="pdf",
                words="a format's stamps as pages, or as layers of one page",
                make=_pdf,
                holds_several=True,
            ),
            Form(
                name="ora",
                words="a format's stamps as layers (OpenRaster)",
                make=_ora,
                holds_several=True,
                of_one_size=True,
            ),
            Form(
                name="tiff",
                words="a format's stamps as pages of pictures",
                make=_tiff,
                holds_several=True,
            ),
        )
    }
)
"""All forms by their names, in the order in which they are told."""

"""Stamps as PDF files: a stamp a page, or stamps over each other as layers (ISO 32000-1, PDF 1.7).

Pages are as large as the canvas at its resolution. Layers are optional content (8.11), each under
its stamp's name, and those that aren't seen at first are switched off in the usual configuration.
Ink that paper or medium break up is shown by its outlines, or by its picture.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import pikepdf

from inkline.output.ground import ground_values
from inkline.output.look import FileLook, Grain, Sheets, Words
from inkline.output.pdf_paths import (
    array_of,
    colour_operator,
    numbers_text,
    path_operators,
    saved_bytes,
)
from inkline.output.profiles import Profile
from inkline.output.shown import Shown

_PT_PER_INCH, _MM_PER_INCH = 72.0, 25.4
_LARGEST_PAGE_PT = 14_400.0
"""Viewers take no larger page in units of a point (ISO 32000-1, annex C); beyond it the unit
grows."""
_HAIR_PT = 1e-4
"""0.0004 px at 300 ppi: more than viewers round by, and nothing that shows."""
_DUST_PX = 1e-3
"""A page that is less than this above whole pixels was meant to have as many."""
_GROUND = "Ground"
_DECIMALS, _STEPS_PER_PT = 4, 10_000


def pdf_of_stamps(stamps: Sequence[Shown], look: FileLook) -> bytes:
    """The PDF file of `stamps`, back to front; equal stamps give equal bytes.

    Args:
        stamps: at least one; for layers, on canvases of one size.
        look: ink, ground, grain, sheets, bleed and words.
    """
    file = pikepdf.Pdf.new()
    if look.sheets is Sheets.LAYERS:
        _add_layers(file, stamps, look)
    else:
        for stamp in stamps:
            page = _Page(file, stamp, look)
            page.show(stamp, own=False)
            page.finish()
        _add_contents(file, stamps)
    _say(file, look.words)
    return saved_bytes(file)


class _Page:
    """One page while it is made, for stamps on canvases as large as that of the first.

    Attributes:
        groups: optional content on it, by the name of its stamp.
    """

    def __init__(self, file: pikepdf.Pdf, first: Shown, look: FileLook) -> None:
        self.groups: dict[str, pikepdf.Object] = {}
        self._file, self._look = file, look
        width, height = (side / first.ppi * _PT_PER_INCH for side in first.canvas)
        bleed = look.bleed_mm / _MM_PER_INCH * _PT_PER_INCH
        longest = max(width, height) + 2 * bleed
        self._unit = max(1, math.ceil(longest / _LARGEST_PAGE_PT))
        width, height, bleed = (one / self._unit for one in (width, height, bleed))
        whole = tuple(
            _rounded_down(side + 2 * bleed, px_per_pt=first.ppi / _PT_PER_INCH)
            for side in (width, height)
        )
        self._whole = (0.0, 0.0, *whole)
        self._canvas = (bleed, bleed, whole[0] - bleed, whole[1] - bleed)
        self._px = _PT_PER_INCH / first.ppi / self._unit
        self._parts: list[str] = []
        self._shown: dict[str, pikepdf.Object] = {}
        if look.ground_colour is not None:
            box = numbers_text(self._whole, decimals=_DECIMALS)
            self._parts.append(f"q {colour_operator(look.ground_colour)} {box} re f Q\n")
        if look.picture is not None:
            self._add_ground(first)

    def _add_ground(self, first: Shown) -> None:
        """Put the picture of the ground on the whole page, beyond the canvas too."""
        beyond = self._look.bleed_mm / _MM_PER_INCH * first.ppi
        size = (round(first.canvas[0] + 2 * beyond), round(first.canvas[1] + 2 * beyond))
        values = ground_values(self._look, size, Profile.NONE)
        self._shown[_GROUND] = _image(self._file, values.tobytes(), size, grey=False)
        _, _, width, height = self._whole
        place = numbers_text((width, 0.0, 0.0, height, 0.0, 0.0), decimals=8)
        self._parts.append(f"q {place} cm /{_GROUND} Do Q\n")

    def show(self, stamp: Shown, *, own: bool) -> None:
        """Put `stamp` over what is there; in a layer of its `own` or not."""
        name = f"S{len(self._shown) + 1}"
        if _is_picture(stamp, self._look):
            self._shown[name] = _picture(self._file, stamp, self._look)
            place = self._place_of_picture()
        else:
            self._shown[name] = _form(self._file, stamp, self._look)
            place = self._place_of_curves()
        drawn = f"q {place} cm /{name} Do Q\n"
        if own:
            group = pikepdf.Dictionary(Type=pikepdf.Name.OCG, Name=stamp.name)
            self.groups[name] = self._file.make_indirect(group)
            drawn = f"/OC /{name} BDC\n{drawn}EMC\n"
        self._parts.append(drawn)

    def _place_of_picture(self) -> str:
        """What takes the unit square to the canvas on the page, less a hair all around.

        Viewers draw a picture on all pixels that it touches, however little.
        """
        left, bottom, right, top = self._canvas
        left, bottom, right, top = (
            left + _HAIR_PT,
            bottom + _HAIR_PT,
            right - _HAIR_PT,
            top - _HAIR_PT,
        )
        return numbers_text((right - left, 0.0, 0.0, top - bottom, left, bottom), decimals=8)

    def _place_of_curves(self) -> str:
        """What takes px, with y down, to the canvas on the page."""
        left, _, _, top = self._canvas
        return numbers_text((self._px, 0.0, 0.0, -self._px, left, top), decimals=8)

    def finish(self) -> None:
        """Add the page to the file."""
        page = self._file.add_blank_page(page_size=(72, 72))
        page.obj.MediaBox = array_of(self._whole, decimals=_DECIMALS)
        if self._look.bleed_mm > 0.0:
            page.obj.TrimBox, page.obj.BleedBox = (
                array_of(self._canvas, decimals=_DECIMALS),
                array_of(self._whole, decimals=_DECIMALS),
            )
        if self._unit > 1:
            page.obj.UserUnit = self._unit
        resources = pikepdf.Dictionary(XObject=pikepdf.Dictionary())
        for name, shown in self._shown.items():
            resources.XObject[f"/{name}"] = shown
        if self.groups:
            resources.Properties = pikepdf.Dictionary()
            for name, group in self.groups.items():
                resources.Properties[f"/{name}"] = group
        page.obj.Resources = resources
        page.obj.Contents = pikepdf.Stream(self._file, "".join(self._parts).encode("ascii"))


def _add_layers(file: pikepdf.Pdf, stamps: Sequence[Shown], look: FileLook) -> None:
    """One page of all stamps, each a layer."""
    page = _Page(file, stamps[0], look)
    for stamp in stamps:
        page.show(stamp, own=True)
    page.finish()
    groups = list(page.groups.values())
    hidden = [g for g, stamp in zip(groups, stamps, strict=True) if not stamp.is_visible]
    usual = pikepdf.Dictionary(
        Name="Usual",
        BaseState=pikepdf.Name.ON,
        OFF=pikepdf.Array(hidden),
        Order=pikepdf.Array(groups[::-1]),
    )
    file.Root.OCProperties = pikepdf.Dictionary(OCGs=pikepdf.Array(groups), D=usual)


def _add_contents(file: pikepdf.Pdf, stamps: Sequence[Shown]) -> None:
    """A list of contents, by the names of the stamps."""
    if len(stamps) > 1:
        with file.open_outline() as outline:
            for index, stamp in enumerate(stamps):
                outline.root.append(pikepdf.OutlineItem(stamp.name, index))


def _say(file: pikepdf.Pdf, words: Words) -> None:
    """Title, author and licence."""
    if not words.chunks():
        return
    with file.open_metadata(set_pikepdf_as_editor=False, update_docinfo=False) as about:
        if words.title:
            about["dc:title"] = words.title
            file.docinfo["/Title"] = words.title
        if words.author:
            about["dc:creator"] = [words.author]
            file.docinfo["/Author"] = words.author
        if words.licence:
            about["dc:rights"] = words.licence


def _is_picture(stamp: Shown, look: FileLook) -> bool:
    outlines = stamp.outlines
    return outlines is None or (outlines.has_tooth and look.grain is Grain.PICTURE)


def _form(file: pikepdf.Pdf, stamp: Shown, look: FileLook) -> pikepdf.Object:
    """All curves of a stamp as one shape, so that marks over each other leave no seam, in px."""
    outlines = () if stamp.outlines is None else stamp.outlines.outlines
    colour = colour_operator(stamp.colour or look.ink_on_ground)
    text = f"{colour}\n{path_operators(outlines)}"
    width, height = stamp.canvas
    form = pikepdf.Stream(file, text.encode("ascii"))
    form.Type, form.Subtype = pikepdf.Name.XObject, pikepdf.Name.Form
    form.BBox = pikepdf.Array([0, 0, width, height])
    form.Resources = pikepdf.Dictionary()
    return file.make_indirect(form)


def _picture(file: pikepdf.Pdf, stamp: Shown, look: FileLook) -> pikepdf.Object:
    """A stamp's picture: one pixel of its colour, seen through its coverage."""
    grey, colour = stamp.picture, stamp.colour or look.ink_on_ground
    through = _image(file, grey.tobytes(), (grey.shape[1], grey.shape[0]), grey=True)
    ink = bytes(int(colour[at : at + 2], 16) for at in (1, 3, 5))
    shown = _image(file, ink, (1, 1), grey=False)
    shown.SMask = through
    return shown


def _image(file: pikepdf.Pdf, data: bytes, size: tuple[int, int], *, grey: bool) -> pikepdf.Object:
    image = pikepdf.Stream(file, data)
    image.Type, image.Subtype = pikepdf.Name.XObject, pikepdf.Name.Image
    image.Width, image.Height = size
    image.BitsPerComponent = 8
    image.ColorSpace = pikepdf.Name.DeviceGray if grey else pikepdf.Name.DeviceRGB
    return file.make_indirect(image)


def _rounded_down(value: float, *, px_per_pt: float) -> float:
    """`value` to a ten-thousandth of a point, less one where a viewer would make a pixel too many.

    Viewers keep single precision and round pages up to whole pixels.
    """
    steps = math.floor(value * _STEPS_PER_PT + 1e-6)
    seen = float(np.float32(steps / _STEPS_PER_PT)) * px_per_pt
    too_much = round(value * px_per_pt) < seen < round(value * px_per_pt) + _DUST_PX
    return (steps - int(too_much)) / _STEPS_PER_PT

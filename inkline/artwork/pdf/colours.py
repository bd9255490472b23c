"""The colours of a PDF page as sRGB (ISO 32000-1, 8.6), and what was lost on the way."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import pikepdf

from inkline.artwork.model import Paint

_GREY, _RGB, _CMYK = "DeviceGray", "DeviceRGB", "DeviceCMYK"
_OF_COMPONENTS = {1: _GREY, 3: _RGB, 4: _CMYK}
_OF_NAMES = {
    "/DeviceGray": _GREY,
    "/G": _GREY,
    "/CalGray": _GREY,
    "/DeviceRGB": _RGB,
    "/RGB": _RGB,
    "/CalRGB": _RGB,
    "/DeviceCMYK": _CMYK,
    "/CMYK": _CMYK,
    "/Pattern": "Pattern",
}
_DEEPEST = 8


@dataclass(frozen=True, slots=True, kw_only=True)
class ColourSpace:
    """How the numbers of a colour are meant.

    Attributes:
        kind: "DeviceGray", "DeviceRGB", "DeviceCMYK", "Lab", "Tint" (the more, the darker) or
            "Pattern".
        lack: what of it is taken plainly, "" if nothing.
    """

    kind: str = _GREY
    lack: str = ""


GREY = ColourSpace()
PATTERN = ColourSpace(kind="Pattern")


def space_of(value: Any, named: Any, depth: int = 0) -> ColourSpace:
    """The colour space that an operand names.

    Args:
        value: a name, or an array that begins with one.
        named: the page's own colour spaces by their names, or `None`.
        depth: how many names led here.
    """
    if depth > _DEEPEST:
        return GREY
    name = str(value) if not isinstance(value, list) else str(value[0])
    if name in _OF_NAMES:
        kind = _OF_NAMES[name]
        return ColourSpace(kind=kind, lack=_CMYK_LACK if kind == _CMYK else "")
    if not isinstance(value, list):
        inner = None if named is None else named.get(name)
        return GREY if inner is None else space_of(as_values(inner), named, depth + 1)
    return _space_of_array(name, value, named, depth)


_CMYK_LACK = "colours for printing (CMYK) are turned into those of a screen"
_SPOT_LACK = "a spot colour is drawn as a tint of black"


def _space_of_array(name: str, value: list[Any], named: Any, depth: int) -> ColourSpace:
    if name == "/ICCBased" and len(value) > 1:
        kind = _OF_COMPONENTS.get(int(value[1].get("/N", 3)), _RGB)
        return ColourSpace(kind=kind, lack=_CMYK_LACK if kind == _CMYK else "")
    if name == "/Lab":
        return ColourSpace(kind="Lab", lack="colours of the Lab space are drawn by their lightness")
    if name in {"/Indexed", "/I"} and len(value) > 1:
        return ColourSpace(kind=_GREY, lack="an indexed colour is drawn black")
    if name in {"/Separation", "/DeviceN"}:
        return ColourSpace(kind="Tint", lack=_SPOT_LACK)
    if name == "/Pattern":
        return PATTERN
    return space_of(value[0], named, depth + 1) if len(value) == 1 else GREY


def as_values(value: Any) -> Any:
    """A PDF array as a list; anything else as it is."""
    return list(value) if isinstance(value, pikepdf.Array) else value


def paint_of(space: ColourSpace, values: Sequence[float], opacity: float) -> Paint:
    """The colour of these numbers in a space."""
    held = [min(max(value, 0.0), 1.0) for value in values]
    if space == PATTERN:  # the colour that stands for it says itself of what space it is
        space = ColourSpace(kind=_OF_COMPONENTS.get(len(held), _GREY))
    if space.kind == _RGB and len(held) == 3:
        red, green, blue = held
    elif space.kind == _CMYK and len(held) == 4:
        cyan, magenta, yellow, black = held
        red, green, blue = (1.0 - min(1.0, ink + black) for ink in (cyan, magenta, yellow))
    elif space.kind == "Lab" and values:
        red = green = blue = min(max(values[0] / 100.0, 0.0), 1.0)
    elif space.kind == "Tint" and held:
        red = green = blue = 1.0 - max(held)
    else:
        red = green = blue = held[0] if held else 0.0
    return Paint(red=red, green=green, blue=blue, opacity=opacity)

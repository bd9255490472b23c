"""Sheets of styles and of families as somebody asks for them: names in, an order or a sheet out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from inkline.chance import number_or_default
from inkline.errors import InputError
from inkline.ink.style import Style
from inkline.lettering.families import family_names, family_path
from inkline.lettering.family import StrokeFamily, open_family
from inkline.pages.faces import usual_family
from inkline.progress import Listener, unheard
from inkline.sampler.families_sheet import specimen_png
from inkline.sampler.sheet import matrix_png, specimens_png
from inkline.sampler.vary import Vary, varies_from_texts
from inkline.styles.files import DEFAULT_STYLE, load_style, style_files, style_path

SHEET_SUFFIX = ".png"
"""Ends the name of a sheet's file."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SamplerRequest:
    """A sheet of styles side by side, or of one style at many settings.

    Attributes:
        styles: what to show; one where anything varies.
        varies: the values that vary, at most two; none for styles side by side.
        number: the drawing number.
    """

    styles: tuple[Style, ...]
    varies: tuple[Vary, ...]
    number: int

    @property
    def n_steps(self) -> tuple[int, ...]:
        """At how many steps each value is shown that varies."""
        return tuple(len(vary.steps) for vary in self.varies)


def sampler_request(
    styles: Sequence[str],
    ranges: Sequence[str],
    *,
    number: int | None,
    style_where: str,
    range_where: str,
) -> SamplerRequest:
    """The sheet that these styles and ranges ask for.

    Args:
        styles: names or style files; all that come with inkline if there are none, the usual one
            first.
        ranges: values to vary of one style, at most two.
        number: the drawing number; the default kit's if None.
        style_where: what to call the place that the styles were written in.
        range_where: likewise the ranges.

    Raises:
        InputError: a style, a range or the number cannot be used, or ranges without just one
            style.
    """
    drawing_number = number_or_default(number)
    if ranges and len(styles) != 1:
        raise InputError(
            f"{range_where} needs exactly one style to vary, not {len(styles) or 'none'}"
        )
    varies = varies_from_texts(ranges, where=range_where)
    names = styles or sorted(style_files(), key=lambda name: (name != DEFAULT_STYLE, name))
    chosen = tuple(load_style(style_path(name, where=style_where)) for name in names)
    return SamplerRequest(styles=chosen, varies=varies, number=drawing_number)


def sampler_png(order: SamplerRequest, *, listener: Listener = unheard) -> bytes:
    """The sheet that `order` asks for, as a PNG file; `listener` hears of each picture.

    Raises:
        InputError: as `specimens_png` or `matrix_png`.
    """
    if order.varies:
        (style,) = order.styles
        return matrix_png(style, order.varies, number=order.number, listener=listener)
    return specimens_png(order.styles, number=order.number, listener=listener)


def families_from_names(names: Sequence[str]) -> dict[str, StrokeFamily]:
    """The families of these names or UFO folders; all that come with inkline if there are none.

    Raises:
        InputError: one cannot be used.
    """
    return {name: open_family(family_path(name)) for name in names or family_names()}


def family_at(place: str) -> StrokeFamily:
    """The family that comes with inkline under the name `place`, or that in the folder `place`.

    Raises:
        InputError: it is no family.
    """
    return open_family(family_path(place) if place in family_names() else Path(place))


def families_png(
    families: Sequence[StrokeFamily], *, style: str | None, style_where: str, number: int | None
) -> bytes:
    """The sheet that shows `families`, as a PNG file.

    Args:
        families: what to show, from the top.
        style: the ink, by its name or file; the usual one if None.
        style_where: what to call the place that it was written in.
        number: the drawing number; the default kit's if None.

    Raises:
        InputError: a style or number that can't be used.
    """
    drawing_number = number_or_default(number)
    ink = load_style(style_path(style or DEFAULT_STYLE, where=style_where))
    return specimen_png(families, style=ink, number=drawing_number, captions=usual_family())

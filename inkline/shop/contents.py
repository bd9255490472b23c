"""A kit as its shop sees it: stamps by what they show, one month put together, and its letters."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from pathlib import Path
from typing import Any

from inkline.calendar.names import LocaleError, language_tag
from inkline.delivery.stamps import FolderKit, FolderStamp, folder_kit
from inkline.errors import InputError
from inkline.ink.style import Style, style_from_dict
from inkline.kit.papers.shown_layers import USUAL_YEAR
from inkline.kit.recipe.buyers import ShopRecipe
from inkline.kit.recipe.choices import Dates, Header, Shows, SixthWeek, WeekNumbers
from inkline.kit.recipe.loading import default_recipe
from inkline.kit.recipe.model import FormatRecipe
from inkline.kit.stamps.month import calendar_stems, month_that_fits
from inkline.kit.stamps.names import StampName, Subject, name_from_text
from inkline.kit.stamps.words import month_name, year_name
from inkline.lettering.face import Face
from inkline.lettering.families import family_names
from inkline.lettering.font import open_font
from inkline.pages.faces import USUAL_FAMILY, open_own_family
from inkline.phrases.phrases import USUAL_LANGUAGE, Phrases
from inkline.shop.palette import Palette

_SHOWN_BY = {
    Subject.DATES: Shows.MONTH,
    Subject.CUT_BLOCKS: Shows.MONTH,
    Subject.STRIP_DATES: Shows.STRIP,
    Subject.STRIP_CUT_BLOCKS: Shows.STRIP,
    Subject.SMALL_MONTH: Shows.SMALL,
}
"""What a format shows that has stamps of these subjects."""
_BEST = (Shows.MONTH, Shows.STRIP, Shows.SMALL, Shows.WEEK)
"""What a shop's month is of, the best first."""


@dataclass(frozen=True, kw_only=True, eq=False)
class ShopMonth:
    """One month, or what a kit has in place of one.

    Attributes:
        layers: its stamps on one canvas, back to front, at least one.
        words: the month's name and the year, as far as there are stamps of them.
    """

    layers: tuple[FolderStamp, ...]
    words: tuple[FolderStamp, ...]


@dataclass(frozen=True, kw_only=True, eq=False)
class ShopKit:
    """A kit of which a shop's pictures are made.

    Attributes:
        kit: its folder.
        names: what the stamps of the kit show, by their names.
        wishes: what its recipe says of a shop.
        phrases: the sentences on its pictures.
        font: the file of its letters, where they are a font's.
    """

    kit: FolderKit
    names: Mapping[str, StampName]
    wishes: ShopRecipe
    phrases: Phrases
    font: Path | None = None

    @property
    def title(self) -> str:
        """What the kit is called."""
        return self.kit.title

    @property
    def palette(self) -> Palette:
        """Its five colours."""
        return Palette.of(self.wishes.palette)

    @property
    def number(self) -> int:
        """Its drawing number."""
        return int(self.kit.about.get("number") or 0)

    @cached_property
    def style(self) -> Style:
        """Its ink."""
        return _style_of(self.kit.about)

    @cached_property
    def face(self) -> Face:
        """Its letters, or those of `USUAL_FAMILY` where they aren't at hand."""
        if self.font is not None:
            return open_font(self.font)
        return open_own_family(self._family or USUAL_FAMILY)

    @property
    def _family(self) -> str:
        """The name of its family, "" if it is none of our own."""
        letters = self.kit.about.get("letters")
        said = letters.get("name", "") if isinstance(letters, Mapping) else ""
        return str(said).lower() if str(said).lower() in family_names() else ""

    @property
    def has_own_letters(self) -> bool:
        """Whether what it is lettered in is at hand."""
        return self.font is not None or bool(self._family)

    @cached_property
    def in_capitals(self) -> bool:
        """Whether its words are."""
        words = (self.kit.stamps[name].entry.layout for name in self.of(Subject.MONTH))
        texts = [glyph["text"] for layout in words for glyph in layout.get("glyphs", ())]
        return not texts or all(text == text.upper() for text in texts)

    @cached_property
    def spelling(self) -> str:
        """The language by whose rules small letters become capitals; English for an unknown one."""
        try:
            language_tag(self.phrases.language)
        except LocaleError:
            return USUAL_LANGUAGE
        return self.phrases.language

    def of(self, *subjects: Subject) -> list[str]:
        """The names of the stamps that show one of `subjects`, in the kit's order."""
        return [name for name, read in self.names.items() if read.subject in subjects]

    @property
    def years(self) -> tuple[int, ...]:
        """The years that it has stamps of."""
        return tuple(
            year for name in self.of(Subject.YEAR) if (year := self.names[name].year) is not None
        )

    @cached_property
    def shapes(self) -> tuple[FormatRecipe, ...]:
        """Its formats, as far as their stamps tell."""
        formats = dict.fromkeys(str(stamp.entry.facts["format"]) for stamp in self._in_formats)
        return tuple(map(self._shape, formats))

    @property
    def _in_formats(self) -> Iterator[FolderStamp]:
        return (one for one in self.kit.stamps.values() if one.entry.facts.get("format"))

    def _shape(self, name: str) -> FormatRecipe:
        """A format by what its stamps are called."""
        own = [read for read in self.names.values() if read.folder == name]
        grids = [read for read in own if read.subject is Subject.GRID]
        heads = {read.head for read in grids}
        dates = [read for read in own if read.subject is Subject.DATES]
        shows = (shown for read in own if (shown := _SHOWN_BY.get(read.subject)))
        return replace(
            default_recipe().formats[0],
            name=name,
            shows=next(shows, Shows.WEEK),
            weeks=tuple(sorted({read.rows for read in grids if read.rows})) or (5, 6),
            header=Header.WITH if heads == {True} else Header.BOTH,
            takes=len({read.take for read in grids}) or 1,
            dates=Dates.EXACT if any(read.days for read in dates) else Dates.TO_31,
            sixth_week=SixthWeek.SHARED if any(one.shared for one in dates) else SixthWeek.OWN_ROW,
            week_numbers=WeekNumbers.NONE,
        )

    @cached_property
    def month(self) -> ShopMonth:
        """A month of the first format that shows months, else what comes nearest.

        Raises:
            InputError: the kit has no format.
        """
        shapes = sorted(self.shapes, key=lambda shape: _BEST.index(shape.shows))
        if not shapes:
            raise InputError(f"{self.kit.folder} has no calendars, so there is no month to show")
        return self._month_in(shapes[0])

    def _month_in(self, shape: FormatRecipe) -> ShopMonth:
        own = {
            read.stem: self.kit.stamps[name]
            for name, read in self.names.items()
            if read.folder == shape.name
        }
        starts = (read.start for read in self.names.values() if read.folder == shape.name)
        start = next((one for one in starts if one), "sunday")
        year = min(self.years, default=USUAL_YEAR)
        month = month_that_fits(shape, year, start=start)
        layers = [own[stem] for stem in calendar_stems(own, shape, month)]
        layers = [one for one in layers if one.canvas == layers[0].canvas] or list(own.values())[:1]
        words = (month_name(month.month), year_name(month.year))
        dated = shape.shows in {Shows.MONTH, Shows.STRIP}
        there = [self.kit.stamps[name] for name in words if dated and name in self.kit.stamps]
        return ShopMonth(layers=tuple(layers), words=tuple(there))


def shop_kit(folder: Path, *, font: Path | None = None) -> ShopKit:
    """The kit in `folder` as its shop sees it.

    Raises:
        InputError: there is no kit, it isn't finished, it holds finished months, or `font` can't be
            used.
        WorkError: it can't be read.
    """
    kit = folder_kit(folder)
    if kit.is_finished:
        raise InputError(
            f"{folder} holds finished months; a shop's pictures are made of a kit's stamps"
        )
    names = {name: read for name in kit.stamps if (read := name_from_text(name)) is not None}
    guide = kit.about.get("guide")
    said = guide if isinstance(guide, Mapping) else {}
    try:
        wishes = ShopRecipe.of(kit.about.get("shop") or {})
        phrases = Phrases(
            language=str(said.get("language") or USUAL_LANGUAGE), own=dict(said.get("own") or {})
        )
        _style_of(kit.about)
    except (TypeError, ValueError, LookupError, AttributeError, InputError) as problem:
        raise InputError(
            f"{folder / 'manifest.json'} cannot be read as the manifest of a kit ({problem})"
        ) from problem
    shop = ShopKit(kit=kit, names=names, wishes=wishes, phrases=phrases, font=font)
    _ = shop.face, shop.month
    return shop


def _style_of(about: Mapping[str, Any]) -> Style:
    """The ink that a manifest tells.

    Raises:
        LookupError, TypeError, StyleError: it tells none.
    """
    return style_from_dict(dict(about["style"]["values"]), where="style")

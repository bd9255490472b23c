"""What a kit's stamps are, in plain words for somebody who has never seen one."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import PurePosixPath

from inkline.kit.stamps.plan import StampPlan

_KINDS: tuple[tuple[str, str, str], ...] = (
    (
        r"grid-\d.*-head.*",
        "grids with a row for the weekdays",
        "the rules of a calendar with a row on top for the weekdays",
    ),
    (
        r"grid-\d.*",
        "grids",
        "the rules of a calendar; the number says how many rows of weeks it has",
    ),
    (
        r"grid-head.*",
        "grids with room for the weekdays",
        "the rules that everything stands on, and a row for the names of the days",
    ),
    (r"grid.*", "grids", "the rules that everything stands on"),
    (
        r"blocks-head.*",
        "blocks of the weekdays",
        "shapes that lie behind the weekdays; stamp them first, in a pale colour",
    ),
    (
        r"blocks.*-cut.*",
        "blocks with the dates cut out",
        "colour with the dates left white, so that blocks and dates are one stamp",
    ),
    (r"blocks.*", "blocks", "shapes that lie in the cells; stamp them first, in a pale colour"),
    (
        r"dates-.*-shared.*",
        "dates that share cells",
        "months of six weeks on a grid of five rows: 30 and 31 stand beside 23 and 24",
    ),
    (
        r"dates-.*-(workdays|saturdays|sundays).*",
        "dates by kind of day",
        "working days, Saturdays and Sundays apart, each for a colour of its own",
    ),
    (
        r"dates-\d-\d\d",
        "dates of one length",
        "the dates of a month of 28 to 31 days: nothing needs to be erased",
    ),
    (
        r"dates-[1-7]",
        "dates",
        (
            "the days of the month; the number is the column in which the 1st stands, counted from "
            "the day on which weeks begin"
        ),
    ),
    (r"dates.*", "dates", "the days of a month; the number says how many days it has"),
    (r"weekdays.*", "weekdays", "the names of the days, for the row above the dates"),
    (r"weeks.*", "week numbers", "they stand beside the rows; the name says the first row's week"),
    (r"marks.*", "marked days", "rings, dots and lines for the days that are marked in one month"),
    (r"month-[1-7]-.*", "small months", "a whole tiny month, for the one before and the one after"),
    (r"month.*", "names of the months", "to stand above the calendar"),
    (r"year-.*", "years", "to stand beside the month's name"),
    (r"years-.*", "pairs of years", "for calendars that run over the new year"),
    (r"digit-.*", "digits", "to put any other year or number together"),
    (r"caption-.*", "captions", "short words for your calendar"),
)
"""For each kind of stamp how its names look, what it is called, and what it is for; the first that
fits counts."""
_OTHER = ("other stamps", "they line up with the rest")


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """Stamps of one kind in one folder.

    Attributes:
        folder: the folder that their pictures lie in.
        title: what they are called.
        about: what they are for, without a point at its end.
        files: names of the pictures without their ending, in order.
    """

    folder: str
    title: str
    about: str
    files: tuple[str, ...]

    def names(self) -> str:
        """The files' names: all of a few, else the first and the last."""
        return (
            ", ".join(self.files)
            if len(self.files) <= 2
            else f"{self.files[0]} to {self.files[-1]}"
        )

    def sentence(self) -> str:
        """What they are for and how many there are."""
        count = f" ({len(self.files)} stamps)" if len(self.files) > 1 else ""
        return f"{self.title[0].upper()}{self.title[1:]}: {self.about}{count}."


def stamp_groups(stamps: Mapping[str, StampPlan]) -> tuple[Group, ...]:
    """The stamps of a kit by folder and kind, in the kit's order."""
    found: dict[tuple[str, str, str], list[str]] = {}
    for name, plan in stamps.items():
        folder, _, stem = name.rpartition("/")
        found.setdefault((folder, *kind_of(stem)), []).append(PurePosixPath(plan.file).stem)
    return tuple(
        Group(folder=folder, title=title, about=about, files=tuple(files))
        for (folder, title, about), files in found.items()
    )


def kind_of(stem: str) -> tuple[str, str]:
    """What a stamp whose name ends in `stem` is called, and what it is for."""
    return next(
        ((title, about) for pattern, title, about in _KINDS if re.fullmatch(pattern, stem)), _OTHER
    )


def count_of_things(number: int, thing: str) -> str:
    """`1 stamp`, `59 stamps`."""
    return f"{number} {thing}" if number == 1 else f"{number} {thing}s"

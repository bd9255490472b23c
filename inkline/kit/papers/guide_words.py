"""What a kit's stamps are, in plain words for somebody who has never seen one."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import PurePosixPath

from inkline.calendar.names import language_name
from inkline.kit.recipe.model import Recipe, language_tags
from inkline.kit.stamps.names import folder_of
from inkline.kit.stamps.plain_names import kind_of
from inkline.kit.stamps.plan import StampPlan


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """Stamps of one kind in one folder.

    Attributes:
        folder: the folder that their pictures lie in.
        title: what they are called.
        about: what they are for, without a point at its end.
        files: names of the pictures without their ending, in order.
        stamps: names of the stamps.
        kind: what kind of layer they are, as `guide_pictures` has it.
    """

    folder: str
    title: str
    about: str
    files: tuple[str, ...]
    stamps: tuple[str, ...] = ()
    kind: str = ""

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


def stamp_groups(
    stamps: Mapping[str, StampPlan], languages: Mapping[str, str]
) -> tuple[Group, ...]:
    """The stamps of a kit by folder, kind and language, in the kit's order.

    Args:
        stamps: by name.
        languages: as `names_of_languages` gives them.
    """
    found: dict[tuple[str, str, str], list[str]] = {}
    for name in stamps:
        found.setdefault((folder_of(name), *kind_of(name, languages)), []).append(name)
    return tuple(
        Group(
            folder=folder,
            title=title,
            about=about,
            files=tuple(PurePosixPath(stamps[name].file).stem for name in names),
            stamps=tuple(names),
            kind=_layer_kind(stamps[names[0]]),
        )
        for (folder, title, about), names in found.items()
    )


def _layer_kind(plan: StampPlan) -> str:
    """What kind of layer a stamp is: as it is listed, or cut blocks."""
    return "cut" if plan.cut is not None else str(plan.kind)


def names_of_languages(recipe: Recipe) -> dict[str, str]:
    """What each language of a kit is called in English, by its tag in names; none of one alone."""
    tags = language_tags(recipe)
    return {tag: language_name(one) for one, tag in tags.items()} if len(tags) > 1 else {}


def count_of_things(number: int, thing: str) -> str:
    """`1 stamp`, `59 stamps`."""
    return f"{number} {thing}" if number == 1 else f"{number} {thing}s"

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
from inkline.phrases.phrases import Phrases


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

    def names(self, phrases: Phrases) -> str:
        """The files' names: all of a few, else the first and the last."""
        if len(self.files) <= 2:
            return ", ".join(self.files)
        return phrases.say("guide.run", first=self.files[0], last=self.files[-1])

    def sentence(self, phrases: Phrases) -> str:
        """What they are for and how many there are."""
        n = len(self.files)
        count = f" ({phrases.count('shop.stamps', n)})" if n > 1 else ""
        return f"{self.title[0].upper()}{self.title[1:]}: {self.about}{count}."


def stamp_groups(
    stamps: Mapping[str, StampPlan], languages: Mapping[str, str], phrases: Phrases
) -> tuple[Group, ...]:
    """The stamps of a kit by folder, kind and language, in the kit's order.

    Args:
        stamps: by name.
        languages: as `names_of_languages` gives them.
        phrases: the language in which it is said.
    """
    found: dict[tuple[str, str, str], list[str]] = {}
    for name in stamps:
        found.setdefault((folder_of(name), *kind_of(name, languages, phrases)), []).append(name)
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
    """What each language of a kit is called in that of its guide, by its tag in names.

    None of one alone.
    """
    tags, spoken = language_tags(recipe), recipe.guide.language
    if len(tags) < 2:
        return {}
    return {tag: language_name(one, told_in=spoken) for one, tag in tags.items()}

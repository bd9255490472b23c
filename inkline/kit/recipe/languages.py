"""The languages of a kit, and how the names of stamps tell them apart."""

from __future__ import annotations

from inkline.calendar.names import language_tag
from inkline.kit.recipe.model import Recipe


def language_suffixes(recipe: Recipe) -> dict[str, str]:
    """What the names of stamps in each language end in: nothing for the kit's first one, else its tag, such as "-de" or "-pt-br".

    Languages that are one by CLDR, however they are spelled, are there once.
    """
    first, *others = recipe.words.languages
    found = {language_tag(first): (first, "")}
    for language in others:
        tag = language_tag(language)
        found.setdefault(tag, (language, f"-{tag}"))
    return dict(found.values())

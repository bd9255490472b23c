"""What a recipe says of those who buy its kit: in which language, and how what sells it looks."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Self

from inkline.kit.recipe.pictures import USUAL_PALETTE, USUAL_SIZES
from inkline.phrases.phrases import USUAL_LANGUAGE, Phrases


@dataclass(frozen=True, slots=True, kw_only=True)
class ShopRecipe:
    """How the pictures look that sell a kit.

    The fields are the keys of the table `shop`; sizes are widths and heights in px.
    """

    palette: tuple[str, ...] = USUAL_PALETTE
    sizes: tuple[tuple[int, int], ...] = USUAL_SIZES

    @classmethod
    def of(cls, values: Mapping[str, Any]) -> Self:
        """What a manifest says of it."""
        return cls(
            palette=tuple(map(str, values.get("palette", USUAL_PALETTE))),
            sizes=tuple((int(x), int(y)) for x, y in values.get("sizes", USUAL_SIZES)),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class GuideRecipe:
    """What is said to those who buy a kit.

    Attributes:
        language: in which, the key of the table `guide`.
        own: the sentences that stand in its `sentences`, by their keys.
    """

    language: str = USUAL_LANGUAGE
    own: tuple[tuple[str, str], ...] = ()

    @property
    def phrases(self) -> Phrases:
        """The sentences."""
        return Phrases(language=self.language, own=dict(self.own))

"""A recipe, opened: its letters, its ink and its stamps."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from inkline.ink.master import Master
from inkline.ink.style import Style
from inkline.kit.recipe.model import Recipe
from inkline.kit.stamps.plan import StampPlan
from inkline.lettering.face import Face


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenKit:
    """A recipe, opened.

    Attributes:
        recipe: what it was opened for.
        face: the letters.
        style: the ink.
        plans: every stamp by name, in the order of the catalogue.
        name: what the kit is called among several, or "".
        patches: what its owner drew in place of marks, by the keys of their masters.
    """

    recipe: Recipe
    face: Face
    style: Style
    plans: Mapping[str, StampPlan]
    name: str = ""
    patches: Mapping[str, Master] = field(default_factory=dict)


def calmer_style(style: Style, share: float) -> Style:
    """`style` with a share of its raggedness."""
    if share == 1.0:
        return style
    return replace(style, edge=replace(style.edge, raggedness=style.edge.raggedness * share))

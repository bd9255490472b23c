"""What the page is told of a recipe: its stamps, its values, and what is wrong with it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from inkline.desk.controls import values_of
from inkline.desk.editing import Edit, edited_text
from inkline.kit.pieces import StampPiece
from inkline.kit.product import Kit
from inkline.kit.recipe.layers import kits_in, layers_from_text
from inkline.kit.recipe.model import Recipe
from inkline.kit.stamps.names import folder_of
from inkline.kit.stamps.plain_names import plain_name
from inkline.raster.preview import Window
from inkline.source.faults import Fault


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """The recipe that lies on the desk.

    Attributes:
        text: what it says.
        source: the name of its file.
        folder: where that lies.
        kit: which of its kits is looked at, or "" for its first.
        made: the folder of the kit that holds what its owner drew on its stamps, or `None`.
        drawn_at: when she drew on them last, in ns of the file system's clock.
    """

    text: str
    source: str
    folder: Path
    kit: str = ""
    made: Path | None = None
    drawn_at: int = 0

    def in_style(self, name: str) -> Sheet:
        """The same recipe in the style `name` as it comes, with the weights that it suggests."""
        return replace(self, text=edited_text(self.text, edits_to_style(name)))


@dataclass(frozen=True, slots=True, kw_only=True)
class PictureWish:
    """A picture that the page asks for.

    Attributes:
        stamp: name of the stamp.
        width: of the whole stamp in px.
        window: the part of it that is wanted, or None for all.
        is_exact: whether the exact layout is wanted and not the ink.
        changes: values of the style that are being turned and not yet in the recipe, as nested
            tables.
        again: how often what is named is drawn again, besides what the recipe says.
        style: the name of another style in which it is drawn, as that comes; "" is the recipe's.
    """

    stamp: str
    width: int
    window: Window | None = None
    is_exact: bool = False
    changes: Mapping[str, Any] = field(default_factory=dict)
    again: Mapping[str, int] = field(default_factory=dict)
    style: str = ""


def edits_to_style(name: str) -> list[Edit]:
    """What makes a recipe one in the style `name` as that comes."""
    return [Edit(way=("style",), value=None), Edit(way=("style", "name"), value=name)]


def kit_values(kit: Kit) -> dict[str, Any]:
    """What the page shows of an open kit, as JSON."""
    recipe, style = kit.kit.recipe, kit.kit.style
    return {
        "title": recipe.title,
        "number": recipe.number,
        "again": dict(recipe.again),
        "swaps": dict(recipe.swaps),
        "shifts": _shifts(recipe),
        "artwork": [file.name for file in recipe.finish.files],
        "stamps": [_stamp(piece) for piece in stamps_of(kit)],
        "style": {
            "name": recipe.style_name,
            "called": style.name,
            "imitates": style.imitates,
            "values": values_of(style),
        },
    }


def stamps_of(kit: Kit) -> list[StampPiece]:
    """The stamps of a kit, in their order."""
    return [piece for piece in kit.pieces.values() if isinstance(piece, StampPiece)]


def _stamp(piece: StampPiece) -> dict[str, Any]:
    name, canvas = piece.name, piece.plan.canvas
    return {
        "name": name,
        "label": plain_name(name),
        "group": folder_of(name),
        "kind": piece.plan.kind,
        "width": canvas[0],
        "height": canvas[1],
        "sheet": piece.plan.sheet_px,
    }


def kits_of(sheet: Sheet) -> list[str]:
    """Names of the kits of a recipe, if it has several."""
    layers = layers_from_text(sheet.text, source=sheet.source, folder=sheet.folder)
    return [name for name in kits_in(layers) if name]


def _shifts(recipe: Recipe) -> dict[str, list[float]]:
    """How far numerals are moved in px, by format and numeral, as in `tall/17`."""
    return {
        f"{shape.name}/{text}": [round(recipe.px(right), 2), round(recipe.px(lower), 2)]
        for shape in recipe.formats
        for text, right, lower in shape.shift
    }


def fault_values(fault: Fault) -> dict[str, Any]:
    """A fault as JSON, with what would mend it."""
    return {
        "key": fault.key,
        "line": fault.line,
        "sentence": fault.sentence,
        "fixes": [{"key": fix.key, "value": fix.value} for fix in fault.fixes],
    }

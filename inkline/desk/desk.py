"""The desk: a recipe that is edited, and what draws it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from inkline.desk.controls import controls, written
from inkline.desk.document import RecipeDocument
from inkline.desk.easel import PictureWish, Sheet
from inkline.desk.editing import Edit
from inkline.desk.process import EaselProcess
from inkline.errors import InputError
from inkline.styles.files import load_style, style_files

_STYLE = "style"


@dataclass(slots=True)
class Desk:
    """A recipe on the desk, with one process for the large picture and one for all small ones.

    Attributes:
        document: the recipe.
        kit: which of its kits is looked at, or "" for the first.
        front: draws the large picture.
        back: draws thumbnails, samples and choices.
    """

    document: RecipeDocument
    kit: str = ""
    front: EaselProcess = field(default_factory=EaselProcess)
    back: EaselProcess = field(default_factory=EaselProcess)

    @property
    def sheet(self) -> Sheet:
        """The recipe as an easel takes it."""
        path = self.document.path
        return Sheet(
            text=self.document.text, source=path.name, folder=path.parent.resolve(), kit=self.kit
        )

    def state(self) -> dict[str, Any]:
        """All that the page shows of the recipe, as JSON."""
        document = self.document
        return {
            "version": document.version,
            "file": document.path.name,
            "folder": str(document.path.parent.resolve()),
            "undo": document.can_undo,
            "redo": document.can_redo,
            **self.front.call("look", self.sheet),
        }

    def turn(self, values: Mapping[str, Any]) -> None:
        """Set values of the style by their keys; None lets one be as in its style's own file.

        Raises:
            InputError: no such value, or the recipe can't be edited.
        """
        self.document.edit([self._edit_of(key, value) for key, value in values.items()])

    def take_style(self, name: str) -> None:
        """Draw in the style `name` as it comes, with nothing changed."""
        if name not in style_files():
            raise InputError(f'there is no style "{name:.60}"')
        self.document.edit(
            [
                Edit(way=(_STYLE,), value=None),
                Edit(way=(_STYLE, "name"), value=name),
            ]
        )

    def changes(self, values: Mapping[str, Any]) -> dict[str, Any]:
        """Values that are being turned, as nested tables of a style.

        Raises:
            InputError: no such value.
        """
        tables: dict[str, Any] = {}
        for key, value in values.items():
            part, _, name = key.partition(".")
            tables.setdefault(part, {})[name] = _written(key, value)
        return tables

    def stop(self) -> None:
        """End what draws."""
        self.front.stop()
        self.back.stop()

    def _edit_of(self, key: str, value: Any) -> Edit:
        way = (_STYLE, *key.split("."))
        return Edit(way=way, value=None if value is None else _written(key, value))


def picture_wish(asked: Mapping[str, Any], changes: Mapping[str, Any]) -> PictureWish:
    """The wish that the page's JSON states.

    Raises:
        InputError: it is none.
    """
    window = asked.get("window")
    again = asked.get("again", {})
    try:
        return PictureWish(
            stamp=str(asked["stamp"]),
            width=_whole(asked["width"], most=_MOST_PX),
            window=None if window is None else _window(window),
            is_exact=bool(asked.get("exact", False)),
            changes=changes,
            again={str(name): _whole(count, most=_MOST_AGAIN) for name, count in again.items()},
        )
    except (AttributeError, KeyError, TypeError, ValueError) as error:
        raise InputError(f"this is no wish for a picture: {error}") from error


_MOST_PX = 40_000
"""Width of a whole stamp of which a part is seen; eight times the usual canvas and more."""
_MOST_WINDOW_PX = 4_096
_MOST_AGAIN = 1_000_000


def _window(given: Any) -> tuple[int, int, int, int]:
    left, top, width, height = (int(value) for value in given)
    if max(abs(left), abs(top)) > _MOST_PX:
        raise ValueError("it lies too far away")
    return left, top, _whole(width, most=_MOST_WINDOW_PX), _whole(height, most=_MOST_WINDOW_PX)


def _whole(given: Any, *, most: int) -> int:
    value = int(given)
    if not 0 < value <= most:
        raise ValueError(f"a whole number from 1 to {most} is required, not {value}")
    return value


def _written(key: str, value: Any) -> str | float:
    try:
        return written(key, value)
    except (KeyError, ValueError) as error:
        raise InputError(f'there is no value "{key:.60}" to set to {value!r:.60}') from error


def furnishings() -> dict[str, Any]:
    """What the page shows of any recipe, as JSON: controls and styles."""
    styles = {name: load_style(path) for name, path in style_files().items()}
    return {
        "controls": {
            part: [control.to_dict() for control in rows] for part, rows in controls().items()
        },
        "styles": [{"name": name, "imitates": style.imitates} for name, style in styles.items()],
    }

"""The desk: a recipe that is edited, and what draws it."""

from __future__ import annotations

import re
import threading
from collections.abc import Iterable, Mapping
from concurrent.futures import Future
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from inkline.chance import LARGEST_NUMBER, fresh_number
from inkline.desk.controls import controls, written
from inkline.desk.document import RecipeDocument
from inkline.desk.editing import Edit, Way, value_at
from inkline.desk.kits import KitFolders
from inkline.desk.looking import PictureWish, Sheet, edits_to_style
from inkline.desk.own_styles import OwnStyles
from inkline.desk.process import EaselProcess
from inkline.errors import InklineError, InputError
from inkline.kit.recipe.keys import KITS
from inkline.styles.files import (
    DEFAULT_STYLE,
    SUFFIX,
    load_style,
    read_style,
    style_files,
    style_path,
)
from inkline.styles.text import write_style

_Look = Future[dict[str, Any]]
_STYLE = "style"
_BACK_NICE = 5
"""Small pictures let the large one go first."""


@dataclass(slots=True)
class Desk:
    """A recipe on the desk, with one process for the large picture and one for all small ones.

    Attributes:
        document: the recipe.
        kit: which of its kits is looked at, or "" for the first.
        made_in: the folder of the kits where one was opened by it, else None.
        front: draws the large picture.
        back: draws thumbnails, samples and choices.
    """

    document: RecipeDocument
    kit: str = ""
    made_in: Path | None = None
    front: EaselProcess = field(default_factory=EaselProcess)
    back: EaselProcess = field(default_factory=lambda: EaselProcess(nice=_BACK_NICE))
    _warming: threading.Thread | None = None
    _first_look: tuple[Sheet, _Look] | None = None

    def start(self) -> None:
        """Begin what draws, and the first picture, before the page asks for it."""
        if self._warming is not None:
            return
        self.front.start()
        self.back.start()  # before this process has a second thread
        self._first_look = self.sheet, Future()
        self._warming = threading.Thread(target=self._warm, args=self._first_look, daemon=True)
        self._warming.start()

    def _warm(self, sheet: Sheet, look: _Look) -> None:
        try:
            look.set_result(self.front.call("look", sheet))
            self.front.call("warm", sheet)
        except InklineError as error:
            if not look.done():
                look.set_exception(error)

    @property
    def sheet(self) -> Sheet:
        """The recipe as an easel takes it."""
        path = self.document.path
        made, drawn_at = self.kit_folders.drawn_on
        return Sheet(
            text=self.document.text,
            source=path.name,
            folder=path.parent.resolve(),
            kit=self.kit,
            made=made,
            drawn_at=drawn_at,
        )

    def state(self) -> dict[str, Any]:
        """All that the page shows of the recipe, as JSON."""
        document, sheet = self.document, self.sheet
        return {
            "version": f"{document.version} {sheet.drawn_at}",
            "file": document.path.name,
            "folder": str(document.path.parent.resolve()),
            "undo": document.can_undo,
            "redo": document.can_redo,
            "kit": self.kit,
            "own_styles": self.own_styles.values(),
            **self._look(sheet),
        }

    def _look(self, sheet: Sheet) -> dict[str, Any]:
        """What the page needs to know of the recipe; that of the start is worked out already."""
        if self._first_look is not None and self._first_look[0] == sheet:
            return self._first_look[1].result()
        self._first_look = None
        looked: dict[str, Any] = self._looker().call("look", sheet)
        return looked

    def _looker(self) -> EaselProcess:
        """What looks at the recipe: whatever isn't busy with the first picture."""
        is_warming = self._warming is not None and self._warming.is_alive()
        return self.back if is_warming else self.front

    @property
    def own_styles(self) -> OwnStyles:
        """The style files that lie beside the recipe."""
        return OwnStyles(self.document.path.parent.resolve())

    def turn(self, values: Mapping[str, Any]) -> None:
        """Set values of the style by their keys; None lets one be as in its style's own file.

        Raises:
            InputError: no such value, or the recipe can't be edited.
        """
        self.edit(self._edit_of(key, value) for key, value in values.items())

    def take_style(self, name: str) -> None:
        """Draw in the style `name` as it comes, with nothing changed."""
        if name not in style_files() and name not in self.own_styles.names():
            raise InputError(f'there is no style "{name:.60}"')
        self.document.edit(edits_to_style(name))

    def keep_style(self, name: str) -> None:
        """Write the style as it is now into a file of her own beside the recipe, and take that.

        Args:
            name: what it is called; the file is `name.toml`.

        Raises:
            InputError: no name for a file, one that a style or a file there has already, or
                nothing was turned.
            WorkError: it cannot be written.
        """
        if not _STYLE_NAME.fullmatch(name):
            raise InputError("a style's name is of small letters, digits and hyphens")
        said = value_at(self.document.text, (_STYLE,))
        table = dict(said) if isinstance(said, dict) else {}
        base = str(table.pop("name", DEFAULT_STYLE))
        if not table:
            raise InputError("nothing of this style was turned yet")
        if name in style_files():
            raise InputError(f'a style that comes with inkline is called "{name}"')
        folder = self.document.path.parent.resolve()
        held = read_style(style_path(base, folder=folder, where="style.name"))
        write_style(held, table, folder / f"{name}{SUFFIX}")
        self.document.edit(edits_to_style(f"{name}{SUFFIX}"))

    def draw_again(self, name: str, count: Any) -> None:
        """Have what is called `name` drawn for the `count`-th time; None lets it be as it was.

        Raises:
            InputError: no count.
        """
        value = None if count in (None, 0) else _whole_number(count, most=_MOST_AGAIN)
        self.edit([Edit(way=("again", name), value=value)])

    def take_number(self, number: Any) -> None:
        """Draw with the number, or with a fresh one if it is None.

        Raises:
            InputError: no drawing number.
        """
        value = fresh_number() if number is None else _whole_number(number, most=LARGEST_NUMBER)
        self.edit([Edit(way=("number",), value=value)])

    def edit(self, edits: Iterable[Edit]) -> None:
        """Make `edits` as one change.

        Each is made where its value stands: in the kit's own part of the recipe, or in the recipe.

        Raises:
            InputError: the recipe can't be edited.
        """
        self.document.edit([replace(one, way=self._place_of(one.way)) for one in edits])

    @property
    def kit_folders(self) -> KitFolders:
        """Where the kits of the recipe are made: beside it, if not where one was opened."""
        path = self.document.path
        return KitFolders(self.made_in or path.with_name(f"{path.stem}-kit"), self.kit)

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

    def _place_of(self, way: Way) -> Way:
        own = (KITS, self.kit, *way)
        return own if self.kit and value_at(self.document.text, own) is not None else way

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
            again={str(name): _count(given) for name, given in again.items()},
            style=str(asked.get("style", "")),
        )
    except (AttributeError, KeyError, TypeError, ValueError) as error:
        raise InputError(f"this is no wish for a picture: {error}") from error


def _whole_number(given: Any, *, most: int) -> int:
    try:
        return _whole(given, most=most)
    except (TypeError, ValueError) as error:
        raise InputError(f"a whole number from 1 to {most} is required") from error


_STYLE_NAME = re.compile(r"[a-z0-9][a-z0-9-]{0,39}")
_MOST_PX = 40_000
"""Width of a whole stamp of which a part is seen; eight times the usual canvas and more."""
_MOST_WINDOW_PX = 4_096
_MOST_AGAIN = 1_000_000


def _window(given: Any) -> tuple[int, int, int, int]:
    left, top, width, height = (int(value) for value in given)
    if max(abs(left), abs(top)) > _MOST_PX:
        raise ValueError("it lies too far away")
    return left, top, _whole(width, most=_MOST_WINDOW_PX), _whole(height, most=_MOST_WINDOW_PX)


def _count(given: Any) -> int:
    return 0 if given == 0 else _whole(given, most=_MOST_AGAIN)


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

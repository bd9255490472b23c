"""The artwork that the recipe on the desk names, and whatever draws it."""

from __future__ import annotations

import os
import threading
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from inkline.desk.artwork.reading import ReadArtwork, artwork_key, read_pictures
from inkline.desk.limited import limited
from inkline.desk.looking import Sheet
from inkline.desk.process import EaselProcess
from inkline.errors import InklineError, InputError
from inkline.finishing.recipe import request_of_recipe
from inkline.finishing.request import FinishRequest
from inkline.kit.recipe.loading import recipes_from_text


@dataclass(slots=True)
class ArtworkOnDesk:
    """The artwork that the recipe on the desk names, read again only when that changes."""

    _read: ReadArtwork | None = None
    _fault: tuple[str, InklineError] | None = None
    _asked: tuple[Sheet, FinishRequest] | None = None
    _lock: threading.Lock = field(default_factory=threading.Lock)

    def read(self, sheet: Sheet) -> ReadArtwork:
        """The artwork of the recipe in `sheet`.

        Raises:
            InputError: the recipe names none, or something in it can't be used.
        """
        with self._lock:
            if self._asked is None or self._asked[0] != sheet:
                self._asked = sheet, _request_of(sheet)
            request = self._asked[1]
            key = artwork_key(request)
            if self._fault is not None and self._fault[0] == key:
                raise self._fault[1]
            if self._read is None or self._read.key != key:
                try:
                    pictures = limited(read_pictures, request)
                except InklineError as error:
                    self._fault = key, _without_folder(error, sheet.folder)
                    raise self._fault[1] from error
                self._read = ReadArtwork(key=key, request=request, pictures=pictures)
            return self._read

    def draw(self, easel: EaselProcess, sheet: Sheet, method: str, *arguments: Any) -> Any:
        """What an easel's `method` gives for the artwork. Errors are those of both."""
        read = self.read(sheet)
        if not easel.call("has_artwork", read.key):
            easel.call("take_artwork", read)
        return easel.call(method, sheet, *arguments)


def _without_folder(error: InklineError, folder: Path) -> InklineError:
    """The same said of files by their names alone, as the page shows them."""
    return InputError(str(error).replace(f"{folder}{os.sep}", ""))


def _request_of(sheet: Sheet) -> FinishRequest:
    recipes = recipes_from_text(sheet.text, source=sheet.source, folder=sheet.folder)
    name = sheet.kit if sheet.kit in recipes else next(iter(recipes))
    return request_of_recipe(recipes[name])

"""The layers of a PDF file: optional content (ISO 32000-1, 8.11)."""

from __future__ import annotations

from typing import Any

import pikepdf


class PdfLayers:
    """Which layers a file shows at first, and what they are called."""

    def __init__(self, root: Any) -> None:
        properties = root.get("/OCProperties")
        usual = None if properties is None else properties.get("/D")
        self._hidden = set[tuple[int, int]]()
        self._shown = set[tuple[int, int]]()
        self._is_off = False
        if isinstance(usual, pikepdf.Dictionary):
            self._hidden = _groups(usual.get("/OFF"))
            self._shown = _groups(usual.get("/ON"))
            self._is_off = str(usual.get("/BaseState", "/ON")) == "/OFF"

    def name_of(self, group: Any) -> str:
        """What a layer is called, "" for what is none."""
        try:
            return str(group.get("/Name", "")) if group is not None else ""
        except (AttributeError, ValueError):
            return ""

    def is_hidden(self, group: Any) -> bool:
        """Whether a layer, or a set of layers of which all are, is hidden at first."""
        if not isinstance(group, pikepdf.Dictionary):
            return False
        if str(group.get("/Type", "")) == "/OCMD":
            members = group.get("/OCGs")
            some = list(members) if isinstance(members, pikepdf.Array) else [members]
            known = [one for one in some if isinstance(one, pikepdf.Dictionary)]
            return bool(known) and all(self.is_hidden(one) for one in known)
        place = group.objgen
        if self._is_off:
            return place not in self._shown
        return place in self._hidden


def _groups(array: Any) -> set[tuple[int, int]]:
    if not isinstance(array, pikepdf.Array):
        return set()
    return {one.objgen for one in array if isinstance(one, pikepdf.Dictionary)}

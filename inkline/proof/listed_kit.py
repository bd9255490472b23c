"""A kit as its manifest lists it: each stamp looked at against its masters and the layout."""

from __future__ import annotations

import hashlib
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from inkline.artwork.picture.plain_png import SIGNATURE
from inkline.errors import InputError
from inkline.folder.json_values import json_values
from inkline.folder.reading import LARGEST_FILE_BYTES, bytes_of_plain_file
from inkline.geometry.arrays import Grey
from inkline.proof.at_use import UseFigures, figures_at_use
from inkline.proof.differences import differences
from inkline.proof.expected import Drawer, Expected
from inkline.proof.files import file_within
from inkline.proof.finding import (
    Bounds,
    Check,
    Finding,
    ListedStamp,
    Retouch,
    Unjudged,
    bounds_for,
    bounds_in_style,
)
from inkline.proof.patched import without_patched
from inkline.proof.picture import FULL
from inkline.proof.png_facts import UNREADABLE, grey_from_png, png_facts
from inkline.proof.register import register_findings
from inkline.proof.retouch import (
    difference_findings,
    layout_retouch_findings,
    retouch_findings,
)
from inkline.proof.stamp_proof import (
    ARTWORK,
    format_findings,
    layout_findings,
    sheet_findings,
    unjudged_things,
)
from inkline.proof.things import things_of

_MANIFEST_FILE = "manifest.json"
_NO_MASTERS = (
    "whether it is as it was drawn: its masters are missing or damaged, or don't say where they "
    "lie; its picture was held against the layout itself"
)
_MOST_BYTES = 32_000_000
"""A manifest of a thousand stamps has a third of that."""
_PLACES = frozenset({"canvas", "lines", "boxes", "glyphs", "ink"})
"""What a manifest says of where things lie, in px; and px to a mm."""
_FARTHEST_PX = 60_000
"""Three times the side of the largest canvas that can be drawn."""
_USUALLY_USED_AT = 25.0
"""Per cent at which stamps are used where the manifest doesn't say."""
_MEASURES = frozenset({Check.VALUES, Check.EDGE})


def _manifest_values(folder: Path) -> dict[str, Any]:
    """What the manifest of `folder` says, its `ppi` a number and its `stamps` a list.

    Raises:
        InputError: there is none, or one that can't be read.
    """
    path = folder / _MANIFEST_FILE
    try:
        values = json_values(bytes_of_plain_file(path, most=_MOST_BYTES))
        stamps = [dict(entry) for entry in values["stamps"]]
        for entry in stamps:
            _refuse_far_places(entry)
        return {**values, "ppi": float(values["ppi"]), "stamps": stamps}
    except FileNotFoundError as problem:
        raise InputError(f"{folder} holds no kit: it has no {_MANIFEST_FILE}") from problem
    except OSError as problem:
        raise InputError(f"{path} could not be read: {problem.strerror or problem}") from problem
    except (ValueError, KeyError, TypeError) as problem:
        raise InputError(unreadable_sentence(folder, problem)) from problem


def _refuse_far_places(entry: ListedStamp) -> None:
    """Refuse a stamp of which something lies farther off than any canvas reaches.

    Raises:
        ValueError: it does.
    """
    for key in _PLACES.intersection(entry):
        for number in _numbers_in(entry[key]):
            if not abs(number) <= _FARTHEST_PX:
                raise ValueError(f"the {key} of {entry.get('name')} reach to {str(number)[:20]} px")


def _numbers_in(value: Any) -> Iterator[float]:
    parts = value.values() if isinstance(value, dict) else value if isinstance(value, list) else ()
    for one in parts:
        yield from _numbers_in(one)
    if isinstance(value, int | float):
        yield value


def _side_px_of(values: Mapping[str, Any]) -> float:
    """How wide the formats of a kit are in px, so that its bounds go by the sheet of its hand.

    For words without any it is what the manifest says; where that says nothing, the widest's.
    """
    widths = {True: [0.0], False: [0.0]}
    for entry in values["stamps"]:
        widths[entry["format"] is not None].append(float(entry["canvas"][0]))
    said = float(values.get("side_px", 0.0))
    return max(widths[True]) or (said if 0 < said <= _FARTHEST_PX else max(widths[False]))


def listed_kit(folder: Path, *, edge_px: float | None = None, drawer: Drawer | None) -> ListedKit:
    """The kit in `folder`, to be held to the bounds of its size.

    Args:
        folder: the kit's.
        edge_px: least distance of ink from the canvas edge, in px; None for what the manifest says.
        drawer: draws a stamp again from its masters, if there is one.

    Raises:
        InputError: the folder has no manifest, or one that can't be read.
        KeyError, TypeError, ValueError, IndexError, AttributeError: what its manifest lists can't
            be made sense of.
    """
    values = _manifest_values(folder)
    side = _side_px_of(values)
    said = values.get("safe_px") if edge_px is None else edge_px
    bounds = replace(bounds_for(side), edge_px=None if said is None else float(said))
    return ListedKit(folder=folder, values=values, side_px=side, bounds=bounds, drawer=drawer)


def _fullest(expected: Expected | None) -> int:
    """The value of a stamp's fullest ink, as far as it is known."""
    return FULL if expected is None else int(expected.picture.max())


def unreadable_sentence(folder: Path, problem: Exception) -> str:
    """What to say of a manifest that can't be read for this reason."""
    return f"{folder / _MANIFEST_FILE} cannot be read as the manifest of a kit ({problem})"


@dataclass(frozen=True, slots=True, kw_only=True)
class ListedKit:
    """A kit to be proved.

    Attributes:
        folder: its folder.
        values: what its manifest says.
        side_px: how wide its formats are.
        bounds: what it is held to.
        drawer: draws a stamp again from its masters, if there is one.
    """

    folder: Path
    values: dict[str, Any]
    side_px: float
    bounds: Bounds
    drawer: Drawer | None

    @property
    def entries(self) -> list[ListedStamp]:
        """All stamps."""
        return list(self.values["stamps"])

    def is_retouched(self, entry: ListedStamp) -> bool:
        """Whether a stamp's file is a PNG file, but not the one that was drawn."""
        data = self.bytes_of(entry)
        return data is not None and _sum(data) != entry["sha256"] and data.startswith(SIGNATURE)

    def stamp_findings(self, entry: ListedStamp) -> Iterator[Finding | Unjudged | Retouch]:
        """The picture of one stamp."""
        name, file = entry["name"], entry["file"]
        data = self.bytes_of(entry)
        if data is None:
            yield Finding.fault(name, Check.FILE, f"{file} is missing")
            return
        canvas = (int(entry["canvas"][0]), int(entry["canvas"][1]))
        try:
            facts = png_facts(data)
            grey = grey_from_png(data) if facts.size == canvas else None
        except UNREADABLE as problem:
            yield Finding.fault(name, Check.FILE, f"{file} cannot be read: {problem}")
            return
        yield Finding.clean(name, Check.FILE)
        yield from format_findings(name, facts, canvas=canvas, ppi=self._ppi(entry))
        if grey is not None:
            yield from self._picture_findings(entry, grey, retouched=_sum(data) != entry["sha256"])

    def _picture_findings(
        self, entry: ListedStamp, grey: Grey, *, retouched: bool
    ) -> Iterator[Finding | Unjudged | Retouch]:
        """A picture of the right size against its masters, and those against the layout."""
        name, dryness, least = entry["name"], self._dryness(entry), self._least_edge_px(entry)
        expected = None if self.drawer is None else self.drawer(self.folder, entry)
        yield from sheet_findings(name, grey, least_edge_px=least, full=_fullest(expected))
        if expected is not None and expected.picture.shape == grey.shape:
            found = differences(grey, expected.picture, things_of(entry), sheet_px=self.side_px)
            yield from (retouch_findings if retouched else difference_findings)(name, found)
            body, dryness = expected.body, 0.0
        elif retouched:
            yield from layout_retouch_findings(name, grey, entry)
            return
        else:
            body = grey
            if self.drawer is not None:
                yield Unjudged(stamp=name, sentence=_NO_MASTERS)
        entry, body = without_patched(entry, body)
        bounds = self._bounds_of(entry)
        yield from layout_findings(name, body, entry, dryness=dryness, bounds=bounds)
        yield from unjudged_things(name, entry, dryness=dryness, bounds=bounds)

    def figures(self) -> Iterator[UseFigures]:
        """What the stamps measure at the size of use, of each kind and format one."""
        used_at, seen = self.values.get("used_at", {}), set()
        for entry in self.entries:
            sort = (entry["format"], entry["kind"])
            if sort in seen or self.drawer is None:
                continue
            expected = self.drawer(self.folder, entry)
            if expected is not None:
                seen.add(sort)
                percent = float(used_at.get(entry["format"]) or _USUALLY_USED_AT)
                yield figures_at_use(expected.body, entry, used_at=percent, ppi=self._ppi(entry))

    def master_findings(self, entry: ListedStamp) -> Iterator[Finding]:
        """The masters of one stamp against the exact layout."""
        expected = None if self.drawer is None else self.drawer(self.folder, entry)
        if expected is None:
            return
        name, least = entry["name"], self._least_edge_px(entry)
        fullest = _fullest(expected)
        yield from sheet_findings(name, expected.picture, least_edge_px=least, full=fullest)
        entry, body = without_patched(entry, expected.body)
        yield from layout_findings(name, body, entry, dryness=0.0, bounds=self.bounds)

    def findings_of_whole(self, found: Sequence[Finding | Unjudged | Retouch]) -> Iterator[Finding]:
        """Whether there was anything to measure."""
        if not self.values["stamps"]:
            yield Finding.fault(_MANIFEST_FILE, Check.KIT, "it lists no stamps")
        elif not n_measured_in(found):
            yield Finding.fault(_MANIFEST_FILE, Check.KIT, "none of its stamps could be measured")

    def register(self, only: Collection[str] | None) -> Iterator[Finding | Unjudged]:
        """How the stamps of each format lie over each other."""
        names = dict.fromkeys(
            entry["format"]
            for entry in self.entries
            if entry["format"] is not None and entry["kind"] != ARTWORK
        )
        for name in names:
            entries = [entry for entry in self.entries if entry["format"] == name]
            if only is None or any(entry["name"] in only for entry in entries):
                yield from register_findings(
                    entries, picture=self._drawn_picture, bounds=self.bounds
                )

    def _ppi(self, entry: ListedStamp) -> float:
        """The resolution of a stamp: its own where it has one, else the kit's."""
        return float(entry.get("ppi", self.values["ppi"]))

    def _dryness(self, entry: ListedStamp) -> float | None:
        """What share of a stamp's ink the paper leaves bare; None if its style isn't listed."""
        if entry.get("style") is None or self.values.get("style") is None:
            return 0.0
        style = self._style_values(entry)
        return None if style is None else float(style["paper"]["dryness"])

    def _style_values(self, entry: ListedStamp) -> Mapping[str, Any] | None:
        """The values of a stamp's style, as far as they are listed."""
        style, now = entry.get("style"), self.values.get("style")
        if style is None or now is None or style["digest"] != now["digest"]:
            return None
        values: Mapping[str, Any] = now["values"]
        return values

    def _bounds_of(self, entry: ListedStamp) -> Bounds:
        """The bounds of a stamp in its style."""
        style = self._style_values(entry)
        if style is None:
            return self.bounds
        return bounds_in_style(self.bounds, style, side_px=self.side_px)

    def _least_edge_px(self, entry: ListedStamp) -> float:
        """How far ink must stay from the edge of a stamp's canvas."""
        is_small = entry["canvas"][0] < self.side_px and entry["kind"] != ARTWORK
        if entry["format"] is None or is_small:
            return self.bounds.own_edge_px
        return (
            self.bounds.edge_share * self.side_px
            if self.bounds.edge_px is None
            else self.bounds.edge_px
        )

    def _drawn_picture(self, entry: ListedStamp) -> Grey | None:
        """The stamp as it was drawn; None where it is missing, unreadable or retouched.

        That was said of the stamp itself.
        """
        data = self.bytes_of(entry)
        if data is None or _sum(data) != entry["sha256"]:
            return None
        expected = None if self.drawer is None else self.drawer(self.folder, entry)
        return picture_in(data, entry) if expected is None else expected.body

    def bytes_of(self, entry: ListedStamp) -> bytes | None:
        """The file of a stamp, None if it is missing."""
        path = file_within(self.folder, entry["file"])
        if path is None:
            return None
        try:
            return bytes_of_plain_file(path, most=LARGEST_FILE_BYTES)
        except OSError:
            return b""  # which is no picture


def _sum(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


def picture_in(data: bytes, entry: ListedStamp) -> Grey | None:
    """The picture in `data`, or None if it is none of the stamp's size."""
    try:
        facts = png_facts(data)
        return grey_from_png(data) if list(facts.size) == list(entry["canvas"]) else None
    except UNREADABLE:
        return None


def n_measured_in(found: Iterable[Finding | Unjudged | Retouch]) -> int:
    """How many stamps had a picture whose values could be looked at."""
    measured = {one.stamp for one in found if isinstance(one, Finding) and one.check in _MEASURES}
    return len(measured)

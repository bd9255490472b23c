"""A whole kit against its own manifest: each picture, and how they register over each other."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from inkline.errors import InputError
from inkline.geometry.arrays import Grey
from inkline.proof.finding import (
    Bounds,
    Check,
    Finding,
    KitProof,
    ListedStamp,
    Unjudged,
    bounds_for,
)
from inkline.proof.png_facts import grey_from_png, png_facts
from inkline.proof.register import register_findings
from inkline.proof.stamp_proof import format_findings, picture_findings, unjudged_things

_MANIFEST_FILE = "manifest.json"


def prove_kit(folder: Path, *, edge_px: float | None = None) -> KitProof:
    """Everything that can be measured of the kit in `folder`, with what holds and what doesn't.

    Pictures that do not have the manifest's checksum were retouched by hand; they are named and not
    judged, unless they are no pictures at all. Takes about 0.1 s for a picture of 2500 px.

    Args:
        folder: the kit's.
        edge_px: least distance of ink from the canvas edge, in px; None for what the manifest says
            or, in earlier ones, for what recipes have unless they say otherwise.

    Raises:
        InputError: the folder has no manifest, or one that can't be read.
    """
    values = _manifest(folder)
    found: list[Finding | Unjudged] = []
    retouched: list[str] = []
    try:
        side = _side_px(values["stamps"])
        said = values.get("safe_px") if edge_px is None else edge_px
        bounds = replace(bounds_for(side), edge_px=None if said is None else float(said))
        kit = _Kit(folder=folder, values=values, side_px=side, bounds=bounds)
        for entry in kit.entries:
            if kit.is_retouched(entry):
                retouched.append(entry["name"])
            else:
                found += kit.stamp_findings(entry)
        found += kit.register()
    except (KeyError, TypeError, ValueError, IndexError) as problem:
        raise InputError(_unreadable(folder, problem)) from problem
    return KitProof(
        n_stamps=len(values["stamps"]),
        bounds=kit.bounds,
        findings=tuple(one for one in found if isinstance(one, Finding)),
        retouched=tuple(retouched),
        unjudged=tuple(one for one in found if isinstance(one, Unjudged)),
    )


def _manifest(folder: Path) -> dict[str, Any]:
    path = folder / _MANIFEST_FILE
    try:
        values = json.loads(path.read_bytes())
        return {
            **values,
            "ppi": float(values["ppi"]),
            "stamps": [dict(entry) for entry in values["stamps"]],
        }
    except OSError as problem:
        raise InputError(f"{folder} holds no kit: it has no {_MANIFEST_FILE}") from problem
    except (ValueError, KeyError, TypeError) as problem:
        raise InputError(_unreadable(folder, problem)) from problem


def _side_px(entries: list[ListedStamp]) -> float:
    """How wide the formats of a kit are in px; for words without any, as wide as the widest."""
    formats = [entry for entry in entries if entry["format"] is not None] or entries
    return float(max((entry["canvas"][0] for entry in formats), default=0))


def _unreadable(folder: Path, problem: Exception) -> str:
    return f"{folder / _MANIFEST_FILE} cannot be read as the manifest of a kit ({problem})"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Kit:
    """A kit to be proved.

    Attributes:
        folder: its folder.
        values: what its manifest says.
        side_px: how wide its formats are.
        bounds: what it is held to.
    """

    folder: Path
    values: dict[str, Any]
    side_px: float
    bounds: Bounds

    @property
    def entries(self) -> list[ListedStamp]:
        """All stamps."""
        return list(self.values["stamps"])

    def is_retouched(self, entry: ListedStamp) -> bool:
        """Whether a stamp's picture is a picture, but not the one that was drawn."""
        data = self._bytes_of(entry)
        return data is not None and _sum(data) != entry["sha256"] and _picture(data) is not None

    def stamp_findings(self, entry: ListedStamp) -> Iterator[Finding | Unjudged]:
        """The picture of one stamp."""
        name, file = entry["name"], entry["file"]
        data = self._bytes_of(entry)
        if data is None:
            yield Finding.fault(name, Check.FILE, f"{file} is missing")
            return
        try:
            facts, grey = png_facts(data), grey_from_png(data)
        except (ValueError, OSError) as problem:
            yield Finding.fault(name, Check.FILE, f"{file} cannot be read: {problem}")
            return
        yield Finding.clean(name, Check.FILE)
        canvas = (int(entry["canvas"][0]), int(entry["canvas"][1]))
        yield from format_findings(name, facts, canvas=canvas, ppi=self.values["ppi"])
        if facts.size == canvas:
            dryness, least = self._dryness(entry), self._least_edge_px(entry)
            yield from picture_findings(
                name, grey, entry, dryness=dryness, least_edge_px=least, bounds=self.bounds
            )
            yield from unjudged_things(name, entry, dryness=dryness)

    def register(self) -> Iterator[Finding | Unjudged]:
        """How the stamps of each format lie over each other."""
        names = dict.fromkeys(
            entry["format"] for entry in self.entries if entry["format"] is not None
        )
        for name in names:
            entries = [entry for entry in self.entries if entry["format"] == name]
            yield from register_findings(entries, picture=self._drawn_picture, bounds=self.bounds)

    def _dryness(self, entry: ListedStamp) -> float | None:
        """What share of a stamp's ink the paper leaves bare; None if its style isn't listed."""
        style, now = entry.get("style"), self.values.get("style")
        if style is None or now is None:
            return 0.0
        if style["digest"] != now["digest"]:
            return None
        return float(now["values"]["paper"]["dryness"])

    def _least_edge_px(self, entry: ListedStamp) -> float:
        """How far ink must stay from the edge of a stamp's canvas."""
        if entry["format"] is None or entry["canvas"][0] < self.side_px:
            return self.bounds.own_edge_px
        return (
            self.bounds.edge_share * self.side_px
            if self.bounds.edge_px is None
            else self.bounds.edge_px
        )

    def _drawn_picture(self, entry: ListedStamp) -> Grey | None:
        """The stamp's picture; None where it is missing, unreadable or retouched.

        That was said of the stamp itself.
        """
        data = self._bytes_of(entry)
        return None if data is None or _sum(data) != entry["sha256"] else _picture(data)

    def _bytes_of(self, entry: ListedStamp) -> bytes | None:
        try:
            return (self.folder / str(entry["file"])).read_bytes()
        except FileNotFoundError:
            return None


def _sum(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


def _picture(data: bytes) -> Grey | None:
    """The picture in `data`, or None if it is none."""
    try:
        return grey_from_png(data)
    except (ValueError, OSError):
        return None

"""A new edition of a kit: what it takes over from an earlier one, and what has changed for those who have that."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from inkline.errors import InputError, WorkError
from inkline.folder.disk import sha256
from inkline.folder.journal import JOURNAL_FILE
from inkline.folder.manifest import MANIFEST_FILE, FileSum, StampEntry
from inkline.folder.state import State
from inkline.folder.strangers import HOLDS, KIT, MASTERS_FOLDER
from inkline.folder.view import KitView, kit_view
from inkline.press.retouch import picture_size

CHANGES = "changes"
"""Name of the sheet, and of the manifest's key, that says what has changed."""
SINCE = "since"
EDITION = "edition"
_PICTURES = "pictures"


@dataclass(frozen=True, slots=True, kw_only=True)
class Before:
    """The earlier edition that a kit is compared with.

    Attributes:
        edition: what its owner called it, or "".
        pictures: the checksum of each stamp's picture by the stamp's name, as its buyers have it.
    """

    edition: str
    pictures: Mapping[str, str]

    def to_dict(self) -> dict[str, Any]:
        """As it stands in the manifest."""
        return {EDITION: self.edition, _PICTURES: dict(self.pictures)}


@dataclass(frozen=True, slots=True, kw_only=True)
class Changes:
    """What an edition changes. Names of stamps are in the order of the catalogue.

    Attributes:
        before: the earlier edition, as its owner called it, or "".
        added: stamps that the earlier one didn't have.
        redrawn: stamps whose pictures differ.
        same: stamps whose pictures are the same to the byte.
        gone: stamps that only the earlier one has.
    """

    before: str
    added: tuple[str, ...]
    redrawn: tuple[str, ...]
    same: tuple[str, ...]
    gone: tuple[str, ...]

    def to_dict(self) -> dict[str, Any]:
        """As it stands in the manifest, the earlier edition aside."""
        return {key: list(getattr(self, key)) for key in ("added", "redrawn", "same", "gone")}


@dataclass(frozen=True, slots=True, kw_only=True)
class Heirloom:
    """What a stamp of an earlier edition leaves to the new one.

    Attributes:
        masters: the file of its masters, or None if there is none.
        entry: for the journal, where the picture is taken over as well.
        picture: the picture, as it lies there; empty without an entry.
    """

    masters: bytes | None
    entry: StampEntry | None = None
    picture: bytes = b""


def earlier_kit(path: Path, *, folder: Path, number: int | None) -> KitView:
    """The kit in `path`, looked at as the one before that which goes into `folder`.

    `number` is the drawing number that it must have, None if any will do.

    Raises:
        InputError: there is no kit in `path`, it is `folder` or holds it, or it has another number.
        WorkError: it cannot be read.
    """
    if not holds_kit(path):
        raise InputError(
            f"--since: {path} is no kit; the folder of an earlier one is required, which holds "
            f"{MANIFEST_FILE}"
        )
    there, here = path.resolve(), folder.resolve()
    if here == there or there in here.parents:
        raise InputError(f"--since: the new edition needs a folder of its own, outside of {path}")
    kit = kit_view(path)
    if kit.about.get(HOLDS, KIT) != KIT:
        raise InputError(
            f"--since: {path} holds finished months; the folder of an earlier kit is required"
        )
    if None not in (number, kit.number) and number != kit.number:
        raise InputError(
            f"--since: {path} was drawn with number {kit.number}, and this is {number}, so that "
            f"nothing would stay the same; "
            f"give the recipe number = {kit.number}, or --force to draw all of it anew"
        )
    return kit


def holds_kit(path: Path) -> bool:
    """Whether the folder `path` is that of a kit, finished or not."""
    return any((path / name).is_file() for name in (MANIFEST_FILE, JOURNAL_FILE))


def before_of(kit: KitView) -> Before:
    """The edition that the folder of `kit` holds."""
    pictures = {
        entry.name: kit.sum_of(entry.file)
        for entry in kit.listed()
        if isinstance(entry, StampEntry)
    }
    there = {name: checksum for name, checksum in pictures.items() if checksum is not None}
    return Before(edition=str(kit.about.get(EDITION, "")), pictures=there)


def before_in(about: Mapping[str, Any]) -> Before | None:
    """The earlier edition that a manifest names, None if it names none."""
    said = about.get(SINCE)
    if not isinstance(said, Mapping) or not isinstance(said.get(_PICTURES), Mapping):
        return None
    pictures = {str(name): str(checksum) for name, checksum in said[_PICTURES].items()}
    return Before(edition=str(said.get(EDITION, "")), pictures=pictures)


def changes_since(before: Before, now: Mapping[str, str], *, asked: Iterable[str]) -> Changes:
    """What differs between the pictures `before` and those `now`, both by their stamps' names; `asked` are all that the recipe asks for."""
    both = [name for name in now if name in before.pictures]
    kept = {name for name in both if now[name] == before.pictures[name]}
    still = {*asked, *now}
    return Changes(
        before=before.edition,
        added=tuple(name for name in now if name not in before.pictures),
        redrawn=tuple(name for name in both if name not in kept),
        same=tuple(name for name in both if name in kept),
        gone=tuple(name for name in before.pictures if name not in still),
    )


def heirloom(kit: KitView, name: str, *, file: str, inputs: str) -> Heirloom | None:
    """What the stamp `name` of `kit` leaves to one that lies in `file` and depends on `inputs`; None if `kit` has no such stamp.

    Masters are always left. The picture is too if it would be drawn alike, or if it was retouched
    and can still be read.

    Raises:
        WorkError: something cannot be read.
    """
    entries = kit.known.get(name, [])
    if not entries or not isinstance(entries[-1], StampEntry):
        return None
    there = entries[-1].file
    masters = _bytes(kit.path / MASTERS_FOLDER / f"{name}.npz")
    entry, state = kit.entry_of(name, there), kit.state_of(name, there, inputs)
    retouched = state is State.RETOUCHED and picture_size(kit.path / there) is not None
    picture = _bytes(kit.path / there) if retouched or state is State.UNCHANGED else None
    if picture is None or not isinstance(entry, StampEntry):
        return Heirloom(masters=masters)
    own = (
        None
        if masters is None
        else FileSum(file=f"{MASTERS_FOLDER}/{name}.npz", sha256=sha256(masters))
    )
    return Heirloom(masters=masters, entry=replace(entry, file=file, masters=own), picture=picture)


def _bytes(path: Path) -> bytes | None:
    try:
        return path.read_bytes()
    except FileNotFoundError:
        return None
    except OSError as problem:
        raise WorkError(f"{path} could not be read: {problem.strerror or problem}") from problem


def change_counts(changes: Changes) -> Iterator[tuple[int, str]]:
    """How many stamps there are of each kind of change, with the words for it; none of a kind that there isn't."""
    for names, words in (
        (changes.added, "added"),
        (changes.redrawn, "redrawn"),
        (changes.same, "the same"),
        (changes.gone, "no longer there"),
    ):
        if names:
            yield len(names), words

"""What a kit folder holds and whose each picture is, as read from its manifest and journal, without changing anything."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from itertools import chain
from pathlib import Path

from inkline.errors import InputError
from inkline.folder.disk import file_sha256
from inkline.folder.journal import Entry, read_journal
from inkline.folder.manifest import Manifest, StampEntry
from inkline.folder.state import State
from inkline.folder.strangers import number_of, read_manifest


@dataclass(frozen=True, slots=True, kw_only=True)
class KitView:
    """One folder, looked at.

    Attributes:
        path: the folder.
        known: for each stamp and sheet by name, its manifest entry and those of the journal, oldest
            first; all of them with the file in which its picture lies, or would lie.
        order: the names that the manifest listed, in order.
        about: what stands at the top of the manifest.
        number: the kit's drawing number so far, None if it has none yet.
        sums: checksums of the files looked at.
    """

    path: Path
    known: dict[str, list[Entry]]
    order: tuple[str, ...]
    about: Mapping[str, object] = field(default_factory=dict)
    number: int | None = None
    sums: dict[str, str | None] = field(default_factory=dict)

    def sum_of(self, file: str) -> str | None:
        """The checksum of `file`, a path from the folder, or None where there is none.

        Raises:
            WorkError: it cannot be read.
        """
        if file not in self.sums:
            self.sums[file] = file_sha256(self.path / file)
        return self.sums[file]

    def entry_of(self, name: str, file: str) -> Entry | None:
        """The entry of the picture that lies in `file`, or, if that was retouched, of the one under the retouch."""
        entries = self.known.get(name, [])
        drawn = [entry for entry in entries if entry.sha256 == self.sum_of(file)]
        return drawn[-1] if drawn else next(iter(entries), None)

    def state_of(self, name: str, file: str, inputs: str) -> State:
        """How the picture in `file` stands to one that depends on `inputs`."""
        found = self.sum_of(file)
        if found is None:
            return State.MISSING
        entry = self.entry_of(name, file)
        if entry is None:
            return State.UNKNOWN
        if entry.sha256 != found:
            return State.RETOUCHED
        return (
            State.UNCHANGED
            if entry.inputs == inputs and self._masters_whole(entry)
            else State.OUTDATED
        )

    def _masters_whole(self, entry: Entry) -> bool:
        masters = entry.masters if isinstance(entry, StampEntry) else None
        return masters is None or self.sum_of(masters.file) == masters.sha256

    def listed(self, names: Iterable[str] = ()) -> Iterator[Entry]:
        """The entries of what exists: those of `names`, then the rest in a fixed order."""
        first = dict.fromkeys(names)
        rest = [name for name in self.order if name not in first]
        rest += sorted(set(self.known) - set(first) - set(rest))
        for name in [*first, *rest]:
            entries = self.known.get(name)
            if entries and self.sum_of(entries[-1].file) is not None:
                entry = self.entry_of(name, entries[-1].file)
                assert entry is not None  # noqa: S101 - a name that is known has an entry
                yield entry


@dataclass(frozen=True, slots=True, kw_only=True)
class Move:
    """A picture that gets another file name, as its entry says."""

    entry: Entry
    before: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """What manifest and journal say of a folder, and what is to be renamed there.

    Attributes:
        known: as `KitView` has it, once the moves are made.
        order: the names that the manifest listed, in order.
        moves: renamings that are due.
    """

    known: dict[str, list[Entry]]
    order: tuple[str, ...]
    moves: tuple[Move, ...]


def kit_view(path: Path) -> KitView:
    """The kit folder `path` as it is; an empty one where there is none.

    Raises:
        InputError: its manifest can't be used.
        WorkError: it cannot be read.
    """
    manifest, earlier = read_manifest(path), read_journal(path)
    found = found_in(path, manifest, earlier, files={})
    number = number_of(manifest, earlier)
    return KitView(
        path=path, known=found.known, order=found.order, about=manifest.about, number=number
    )


def found_in(
    path: Path, manifest: Manifest, earlier: Iterable[Entry], *, files: Mapping[str, str]
) -> Found:
    """What `manifest` and the journal's `earlier` entries know of `path`, whose pictures are to lie in `files`, by name.

    A picture lies where `files` wants it, or where the latest of its entries that has a file does;
    then it was drawn under another name and is to be renamed, since the pattern of file names has
    changed.

    Raises:
        InputError: a file that is no part of the kit, or of one that stays, lies where a picture is
            to go.
    """
    listed: tuple[Entry, ...] = (*manifest.stamps, *manifest.sheets)
    known: dict[str, list[Entry]] = {}
    for entry in chain(listed, earlier):
        known.setdefault(entry.name, []).append(entry)
    moves = []
    for name, entries in known.items():
        lies = [
            one
            for one in dict.fromkeys(entry.file for entry in reversed(entries))
            if (path / one).exists()
        ]
        file = files.get(name) or next(iter(lies), entries[-1].file)
        known[name] = [replace(entry, file=file) for entry in entries]
        if lies and file not in lies:
            moves.append(Move(entry=_lying(path, known[name], lies[0]), before=lies[0]))
    order = tuple(dict.fromkeys(entry.name for entry in listed))
    return Found(known=known, order=order, moves=_in_order(path, moves))


def _lying(path: Path, entries: list[Entry], file: str) -> Entry:
    """Which of `entries` is that of the drawing in `file`, or of the one under a retouch there."""
    lying = file_sha256(path / file)
    return next((entry for entry in reversed(entries) if entry.sha256 == lying), entries[0])


def _in_order(path: Path, moves: list[Move]) -> tuple[Move, ...]:
    """`moves` so that none goes where a picture still lies that is to leave.

    Raises:
        InputError: something else lies where one is to go.
    """
    ordered: list[Move] = []
    while waiting := [move for move in moves if move not in ordered]:
        left = {move.before for move in ordered}
        free = [move for move in waiting if move.entry.file in left or not _is_occupied(path, move)]
        if not free:
            move = waiting[0]
            raise InputError(
                f"{move.before} in {path} is to be called {move.entry.file} now, and another "
                f"file has that name; move it elsewhere"
            )
        ordered += free
    return tuple(ordered)


def _is_occupied(path: Path, move: Move) -> bool:
    """Whether another file lies where `move` goes; where capitals don't count it may be the very picture."""
    there = path / move.entry.file
    return there.exists() and not there.samefile(path / move.before)

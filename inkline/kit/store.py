"""The folder of a kit: what is in it, whose each picture is, and how new ones get there without harm."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from enum import StrEnum
from itertools import chain
from pathlib import Path
from types import TracebackType
from typing import Self

from inkline.errors import InputError, WorkError
from inkline.kit.folder_checks import (
    MASTERS_FOLDER,
    first_foreign,
    number_of,
    own_files,
    read_manifest,
    refuse_foreign,
    refuse_number,
)
from inkline.kit.journal import Entry, Journal, open_journal
from inkline.kit.manifest import (
    MANIFEST_FILE,
    Manifest,
    SheetEntry,
    StampEntry,
    manifest_bytes,
)
from inkline.output.files import (
    DISK,
    Disk,
    file_sha256,
    make_folders,
    part_path,
    put_in_place,
    sha256,
    sync_folder,
    write_part,
    write_whole,
)


class Foreign(StrEnum):
    """What to do about a folder that holds something else: one that is no kit, or a kit of another drawing number.

    Files that are no part of the kit stay untouched either way, and in a folder that is a kit already they are no reason to refuse it.
    """

    REFUSE = "refuse"
    LEAVE = "leave"


class State(StrEnum):
    """How a picture in the folder stands to what inkline drew."""

    MISSING = "missing"
    UNCHANGED = "unchanged"
    OUTDATED = "outdated"
    RETOUCHED = "retouched"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True, kw_only=True)
class KitFolder:
    """One folder, held by this run alone until `finish` or the end of a with statement.

    Attributes:
        path: the folder.
        disk: through which it is changed.
        journal: of this run.
        known: for each stamp and sheet by name, its manifest entry and those of the journal, oldest first.
        order: the names that the manifest listed, in order.
        number: the kit's drawing number so far, None if it has none yet.
        foreign: the first file found that is no part of the kit, as a path from the folder, or "".
        sums: checksums of the files looked at, kept up to date by this run.
        touched: folders in which this run gave names. They are synced together before the manifest is replaced: a name that a
            power cut takes back before that is a picture that the journal knows and that is made again.
    """

    path: Path
    disk: Disk
    journal: Journal
    known: dict[str, list[Entry]]
    order: tuple[str, ...]
    number: int | None = None
    foreign: str = ""
    sums: dict[str, str | None] = field(default_factory=dict)
    touched: set[Path] = field(default_factory=set)

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, problem: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.journal.close()

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
        return State.UNCHANGED if entry.inputs == inputs and self._masters_whole(entry) else State.OUTDATED

    def _masters_whole(self, entry: Entry) -> bool:
        masters = entry.masters if isinstance(entry, StampEntry) else None
        return masters is None or self.sum_of(masters.file) == masters.sha256

    def save(self, entry: Entry, picture: bytes) -> None:
        """Put a drawn picture in the place that `entry` names, by way of the journal.

        Raises:
            WorkError: it cannot be written; what was there stays.
        """
        path = self.path / entry.file
        make_folders(path.parent, disk=self.disk)
        write_part(path, picture, disk=self.disk)
        self.journal.add(entry)
        put_in_place(path, disk=self.disk)
        self.touched.add(path.parent)
        self.note(entry)
        self.sums[entry.file] = entry.sha256

    def note(self, entry: Entry) -> None:
        """Take `entry` to be the one of its picture, for the manifest to come."""
        self.known.setdefault(entry.name, []).append(entry)

    def save_masters(self, file: str, data: bytes) -> None:
        """Put masters in their place, unless the same ones lie there already.

        Raises:
            WorkError: they cannot be written; what was there stays.
        """
        if self.sum_of(file) != sha256(data):
            path = self.path / file
            make_folders(path.parent, disk=self.disk)
            write_part(path, data, disk=self.disk)
            put_in_place(path, disk=self.disk)
            self.touched.add(path.parent)
            self.sums[file] = sha256(data)

    def finish(self, about: Mapping[str, object], *, stamps: Sequence[str], sheets: Sequence[str]) -> None:
        """Replace the manifest by one of what the folder holds, then remove the journal.

        `stamps` and `sheets` are all names in order; others that were listed and still exist follow.

        Raises:
            WorkError: a file cannot be written.
        """
        entries = list(self._listed([*stamps, *sheets]))
        manifest = Manifest(
            about=about,
            stamps=tuple(entry for entry in entries if isinstance(entry, StampEntry)),
            sheets=tuple(entry for entry in entries if isinstance(entry, SheetEntry)),
        )
        for folder in sorted(self.touched):
            sync_folder(folder, disk=self.disk)
        data = manifest_bytes(manifest)
        if self.sum_of(MANIFEST_FILE) != sha256(data):
            write_whole(self.path / MANIFEST_FILE, data, disk=self.disk)
        self.journal.remove()

    def _listed(self, names: Sequence[str]) -> Iterator[Entry]:
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

    def left_over(self, names: Iterable[str]) -> tuple[str, ...]:
        """Stamps that are listed and exist but are not among `names`: the recipe no longer asks for them."""
        asked = set(names)
        return tuple(e.name for e in self._listed([]) if isinstance(e, StampEntry) and e.name not in asked)


def masters_file(name: str) -> str:
    """Where the masters of the stamp `name` lie, from the kit folder."""
    return f"{MASTERS_FOLDER}/{name}.npz"


def open_kit_folder(
    path: Path, *, files: Iterable[str], foreign: Foreign, number: int | None = None, disk: Disk = DISK
) -> KitFolder:
    """The kit folder `path`, made if need be, checked, locked, and cleared of what a stopped run left half-written.

    `files` are the pictures that the kit will hold, as paths from the folder; `number` is its drawing number, None if any will do.

    Raises:
        InputError: `path` is a file, its manifest can't be used, it is no kit and holds files, or it is a kit of another number and
            such are to be refused.
        WorkError: it cannot be written, or another run is at work in it.
    """
    if path.exists() and not path.is_dir():
        raise InputError(f"{path} is a file; a kit needs a folder of its own")
    ours = set(own_files(path, files))
    if foreign is Foreign.REFUSE:
        refuse_foreign(path, ours)
        refuse_number(path, number)
    make_folders(path, disk=disk)
    journal = open_journal(path, disk=disk)
    try:
        return _opened(path, ours, journal)
    except BaseException:
        journal.close()
        raise


def _opened(path: Path, ours: set[str], journal: Journal) -> KitFolder:
    """The folder as it is now that this run has it to itself; another may have ended since it was checked."""
    manifest = read_manifest(path)
    known: dict[str, list[Entry]] = {}
    for entry in chain[Entry](manifest.stamps, manifest.sheets, journal.earlier):
        known.setdefault(entry.name, []).append(entry)
    _remove_parts(path, ours, disk=journal.disk)
    order = tuple(name for name, entries in known.items() if entries[0] not in journal.earlier)
    return KitFolder(
        path=path,
        disk=journal.disk,
        journal=journal,
        known=known,
        order=order,
        number=number_of(manifest, journal.earlier),
        foreign=first_foreign(path, ours) if MANIFEST_FILE in ours else "",
    )


def _remove_parts(path: Path, ours: set[str], *, disk: Disk) -> None:
    """Remove temporary files of earlier runs; only folders that hold files of the kit are looked at."""
    folders = {path / Path(file).parent for file in ours}
    folders |= {path / MASTERS_FOLDER / folder.relative_to(path) for folder in folders}
    for folder in sorted(folders):
        for part in sorted(folder.glob(part_path(Path("*")).name)):
            try:
                disk.remove(part)
            except OSError as problem:
                raise WorkError(f"{part} could not be removed: {problem.strerror or problem}") from problem

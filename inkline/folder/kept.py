"""The folder of a kit: what is in it, whose each picture is, and how new ones get there without harm."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from enum import StrEnum
from pathlib import Path
from types import TracebackType
from typing import Self

from inkline.errors import InputError, WorkError
from inkline.folder.disk import (
    DISK,
    Disk,
    make_folders,
    part_path,
    put_in_place,
    sha256,
    sync_folder,
    work_error,
    write_part,
    write_whole,
)
from inkline.folder.journal import Entry, Journal, open_journal, read_journal
from inkline.folder.manifest import MANIFEST_FILE, Manifest, SheetEntry, StampEntry, manifest_bytes
from inkline.folder.strangers import (
    KIT,
    MASTERS_FOLDER,
    first_foreign,
    number_of,
    own_files,
    read_manifest,
    refuse_foreign,
    refuse_number,
    refuse_other_kind,
)
from inkline.folder.view import KitView, Move, found_in


class Foreign(StrEnum):
    """What to do about a folder that holds something else: one that is no kit, or a kit of another drawing number.

    Files that are no part of the kit stay untouched either way, and in a folder that is a kit
    already they are no reason to refuse it.
    """

    REFUSE = "refuse"
    LEAVE = "leave"


@dataclass(frozen=True, slots=True, kw_only=True)
class KitFolder(KitView):
    """One folder, held by this run alone until `finish` or the end of a with statement.

    Attributes:
        disk: through which it is changed.
        journal: of this run.
        foreign: the first file found that is no part of the kit, as a path from the folder, or "".
        n_renamed: how many pictures have got another file name.
        touched: folders in which this run gave names. They are synced together before the manifest
            is replaced: a name that a power cut takes back before that is a picture that the
            journal knows and that is made again.
    """

    disk: Disk
    journal: Journal
    foreign: str = ""
    n_renamed: int = 0
    touched: set[Path] = field(default_factory=set)

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        problem: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.journal.close()

    def save(self, entry: Entry, picture: bytes) -> None:
        """Put a picture in the place that `entry` names, by way of the journal: as it was drawn, or retouched since.

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
        self.sums[entry.file] = sha256(picture)

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

    def finish(
        self, about: Mapping[str, object], *, stamps: Sequence[str], sheets: Sequence[str]
    ) -> None:
        """Replace the manifest by one of what the folder holds, then remove the journal.

        `stamps` and `sheets` are all names in order; others that were listed and still exist
        follow.

        Raises:
            WorkError: a file cannot be written.
        """
        entries = list(self.listed([*stamps, *sheets]))
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

    def left_over(self, names: Iterable[str]) -> tuple[str, ...]:
        """Stamps that are listed and exist but are not among `names`: the recipe no longer asks for them."""
        asked = set(names)
        return tuple(
            e.name for e in self.listed() if isinstance(e, StampEntry) and e.name not in asked
        )


def masters_file(name: str) -> str:
    """Where the masters of the stamp `name` lie, from the kit folder."""
    return f"{MASTERS_FOLDER}/{name}.npz"


def open_kit_folder(
    path: Path,
    *,
    files: Mapping[str, str],
    foreign: Foreign,
    number: int | None = None,
    holds: str = KIT,
    disk: Disk = DISK,
) -> KitFolder:
    """The kit folder `path`, made if need be, checked, locked, and cleared of what a stopped run left half-written.

    `files` are the pictures that the kit will hold, as paths from the folder, by the names of their
    stamps and sheets; pictures that are called otherwise so far are renamed. `number` is the kit's
    drawing number, None if any will do; `holds` is what goes into the folder, `kit` or `months`.

    Raises:
        InputError: `path` is a file, its manifest can't be used, it holds the other kind, a picture
            can't be renamed since another file lies there, it is no kit and holds files, or it is a
            kit of another number and such are to be refused.
        WorkError: it cannot be written, or another run is at work in it.
    """
    if path.exists() and not path.is_dir():
        raise InputError(f"{path} is a file; a kit needs a folder of its own")
    refuse_other_kind(path, holds)
    ours = set(own_files(path, files.values()))
    if foreign is Foreign.REFUSE:
        refuse_foreign(path, ours)
        refuse_number(path, number)
    found_in(
        path, read_manifest(path), read_journal(path), files=files
    )  # refuses while nothing has been changed
    make_folders(path, disk=disk)
    journal = open_journal(path, disk=disk)
    try:
        return _opened(path, ours, journal, files)
    except BaseException:
        journal.close()
        raise


def _opened(path: Path, ours: set[str], journal: Journal, files: Mapping[str, str]) -> KitFolder:
    """The folder as it is now that this run has it to itself; another may have ended since it was checked."""
    manifest = read_manifest(path)
    found = found_in(path, manifest, journal.earlier, files=files)
    _remove_parts(path, ours, disk=journal.disk)
    return KitFolder(
        path=path,
        disk=journal.disk,
        journal=journal,
        known=found.known,
        order=found.order,
        about=manifest.about,
        number=number_of(manifest, journal.earlier),
        foreign=first_foreign(path, ours) if MANIFEST_FILE in ours else "",
        n_renamed=len(found.moves),
        touched=_renamed(path, found.moves, journal),
    )


def _renamed(path: Path, moves: Iterable[Move], journal: Journal) -> set[Path]:
    """The folders in which pictures were renamed: each is in the journal under its new name first, so that a stop loses none."""
    touched = set()
    for move in moves:
        there = path / move.entry.file
        make_folders(there.parent, disk=journal.disk)
        journal.add(move.entry)
        try:
            journal.disk.replace(path / move.before, there)
        except OSError as problem:
            raise work_error(problem, there) from problem
        touched |= {there.parent, (path / move.before).parent}
    return touched


def _remove_parts(path: Path, ours: set[str], *, disk: Disk) -> None:
    """Remove temporary files of earlier runs; only folders that hold files of the kit are looked at."""
    folders = {path / Path(file).parent for file in ours}
    folders |= {path / MASTERS_FOLDER / folder.relative_to(path) for folder in folders}
    for folder in sorted(folders):
        for part in sorted(folder.glob(part_path(Path("*")).name)):
            try:
                disk.remove(part)
            except OSError as problem:
                raise WorkError(
                    f"{part} could not be removed: {problem.strerror or problem}"
                ) from problem

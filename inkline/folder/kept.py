"""A folder held by a run: how files get there without harm, and how it is left whole."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from enum import StrEnum
from pathlib import Path
from types import TracebackType
from typing import Self

from inkline.errors import InputError, WorkError
from inkline.folder.aside import free_name_beside
from inkline.folder.disk import (
    DISK,
    Disk,
    file_sha256,
    make_folders,
    part_path,
    put_in_place,
    remove_part,
    sha256,
    sync_folder,
    work_error,
    write_part,
    write_whole,
)
from inkline.folder.entry import Entry, Section
from inkline.folder.journal import Journal, open_journal
from inkline.folder.manifest import MANIFEST_FILE, Manifest, manifest_bytes
from inkline.folder.state import Handling
from inkline.folder.strangers import (
    MASTERS_FOLDER,
    Contents,
    Kind,
    contents_of,
    first_foreign,
    refuse_foreign,
    refuse_number,
    refuse_other_kind,
)
from inkline.folder.view import Files, FolderView, Move, found_in

_NOTHING = sha256(b"")
"""The checksum of a file in which nothing is."""


class Foreign(StrEnum):
    """What to do about a folder that holds something else.

    That is one that holds none of our products but files, or a product of another drawing number.
    Files that are no part of the product stay untouched either way, and in a folder that is filled
    already they are no reason to refuse it.
    """

    REFUSE = "refuse"
    LEAVE = "leave"


@dataclass(frozen=True, slots=True, kw_only=True)
class Saved:
    """What became of a file that was to be saved.

    Attributes:
        handling: `MAKE` if it was, `KEEP` if its owner had saved one there meanwhile.
        aside: where the owner's file lies now whose place it took, from the folder, or "".
    """

    handling: Handling = Handling.MAKE
    aside: str = ""


@dataclass(kw_only=True)
class KeptFolder(FolderView):
    """One folder, held by this run alone until `finish` or the end of a with statement.

    Attributes:
        kind: what it holds.
        disk: through which it is changed.
        journal: of this run.
        foreign: the first file found that is no part of the product, as a path from the folder, or
            "".
        is_drawn_over: whether it was drawn with another number, so that all of it is drawn anew.
        n_renamed: how many files have got another name.
        touched: folders in which this run gave names. They are synced together before the manifest
            is replaced: a name that a power cut takes back before that is a file that the journal
            knows and that is made again.
    """

    kind: Kind
    disk: Disk
    journal: Journal
    foreign: str = ""
    is_drawn_over: bool = False
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

    def save(self, entry: Entry, file: str, data: bytes) -> Saved:
        """Put `data` where the file of `entry` lies that is called `file`, by way of the journal.

        What was saved there since the file was first looked at, and by nobody here, stays.

        Raises:
            WorkError: it cannot be written; what was there stays.
        """
        own = entry.at(file)
        assert own is not None  # noqa: S101 - an entry is saved with its own files
        path, seen = self.path / file, self.sum_of(file)
        make_folders(path.parent, disk=self.disk)
        write_part(path, data, disk=self.disk)
        alone = replace(entry, files=(own,))
        self.journal.add(alone)
        found = file_sha256(path)
        if found not in {seen, None, own.sha256} and not self._is_known(entry.name, file, found):
            remove_part(path, disk=self.disk)
            self.sums[file] = found
            self.note(alone)
            return Saved(handling=Handling.KEEP)
        put_in_place(path, disk=self.disk)
        self.touched.add(path.parent)
        self.note(alone)
        self.sums[file] = sha256(data)
        return Saved()

    def save_beside_hers(self, entry: Entry, file: str, data: bytes) -> Saved:
        """As `save`, but what its owner had changed before the run gets another name first.

        Raises:
            WorkError: as `save`, or it cannot be renamed.
        """
        path, seen = self.path / file, self.sum_of(file)
        hers = seen not in {None, _NOTHING, sha256(data)}
        if not hers or self._is_known(entry.name, file, seen) or file_sha256(path) != seen:
            return self.save(entry, file, data)
        aside = free_name_beside(path)
        try:
            self.disk.replace(path, aside)
        except OSError as problem:
            raise work_error(problem, aside) from problem
        self.sums[file] = None
        saved = self.save(entry, file, data)
        return replace(saved, aside=aside.relative_to(self.path).as_posix())

    def _is_known(self, name: str, file: str, checksum: str | None) -> bool:
        """Whether inkline made a file of this checksum that lay, or lies, in `file`."""
        own = (entry.at(file) for entry in self.known.get(name, []))
        return any(one is not None and one.sha256 == checksum for one in own)

    def note(self, entry: Entry) -> None:
        """Take `entry` to be the one of its files, for the manifest to come."""
        self.known.setdefault(entry.name, []).append(entry)

    def save_masters(self, file: str, data: bytes, *, entry: Entry | None = None) -> None:
        """Put masters in their place, unless the same ones lie there already.

        Where `entry` is what they belong to and others lie there, the journal names them first, so
        that they are known for ours if the run ends here.

        Raises:
            WorkError: they cannot be written; what was there stays.
        """
        if self.sum_of(file) != sha256(data):
            path = self.path / file
            if entry is not None and self.sum_of(file) is not None:
                self.journal.add(entry)
            make_folders(path.parent, disk=self.disk)
            write_part(path, data, disk=self.disk)
            put_in_place(path, disk=self.disk)
            self.touched.add(path.parent)
            self.sums[file] = sha256(data)

    def finish(self, about: Mapping[str, object], *, names: Sequence[str]) -> None:
        """Replace the manifest by one of what the folder holds, then remove the journal.

        `names` are all names in order; others that were listed and still exist follow.

        Raises:
            WorkError: a file cannot be written.
        """
        manifest = Manifest(about=about, entries=tuple(self.listed_entries(names)))
        for folder in sorted(self.touched):
            sync_folder(folder, disk=self.disk)
        data = manifest_bytes(manifest, form=self.kind.form)
        if self.sum_of(MANIFEST_FILE) != sha256(data):
            write_whole(self.path / MANIFEST_FILE, data, disk=self.disk)
        self.journal.remove()

    def left_over(self, names: Iterable[str]) -> tuple[str, ...]:
        """What was drawn and still exists but is not among `names`: nobody asks for it any more."""
        asked = set(names)
        there = (one for one in self.listed_entries() if one.section is Section.STAMPS)
        return tuple(entry.name for entry in there if entry.name not in asked)


def masters_file(name: str) -> str:
    """Where the masters of the stamp `name` lie, from the folder."""
    return f"{MASTERS_FOLDER}/{name}.npz"


def open_kept_folder(
    path: Path,
    *,
    kind: Kind,
    files: Files,
    foreign: Foreign,
    number: int | None = None,
    others: Iterable[str] = (),
    disk: Disk = DISK,
) -> KeptFolder:
    """The folder `path`, made if need be, checked and locked.

    What a stopped run left half-written there is cleared away.

    Args:
        path: the folder.
        kind: what goes into it.
        files: what it will hold; files that are called otherwise so far are renamed.
        foreign: what to do if it holds something else.
        number: its drawing number, None if any will do.
        others: files that belong there besides and that no entry names.
        disk: through which it is changed.

    Raises:
        InputError: `path` is a file, its manifest can't be used, it holds another kind, a file
            can't be renamed since another lies there, or it holds something else that is to be
            refused.
        WorkError: it cannot be written, or another run is at work in it.
    """
    if path.exists() and not path.is_dir():
        raise InputError(
            f"{path} is a file; {kind.words_for(kind.holds)} can only go into a folder"
        )
    wanted = [*others, *(file for forms in files.values() for file in forms.values())]
    wanted += map(masters_file, files)
    before = contents_of(path, files=wanted, form=kind.form)
    refuse_other_kind(before, kind)
    if foreign is Foreign.REFUSE:
        refuse_foreign(before, noun=kind.noun, beside=kind.beside)
        refuse_number(before, number)
    # Refuses what can't be renamed while nothing has been changed.
    found_in(path, before.manifest, before.earlier, files=files)
    seen = _stamp_of(path)
    make_folders(path, disk=disk)
    journal = open_journal(path, disk=disk)
    try:
        if _stamp_of(path) != seen or journal.earlier != before.earlier:
            before = contents_of(path, files=wanted, form=kind.form)
        return _folder_at_hand(before, journal, files, kind, number=number)
    except BaseException:
        journal.close()
        raise


def _stamp_of(path: Path) -> tuple[int, int, int] | None:
    """What tells one manifest in `path` from the next without reading it, None if there is none."""
    try:
        found = (path / MANIFEST_FILE).stat()
    except OSError:
        return None
    return found.st_ino, found.st_size, found.st_mtime_ns


def _folder_at_hand(
    contents: Contents, journal: Journal, files: Files, kind: Kind, *, number: int | None
) -> KeptFolder:
    """The folder as it is now that this run, which is to draw with `number`, has it to itself."""
    path = contents.path
    found = found_in(path, contents.manifest, contents.earlier, files=files)
    _remove_parts(path, contents.ours, disk=journal.disk)
    return KeptFolder(
        path=path,
        kind=kind,
        disk=journal.disk,
        journal=journal,
        known=found.known,
        order=found.order,
        about=contents.manifest.about,
        number=contents.number,
        foreign=first_foreign(contents, beside=kind.beside) if contents.is_product else "",
        is_drawn_over=None not in (number, contents.number) and number != contents.number,
        n_renamed=len(found.moves),
        touched=_renamed_folders(path, found.moves, journal),
    )


def _renamed_folders(path: Path, moves: Iterable[Move], journal: Journal) -> set[Path]:
    """Rename files, and give the folders in which that was done.

    Each is in the journal under its new name first, so that a stop loses none.
    """
    touched = set()
    for move in moves:
        there = path / move.after
        make_folders(there.parent, disk=journal.disk)
        journal.add(move.entry)
        try:
            journal.disk.replace(path / move.before, there)
        except OSError as problem:
            raise work_error(problem, there) from problem
        touched |= {there.parent, (path / move.before).parent}
    return touched


def _remove_parts(path: Path, ours: Iterable[str], *, disk: Disk) -> None:
    """Remove temporary files of earlier runs; only folders that hold our files are looked at."""
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

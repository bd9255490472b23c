"""What a folder holds and whose each file is, as read from its manifest and journal.

Nothing is changed here.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from itertools import chain
from pathlib import Path

from inkline.errors import InputError
from inkline.folder.disk import file_sha256
from inkline.folder.entry import Entry, FileEntry, moved_to
from inkline.folder.manifest import Manifest, ManifestForm
from inkline.folder.state import State
from inkline.folder.strangers import contents_of, number_of

Files = Mapping[str, Mapping[str, str]]
"""Where the files of a product lie, from its folder, by their names and forms."""


@dataclass(kw_only=True)
class FolderView:
    """What a folder holds and whose each file is, read without changing anything.

    Attributes:
        path: the folder.
        known: for each name, its manifest entry and those of the journal, oldest first; all of them
            with the files in which it lies, or would lie.
        order: the names that the manifest listed, in order.
        about: what stands at the top of the manifest.
        number: the drawing number so far, None if it has none yet.
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
        """The entry of what lies in `file`, or, if that was changed, of what lay there before."""
        found = self.sum_of(file)
        entries = [(entry, one) for entry in self.known.get(name, []) if (one := entry.at(file))]
        made = [entry for entry, one in entries if one.sha256 == found]
        return made[-1] if made else next((entry for entry, _ in entries), None)

    def state_of(self, name: str, file: str, inputs: str) -> State:
        """How what lies in `file` stands to something that depends on `inputs`."""
        found = self.sum_of(file)
        if found is None:
            return State.MISSING
        entry = self.entry_of(name, file)
        own = None if entry is None else entry.at(file)
        if entry is None or own is None:
            return State.UNKNOWN
        if own.sha256 != found:
            return State.RETOUCHED
        same = own.inputs == inputs and self._are_masters_whole(entry)
        return State.UNCHANGED if same else State.OUTDATED

    def has_changed_masters(self, name: str, file: str) -> bool:
        """Whether the masters of `name` lie in `file` otherwise than they were ever drawn here."""
        listed = (entry.masters for entry in self.known.get(name, []))
        sums = {one.sha256 for one in listed if one is not None and one.file == file}
        return bool(sums) and self.sum_of(file) not in {None, *sums}

    def _are_masters_whole(self, entry: Entry) -> bool:
        masters = entry.masters
        return masters is None or self.sum_of(masters.file) == masters.sha256

    def listed_entries(self, names: Iterable[str] = ()) -> Iterator[Entry]:
        """The entries of what exists: those of `names`, then the rest in a fixed order."""
        first = dict.fromkeys(names)
        rest = [name for name in self.order if name not in first]
        rest += sorted(set(self.known) - set(first) - set(rest))
        for name in [*first, *rest]:
            entry = self._entry_now(name)
            if entry is not None:
                yield entry

    def _entry_now(self, name: str) -> Entry | None:
        """The entry of `name` with those of its files that exist, each as it lies there."""
        entries = self.known.get(name, [])
        places = dict.fromkeys(one.file for entry in reversed(entries) for one in entry.files)
        there = [file for file in places if self.sum_of(file) is not None]
        found = {file: entry for file in there if (entry := self.entry_of(name, file))}
        if not found:
            return None
        own = [one for file, entry in found.items() if (one := entry.at(file))]
        files = _in_order_of_forms(own, entries)
        return replace(found[files[0].file], files=tuple(files))


def _in_order_of_forms(files: Iterable[FileEntry], entries: Iterable[Entry]) -> list[FileEntry]:
    """`files` in the order in which the forms first came."""
    order = list(dict.fromkeys(one.form for entry in entries for one in entry.files))
    return sorted(files, key=lambda one: order.index(one.form))


@dataclass(frozen=True, slots=True, kw_only=True)
class Move:
    """A file that gets another name.

    Attributes:
        entry: of the file alone, under its new name.
        before: what it is called so far.
    """

    entry: Entry
    before: str

    @property
    def after(self) -> str:
        """What it is to be called."""
        return self.entry.files[0].file


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """What manifest and journal say of a folder, and what is to be renamed there.

    Attributes:
        known: as `FolderView` has it, once the moves are made.
        order: the names that the manifest listed, in order.
        moves: renamings that are due.
    """

    known: dict[str, list[Entry]]
    order: tuple[str, ...]
    moves: tuple[Move, ...]


def folder_view(path: Path, *, form: ManifestForm) -> FolderView:
    """The folder `path` as it is; an empty one where there is none.

    Raises:
        InputError: its manifest can't be used, or a file of it lies elsewhere.
        WorkError: it cannot be read.
    """
    contents = contents_of(path, files=(), form=form)
    manifest, earlier = contents.manifest, contents.earlier
    found = found_in(path, manifest, earlier, files={})
    number = number_of(manifest, earlier)
    return FolderView(
        path=path, known=found.known, order=found.order, about=manifest.about, number=number
    )


def found_in(path: Path, manifest: Manifest, earlier: Iterable[Entry], *, files: Files) -> Found:
    """What `manifest` and the journal's `earlier` entries know of `path`.

    A file lies where `files` wants it, or where the latest of its entries that has a file does;
    then it was made under another name and is to be renamed, since the pattern of names changed.

    Raises:
        InputError: a file that is no part of the product, or of one that stays, lies where another
            is to go.
    """
    known: dict[str, list[Entry]] = {}
    for entry in chain(manifest.entries, earlier):
        known.setdefault(entry.name, []).append(entry)
    moves: list[Move] = []
    for name, entries in known.items():
        wanted, here = files.get(name, {}), dict[str, str]()
        forms = dict.fromkeys(one.form for entry in entries for one in entry.files)
        for form in forms:
            places = [one.file for entry in reversed(entries) if (one := entry.of_form(form))]
            lies = [file for file in dict.fromkeys(places) if (path / file).exists()]
            here[form] = wanted.get(form) or next(iter(lies), places[0])
            if lies and here[form] not in lies:
                own = _lying_entry(path, entries, form, lies[0])
                moves.append(Move(entry=moved_to(own, here), before=lies[0]))
        known[name] = [moved_to(entry, here) for entry in entries]
    order = tuple(dict.fromkeys(entry.name for entry in manifest.entries))
    return Found(known=known, order=order, moves=_in_order(path, moves))


def _lying_entry(path: Path, entries: list[Entry], form: str, file: str) -> Entry:
    """The entry of what lies in `file`, or of what lay there before it was changed.

    It has that one file alone.
    """
    lying = file_sha256(path / file)
    of_form = [(entry, one) for entry in entries if (one := entry.of_form(form))]
    entry, own = next(
        ((entry, one) for entry, one in reversed(of_form) if one.sha256 == lying), of_form[0]
    )
    return replace(entry, files=(own,))


def _in_order(path: Path, moves: list[Move]) -> tuple[Move, ...]:
    """`moves` so that none goes where a file still lies that is to leave.

    Raises:
        InputError: something else lies where one is to go.
    """
    ordered: list[Move] = []
    while waiting := [move for move in moves if move not in ordered]:
        left = {move.before for move in ordered}
        free = [move for move in waiting if move.after in left or not _is_occupied(path, move)]
        if not free:
            move = waiting[0]
            raise InputError(
                f"{move.before} in {path} is to be called {move.after} now, and another file has "
                f"that name; move it elsewhere"
            )
        ordered += free
    return tuple(ordered)


def _is_occupied(path: Path, move: Move) -> bool:
    """Whether another file lies where `move` goes.

    Where capitals don't count it may be the very file that moves.
    """
    there = path / move.after
    return there.exists() and not there.samefile(path / move.before)

"""What a folder holds before a run: its product and number, and files that are no part of it."""

from __future__ import annotations

import os
from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from inkline.errors import Action, InputError, Remedy, WorkError
from inkline.folder.aside import is_set_aside
from inkline.folder.disk import is_part
from inkline.folder.entry import Entry
from inkline.folder.inside import refuse_links_elsewhere
from inkline.folder.journal import JOURNAL_FILE, read_journal
from inkline.folder.manifest import (
    MANIFEST_FILE,
    Manifest,
    ManifestForm,
    manifest_from_bytes,
)
from inkline.folder.reading import bytes_of_plain_file

_MOST_BYTES = 32_000_000
"""A manifest of a thousand stamps has a third of that."""
MASTERS_FOLDER = "masters"
FILES_FOLDER = "files"
"""Of other forms of a product's pictures: a product with a manifest of its own."""
HOLDS = "holds"
"""The manifest's key for what a folder holds, where that isn't what its form is made for."""
_OF_THE_SYSTEM = frozenset({".DS_Store", "Thumbs.db", "desktop.ini"})
"""Files that desktops leave in any folder that is looked at; they are nobody's work."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """What a folder holds.

    Attributes:
        form: how its manifest is written.
        holds: what the manifest says that it holds; "" if it is what the form is made for.
        beside: names of files that may lie in it, though no manifest lists them.
    """

    form: ManifestForm
    holds: str = ""
    beside: tuple[str, ...] = ()

    @property
    def noun(self) -> str:
        """What it is called, such as "kit" or, in the plural, "finished months"."""
        return self.form.noun_of(self.holds)

    def words_for(self, holds: str) -> str:
        """What a folder of its form holds whose manifest says this, such as "a kit"."""
        noun = self.form.noun_of(holds)
        return noun if holds else f"a {noun}"


def read_manifest(folder: Path, *, form: ManifestForm) -> Manifest:
    """The manifest in `folder`, an empty one where there is none.

    Raises:
        InputError: it is of another form, damaged or of a later version.
        WorkError: it cannot be read.
    """
    path = folder / MANIFEST_FILE
    try:
        data = bytes_of_plain_file(path, most=_MOST_BYTES)
    except FileNotFoundError:
        return Manifest()
    except OSError as problem:
        raise WorkError(f"{path} could not be read: {problem.strerror or problem}") from problem
    return manifest_from_bytes(data, where=str(path), form=form)


def holds_product(folder: Path) -> bool:
    """Whether `folder` is one that inkline has filled, finished or not."""
    return any((folder / name).is_file() for name in (MANIFEST_FILE, JOURNAL_FILE))


def number_of(manifest: Manifest, earlier: Iterable[Entry]) -> int | None:
    """The drawing number of a folder, None if it has none yet.

    Of one whose first run was stopped it is that of the first drawing in the journal.
    """
    number = manifest.about.get("number")
    if isinstance(number, int):
        return number
    return next((entry.number for entry in earlier if entry.number is not None), None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Contents:
    """What manifest and journal say of a folder, read once.

    Attributes:
        path: the folder.
        manifest: an empty one where there is none.
        earlier: what the journal holds of a run that was stopped.
        ours: files that belong to the product, as paths from the folder; in a folder that holds
            none yet, nothing does.
    """

    path: Path
    manifest: Manifest
    earlier: tuple[Entry, ...]
    ours: frozenset[str]

    @property
    def number(self) -> int | None:
        """The drawing number so far."""
        return number_of(self.manifest, self.earlier)

    @property
    def is_product(self) -> bool:
        """Whether it is a folder that inkline has filled."""
        return MANIFEST_FILE in self.ours


def contents_of(path: Path, *, files: Iterable[str], form: ManifestForm) -> Contents:
    """What is known of the folder `path`, which is to hold `files`.

    Raises:
        InputError: its manifest can't be used, or a file of it lies elsewhere.
        WorkError: something in it cannot be read.
    """
    files = tuple(files)
    refuse_links_elsewhere(path, (MANIFEST_FILE, JOURNAL_FILE, *files))
    manifest, earlier = read_manifest(path, form=form), read_journal(path)
    refuse_links_elsewhere(path, _files_of_entries((*manifest.entries, *earlier)))
    ours = {one.file for entry in (*manifest.entries, *earlier) for one in entry.files}
    if (path / MANIFEST_FILE).exists() or (path / JOURNAL_FILE).exists():
        ours |= {MANIFEST_FILE, JOURNAL_FILE, *files}
    return Contents(path=path, manifest=manifest, earlier=earlier, ours=frozenset(ours))


def _files_of_entries(entries: Iterable[Entry]) -> Iterator[str]:
    """All files that `entries` name, masters too, as paths from the folder."""
    for entry in entries:
        yield from (one.file for one in entry.files)
        if entry.masters is not None:
            yield entry.masters.file


def refuse_number(contents: Contents, number: int | None) -> None:
    """Keep a product from being drawn over by mistake: another number draws every line anew.

    Raises:
        InputError: the folder has another number than `number`.
    """
    before = contents.number
    if None not in (number, before) and number != before:
        raise InputError(
            f"{contents.path} was drawn with number {before}, and this is {number}",
            remedies=(
                Remedy(action=Action.OTHER_FOLDER),
                Remedy(action=Action.GO_ON, effect="to draw it anew"),
            ),
        )


def refuse_other_kind(contents: Contents, kind: Kind) -> None:
    """Keep one product out of another's folder: neither would know the other's files.

    Raises:
        InputError: the folder holds the one, and the other is to go there.
    """
    if not contents.manifest.entries:
        return
    found = str(contents.manifest.about.get(HOLDS, ""))
    if found != kind.holds:
        raise InputError(
            f"{contents.path} holds {kind.words_for(found)}, and {kind.words_for(kind.holds)} "
            "would come between",
            remedies=(Remedy(action=Action.OTHER_FOLDER),),
        )


def refuse_foreign(contents: Contents, *, noun: str, beside: Collection[str] = ()) -> None:
    """Refuse a folder that holds none of our products but files: they would lie among ours.

    Raises:
        InputError: it does.
    """
    file = "" if contents.is_product else first_foreign(contents, beside=beside)
    if file:
        raise InputError(
            f"{contents.path} holds files that are no part of the {noun}, such as {file}",
            remedies=(
                Remedy(action=Action.OTHER_FOLDER),
                Remedy(action=Action.GO_ON, effect="to build beside them (they stay untouched)"),
            ),
        )


def first_foreign(contents: Contents, *, beside: Collection[str] = ()) -> str:
    """The first file in the folder that is no part of the product, nor one of `beside`, or ""."""
    for folder, folders, names in os.walk(contents.path):
        folders[:] = sorted(one for one in folders if not _holds_forms(contents, Path(folder, one)))
        for name in sorted(names):
            file = Path(folder, name).relative_to(contents.path)
            of_masters = file.parts[0] == MASTERS_FOLDER and file.suffix == ".npz"
            usual = of_masters or is_set_aside(file)
            named = file.as_posix() in contents.ours or file.as_posix() in beside
            known = named or (contents.is_product and usual)
            if not (known or is_part(file) or name in _OF_THE_SYSTEM):
                return str(file)
    return ""


def _holds_forms(contents: Contents, folder: Path) -> bool:
    """Whether `folder` is that of other forms of the product."""
    known = contents.is_product and folder == contents.path / FILES_FOLDER
    return known and holds_product(folder)

"""One process's share of a run: it has the product open and makes one piece after another."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from types import MappingProxyType
from typing import Any

from inkline.folder.disk import sha256
from inkline.folder.entry import Entry, FileEntry, FileSum
from inkline.folder.kept import masters_file
from inkline.folder.view import FolderView
from inkline.ink.master import Master
from inkline.press.masters import masters_at, masters_bytes
from inkline.press.product import Bench, Made, Piece, Product
from inkline.progress import Note


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """One piece to make.

    Attributes:
        name: of the piece.
        folder: of the product.
        forms: of the files that are wanted; none if only its masters are.
        there: names of the pieces it needs that are there.
        inputs: what its files depend on, by their forms, as far as that is known.
        masters: the file of what was drawn before, or None to draw all of it anew.
        before: what the manifest says of its files, if they are as it says.
    """

    name: str
    folder: Path
    forms: tuple[str, ...]
    there: tuple[str, ...] = ()
    inputs: Mapping[str, str] = field(default_factory=dict)
    masters: Path | None = None
    before: Mapping[str, Any] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Done:
    """One piece that was made, ready to be put in its place.

    Attributes:
        name: of the piece.
        entry: for journal and manifest, with the files that were made; None if none were.
        files: by their forms.
        masters: the file of its masters, for `entry.masters.file`; empty if it has none of its own.
        shared: its masters, where all pieces share one file.
        n_drawn: how many strokes and shapes were drawn, for this piece or just before for another
            that has them too, the rest having been kept.
        notes: what the user should know.
    """

    name: str
    entry: Entry | None
    files: Mapping[str, bytes]
    masters: bytes = b""
    shared: tuple[Master, ...] = ()
    n_drawn: int = 0
    notes: tuple[Note, ...] = ()


class Shop:
    """A product, opened, and what this process has drawn for it so far.

    Attributes:
        product: what is made.
    """

    def __init__(self, product: Product) -> None:
        self.product = product
        self._lent: dict[str, Master] = {}
        self._read: dict[Path, dict[str, Master]] = {}

    def make(self, job: Job) -> Done:
        """The piece `job.name`; strokes whose masters are kept are not drawn again."""
        piece, shared = self.product.pieces[job.name], bool(self.product.masters_file)
        kept, notes = self._kept_masters(job.masters)
        known = self._lent | kept if piece.lends else kept
        bench = Bench(folder=job.folder, there=job.there, kept=known, before=job.before)
        made = piece.make(job.forms, bench)
        new = {one.key: one for one in made.masters if one.key not in kept}
        if piece.lends:
            self._lent |= new
        own = b"" if shared or not made.masters else masters_bytes(made.masters)
        return Done(
            name=job.name,
            entry=self._entry(piece, job, made, own) if made.files else None,
            files=made.files,
            masters=own,
            shared=made.masters if shared else (),
            n_drawn=len(new),
            notes=(*notes, *made.notes),
        )

    def _kept_masters(self, path: Path | None) -> tuple[dict[str, Master], tuple[Note, ...]]:
        """What was drawn before; a file that all pieces share is read once."""
        if path is None or not self.product.masters_file:
            return masters_at(path)
        notes: tuple[Note, ...] = ()
        if path not in self._read:
            self._read[path], notes = masters_at(path)
        return self._read[path], notes

    def _entry(self, piece: Piece, job: Job, made: Made, masters: bytes) -> Entry:
        """What journal and manifest say of a piece that was made."""
        return entry_of_piece(
            piece,
            files={
                form: (sha256(data), job.inputs.get(form) or inputs_of_drawn(piece, form))
                for form, data in made.files.items()
            },
            facts=made.facts,
            masters=FileSum(file=masters_file(piece.name), sha256=sha256(masters))
            if masters
            else None,
        )


def inputs_of_drawn(piece: Piece, form: str) -> str:
    """What a file of a piece that needs no others depends on."""
    return piece.inputs(form, _NO_FOLDER, ())


_NO_FOLDER = FolderView(path=Path(), known={}, order=())


def entry_of_piece(
    piece: Piece,
    *,
    files: Mapping[str, tuple[str, str]],
    masters: FileSum | None = None,
    facts: Mapping[str, Any] = MappingProxyType({}),
) -> Entry:
    """The entry of a piece with `files`: checksum and digest of each by its form.

    `facts` are told of it besides its own.
    """
    return Entry(
        name=piece.name,
        section=piece.section,
        files=tuple(
            FileEntry(form=form, file=piece.files[form], sha256=checksum, inputs=inputs)
            for form, (checksum, inputs) in files.items()
        ),
        facts={**piece.facts(), **facts},
        drawn_with=piece.drawn_with(),
        masters=masters,
        layout=piece.layout(),
    )

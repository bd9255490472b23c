"""What becomes of each piece and each file in a run, counted as it happens."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from pathlib import Path

from inkline.folder.state import Handling
from inkline.press.report import Changes, Report
from inkline.progress import Note


@dataclass(kw_only=True)
class Tally:
    """The count of one run; it grows while that goes on.

    Attributes:
        made: names of the pieces of which files were made.
        unchanged: names of the stamps left as they were.
        kept: names of the stamps left since they were changed by hand.
        moved: names of those whose exact layout has changed since.
        files: what became of each file.
        notes: what the user should know.
        n_marks: strokes and shapes drawn.
    """

    made: set[str] = field(default_factory=set)
    unchanged: set[str] = field(default_factory=set)
    kept: set[str] = field(default_factory=set)
    moved: set[str] = field(default_factory=set)
    files: dict[str, Handling] = field(default_factory=dict)
    notes: list[Note] = field(default_factory=list)
    n_marks: int = 0

    def make(self, name: str, file: str) -> None:
        """Count a file of the piece `name` that was made."""
        self.made.add(name)
        self.files[file] = Handling.MAKE

    def keep(self, name: str, file: str) -> None:
        """Count a file of the piece `name` that is its owner's."""
        self.kept.add(name)
        self.files[file] = Handling.KEEP

    def report(
        self,
        folder: Path,
        *,
        stamps: Iterable[str],
        hers: tuple[str, ...],
        sheets: Iterable[str],
        sheets_kept: Iterable[str],
        left_over: tuple[str, ...],
        changes: Changes | None,
    ) -> Report:
        """The report of the run; `stamps` and `sheets` are all there are, in order.

        `hers` are the stamps that were changed by hand, now or before.
        """
        stamps = tuple(stamps)

        def those_in(names: set[str]) -> tuple[str, ...]:
            return tuple(name for name in stamps if name in names)

        def files_of(handling: Handling) -> tuple[str, ...]:
            return tuple(file for file, one in self.files.items() if one is handling)

        return Report(
            folder=folder,
            drawn=those_in(self.made),
            unchanged=those_in(self.unchanged),
            kept=those_in(self.kept),
            hers=hers,
            moved=those_in(self.moved),
            left_over=left_over,
            sheets=tuple(name for name in sheets if name in self.made),
            sheets_kept=tuple(sheets_kept),
            n_marks=self.n_marks,
            notes=tuple(_without_repeats(self.notes)),
            files_made=files_of(Handling.MAKE),
            files_unchanged=files_of(Handling.LEAVE),
            files_kept=files_of(Handling.KEEP),
            changes=changes,
        )


def _without_repeats(notes: Iterable[Note]) -> Iterator[Note]:
    """Each of `notes` once, and of those about one file that can't be read the first."""
    told = set[Path]()
    for note in dict.fromkeys(notes):
        if note.unread is None or note.unread not in told:
            yield note
        if note.unread is not None:
            told.add(note.unread)

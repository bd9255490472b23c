"""The report of a run: what was made, left or kept, and what a new edition changes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from inkline.progress import Note


@dataclass(frozen=True, slots=True, kw_only=True)
class Changes:
    """What an edition changes. Names are in the order of the product.

    Attributes:
        before: the earlier edition, as its owner called it, or "".
        added: what the earlier one didn't have.
        redrawn: what has other files.
        same: what has the same files, to the byte.
        gone: what only the earlier one has.
    """

    before: str
    added: tuple[str, ...]
    redrawn: tuple[str, ...]
    same: tuple[str, ...]
    gone: tuple[str, ...]

    def to_dict(self) -> dict[str, Any]:
        """As it stands in the manifest, the earlier edition aside."""
        return {key: list(getattr(self, key)) for key in ("added", "redrawn", "same", "gone")}

    def counts(self) -> Iterator[tuple[int, str]]:
        """How many there are of each kind of change, with the words for it; none of no kind."""
        for names, words in (
            (self.added, "added"),
            (self.redrawn, "redrawn"),
            (self.same, "the same"),
            (self.gone, "no longer there"),
        ):
            if names:
                yield len(names), words


@dataclass(frozen=True, slots=True, kw_only=True)
class Report:
    """What one run did. Names are in the order of the product.

    Attributes:
        folder: where the product lies.
        drawn: stamps of which files were made.
        unchanged: stamps left as they were, since nothing that they depend on has changed.
        kept: stamps left as they were because they were retouched by hand.
        hers: all stamps in the folder that were retouched by hand, seen to in this run or not.
        moved: those of `kept` whose exact layout has changed since.
        left_over: stamps in the folder that nobody asks for any more.
        sheets: sheets that were made.
        sheets_kept: sheets changed by hand.
        files_made: the files of all that was made, as paths from the folder.
        files_unchanged: those left as they were.
        files_kept: those left since they were changed by hand.
        n_marks: strokes and shapes that were drawn; the others came from masters.
        notes: what the user should know.
        changes: what has changed since an earlier edition, or None if there is none.
    """

    folder: Path
    drawn: tuple[str, ...]
    unchanged: tuple[str, ...]
    kept: tuple[str, ...]
    moved: tuple[str, ...]
    left_over: tuple[str, ...]
    sheets: tuple[str, ...]
    sheets_kept: tuple[str, ...]
    n_marks: int
    notes: tuple[Note, ...]
    hers: tuple[str, ...] = ()
    files_made: tuple[str, ...] = ()
    files_unchanged: tuple[str, ...] = ()
    files_kept: tuple[str, ...] = ()
    changes: Changes | None = None

    @property
    def has_failed(self) -> bool:
        """Whether something could not be done, as its notes say."""
        return any(note.is_failure for note in self.notes)

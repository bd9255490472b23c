"""The recipe that lies on the desk: its text, what it was before, and its file."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path

from inkline.desk.editing import Edit, edited_text
from inkline.desk.memory import DeskMemory
from inkline.errors import InputError
from inkline.folder.disk import write_whole
from inkline.kit.recipe.file import recipe_file_text

_MOST_KEPT = 2_000
"""How many earlier texts are kept; more than anybody goes back."""


@dataclass(slots=True)
class RecipeDocument:
    """A recipe that is edited: each change is written to its file at once, and can be undone.

    Attributes:
        path: its file, which need not be there yet.
        text: what it says now.
        version: counts changes, undone ones included.
    """

    path: Path
    text: str
    version: int = 0
    _past: list[str] = field(default_factory=list)
    _future: list[str] = field(default_factory=list)
    _on_disk: str | None = None
    _memory: DeskMemory | None = None

    @classmethod
    def opened(cls, path: Path, *, otherwise: str) -> RecipeDocument:
        """The recipe at `path`, or one that says `otherwise` if there is no such file yet.

        Raises:
            InputError: it cannot be read.
        """
        if not path.exists():
            return cls(path=path, text=otherwise)
        text = _text_of(path)
        return cls(path=path, text=text, _on_disk=text)

    def remember(self, memory: DeskMemory) -> None:
        """Take up the history that is in `memory`, and keep it there from now on.

        Where the file was changed meanwhile, that is one more change.
        """
        self._memory = memory
        if "text" not in memory.values or self._on_disk is None:
            return
        self._past = memory.texts("past")
        if memory.values["text"] == self.text:
            self._future = memory.texts("future")
        else:
            self._past.append(str(memory.values["text"]))

    @property
    def can_undo(self) -> bool:
        """Whether there is a text from before."""
        return bool(self._past)

    @property
    def can_redo(self) -> bool:
        """Whether a change was undone and can be made again."""
        return bool(self._future)

    def edit(self, edits: Sequence[Edit]) -> None:
        """Make all of `edits` as one change.

        Raises:
            InputError: the text would be no TOML, or the file was changed elsewhere meanwhile.
            WorkError: the file cannot be written; nothing has changed.
        """
        self.put(edited_text(self.text, edits))

    def put(self, text: str) -> None:
        """Let it say `text`. Errors are those of `edit`."""
        if text == self.text:
            return
        self._write(text)
        self._past = [*self._past[-_MOST_KEPT:], self.text]
        self._future.clear()
        self._become(text)

    def keep(self) -> None:
        """See that it lies in its file. Errors are those of `edit`."""
        if self._on_disk is None:
            self._write(self.text)

    def undo(self) -> None:
        """Go back by one change, if there is one. Errors are those of `edit`."""
        if self._past:
            text = self._past[-1]
            self._write(text)
            self._past.pop()
            self._future.append(self.text)
            self._become(text)

    def redo(self) -> None:
        """Make the change again that was undone last. Errors are those of `edit`."""
        if self._future:
            text = self._future[-1]
            self._write(text)
            self._future.pop()
            self._past.append(self.text)
            self._become(text)

    def look_again(self) -> bool:
        """Take what was written into the file by another program; whether there was any.

        Raises:
            InputError: the file cannot be read.
        """
        if self._on_disk is None or not self.path.exists():
            return False
        there = _text_of(self.path)
        if there == self._on_disk:
            return False
        self._past.append(self.text)
        self._future.clear()
        self._on_disk = there
        self._become(there)
        return True

    def _become(self, text: str) -> None:
        self.text = text
        self.version += 1
        if self._memory is not None:
            self._memory.keep_history(text, self._past, self._future)

    def _write(self, text: str) -> None:
        if self._on_disk is None and self.path.exists():
            raise InputError(f"{self.path} was made meanwhile, and is left as it is")
        if (
            self._on_disk is not None
            and self.path.exists()
            and _text_of(self.path) != self._on_disk
        ):
            raise InputError(
                f"{self.path.name} was changed by another program; load the page again to go on "
                "from there"
            )
        write_whole(self.path, text.encode())
        self._on_disk = text


def _text_of(path: Path) -> str:
    return recipe_file_text(path, source=path.name)

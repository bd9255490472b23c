"""Files that somebody has changed: whether one can still be used, and what its owner is told."""

from __future__ import annotations

from pathlib import Path

from inkline.errors import Action, InputError, Remedy
from inkline.folder.kept import KeptFolder
from inkline.output.pictures import picture_size
from inkline.press.product import Piece, Product
from inkline.progress import Note

_PICTURE_FORMS = frozenset({"png"})
"""Forms that are pictures, of which it can be said whether they are whole."""


def _picture_size(path: Path, canvas: tuple[int, int] | None = None) -> tuple[int, int] | None:
    """Width and height in px of the picture at `path`, None if it can't be read as one."""
    try:
        return picture_size(path, canvas=canvas)
    except InputError:
        return None


def kept_notes(piece: Piece, form: str, path: Path) -> list[Note]:
    """What to say of a file of `piece` at `path` that its owner has changed and that was kept."""
    if form not in _PICTURE_FORMS:
        return []
    size = _picture_size(path, piece.canvas)
    if size is None:
        return [unread_note(piece.name, piece.files[form], path)]
    wrong = piece.canvas is not None and size != piece.canvas
    return [_size_note(piece.name, size, piece.canvas)] if wrong and piece.canvas else []


def is_readable(path: Path, form: str) -> bool:
    """Whether the file at `path` can be used as one of this form, as far as that can be told."""
    return form not in _PICTURE_FORMS or _picture_size(path) is not None


def _size_note(name: str, size: tuple[int, int], canvas: tuple[int, int]) -> Note:
    """What to say of the retouched stamp `name` whose `size` is no longer that of its `canvas`."""
    return Note(
        f"{name}, which you retouched, is {size[0]} x {size[1]} px and its canvas {canvas[0]} x "
        f"{canvas[1]} px, so it no longer lines up with the others. It was kept",
        (
            Remedy(action=Action.SAVE_AT_CANVAS_SIZE),
            Remedy(action=Action.REDRAW, subject=name),
        ),
    )


def is_empty(path: Path) -> bool:
    """Whether nothing at all is in the file at `path`, so that nobody's work is lost with it."""
    return path.stat().st_size == 0


def empty_note(name: str, file: str) -> Note:
    """What to say of a piece whose `file` was empty and was replaced."""
    return Note(f"{file} was empty, so {name} was drawn anew.")


def unread_note(name: str, file: str, path: Path) -> Note:
    """What to say of a stamp or sheet whose picture `file`, at `path`, cannot be read."""
    return Note(
        f"{file} cannot be read as a picture; it may be half saved, so it was kept",
        (Remedy(action=Action.REDRAW, subject=name, effect="to replace it"),),
        is_failure=True,
        unread=path,
    )


def unread_earlier_note(name: str, path: Path) -> Note:
    """What to say of the stamp `name` whose picture at `path`, of the earlier edition, is damaged.

    Nothing of it could be taken over.
    """
    return Note(
        f"{path} of the earlier edition cannot be read as a picture, so {name} was drawn again "
        f"from its masters; if it held a retouch, put it right there and draw into a new folder.",
        unread=path,
    )


def folder_notes(folder: KeptFolder, product: Product) -> list[Note]:
    """What to say of a folder at the start of a run: what else it holds, and what was renamed."""
    notes = []
    if folder.foreign:
        notes.append(
            Note(
                f"{folder.path} also holds files that are no part of the {folder.kind.noun}, "
                f"such as {folder.foreign}; they stay untouched."
            )
        )
    if folder.n_renamed:
        number = folder.n_renamed
        pictures = "1 picture was" if number == 1 else f"{number} pictures were"
        way = product.way_to_names()
        notes.append(Note(f"{pictures} renamed by {way}." if way else f"{pictures} renamed."))
    return notes


def saved_meanwhile_note(name: str, file: str) -> Note:
    """What to say of a `file` that its owner saved while the run went on that was to replace it."""
    return Note(
        f"{file} was saved while this run went on, so it was kept",
        (Remedy(action=Action.REDRAW, subject=name, effect="to replace it"),),
    )


def aside_note(file: str, aside: str) -> Note:
    """What to say of a `file` that its owner had changed and that was replaced."""
    return Note(f"{file} as you had it lies in {aside} now.")


def again_note(name: str) -> Note:
    """What to say of a retouched stamp that is asked for again."""
    return Note(
        f"{name} was not drawn again because you retouched it",
        (Remedy(action=Action.REDRAW, subject=name, effect="to draw it without your retouch"),),
    )


def same_note(product: Product, name: str) -> Note:
    """What to say of a stamp that was to be drawn anew and came out as it was."""
    other_lines = product.way_to_other_lines(name)
    same = f"{name} came out as it was, since one number always draws the same lines"
    return Note(f"{same}; for other lines {other_lines}." if other_lines else f"{same}.")

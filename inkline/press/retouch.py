"""Retouched pictures: whether one can still be used as a stamp, and the sentences that tell its owner."""

from __future__ import annotations

from pathlib import Path

from inkline.errors import InputError
from inkline.output.pictures import read_grey


def picture_size(path: Path) -> tuple[int, int] | None:
    """Width and height in px of the picture at `path`, or None if it is empty, damaged or no picture at all."""
    try:
        height, width = read_grey(path).shape
    except InputError:
        return None
    return width, height


def size_notes(name: str, size: tuple[int, int], canvas: tuple[int, int]) -> list[str]:
    """What to say of the retouched stamp `name` if its `size` is no longer that of its `canvas`."""
    if size == canvas:
        return []
    sentence = (
        f"{name}, which you retouched, is {size[0]} x {size[1]} px and its canvas {canvas[0]} x "
        f"{canvas[1]} px, so it no longer "
        f"lines up with the others. It was kept; save it at the size of the canvas, or --redraw "
        f"{name} draws it."
    )
    return [sentence]


def unread_note(name: str, file: str) -> str:
    """What to say of a stamp whose picture `file` could not be read and was replaced."""
    return (
        f"{file} was empty or damaged and could not be read as a picture, so {name} was drawn anew."
    )


def again_note(name: str) -> str:
    """What to say of a retouched stamp that the recipe asks for again."""
    return f"{name} was not drawn again because you retouched it; --redraw {name} draws it, without your retouch."

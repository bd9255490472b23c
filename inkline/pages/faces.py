"""Which letters a page is lettered in: families of our own, and which face can write a text."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from inkline.lettering.face import Face
from inkline.lettering.families import family_path
from inkline.lettering.family import StrokeFamily, open_family

USUAL_FAMILY = "scullery"
"""Letters everything that inkline itself says, where the kit's own family can't."""


def first_with(text: str, faces: Sequence[Face]) -> Face | None:
    """The first of `faces` that has every letter of `text`."""
    return next((face for face in faces if has_all_letters(face, text)), None)


def has_all_letters(face: Face, text: str) -> bool:
    """Whether a face has every letter of `text`; it needs none for a space."""
    return all(letter == " " or face.has(letter) for letter in text)


@lru_cache(maxsize=8)
def open_own_family(name: str) -> StrokeFamily:
    """A family that comes with inkline, opened once.

    Raises:
        FamilyError: there is none of that name.
    """
    return open_family(family_path(name))


def usual_family() -> StrokeFamily:
    """The family of everything that inkline itself says."""
    return open_own_family(USUAL_FAMILY)

"""How far a face's letters may take another form each time they are drawn.

A stroke family says so itself, in its lib; a traced font, and a family that says nothing, have a
play that suits its pen. Contours have none.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from inkline.drawing import Play
from inkline.lettering.errors import FamilyError

_PLAY_KEY = "inkline.play"
_SHARES = {"waist": 0.2, "width": 0.2, "arms": 0.32, "turns": 0.24, "closing": 1.5}
"""The play of a face that says none, in stems. Chosen by eye, as much as a sure hand has."""
_MOST = 0.2
"""No play is larger, in em: letters would be other letters."""


def play_from_stem(stem_em: float) -> Play:
    """The play that suits a pen of this width, in em."""
    return _play({key: share * stem_em for key, share in _SHARES.items()})


def play_from_lib(lib: Mapping[str, Any], *, stem: float, units: float, folder: Path) -> Play:
    """The play that a family's lib says, in em; where it says nothing, what suits its pen.

    Args:
        lib: the lib of its folder.
        stem: its nominal stem in font units.
        units: font units in an em.
        folder: where it lies.

    Raises:
        FamilyError: it says what is no play.
    """
    said, path = lib.get(_PLAY_KEY, {}), folder / "lib.plist"
    known = {key: share * stem / units for key, share in _SHARES.items()}
    if not isinstance(said, Mapping) or not set(said) <= set(known):
        raise FamilyError(
            f"{path} must give {_PLAY_KEY} as a table of {', '.join(_SHARES)}, in font units, not "
            f"{said!r:.80}",
            path=str(path),
        )
    for key, value in said.items():
        is_number = isinstance(value, int | float) and not isinstance(value, bool)
        if not is_number or not 0 <= value <= _MOST * units:
            raise FamilyError(
                f"{path} must give {key} in {_PLAY_KEY} in font units, between 0 and "
                f"{_MOST * units:g}, not {value!r}",
                path=str(path),
            )
        known[key] = value / units
    return _play(known)


def _play(values: Mapping[str, float]) -> Play:
    """A play in em about the baseline."""
    return Play(**values, lines=(0.0,))

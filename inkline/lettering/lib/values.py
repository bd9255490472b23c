"""What the lib of a stroke family says of its pen and of how its letters stand."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any, TypeGuard

from inkline.lettering.broad_nib import BroadNib
from inkline.lettering.errors import FamilyError
from inkline.lettering.lib.stance import UPRIGHT, Stance

_NOMINAL_STEM_KEY = "inkline.nominalStem"
_NIB_KEY = "inkline.nib"
_BOUNCE_KEY = "inkline.bounce"
_MOST_BOUNCE_EM = 0.1
"""A letter that stood farther off its line would stand on another one."""
_STANCE_KEY = "inkline.stance"
_MOST_STANCE = {"lean": 10.0, "lift": 100.0, "width": 0.2}
"""The most of each; lift by the thousandth of an em. Farther, and letters run into each other."""
_ABOUT_CAPS = 0.36
"""The height about which letters lean, over that of capitals: half of most x-heights."""


def stem_from_lib(lib: Mapping[str, Any], *, units: float, path: Path) -> float:
    """The nominal stem, in font units.

    Args:
        lib: the family's.
        units: font units in an em.
        path: where the lib lies, for errors.

    Raises:
        FamilyError: it is missing, or no number between 0 and the em.
    """
    stem = lib.get(_NOMINAL_STEM_KEY)
    if not _is_number(stem) or not 0 < stem < units:
        raise FamilyError(
            f"{path} must give {_NOMINAL_STEM_KEY}, the designed stem in font units, between 0 "
            f"and the em, not {stem!r}",
            path=str(path),
        )
    return float(stem)


def bounce_from_lib(lib: Mapping[str, Any], *, units: float, path: Path) -> float:
    """How far letters are drawn off their lines, in font units; 0 where nothing is said.

    As in `stem_from_lib`.
    """
    bounce, most = lib.get(_BOUNCE_KEY, 0), _MOST_BOUNCE_EM * units
    if not _is_number(bounce) or not 0 <= bounce <= most:
        raise FamilyError(
            f"{path} must give {_BOUNCE_KEY}, how far letters stand off their lines, in font "
            f"units between 0 and {most:g}, not {bounce!r}",
            path=str(path),
        )
    return float(bounce)


def stance_from_lib(
    lib: Mapping[str, Any], *, units: float, cap_height_em: float, path: Path
) -> Stance:
    """How far letters stand out of line in words; where nothing is said, they don't.

    As in `stem_from_lib`; capitals are `cap_height_em` high.
    """
    said = lib.get(_STANCE_KEY, {})
    if not isinstance(said, Mapping) or not set(said) <= set(_MOST_STANCE):
        raise FamilyError(
            f"{path} must give {_STANCE_KEY} as a table of {', '.join(_MOST_STANCE)}, not "
            f"{said!r:.80}",
            path=str(path),
        )
    if not said:
        return UPRIGHT
    most = {**_MOST_STANCE, "lift": _MOST_STANCE["lift"] * units / 1000.0}
    for key, value in said.items():
        if not _is_number(value) or not 0 <= value <= most[key]:
            raise FamilyError(
                f"{path} must give {key} in {_STANCE_KEY} as a number between 0 and "
                f"{most[key]:g}, not {value!r}",
                path=str(path),
            )
    return Stance(
        lean_deg=float(said.get("lean", 0.0)),
        lift_em=said.get("lift", 0.0) / units,
        width=float(said.get("width", 0.0)),
        about_em=_ABOUT_CAPS * cap_height_em,
    )


def nib_from_lib(lib: Mapping[str, Any], *, path: Path) -> BroadNib | None:
    """The broad nib, or None if it gives none.

    As in `stem_from_lib`.
    """
    given = lib.get(_NIB_KEY)
    if given is None:
        return None
    angle, thin = (
        (given.get(key) for key in ("angle", "thin")) if isinstance(given, dict) else (None, None)
    )
    if not _is_number(angle) or not _is_number(thin) or not 0.0 < thin <= 1.0:
        raise FamilyError(
            f"{path} must give {_NIB_KEY} as an angle in degrees and thin, the share of a stem "
            f"that is left along the edge, above 0 and up to 1, not {given!r}",
            path=str(path),
        )
    return BroadNib(angle_deg=float(angle), thin=float(thin))


def _is_number(value: object) -> TypeGuard[float]:
    return isinstance(value, int | float) and not isinstance(value, bool)

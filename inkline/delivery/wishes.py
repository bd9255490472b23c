"""What is asked for where little is said: forms and look as the kit's recipe has them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from inkline.delivery.export import ExportRequest, refuse_unknown_forms
from inkline.delivery.stamps import folder_kit
from inkline.errors import InputError
from inkline.output.ground import ground_picture
from inkline.output.look import FileLook, Grain, Ground, Sheets, Words, colour_from_text
from inkline.output.profiles import Profile
from inkline.units import Unit, length_from_text

_PICTURES = frozenset({".png", ".jpg", ".jpeg", ".tif", ".tiff", ".webp", ".ora"})
"""Endings of what somebody may take for a ground; those that can't be read are told."""
_FILES = "files"
"""The key at the top of a kit's manifest under which its recipe's wishes stand."""


def export_request(
    kit: Path,
    *,
    forms: tuple[str, ...] = (),
    only: tuple[str, ...] = (),
    size: str | None = None,
    ppi: float | None = None,
    are_all_meant: bool = True,
    **wishes: Any,
) -> ExportRequest:
    """What is asked for of the kit in a folder.

    Args:
        kit: its folder.
        forms: which forms; those of its recipe if none, or all.
        only: names or patterns of stamps.
        size: how wide formats are to be, such as "1250px".
        ppi: pixels per inch.
        are_all_meant: whether no forms means those of the recipe, or all; else it means none.
        wishes: ground, ink, bits, profile, grain, sheets and bleed; None for what the recipe says.

    Raises:
        InputError: there is no kit, or something that is asked for can't be.
        WorkError: the kit can't be read.
    """
    refuse_unknown_forms(forms)
    opened = folder_kit(kit)
    about = opened.about
    said = about.get(_FILES, {})
    said = said if isinstance(said, Mapping) else {}
    asked = {key: value for key, value in wishes.items() if value is not None}
    inks = _inks(asked.pop("ink", ()))
    if "" in inks and not opened.is_finished:
        asked["ink"] = inks.pop("")
    usual = (said.get("forms") or ()) if are_all_meant else ()
    try:
        look = _look({**said, **asked}, title=str(about.get("title", "")))
    except (TypeError, ValueError) as problem:
        raise InputError(
            f"{kit}: what its manifest says of files can't be used ({problem})"
        ) from problem
    return ExportRequest(
        kit=kit,
        forms=tuple(dict.fromkeys(forms or tuple(map(str, usual)))),
        only=only,
        look=look,
        size_px=None if size is None else _px(size),
        ppi=ppi,
        inks=tuple(inks.items()),
    )


def _look(values: Mapping[str, Any], *, title: str) -> FileLook:
    """The look that recipe and wishes give, with the kit's title.

    Raises:
        InputError: something in it can't be.
    """
    bleed = values.get("bleed")
    said = str(values.get("ground", Ground.CLEAR))
    paper = said.lower() if said.startswith("#") else ""
    picture = ground_picture(Path(said)) if _is_picture(said) else None
    ground = Ground.CLEAR if paper or picture else _ground(said)
    ink = values.get("ink", "#000000") if ground is Ground.CLEAR or "ink" in values else "#000000"
    return FileLook(
        ground=ground,
        paper=paper,
        picture=picture,
        ink=str(ink).lower(),
        bits=int(values.get("bits", 8)),
        profile=Profile(values.get("profile", Profile.NONE)),
        grain=Grain(values.get("grain", Grain.OUTLINES)),
        sheets=Sheets(values.get("sheets", Sheets.PAGES)),
        bleed_mm=0.0 if bleed is None else length_from_text(str(bleed)).mm(),
        words=Words(
            title=title,
            author=str(values.get("author", "")),
            licence=str(values.get("licence", "")),
        ),
    )


def _is_picture(said: str) -> bool:
    """Whether a ground is that of a file, there or not."""
    return Path(said).suffix.lower() in _PICTURES or (
        said not in set(Ground) and not said.startswith("#") and Path(said).is_file()
    )


def _ground(said: str) -> Ground:
    """What lies under the ink.

    Raises:
        InputError: it is none of the grounds.
    """
    if said not in set(Ground):
        known = ", ".join(Ground)
        raise InputError(
            f'a ground is one of {known}, or of finished months a colour such as "#f6f1e7" or a '
            f"picture (PNG, JPEG or TIFF), not {said[:40]!r}",
            setting="ground",
        )
    return Ground(said)


def _inks(said: Sequence[str]) -> dict[str, str]:
    """Colours by the layers that they are said of, "" for all."""
    found: dict[str, str] = {}
    for one in said:
        name, _, colour = one.rpartition("=")
        found[name.strip()] = colour_from_text(colour)
    return found


def _px(size: str) -> float:
    length = length_from_text(size)
    if length.unit is not Unit.PX:
        raise InputError(
            f'a size in px is required, such as "1250px", not {size!r}', setting="size"
        )
    return length.value

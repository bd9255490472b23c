"""What the owner of a kit drew in a cell, put in every place that shows the same drawing."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fnmatch import fnmatchcase
from pathlib import Path

from inkline.errors import InputError
from inkline.folder.strangers import holds_product
from inkline.folder.view import folder_view
from inkline.kit.pieces import StampPiece
from inkline.kit.product import Kit
from inkline.press.patches import Patch, patches_in
from inkline.press.stamp_form import STAMP_FORM
from inkline.progress import Note

_MOST_NAMES = 6
"""Names of stamps that a note gives before it only counts them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Patching:
    """What is drawn in a folder by its owner's own pictures.

    Attributes:
        patches: what she drew, with what it stands for.
        spread: the names of those that are put in their places just now.
        undone: the names of those that are no more.
        redraw: what else was asked to be drawn anew.
    """

    patches: tuple[Patch, ...] = ()
    spread: tuple[str, ...] = ()
    undone: tuple[str, ...] = ()
    redraw: tuple[str, ...] = ()


def patching_of(
    folder: Path, *, since: Path | None, spread: Sequence[str], redraw: Sequence[str]
) -> Patching:
    """What of its owner's ink goes into the places of other drawings in `folder`.

    Args:
        folder: of the kit.
        since: of an earlier edition, whose patches are taken over where `folder` has none.
        spread: names of what she drew anew, such as `tall/dates-3/17`.
        redraw: names or patterns; a patch by that name, or cut from that stamp, is given up.

    Raises:
        InputError: something that is to be spread isn't there or can't be used, or the file of the
            patches so far is damaged.
    """
    known = patches_in(folder) or (patches_in(since) if since is not None else ())
    undone = [one for one in known if any(_means(pattern, one) for pattern in redraw)]
    left = [one for one in known if one not in undone and one.name not in spread]
    names = {one.name for one in known}
    further = tuple(pattern for pattern in redraw if not _is_part(pattern, names))
    new: list[Patch] = []
    if spread:
        if not holds_product(folder):
            raise InputError(
                f"{folder} holds no kit yet; draw it and retouch a stamp first", setting="spread"
            )
        from inkline.press.cutting import patch_of  # noqa: PLC0415 - slow to import, seldom wanted

        view = folder_view(folder, form=STAMP_FORM)
        new = [patch_of(view, name) for name in dict.fromkeys(spread)]
    return Patching(
        patches=(*left, *new),
        spread=tuple(patch.name for patch in new),
        undone=tuple(one.name for one in undone),
        redraw=further,
    )


def patching_from_kit(kit: Path) -> Patching:
    """What of the ink of the owner of `kit` goes into finished months: all that she retouched.

    Raises:
        InputError: there is no kit, or its manifest or its patches can't be used.
    """
    if not holds_product(kit):
        raise InputError(f"{kit} is no folder of a kit", setting="kit folder")
    from inkline.press.cutting import patches_of_retouched  # noqa: PLC0415 - as above

    view = folder_view(kit, form=STAMP_FORM)
    own = patches_of_retouched(view)
    names = {one.name for one in own}
    patches = (*(one for one in patches_in(kit) if one.name not in names), *own)
    return Patching(patches=patches, spread=tuple(one.name for one in patches))


def notes_on_patches(kit: Kit, patching: Patching) -> tuple[Note, ...]:
    """What is to be said of them: where each that is new stands now, and which fit nothing."""
    if not patching.patches and not patching.undone:
        return ()
    return tuple(_notes(kit, patching))


def _notes(kit: Kit, patching: Patching) -> Iterator[Note]:
    shown = {
        name: set(piece.patch_keys())
        for name, piece in kit.pieces.items()
        if isinstance(piece, StampPiece)
    }
    for patch in patching.patches:
        own = {master.key for master in patch.masters.values()}
        places = [name for name, keys in shown.items() if keys & own and name != patch.stamp]
        if patch.name in patching.spread and places:
            yield Note(
                f"{patch.name} as you drew it stands on {_listed(places)} too; what you retouched "
                f"there yourself stays as you have it."
            )
        elif patch.name in patching.spread and patch.stamp in kit.pieces:
            yield Note(
                f"No other stamp of the kit shows the drawing {patch.name}; finished months that "
                f"show it have it from this folder."
            )
        elif not places and patch.stamp not in kit.pieces:
            yield Note(f"Nothing here shows the drawing {patch.name}, which you retouched.")
        elif not any(keys & own for keys in shown.values()):
            yield Note(
                f"What you drew in place of {patch.name} was left out, since that is drawn "
                f"otherwise now."
            )
        if patch.name in patching.spread and patch.is_soft:
            yield Note(
                f"{patch.name} as you drew it is softer than outlines of ink can be; its places "
                f"have the edge at its middle grey."
            )
    for name in patching.undone:
        yield Note(f"{name} is drawn as it was before you spread it.")


def _means(pattern: str, patch: Patch) -> bool:
    """Whether something that is to be drawn anew is a patch, or the stamp that it was cut from."""
    return fnmatchcase(patch.name, pattern) or fnmatchcase(patch.stamp, pattern)


def _is_part(pattern: str, names: Iterable[str]) -> bool:
    return any(fnmatchcase(name, pattern) for name in names)


def _listed(names: Sequence[str]) -> str:
    if len(names) > _MOST_NAMES:
        return f"{', '.join(names[:_MOST_NAMES])} and {len(names) - _MOST_NAMES} others"
    return " and ".join([", ".join(names[:-1]), names[-1]] if len(names) > 1 else names)

"""Patches: what somebody drew into one cell of a stamp, kept as the master of the marks there.

Whatever shows those marks shows her ink then. A folder's patches lie in one file among its masters,
by the keys of the marks in whose place they are; a mark that is to be drawn otherwise has another
key, and its patch is left out.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np

from inkline.errors import InputError
from inkline.folder.kept import KeptFolder
from inkline.folder.reading import bytes_of_plain_file
from inkline.folder.strangers import MASTERS_FOLDER
from inkline.ink.master import Master, arrays_from_masters, masters_from_arrays
from inkline.press.masters import LARGEST_BYTES, arrays_from_npz, npz_bytes

PATCHES_FILE = f"{MASTERS_FOLDER}/patches.npz"


@dataclass(frozen=True, slots=True, kw_only=True)
class Patch:
    """What somebody drew into one cell.

    Attributes:
        name: of what stood there, such as `tall/dates-3/17`.
        stamp: where she drew it.
        masters: what it gives each mark that stood there, by the mark's key.
        is_soft: whether her picture is softer than outlines of ink can be.
    """

    name: str
    stamp: str
    masters: Mapping[str, Master]
    is_soft: bool = False


def masters_of_patches(patches: Iterable[Patch]) -> dict[str, Master]:
    """The masters of all patches by the keys of the marks that have them."""
    return {key: master for patch in patches for key, master in patch.masters.items()}


def _patches_bytes(patches: Iterable[Patch]) -> bytes:
    """A file of `patches`, in their order."""
    kept = tuple(patches)
    masters = [master for patch in kept for master in patch.masters.values()]
    arrays = arrays_from_masters(masters)
    arrays["marks"] = np.array([key for patch in kept for key in patch.masters], dtype="S32")
    arrays["counts"] = np.array([len(patch.masters) for patch in kept], dtype=np.int32)
    arrays["names"] = np.array([patch.name.encode() for patch in kept], dtype="S")
    arrays["stamps"] = np.array([patch.stamp.encode() for patch in kept], dtype="S")
    return npz_bytes(arrays)


def keep_patches(folder: KeptFolder, patches: Collection[Patch]) -> None:
    """Put what its owner drew in place of marks where the next run in `folder` finds it.

    Raises:
        WorkError: it can't be written.
    """
    if patches or folder.sum_of(PATCHES_FILE) is not None:
        folder.save_masters(PATCHES_FILE, _patches_bytes(patches))


def patches_in(folder: Path) -> tuple[Patch, ...]:
    """The patches of a folder, none where it has no file of them.

    Raises:
        InputError: the file is damaged.
    """
    path = folder / PATCHES_FILE
    if not path.exists():
        return ()
    try:
        arrays = arrays_from_npz(bytes_of_plain_file(path, most=LARGEST_BYTES), where=str(path))
        return tuple(_patches_from(arrays))
    except (OSError, LookupError, TypeError, ValueError) as problem:
        raise InputError(
            f"{path} is damaged, or is no file of what you have spread; remove it, and spread that "
            f"once more"
        ) from problem


def _patches_from(arrays: Mapping[str, Any]) -> Iterator[Patch]:
    masters = masters_from_arrays(arrays)
    pairs = zip(arrays["marks"], arrays["keys"], strict=True)
    for name, stamp, count in zip(arrays["names"], arrays["stamps"], arrays["counts"], strict=True):
        own = [next(pairs) for _ in range(int(count))]
        yield Patch(
            name=name.decode(),
            stamp=stamp.decode(),
            masters={mark.decode(): masters[key.decode()] for mark, key in own},
        )

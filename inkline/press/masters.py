"""Masters as files: named arrays in the NPZ form that numpy documents.

The same arrays give the same bytes.
"""

from __future__ import annotations

import io
import math
import zipfile
import zlib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from inkline.errors import InputError
from inkline.folder.reading import bytes_of_plain_file
from inkline.ink.master import Master, arrays_from_masters, masters_from_arrays
from inkline.output.zip import zip_bytes
from inkline.progress import Note

LARGEST_BYTES = 128_000_000
"""Of a file of masters; those of a set of a thousand texts have a third of that."""
_HEADERS = {
    (1, 0): np.lib.format.read_array_header_1_0,
    (2, 0): np.lib.format.read_array_header_2_0,
}
"""What reads the shape of an array in the versions of the form NPY that numpy documents."""
_DAMAGE = (
    ValueError,
    OSError,
    EOFError,
    KeyError,
    TypeError,
    RuntimeError,
    SyntaxError,
    zipfile.BadZipFile,
    zlib.error,
)
"""What reading a file that was cut short, changed or put there by mistake can raise."""


def npz_bytes(arrays: Mapping[str, NDArray[np.generic]]) -> bytes:
    """An NPZ file of `arrays`, in their order.

    It is not packed: drawn curves shrink by a tenth only, for ten times the time.
    """
    return zip_bytes((f"{name}.npy", _npy_bytes(array)) for name, array in arrays.items())


def _npy_bytes(array: NDArray[np.generic]) -> bytes:
    member = io.BytesIO()
    np.lib.format.write_array(member, np.asanyarray(array), allow_pickle=False)
    return member.getvalue()


def arrays_from_npz(data: bytes, *, where: str) -> dict[str, NDArray[np.generic]]:
    """The arrays of an NPZ file, which is called `where` in errors. Nothing in it is ever run.

    Raises:
        InputError: it isn't such a file or it is damaged.
    """
    try:
        _refuse_packed(data)
        with np.load(io.BytesIO(data), allow_pickle=False) as file:
            return {name: file[name] for name in file.files}
    except (
        _DAMAGE
    ) as problem:  # the words of numpy and zipfile are for programmers; the cause stays attached
        raise InputError(f"{where} is damaged, or is no file of masters") from problem


def _refuse_packed(data: bytes) -> None:
    """Refuse a file whose arrays take more room than the file, or than they say.

    Raises:
        ValueError: it is none that `npz_bytes` gives.
    """
    with zipfile.ZipFile(io.BytesIO(data)) as file:
        members = file.infolist()
        if sum(member.file_size for member in members) > len(data):
            raise ValueError("it is packed")
        for member in members:
            with file.open(member) as array:
                read_header = _HEADERS.get(np.lib.format.read_magic(array))
                if read_header is None:
                    raise ValueError("an array is of another version")
                shape, _, kind = read_header(array)
                if kind.hasobject or math.prod(shape) * kind.itemsize > member.file_size:
                    raise ValueError("an array is larger than its file")


def masters_bytes(masters: Iterable[Master]) -> bytes:
    """A file of `masters`, in their order."""
    return npz_bytes(arrays_from_masters(tuple(masters)))


def masters_at(path: Path | None) -> tuple[dict[str, Master], tuple[Note, ...]]:
    """The masters in the file at `path` by their keys, and a note if they could not be used.

    None where there is no file.
    """
    if path is None or not path.exists():
        return {}, ()
    try:
        data = bytes_of_plain_file(path, most=LARGEST_BYTES)
        arrays = arrays_from_npz(data, where=path.name)
        return dict(masters_from_arrays(arrays)), ()
    except (InputError, OSError, LookupError, TypeError, ValueError, AttributeError):
        return {}, (damaged_note(path),)


def damaged_note(path: Path) -> Note:
    """What to say of a file of masters that is none, or not as it was drawn."""
    return Note(
        f"The masters in {path} could not be used, since the file is damaged; they were drawn "
        f"again."
    )


@dataclass(kw_only=True)
class SharedMasters:
    """The one file of masters that all pieces of a product share, if they do.

    Attributes:
        file: where it lies, from the folder; "" if each piece has a file of its own.
        earlier: what it held before the run.
        now: what it is to hold.
        notes: what the user should know of it.
    """

    file: str
    earlier: Mapping[str, Master] = field(default_factory=dict)
    now: dict[str, Master] = field(default_factory=dict)
    notes: tuple[Note, ...] = ()

    def take_over(self, keys: Iterable[str]) -> bool:
        """Whether all of `keys` are there already, which are then taken over.

        True where nothing is shared.
        """
        if not self.file:
            return True
        keys = tuple(keys)
        if not all(key in self.earlier for key in keys):
            return False
        self.now |= {key: self.earlier[key] for key in keys}
        return True

    def add(self, masters: Iterable[Master]) -> None:
        """Take `masters` in."""
        self.now |= {master.key: master for master in masters}

    def data(self) -> bytes:
        """The file, in the order of its keys."""
        return masters_bytes(self.now[key] for key in sorted(self.now))


def shared_masters(folder: Path, file: str) -> SharedMasters:
    """The file called `file` in `folder`, read; nothing if it is called ""."""
    if not file:
        return SharedMasters(file="")
    earlier, notes = masters_at(folder / file)
    return SharedMasters(file=file, earlier=earlier, notes=notes)

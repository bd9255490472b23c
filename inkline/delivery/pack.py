"""Packs: ZIP files with just what those who buy a kit need, the same bytes for the same kit."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path, PurePosixPath
from typing import Any

from inkline.delivery.export import ExportRequest
from inkline.delivery.pieces import FilePiece
from inkline.delivery.readme import letters_text, open_licence_text, readme_text
from inkline.delivery.stamps import FolderKit, folder_kit
from inkline.errors import Action, InputError, Remedy, WorkError
from inkline.folder.new_files import refuse_existing, require_suffix, write_new
from inkline.folder.reading import LARGEST_FILE_BYTES, bytes_of_plain_file
from inkline.press.product import Bench
from inkline.press.redrawn import redrawn_stamp
from inkline.progress import Listener, Note, Step, unheard
from inkline.proof.kit_proof import prove_kit

_NO_DATE = (1980, 1, 1, 0, 0, 0)
"""The earliest that a ZIP file can say; the time is nobody's business and would change the
bytes."""
_RIGHTS = 0o100644 << 16
"""A plain file that everybody may read; some systems unpack others so that nobody can."""
_PACKED = frozenset({".png", ".pdf", ".ora", ".tiff", ".jpg", ".jpeg", ".zip"})
"""Endings of files that packing makes no smaller."""
_FOR_BUYERS = frozenset({"guide", "changes"})
"""Sheets of a kit that its buyers need; the others are for its owner."""
_CALENDAR = "calendar"
_README, _LICENCE, _LETTERS, _OPEN_LICENCE = (
    "README.txt",
    "LICENCE.txt",
    "LETTERS.txt",
    "OFL-1.1.txt",
)
_MOST_NAMED = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Pack:
    """One ZIP file that was written.

    Attributes:
        file: where it lies.
        n_bytes: how large it is.
        n_files: how many files it holds.
        n_pictures: how many of them are stamps' own, in whatever form.
        notes: what the user should know.
    """

    file: Path
    n_bytes: int
    n_files: int
    n_pictures: int
    notes: tuple[Note, ...] = ()


def pack_kit(
    request: ExportRequest,
    file: Path,
    *,
    beside: Sequence[Path] = (),
    unproved: bool = False,
    listener: Listener = unheard,
) -> tuple[Pack, ...]:
    """Write a pack of the kit's own pictures into `file`, and one of each form beside it.

    A pack in the form "svg" of `fog.zip` is `fog-svg.zip`. Each holds the stamps, the guide, what
    has changed, files of the owner's own such as charts, a readme and the licences, in a folder
    that is called as the pack. Takes as long as proving the kit, 1.5 s for the default one.

    Args:
        request: the kit, and which forms in which look.
        file: the first pack; must end in .zip.
        beside: other files that each pack holds, by their names, and folders of them.
        unproved: whether to pack a kit without a look at what a proof finds.
        listener: told of every pack.

    Raises:
        InputError: a pack is there already, the kit or a file can't be used, or a proof finds
            stamps out of bounds; nothing is written.
        WorkError: a pack can't be written.
    """
    require_suffix(file, ".zip", what="a pack", setting="out")
    forms = request.forms
    files = [file, *(file.with_name(f"{file.stem}-{form}.zip") for form in forms)]
    refuse_existing(files)
    kit = folder_kit(request.kit)
    others = _others(beside)
    if not unproved:
        _refuse_out_of_bounds(request.kit)
    packs: list[Pack] = []
    for index, path in enumerate(files):
        form = "" if index == 0 else forms[index - 1]
        contents, notes = _pictures(kit) if not form else _files_of_form(request, form)
        packs.append(_write(kit, path, contents, others, form=form, notes=notes))
        if not form:
            packs = [replace(packs[0], notes=tuple(_licence_note(kit)))]
        listener(Step(name=path.name, done=index + 1, total=len(files)))
    return tuple(packs)


def _refuse_out_of_bounds(folder: Path) -> None:
    """Refuse a kit of which a proof finds something out of its bounds.

    Raises:
        InputError: it does.
    """
    names = list(dict.fromkeys(f.stamp for f in prove_kit(folder, drawer=redrawn_stamp).faults))
    if not names:
        return
    more = len(names) - _MOST_NAMED
    shown = ", ".join(names[:_MOST_NAMED]) + (f" and {more} more" if more > 0 else "")
    raise InputError(
        f"a proof of {folder} finds out of bounds: {shown}; nothing was packed",
        remedies=(
            Remedy(action=Action.PROVE, subject=str(folder), effect="to see what it is"),
            Remedy(action=Action.PACK_UNPROVED, effect="to pack it all the same"),
        ),
    )


def _licence_note(kit: FolderKit) -> Iterator[Note]:
    """What to say where the kit's recipe names no licence."""
    said = _wishes_of(kit)
    if not said.get("licence") and not said.get("licence_text"):
        yield Note(
            "The recipe names no licence, so the pack says none: write licence or licence_file "
            "under [files], build the kit again and pack it again"
        )


def _wishes_of(kit: FolderKit) -> Mapping[str, Any]:
    """What the recipe says of files for others."""
    said = kit.about.get("files")
    return said if isinstance(said, Mapping) else {}


def _others(files: Iterable[Path]) -> dict[str, bytes]:
    """Files of the owner's own by their names.

    Raises:
        InputError: one can't be read, or two have one name.
    """
    found: dict[str, bytes] = {}
    for name, file in _named_files(files):
        if name in found or name in {_README, _LICENCE, _LETTERS, _OPEN_LICENCE}:
            raise InputError(f"a pack holds one file called {name}", setting="with")
        try:
            found[name] = bytes_of_plain_file(file, most=LARGEST_FILE_BYTES)
        except OSError as problem:
            raise InputError(
                f"{file} cannot be read: {problem.strerror or problem}", setting="with"
            ) from problem
    return found


def _named_files(files: Iterable[Path]) -> Iterator[tuple[str, Path]]:
    """Files by their names; those of a folder by its name too, none that is hidden."""
    for file in files:
        if not file.is_dir():
            yield file.name, file
            continue
        own = (one for one in sorted(file.iterdir()) if one.is_file())
        yield from ((f"{file.resolve().name}/{one.name}", one) for one in own if one.name[0] != ".")


def _pictures(kit: FolderKit) -> tuple[dict[str, bytes], list[Note]]:
    """The kit's own pictures, retouches and all."""
    return {stamp.file: _read(kit.folder / stamp.file) for stamp in kit.stamps.values()}, []


def _files_of_form(request: ExportRequest, form: str) -> tuple[dict[str, bytes], list[Note]]:
    """The kit's stamps in a form, without the folder that is called as that."""
    product = request.open()
    names = product.selection((form,), partial=False).stamps
    found: dict[str, bytes] = {}
    notes = list[Note]()
    for name in names:
        piece = product.pieces[name]
        if isinstance(piece, FilePiece):
            made = piece.make((form,), Bench(folder=Path()))
            notes += made.notes
            found |= {
                str(PurePosixPath(*PurePosixPath(piece.files[own]).parts[1:])): data
                for own, data in made.files.items()
            }
    return found, notes


def _papers(kit: FolderKit) -> dict[str, bytes]:
    """The sheets of the kit that its buyers need."""
    wanted: dict[str, bytes] = {}
    for entry in kit.view.listed_entries():
        last = entry.name.rpartition("/")[2]
        if entry.name in _FOR_BUYERS or (kit.is_finished and last == _CALENDAR):
            wanted |= {one.file: _read(kit.folder / one.file) for one in entry.files}
    return wanted


def _write(
    kit: FolderKit,
    file: Path,
    pictures: Mapping[str, bytes],
    others: Mapping[str, bytes],
    *,
    form: str,
    notes: Sequence[Note],
) -> Pack:
    """Write one pack.

    Raises:
        InputError: it is there already.
        WorkError: it can't be written.
    """
    said = _wishes_of(kit)
    texts = {_LICENCE: str(said.get("licence_text", "")), _LETTERS: letters_text(kit.about)}
    texts[_OPEN_LICENCE] = open_licence_text(kit.about)
    contents = dict(sorted(pictures.items())) | _papers(kit) | dict(sorted(others.items()))
    contents |= {name: text.encode() for name, text in texts.items() if text}
    readme = readme_text(kit, tuple(pictures), tuple(contents), form=form, said=said)
    data = _zip_bytes(file.stem, {_README: readme.encode(), **contents})
    write_new(file, data)
    return Pack(
        file=file,
        n_bytes=len(data),
        n_files=len(contents) + 1,
        n_pictures=len(pictures),
        notes=tuple(notes),
    )


def _zip_bytes(folder: str, contents: Mapping[str, bytes]) -> bytes:
    """An archive of `contents` in one folder, in their order, packed where that pays."""
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w") as file:
        for name, data in contents.items():
            member = zipfile.ZipInfo(f"{folder}/{name}", _NO_DATE)
            member.external_attr, member.create_system = _RIGHTS, 3
            packed = PurePosixPath(name).suffix.lower() in _PACKED
            member.compress_type = zipfile.ZIP_STORED if packed else zipfile.ZIP_DEFLATED
            file.writestr(member, data)
    return buffer.getvalue()


def _read(path: Path) -> bytes:
    """A file of the kit.

    Raises:
        WorkError: it can't be read.
    """
    try:
        return bytes_of_plain_file(path, most=LARGEST_FILE_BYTES)
    except OSError as problem:
        raise WorkError(f"{path} could not be read: {problem.strerror or problem}") from problem

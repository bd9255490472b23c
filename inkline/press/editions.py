"""A new edition: what it takes over from an earlier one, and what has changed for its buyers."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from inkline.errors import Action, InputError, Remedy, WorkError
from inkline.folder.disk import sha256
from inkline.folder.entry import Entry, FileEntry, FileSum, Section
from inkline.folder.kept import masters_file
from inkline.folder.manifest import MANIFEST_FILE
from inkline.folder.reading import LARGEST_FILE_BYTES, bytes_of_plain_file
from inkline.folder.state import State
from inkline.folder.strangers import HOLDS, holds_product
from inkline.folder.view import FolderView, folder_view
from inkline.press.choice import names_in
from inkline.press.inputs import sheet_digest
from inkline.press.product import Piece, Product
from inkline.press.report import Changes
from inkline.press.retouch import is_readable
from inkline.press.shop import inputs_of_drawn

CHANGES = "changes"
"""Name of the sheet, and of the manifest's key, that says what has changed."""
SINCE = "since"
EDITION = "edition"
_PICTURES = "pictures"
_SETTING = "since"
"""The setting that an earlier edition is given by."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Before:
    """The earlier edition that a product is compared with.

    Attributes:
        edition: what its owner called it, or "".
        pictures: the checksum of each stamp's main file by the stamp's name, as its buyers have it.
    """

    edition: str
    pictures: Mapping[str, str]

    def to_dict(self) -> dict[str, Any]:
        """As it stands in the manifest."""
        return {EDITION: self.edition, _PICTURES: dict(self.pictures)}


@dataclass(frozen=True, slots=True, kw_only=True)
class Inheritance:
    """What a piece of an earlier edition leaves to the new one.

    Attributes:
        masters: the file of its masters, or None if there is none.
        entry: for the journal, with the files that are taken over; None if none are.
        files: these, as they lie there, by their forms.
        unread: pictures that can't be read, so that what was there is not taken over.
    """

    masters: bytes | None
    entry: Entry | None
    files: Mapping[str, bytes]
    unread: tuple[Path, ...] = ()


def earlier_edition(
    path: Path, *, folder: Path, number: int | None, product: Product
) -> FolderView:
    """The folder `path`, looked at as the edition before `product`, which goes into `folder`.

    `number` is the drawing number that it must have, None if any will do.

    Raises:
        InputError: there is no such product in `path`, it is `folder` or holds it, or it has
            another number.
        WorkError: it cannot be read.
    """
    kind = product.kind
    if not holds_product(path):
        raise InputError(
            f"{path} is no {kind.noun}; the folder of an earlier one is required, which holds "
            f"{MANIFEST_FILE}",
            setting=_SETTING,
        )
    there, here = path.resolve(), folder.resolve()
    if here == there or there in here.parents:
        raise InputError(
            f"the new edition needs a folder of its own, outside of {path}", setting=_SETTING
        )
    view = folder_view(path, form=kind.form)
    holds = str(view.about.get(HOLDS, ""))
    if holds != kind.holds:
        raise InputError(
            f"{path} holds {kind.words_for(holds)}; the folder of an earlier {kind.noun} is "
            "required",
            setting=_SETTING,
        )
    if number is not None and view.number is not None and number != view.number:
        way = product.way_to_number(view.number, view.about)
        wish = () if way else (Remedy(action=Action.NUMBER, subject=str(view.number)),)
        raise InputError(
            f"{path} was drawn with number {view.number}, and this is {number}, so that nothing "
            f"would stay the same{way and f'; {way}'}",
            setting=_SETTING,
            remedies=(*wish, Remedy(action=Action.GO_ON, effect="to draw all of it anew")),
        )
    return view


def before_of(view: FolderView) -> Before:
    """The edition that a folder holds."""
    stamps = (one for one in view.listed_entries() if one.section is Section.STAMPS)
    pictures = {entry.name: view.sum_of(entry.files[0].file) for entry in stamps}
    there = {name: checksum for name, checksum in pictures.items() if checksum is not None}
    return Before(edition=str(view.about.get(EDITION, "")), pictures=there)


def before_in(about: Mapping[str, Any]) -> Before | None:
    """The earlier edition that a manifest names, None if it names none."""
    said = about.get(SINCE)
    if not isinstance(said, Mapping) or not isinstance(said.get(_PICTURES), Mapping):
        return None
    pictures = {str(name): str(checksum) for name, checksum in said[_PICTURES].items()}
    return Before(edition=str(said.get(EDITION, "")), pictures=pictures)


def changes_since(before: Before, now: Mapping[str, str], *, asked: Iterable[str]) -> Changes:
    """What differs between the pictures `before` and those `now`, both by their stamps' names.

    `asked` are the names of all that is asked for.
    """
    both = [name for name in now if name in before.pictures]
    kept = {name for name in both if now[name] == before.pictures[name]}
    still = {*asked, *now}
    return Changes(
        before=before.edition,
        added=tuple(name for name in now if name not in before.pictures),
        redrawn=tuple(name for name in both if name not in kept),
        same=tuple(name for name in both if name in kept),
        gone=tuple(name for name in before.pictures if name not in still),
    )


def changes_in(folder: FolderView, product: Product, before: Before) -> Changes:
    """What differs between the edition `before` and what `folder` holds of `product`."""
    stamps = names_in(product, Section.STAMPS)
    files = {name: next(iter(product.pieces[name].files.values())) for name in stamps}
    sums = {name: folder.sum_of(file) for name, file in files.items()}
    there = {name: checksum for name, checksum in sums.items() if checksum is not None}
    return changes_since(before, there, asked=stamps)


def changes_files(product: Product) -> dict[str, Mapping[str, str]]:
    """Where the text about changes lies, by its name and form, if there is one."""
    return {CHANGES: {"txt": product.changes_file}} if product.changes_file else {}


def changes_text_of(product: Product, changes: Changes) -> tuple[Entry, bytes]:
    """The entry and the file of the text that says what has changed."""
    data = product.changes_text(changes).encode()
    own = FileEntry(
        form="txt",
        file=product.changes_file,
        sha256=sha256(data),
        inputs=sheet_digest(1, data.decode()),
    )
    return Entry(name=CHANGES, section=Section.SHEETS, files=(own,)), data


def inheritance_of(view: FolderView, piece: Piece) -> Inheritance | None:
    """What an earlier edition leaves to `piece`; None if it has no such piece.

    Masters are always left. A file is too if it would be made alike, or if it was retouched and can
    still be read.

    Raises:
        WorkError: something cannot be read.
    """
    entries = view.known.get(piece.name, [])
    if not entries or entries[-1].section is not Section.STAMPS:
        return None
    masters = _masters_left(view, piece.name)
    files, taken, unread = dict[str, bytes](), dict[str, Entry](), list[Path]()
    for form in piece.files:
        own = next((one for entry in reversed(entries) if (one := entry.of_form(form))), None)
        data = None if own is None else _file_left(view, piece, form, own.file)
        if own is not None and data is None and _is_unread(view, piece, form, own.file):
            unread.append(view.path / own.file)
        entry = None if own is None else view.entry_of(piece.name, own.file)
        if data is not None and entry is not None:
            files[form], taken[form] = data, entry
    if not files:
        return Inheritance(masters=masters, entry=None, files={}, unread=tuple(unread))
    listed = [(one, form) for form, entry in taken.items() if (one := entry.of_form(form))]
    own_masters = (
        None if masters is None else FileSum(file=masters_file(piece.name), sha256=sha256(masters))
    )
    entry = replace(
        next(iter(taken.values())),
        files=tuple(replace(one, file=piece.files[form]) for one, form in listed),
        masters=own_masters,
    )
    return Inheritance(masters=masters, entry=entry, files=files, unread=tuple(unread))


def _file_left(view: FolderView, piece: Piece, form: str, file: str) -> bytes | None:
    """What lies in `file` of the earlier edition, if the new one takes that over."""
    state = view.state_of(piece.name, file, inputs_of_drawn(piece, form))
    retouched = state is State.RETOUCHED and is_readable(view.path / file, form)
    return _bytes_at(view.path / file) if retouched or state is State.UNCHANGED else None


def _is_unread(view: FolderView, piece: Piece, form: str, file: str) -> bool:
    """Whether something that nobody drew lies in `file`, and can't be read."""
    state = view.state_of(piece.name, file, inputs_of_drawn(piece, form))
    return state is State.RETOUCHED and not is_readable(view.path / file, form)


def _masters_left(view: FolderView, name: str) -> bytes | None:
    """The masters of `name`, None if there are none or if they are not as they were drawn."""
    file = masters_file(name)
    is_listed = any(one.masters and one.masters.file == file for one in view.known[name])
    if not is_listed or view.has_changed_masters(name, file):
        return None
    return _bytes_at(view.path / file)


def _bytes_at(path: Path) -> bytes | None:
    """What lies in the file at `path`, None if there is none."""
    try:
        return bytes_of_plain_file(path, most=LARGEST_FILE_BYTES)
    except FileNotFoundError:
        return None
    except OSError as problem:
        raise WorkError(f"{path} could not be read: {problem.strerror or problem}") from problem

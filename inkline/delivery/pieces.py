"""The files of an export: one of a stamp, or one of all stamps of a format."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import asdict, dataclass, replace
from pathlib import PurePosixPath
from typing import Any

from inkline.delivery.stamps import FolderKit, FolderStamp, back_to_front
from inkline.errors import InputError
from inkline.folder.view import FolderView
from inkline.output.forms import FORMS, Form
from inkline.output.look import FileLook, Ground, Sheets
from inkline.pages.light import mixed_colour
from inkline.press.inputs import sheet_digest
from inkline.press.product import Bench, Made, Piece
from inkline.progress import Note

_FILES_VERSION = 1
"""Raised when files are made in another way, so that they are made again."""
_TINT = 0.25
"""How much of the ink's colour blocks have in a file of layers; chosen by eye."""
_WORDS = "words/"
"""Begins the names of words used alone."""
_HEADED = "-head"
"""Ends the names of grids with a row for weekdays."""


@dataclass(frozen=True, eq=False, kw_only=True)
class FilePiece(Piece):
    """One file.

    Attributes:
        form: of the file.
        stamps: what it holds, back to front.
        look: how it looks.
        notes: what the user should know of it, whenever it is made.
    """

    form: Form
    stamps: tuple[FolderStamp, ...]
    look: FileLook
    notes: tuple[Note, ...] = ()

    def inputs(self, form: str, folder: FolderView, there: tuple[str, ...]) -> str:  # noqa: ARG002 - it needs no others
        """The digest of the pictures and masters that it is made from, and of its look."""
        return sheet_digest(
            _FILES_VERSION,
            self.form.name,
            asdict(self.look),
            [_facts_of(stamp) for stamp in self.stamps],
        )

    def make(self, forms: tuple[str, ...], bench: Bench) -> Made:  # noqa: ARG002 - it needs no others
        """The file; none of a retouched stamp in a form that only masters can give, and a note."""
        (own,) = self.files
        file = self.files[own]
        if self.form.needs_curves and all(stamp.outlines is None for stamp in self.stamps):
            return Made(files={}, notes=(_no_curves_note(self.stamps[0], file),))
        try:
            data = self.form.make(self.stamps, self.look)
        except InputError as problem:
            return Made(files={}, notes=(Note(f"{file} was not made: {problem}"),))
        resized = (note for stamp in self.stamps for note in _resized_notes(stamp, file))
        return Made(files={own: data}, notes=(*self.notes, *resized))

    def facts(self) -> dict[str, Any]:
        """The stamps that it holds."""
        return {"holds": [stamp.name for stamp in self.stamps]}


def _facts_of(stamp: FolderStamp) -> list[Any]:
    entry = stamp.entry
    masters = None if entry.masters is None else entry.masters.sha256
    ink = entry.drawn_with.get("ink")
    seen = [stamp.colour, stamp.is_visible, stamp.ppi, stamp.scale, list(stamp.canvas)]
    return [stamp.name, stamp.checksum, masters, ink, seen]


def _no_curves_note(stamp: FolderStamp, file: str) -> Note:
    why = (
        "you retouched it, and outlines come from what inkline drew"
        if stamp.is_retouched
        else "its masters are missing or damaged"
    )
    return Note(
        f"{file} was not made: {why}. Other forms hold {stamp.name} as its picture has it; an "
        f"older {file} is of before"
    )


def _resized_notes(stamp: FolderStamp, file: str) -> Iterator[Note]:
    """What to say of a picture that had to be taken to another size, since its ink can't be."""
    as_it_lies = stamp.scale == 1.0 and not stamp.is_retouched
    if as_it_lies or stamp.ink is not None:
        return
    size, canvas = stamp.own_size, stamp.canvas
    if size != canvas:
        yield Note(
            f"In {file}, {stamp.name} is its picture of {size[0]} x {size[1]} px taken to "
            f"{canvas[0]} x {canvas[1]} px, since it can't be drawn again from its masters"
        )


def file_pieces(kit: FolderKit, chosen: frozenset[str], look: FileLook) -> Iterator[FilePiece]:
    """All files that can be made of a kit: of each stamp, and of the chosen ones of each format.

    Of finished months each is one file: a flat picture, or layers.

    Args:
        kit: the kit.
        chosen: names of stamps; files of formats without any are left out.
        look: how they look.
    """
    if kit.is_finished and look.sheets is Sheets.PAGES:
        look = replace(look, sheets=Sheets.LAYERS)
    for form in FORMS.values():
        if form.holds_several or kit.is_finished:
            for name, stamps in _groups(kit, chosen).items():
                piece = _format_piece(form, name, stamps, look)
                if piece is not None:
                    yield piece
        else:
            for stamp in kit.stamps.values():
                yield FilePiece(
                    name=f"{form.name}/{stamp.name}",
                    files={form.name: _file_of(form, stamp.file)},
                    canvas=stamp.canvas,
                    cost=float(stamp.canvas[0] * stamp.canvas[1]),
                    form=form,
                    stamps=(stamp,),
                    look=look,
                )


def _file_of(form: Form, file: str) -> str:
    return str(PurePosixPath(form.name, file).with_suffix(f".{form.name}"))


def _groups(kit: FolderKit, chosen: frozenset[str]) -> dict[str, list[FolderStamp]]:
    """The chosen stamps by the folder that their names begin with, as they lie over each other."""
    own = {name: stamp for name, stamp in kit.stamps.items() if name in chosen}
    found: dict[str, list[FolderStamp]] = {}
    for stamp in own.values() if kit.is_finished else back_to_front(own):
        found.setdefault(stamp.name.split("/")[0], []).append(stamp)
    return (
        found
        if kit.is_finished or kit.is_artwork
        else {n: _with_visible_set(s) for n, s in found.items()}
    )


def _with_visible_set(stamps: Sequence[FolderStamp]) -> list[FolderStamp]:
    """Stamps of which one of each kind is seen at first, so that they make one month.

    The grid is one with a row for weekdays if there are any.
    """
    has_words = any(stamp.entry.facts["kind"] == "words" for stamp in stamps)
    first: dict[str, str] = {}
    for stamp in stamps:
        kind = str(stamp.entry.facts["kind"])
        headed = stamp.name.endswith(_HEADED)
        if (
            kind == "grid"
            and headed != has_words
            and any(
                other.name.endswith(_HEADED) == has_words
                for other in stamps
                if other.entry.facts["kind"] == "grid"
            )
        ):
            continue
        first.setdefault(kind, stamp.name)
    seen = set(first.values())
    return [replace(stamp, is_visible=stamp.name in seen) for stamp in stamps]


def _format_piece(
    form: Form, name: str, stamps: Sequence[FolderStamp], look: FileLook
) -> FilePiece | None:
    """The file of a format's stamps; None where none would be left."""
    layered = form.of_one_size or (form.name == "pdf" and look.sheets is Sheets.LAYERS)
    if form.of_one_size and stamps[0].name.startswith(_WORDS):
        return None  # words used alone are no calendar
    notes = list[Note]()
    if layered:
        alike = _of_one_canvas(stamps)
        if len(alike) < len(stamps) and not form.of_one_size:
            layered, look = False, replace(look, sheets=Sheets.PAGES)
        elif len(alike) < len(stamps):
            notes += _left_out_note(form, name, stamps, alike)
            stamps = alike
    stamps = [
        replace(stamp, colour=stamp.colour or _colour_of(stamp, look))
        if layered
        else replace(stamp, is_visible=True)
        for stamp in stamps
    ]
    retouched = [stamp.name for stamp in stamps if stamp.is_retouched]
    if retouched and form.name == "pdf":
        notes.append(
            Note(
                f"In {form.name}/{name}.pdf, pictures as you retouched them: {', '.join(retouched)}"
            )
        )
    return FilePiece(
        name=f"{form.name}/{name}",
        files={form.name: f"{form.name}/{name}.{form.name}"},
        cost=sum(float(s.canvas[0] * s.canvas[1]) for s in stamps),
        form=form,
        stamps=tuple(stamps),
        look=look,
        notes=tuple(notes),
    )


def _colour_of(stamp: FolderStamp, look: FileLook) -> str | None:
    """The colour of a layer: that of the ink, of blocks a tint of it, or they would hide dates."""
    if stamp.entry.facts["kind"] != "blocks":
        return None
    paper = "#000000" if look.ground is Ground.BLACK else "#ffffff"
    return mixed_colour(look.ink_on_ground, paper, share=_TINT)


def _of_one_canvas(stamps: Sequence[FolderStamp]) -> list[FolderStamp]:
    """Those on canvases of the size that most have."""
    ((usual, _),) = Counter(stamp.canvas for stamp in stamps).most_common(1)
    return [stamp for stamp in stamps if stamp.canvas == usual]


def _left_out_note(
    form: Form, name: str, stamps: Sequence[FolderStamp], alike: Sequence[FolderStamp]
) -> Iterable[Note]:
    kept = {stamp.name for stamp in alike}
    left = [stamp.name for stamp in stamps if stamp.name not in kept]
    shown = ", ".join(left[:3]) + (f" and {len(left) - 3} more" if len(left) > 3 else "")
    yield Note(
        f"{form.name}/{name}.{form.name} leaves out {shown}: layers lie on one canvas, and theirs "
        "are of other sizes"
    )

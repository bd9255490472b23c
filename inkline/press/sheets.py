"""Pieces that are made of others: which are to be made, once those are there."""

from __future__ import annotations

from collections.abc import Container, Iterator, Mapping
from typing import Any

from inkline.folder.entry import Section
from inkline.folder.state import State
from inkline.folder.view import FolderView
from inkline.press.choice import names_in
from inkline.press.product import Piece, Product
from inkline.press.retouch import empty_note, is_empty, is_readable, unread_note
from inkline.press.shop import Job
from inkline.progress import Note

_HERS = frozenset({State.RETOUCHED, State.UNKNOWN})


def sheet_jobs(
    product: Product,
    folder: FolderView,
    *,
    redraw: frozenset[str],
    drawing: frozenset[str],
    notes: list[Note],
) -> list[Job]:
    """The sheets to make once the stamps `drawing` are there; those that miss a stamp wait for it.

    Args:
        product: whose sheets.
        folder: where the stamps lie.
        redraw: names of sheets to make anew.
        drawing: names of stamps that are to be drawn first, and whose sheets are outdated by that.
        notes: what the user should know; added to.
    """
    jobs = []
    for name in names_in(product, Section.SHEETS):
        piece = product.pieces[name]
        there = tuple(
            one for one in piece.needs if one in drawing or _is_there(folder, product.pieces[one])
        )
        complete = bool(there) if piece.shows_some else there == piece.needs
        if not complete:
            continue
        inputs = {form: piece.inputs(form, folder, there) for form in piece.files}
        forms = tuple(piece.files)
        if name not in redraw:
            renewed = piece.shows_pictures and not drawing.isdisjoint(there)
            forms = tuple(_forms_to_make(piece, folder, inputs, renewed=renewed, notes=notes))
        if forms:
            before = {} if name in redraw else _facts_before(piece, folder)
            jobs.append(
                Job(
                    name=name,
                    folder=folder.path,
                    forms=forms,
                    there=there,
                    inputs=inputs,
                    before=before,
                )
            )
    return jobs


def _facts_before(piece: Piece, folder: FolderView) -> Mapping[str, Any]:
    """What the manifest says of a sheet's files, if all are there as it says; else nothing."""
    files = tuple(piece.files.values())
    entry = folder.entry_of(piece.name, files[0])
    if entry is None:
        return {}
    ours = ((file, entry.at(file)) for file in files)
    are_same = all(one is not None and folder.sum_of(file) == one.sha256 for file, one in ours)
    return entry.facts if are_same else {}


def is_changed_by_hand(folder: FolderView, name: str, files: Mapping[str, str]) -> bool:
    """Whether somebody has changed one of the `files` of the sheet `name`."""
    return any(folder.state_of(name, file, "") in _HERS for file in files.values())


def sheets_kept(
    folder: FolderView, sheets: Mapping[str, Mapping[str, str]], *, made: Container[str]
) -> tuple[str, ...]:
    """Those of `sheets`, given with their files by form, that were kept as somebody's own."""
    return tuple(
        name
        for name, files in sheets.items()
        if name not in made and is_changed_by_hand(folder, name, files)
    )


def _is_there(folder: FolderView, piece: Piece) -> bool:
    return folder.sum_of(next(iter(piece.files.values()))) is not None


def _forms_to_make(
    piece: Piece,
    folder: FolderView,
    inputs: Mapping[str, str],
    *,
    renewed: bool,
    notes: list[Note],
) -> Iterator[str]:
    """The forms of a sheet that are missing, outdated or unreadable; all if stamps are renewed."""
    for form, file in piece.files.items():
        state = folder.state_of(piece.name, file, inputs[form])
        if state in _HERS:
            if is_empty(folder.path / file):
                notes.append(empty_note(piece.name, file))
                yield form
            elif not is_readable(folder.path / file, form):
                notes.append(unread_note(piece.name, file, folder.path / file))
        elif renewed or state is not State.UNCHANGED:
            yield form

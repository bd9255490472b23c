"""Keeping one product from being drawn over another of the same kind and number by mistake."""

from __future__ import annotations

from pathlib import Path

from inkline.errors import Action, InputError, Remedy
from inkline.folder.entry import Section
from inkline.folder.strangers import HOLDS, Kind
from inkline.folder.view import FolderView, folder_view
from inkline.press.choice import names_in
from inkline.press.product import Difference, Product


def refuse_other_product(product: Product, folder: Path, *, number: int | None) -> None:
    """Refuse a folder that holds another product of this kind; values that were edited are no sign.

    A `number` other than the folder's is named as well, unless it is None.

    Raises:
        InputError: it does, or its manifest can't be used. What differs is named, and how many
            stamps would change.
        WorkError: something in it cannot be read.
    """
    if not folder.is_dir():
        return
    view = folder_view(folder, form=product.kind.form)
    if str(view.about.get(HOLDS, "")) != product.kind.holds:
        return  # which is refused in words of its own
    found = product.differences(view.about)
    if not found:
        return
    if None not in (number, view.number) and number != view.number:
        found += (Difference(what="number", before=view.number, now=number),)
    there = [name for name in names_in(product, Section.STAMPS) if name in view.known]
    changing = [name for name in there if _would_change(product, name, view)]
    stamps = [one for one in view.listed_entries() if one.section is Section.STAMPS]
    n_held = max(len(stamps), len(there))
    raise InputError(
        f"{folder} holds {_other(product.kind)}: {', '.join(map(_in_words, found))}; "
        f"{len(changing)} of its {n_held} picture{'' if n_held == 1 else 's'} would be drawn over",
        remedies=(
            Remedy(action=Action.OTHER_FOLDER),
            Remedy(action=Action.GO_ON, effect="if that is meant"),
        ),
    )


def _other(kind: Kind) -> str:
    """Something else of this kind."""
    return f"other {kind.noun}" if kind.holds else f"another {kind.noun}"


def _would_change(product: Product, name: str, view: FolderView) -> bool:
    """Whether a piece depends on something else than what it was last made from."""
    piece, entry = product.pieces[name], view.known[name][-1]
    made = {one.form: one.inputs for one in entry.files}
    return any(made[form] != piece.inputs(form, view, ()) for form in piece.files if form in made)


def _in_words(difference: Difference) -> str:
    before, now = (
        f'"{value}"' if isinstance(value, str) and " px" not in value else f"{value}"
        for value in (difference.before, difference.now)
    )
    verb = "are" if difference.what.endswith("s") else "is"
    return f"its {difference.what} {verb} {before}, not {now}"

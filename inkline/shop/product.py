"""A shop's pictures and its listing as a product: a folder of their own that is kept."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any

from inkline.delivery.stamps import refuse_within_kit
from inkline.errors import InputError
from inkline.folder.disk import DISK, Disk
from inkline.folder.kept import Foreign
from inkline.folder.manifest import SectionForm
from inkline.folder.strangers import Kind
from inkline.folder.view import FolderView
from inkline.output.painting import read_painting
from inkline.press.choice import Selection
from inkline.press.crew import number_of_workers
from inkline.press.inputs import sheet_digest
from inkline.press.product import (
    Bench,
    Difference,
    Made,
    Piece,
    Product,
    by_name,
    differences_between,
    package_versions,
)
from inkline.press.report import Report
from inkline.press.run import Task
from inkline.press.tasks import report_of
from inkline.progress import Listener, Note, unheard
from inkline.shop.artwork import Wish, on_artwork
from inkline.shop.close import close
from inkline.shop.colours import colours
from inkline.shop.contents import ShopKit, shop_kit
from inkline.shop.cover import cover
from inkline.shop.inside import inside
from inkline.shop.listing import listing_text

_SHOP_FORM = SectionForm(format="inkline shop", noun="folder of a shop's pictures")
_SHOP_VERSION = 1
"""Raised when pictures are set in another way, so that they are made again."""
_MAKERS = {"cover": cover, "inside": inside, "close-up": close, "colours": colours}
_ARTWORK, _LISTING = "on-artwork", "listing"


@dataclass(frozen=True, slots=True, kw_only=True)
class ShopRequest:
    """What is to be made.

    Attributes:
        kit: the folder of a kit.
        wish: a picture, and where the month lies on it; without one there is none on artwork.
        font: the file of the kit's letters, where they are a font's.
    """

    kit: Path
    wish: Wish | None = None
    font: Path | None = None

    def open(self) -> ShopProduct:
        """The pictures, opened.

        Raises:
            InputError: there is no such kit, or a font that can't be used.
            WorkError: the kit can't be read.
        """
        shop = shop_kit(self.kit, font=self.font)
        pieces = by_name(_pieces(shop, self.wish))
        return ShopProduct(
            pieces=pieces,
            kind=Kind(form=_SHOP_FORM, holds="shop"),
            shop=shop,
            has_artwork=self.wish is not None,
        )


@dataclass(frozen=True, eq=False, kw_only=True)
class ShopProduct(Product):
    """A shop's pictures.

    Attributes:
        shop: the kit.
        has_artwork: whether a month on artwork is among them.
    """

    shop: ShopKit
    has_artwork: bool

    def head(self) -> dict[str, Any]:
        """The kit's title, and the versions that shape the pictures."""
        return {"title": self.shop.title, "versions": package_versions("Pillow")}

    def differences(self, about: Mapping[str, Any]) -> tuple[Difference, ...]:
        """The title of the kit."""
        return differences_between({"title": about.get("title")}, {"title": self.shop.title})

    def notes(self) -> tuple[Note, ...]:
        """What was left out, and which letters were taken."""
        found = []
        if not self.shop.has_own_letters:
            found.append(
                Note(
                    f"The letters of {self.shop.title} are a font's or a family of yours, and "
                    "titles are in one of inkline's; name the font's file to have them in yours"
                )
            )
        if not self.has_artwork:
            found.append(Note("There is no month on artwork, since no painting was named"))
        return tuple(found)


@dataclass(frozen=True, eq=False, kw_only=True)
class _PicturePiece(Piece):
    """One picture, or the listing.

    Attributes:
        shop: the kit.
        what: which picture.
        size: width and height in px.
        wish: where a month lies on artwork.
    """

    shop: ShopKit
    what: str
    size: tuple[int, int] = (0, 0)
    wish: Wish | None = None

    def inputs(self, form: str, folder: FolderView, there: tuple[str, ...]) -> str:  # noqa: ARG002 - it needs no others
        """The digest of the kit's pictures, of its wishes, and of the artwork."""
        return sheet_digest(_SHOP_VERSION, self.what, self.size, *_facts(self.shop), self._artwork)

    @cached_property
    def _artwork(self) -> list[Any]:
        if self.wish is None:
            return []
        checksum = hashlib.sha256(self.wish.on.read_bytes()).hexdigest()
        return [checksum, self.wish.at, self.wish.across]

    def make(self, forms: tuple[str, ...], bench: Bench) -> Made:  # noqa: ARG002 - it needs no others
        """Its file; where something keeps it from being made none, and a note."""
        try:
            return Made(files=dict.fromkeys(forms, self._data()))
        except InputError as problem:
            note = Note(f"{next(iter(self.files.values()))} was not made: {problem}")
            return Made(files={}, notes=(note,))

    def _data(self) -> bytes:
        if self.what == _LISTING:
            return listing_text(self.shop).encode()
        if self.wish is not None:
            return on_artwork(self.shop, self.size, self.wish)
        return _MAKERS[self.what](self.shop, self.size)


def _facts(shop: ShopKit) -> Iterator[Any]:
    """What all pictures of a kit depend on, as plain values."""
    about = shop.kit.about
    yield [(name, stamp.checksum) for name, stamp in shop.kit.stamps.items()]
    yield [shop.title, shop.number, about.get("edition"), about.get("files")]
    yield [shop.wishes.palette, shop.phrases.language, sorted(shop.phrases.own.items())]
    yield [shop.style.to_dict(), shop.face.name]


def _pieces(shop: ShopKit, wish: Wish | None) -> Iterator[Piece]:
    for folder, size in _folders(shop.wishes.sizes).items():
        for what in _MAKERS:
            yield _piece(shop, folder, what, size)
        if wish is not None:
            yield _piece(shop, folder, _ARTWORK, size, wish)
    yield _PicturePiece(name=_LISTING, files={"txt": "listing.txt"}, shop=shop, what=_LISTING)


def _piece(
    shop: ShopKit, folder: str, what: str, size: tuple[int, int], wish: Wish | None = None
) -> Piece:
    return _PicturePiece(
        name=f"{folder}/{what}",
        files={"png": f"{folder}/{what}.png"},
        canvas=size,
        cost=float(size[0] * size[1]),
        shop=shop,
        what=what,
        size=size,
        wish=wish,
    )


def _folders(sizes: tuple[tuple[int, int], ...]) -> dict[str, tuple[int, int]]:
    """The folder of each size: by its proportions, and by itself where two have the same."""
    found: dict[str, tuple[int, int]] = {}
    for width, height in sizes:
        name = "square" if width == height else "wide" if width > height else "portrait"
        found[f"{name}-{width}x{height}" if name in found else name] = (width, height)
    return found


def make_shop(
    request: ShopRequest,
    folder: Path,
    *,
    workers: int | None = None,
    foreign: Foreign = Foreign.REFUSE,
    listener: Listener = unheard,
    disk: Disk = DISK,
) -> Report:
    """Make the pictures that sell a kit in `folder`; what was done.

    Those that are as they would be made are left alone, and so are those that were changed by hand.

    Args:
        request: of which kit, and on which picture.
        folder: where they go, a folder of each size; made if need be.
        workers: how many processes work; as many as there are cores if None.
        foreign: whether to refuse a folder that holds other files.
        listener: told of every picture.
        disk: through which files are changed.

    Raises:
        InputError: something that is asked for can't be used, or the folder; nothing was changed.
        WorkError: the folder can't be written; what was finished is kept.
    """
    n_workers = number_of_workers(workers)
    refuse_within_kit(request.kit, folder)
    if request.wish is not None:
        read_painting(request.wish.on)  # refused before anything is made
    product = request.open()
    task = Task(
        order=request,
        product=product,
        folder=folder,
        selection=Selection(partial=False, stamps=tuple(product.pieces)),
        foreign=foreign,
    )
    return report_of(task, workers=n_workers, listener=listener, disk=disk)

"""What can be drawn: an order that opens to a product, which is made of pieces.

A product knows its pieces by name, and each piece its files, what those depend on and how they are
made; the press knows the rest: which of them are there, which are somebody's own, how they get into
the folder, and who makes them where. Nothing here knows of calendars or of recipes.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from importlib.metadata import version
from pathlib import Path
from typing import Any, Protocol

from inkline.folder.entry import Section
from inkline.folder.strangers import Kind
from inkline.folder.view import FolderView
from inkline.ink.master import Master
from inkline.press.patches import Patch
from inkline.press.report import Changes
from inkline.progress import Note

_PACKAGES = (
    "inkline",
    "numpy",
    "scipy",
    "pyclipper",
    "fonttools",
    "uharfbuzz",
    "Babel",
    "opensimplex",
)
"""Whose versions may show in a picture; the manifest lists them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Bench:
    """What a piece has at hand while it is made.

    Attributes:
        folder: of the product, where the files of other pieces lie.
        there: names of those of the pieces it needs that are there, in order.
        kept: masters of what was drawn before, by their keys; marks whose keys are among them need
            not be drawn.
        before: what the manifest says of the piece's files that lie there, if they are as it says,
            for those who can make a new one of an old one; else nothing.
    """

    folder: Path
    there: tuple[str, ...] = ()
    kept: Mapping[str, Master] = field(default_factory=dict)
    before: Mapping[str, Any] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Made:
    """The files of one piece, made, and the masters of what is drawn on it.

    Attributes:
        files: by their forms; none where something keeps it from being made, and a note says what.
        masters: of what is drawn on it, whether kept or new.
        notes: what the user should know.
        facts: what the manifest says of these files besides, as JSON values.
    """

    files: Mapping[str, bytes]
    masters: tuple[Master, ...] = ()
    notes: tuple[Note, ...] = ()
    facts: Mapping[str, Any] = field(default_factory=dict)


@dataclass(frozen=True, eq=False, kw_only=True)
class Piece(ABC):
    """One thing of a product, under one name, in one file or several.

    Attributes:
        name: such as `tall/dates-3`; no two pieces of a product have the same.
        files: where its files lie, from the folder, by their forms such as "png"; the main one
            first.
        needs: names of the pieces that it shows, which need none themselves.
        shows_some: whether it is made as soon as one of those is there, rather than all.
        shows_pictures: whether it is made again when one of those has a new picture; else only when
            its own `inputs` differ.
        canvas: width and height in px that its pictures have to keep, None if any will do.
        lends: whether what is drawn on it also stands on others and can be lent to them.
        cost: a guess at how long it takes, by any measure that its fellows share.
    """

    name: str
    files: Mapping[str, str]
    needs: tuple[str, ...] = ()
    shows_some: bool = False
    shows_pictures: bool = True
    canvas: tuple[int, int] | None = None
    lends: bool = False
    cost: float = 1.0

    @abstractmethod
    def inputs(self, form: str, folder: FolderView, there: tuple[str, ...]) -> str:
        """A digest of all that its file of this form depends on.

        Args:
            form: of the file.
            folder: of the product. It makes no difference to a piece that needs no others.
            there: names of those of the pieces it needs that are there, or will be.
        """

    @abstractmethod
    def make(self, forms: tuple[str, ...], bench: Bench) -> Made:
        """Its files of these forms; of none of them, only its masters."""

    @property
    def section(self) -> Section:
        """Where the manifest lists it: a stamp is drawn, a sheet is made of stamps."""
        return Section.SHEETS if self.needs else Section.STAMPS

    @property
    def is_asked_again(self) -> bool:
        """Whether another drawing of it, or of something on it, is asked for."""
        return False

    def master_keys(self) -> tuple[str, ...]:
        """The keys of all masters of its marks; asked only where all pieces share one file."""
        return ()

    def facts(self) -> dict[str, Any]:
        """What the manifest says of it besides, as JSON values."""
        return {}

    def drawn_with(self) -> dict[str, Any]:
        """The drawing number and the style that it is drawn with, as JSON values."""
        return {}

    def layout(self) -> dict[str, Any]:
        """Where everything on it lies exactly, as JSON values."""
        return {}


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """Something by which one product is told from another.

    Attributes:
        what: such as "title".
        before: what the one in the folder has.
        now: what the one that is to go there has.
    """

    what: str
    before: object
    now: object


def differences_between(
    before: Mapping[str, object], now: Mapping[str, object]
) -> tuple[Difference, ...]:
    """Where two products differ in what both say, by the words for it; None and "" say nothing."""
    both = (what for what in now if before.get(what) not in {None, ""} and now[what] != "")
    return tuple(
        Difference(what=what, before=before[what], now=now[what])
        for what in both
        if before[what] != now[what]
    )


@dataclass(frozen=True, eq=False, kw_only=True)
class Product(ABC):
    """All that goes into one folder.

    Attributes:
        pieces: its pieces by their names, those that need others last.
        kind: what its folder holds.
        number: the drawing number that its folder must have, None if any will do.
        masters_file: where the masters of all pieces lie together; "" if each piece has a file of
            its own.
        changes_file: where the text about changes since an earlier edition lies; "" if there is
            none.
        wanted_modules: modules that are imported to make any of its pieces, those of other packages
            that come slowly among them; processes that make them have them from the start.
        quick_cost: what pieces may cost together for one process to make them sooner, or hardly
            later, than several could be started.
        patches: what its owner drew in place of marks, which its pieces know.
    """

    pieces: Mapping[str, Piece]
    kind: Kind
    number: int | None = None
    masters_file: str = ""
    changes_file: str = ""
    wanted_modules: tuple[str, ...] = ()
    quick_cost: float = 0.0
    patches: tuple[Patch, ...] = ()

    @abstractmethod
    def head(self) -> dict[str, Any]:
        """What stands at the top of the manifest, as JSON values."""

    def jobs_to_share(self, names: Sequence[str]) -> int:
        """How many jobs processes share where the pieces `names` are made; 1 if those are quick."""
        is_quick = sum(self.pieces[name].cost for name in names) <= self.quick_cost
        return 1 if is_quick else len(names)

    def changes_text(self, changes: Changes) -> str:  # noqa: ARG002 - for those that have one
        """What is new since an earlier edition, for those who have that."""
        return ""

    def differences(self, about: Mapping[str, Any]) -> tuple[Difference, ...]:  # noqa: ARG002
        """What shows that a manifest with `about` at its top is of another product than this."""
        return ()

    def notes(self) -> tuple[Note, ...]:
        """What the user should know of the product as a whole."""
        return ()

    def way_to_names(self) -> str:
        """What its files' names come from, such as "the recipe's pattern"; "" if from itself."""
        return ""

    def way_to_other_lines(self, name: str) -> str:  # noqa: ARG002 - for those that have one
        """How other lines are asked for of a piece, or of a thing on it; "" if they can't be."""
        return ""

    def way_to_number(self, number: int, about: Mapping[str, Any]) -> str:  # noqa: ARG002
        """How it is given the drawing number of an earlier edition with `about` at its top.

        "" if where it is asked for.
        """
        return ""


def by_name(pieces: Iterable[Piece]) -> dict[str, Piece]:
    """Pieces by their names, in order."""
    return {piece.name: piece for piece in pieces}


class Order(Protocol):
    """What a product is opened from: small, and such that another process can have it.

    Processes open it for themselves, so that no plans, faces or pictures travel.
    """

    def open(self) -> Product:
        """The product. It has been looked over when this is called: it is all right."""


def package_versions(*others: str) -> dict[str, str]:
    """The versions of inkline and of the packages that shape pictures, and of `others`."""
    return {package: version(package) for package in (*_PACKAGES, *others)}


def files_of(product: Product) -> dict[str, Mapping[str, str]]:
    """Where all files of a product lie, by the names and forms of its pieces."""
    return {name: piece.files for name, piece in product.pieces.items()}

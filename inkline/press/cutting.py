"""Patches cut from pictures that somebody has retouched: her ink in a cell, as outlines."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np

from inkline.artwork.picture.contours import ink_contours
from inkline.errors import Action, InputError, Remedy
from inkline.folder.entry import Entry, Section
from inkline.folder.reading import bytes_of_plain_file
from inkline.folder.view import FolderView
from inkline.geometry.arrays import Grey, Points
from inkline.geometry.boxes import Box
from inkline.ink.master import Master, points_on_grid
from inkline.output.pictures import has_dark_ground, read_grey
from inkline.press.masters import LARGEST_BYTES, arrays_from_npz
from inkline.press.patches import Patch, masters_of_patches, patches_in
from inkline.press.redrawn import redrawn_stamp
from inkline.raster.coverage import grey_from_contours

_ROUNDS, _STEP = 12, 0.7
"""How often outlines are mended by what their picture lacks of hers, and by how much of it. A
numeral of the default kit is 1.5/255 off without, in the mean over its ink, and 0.05 after six."""
_LEAST_OFF = 2.0
"""What greys may differ by for no reason, such as a file saved in other steps."""
_SOFT = 6.0
"""Outlines further off a picture than this, in the mean over its ink, don't hold what was drawn."""
_GUTTER = 0.05
"""How far ink of a block belongs to it, as a share of its width, where it stands alone."""


def patch_of(view: FolderView, name: str) -> Patch:
    """What the owner of a folder drew where `name` stood, such as `tall/dates-3/17`.

    Raises:
        InputError: there is no such thing, it has no cell, or its stamp is as it was drawn or can't
            be read as a picture of its canvas.
    """
    stamp = _Stamp.holding(view, name)
    if not stamp.is_hers(view):
        raise InputError(
            f"{stamp.name} is as it was drawn; retouch it first, then what stands in the cell of "
            f"{name} can be put in the others' place",
            setting="spread",
        )
    cell = stamp.cell_of(name)
    picture = stamp.picture(view.path)
    return stamp.patch(name, cell, picture)


@dataclass(frozen=True, slots=True, kw_only=True)
class PlaceOfThing:
    """Where something stands on a stamp's picture.

    Attributes:
        file: of the stamp, from the folder.
        canvas: its width and height in px.
        rows, columns: the pixels of the cell.
        is_hers: whether the owner of the folder has changed the picture.
    """

    file: str
    canvas: tuple[int, int]
    rows: slice
    columns: slice
    is_hers: bool


def place_of_thing(view: FolderView, name: str) -> PlaceOfThing:
    """Where what is called `name`, such as `tall/dates-3/17`, stands.

    Raises:
        InputError: there is no such thing, or it has no cell.
    """
    stamp = _Stamp.holding(view, name)
    rows, columns = _window(stamp.cell_of(name), stamp.canvas)
    return PlaceOfThing(
        file=stamp.entry.files[0].file,
        canvas=stamp.canvas,
        rows=rows,
        columns=columns,
        is_hers=stamp.is_hers(view),
    )


def patches_of_retouched(view: FolderView) -> tuple[Patch, ...]:
    """All cells of a folder's stamps in which its owner changed something, as patches.

    A stamp that can't be read, or whose masters are damaged, has none.
    """
    found: list[Patch] = []
    for name in view.known:
        stamp = _stamp_named(view, name)
        if stamp is None or not stamp.is_hers(view):
            continue
        drawn = redrawn_stamp(view.path, stamp.entry.to_dict())
        try:
            picture = stamp.picture(view.path)
        except InputError:
            continue
        if drawn is not None:
            changed = np.abs(picture.astype(np.int16) - drawn.picture) > _LEAST_OFF
            found += [
                stamp.patch(f"{name}/{label}", cell, picture)
                for label, cell in stamp.cells
                if changed[_window(cell, stamp.canvas)].any()
            ]
    return tuple(found)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Stamp:
    """A stamp as the manifest lists it.

    Attributes:
        entry: what it says.
        marks: full name, place and key of each of its marks.
    """

    entry: Entry
    marks: tuple[tuple[str, tuple[float, float], str], ...]

    @classmethod
    def holding(cls, view: FolderView, name: str) -> _Stamp:
        """The stamp on which `name` stands.

        Raises:
            InputError: there is none.
        """
        above = [known for known in view.known if name.startswith(f"{known}/")]
        stamp = _stamp_named(view, max(above, key=len)) if above else None
        if stamp is None:
            raise InputError(
                f"no stamp in {view.path} holds {name!r}; a stamp's name and what stands on it are "
                f"required, such as tall/dates-3/17",
                setting="spread",
            )
        return stamp

    @property
    def name(self) -> str:
        """Its name."""
        return self.entry.name

    @property
    def canvas(self) -> tuple[int, int]:
        """Width and height in px."""
        width, height = self.entry.facts["canvas"]
        return int(width), int(height)

    @property
    def cells(self) -> list[tuple[str, Box]]:
        """What stands on it, with the cell of each."""
        texts = [
            (str(one["text"]), _box(one["cell"])) for one in self.entry.layout.get("glyphs", ())
        ]
        boxes = self.entry.layout.get("boxes", ())
        if texts and boxes:
            return []  # dates cut out of blocks: their cell holds both
        white = _white_about(boxes)
        return texts + [
            (
                str(one["name"]).rpartition("/")[2],
                (one["x0"] - white, one["y0"] - white, one["x1"] + white, one["y1"] + white),
            )
            for one in boxes
        ]

    def is_hers(self, view: FolderView) -> bool:
        """Whether its owner has changed it."""
        file = self.entry.files[0].file
        entries = view.known[self.name]
        made = {one.sha256 for entry in entries for one in entry.files if one.file == file}
        return view.sum_of(file) not in {None, *made}

    def cell_of(self, name: str) -> Box:
        """The cell in which `name` stands.

        Raises:
            InputError: it stands in none.
        """
        label = name.removeprefix(f"{self.name}/")
        for text, cell in self.cells:
            if text == label:
                return cell
        for mark, place, _ in self.marks:
            if f"{mark}/".startswith(f"{name}/"):
                found = next((cell for _, cell in self.cells if _is_in(place, cell)), None)
                if found is not None:
                    return found
        labels = ", ".join(label for label, _ in self.cells[:4])
        has = f"there are {labels} and others" if labels else "nothing on it has a cell of its own"
        raise InputError(
            f"nothing in a cell of {self.name} is called {label!r}; {has}", setting="spread"
        )

    def picture(self, folder: Path) -> Grey:
        """Her picture of it.

        Raises:
            InputError: it can't be read, or is no white ink on black on the stamp's canvas.
        """
        file = self.entry.files[0].file
        grey = read_grey(folder / file, canvas=self.canvas)
        if grey.shape[::-1] != self.canvas:
            raise InputError(
                f"{file} is {grey.shape[1]} x {grey.shape[0]} px and its canvas {self.canvas[0]} x "
                f"{self.canvas[1]} px, so nothing can be cut from it",
                setting="spread",
                remedies=(Remedy(action=Action.SAVE_AT_CANVAS_SIZE),),
            )
        if not has_dark_ground(grey):
            raise InputError(
                f"{file} has a light ground; white ink on black is required", setting="spread"
            )
        return grey

    def patch(self, name: str, cell: Box, picture: Grey) -> Patch:
        """What `picture` shows in `cell`, in place of all marks that stand there."""
        rows, columns = _window(cell, self.canvas)
        crop = picture[rows, columns]
        contours, off = _outlines_of(crop)
        corner = np.array([columns.start, rows.start], dtype=np.float64)
        px_per_mm = float(self.entry.drawn_with["ink"]["px_per_mm"])
        masters: dict[str, Master] = {}
        for _, place, key in self.marks:
            if not _is_in(place, cell):
                continue
            own = [] if masters else contours
            local = tuple(
                points_on_grid((contour + corner - np.array(place)) / px_per_mm) for contour in own
            )
            masters[key] = Master(key=_key_of(key, local), contours=local)
        return Patch(name=name, stamp=self.name, masters=masters, is_soft=off > _SOFT)


def _stamp_named(view: FolderView, name: str) -> _Stamp | None:
    """The stamp `name` of a folder, None where the manifest or its masters don't tell enough."""
    entry = view.known[name][-1]
    ink = entry.drawn_with.get("ink")
    if entry.section is not Section.STAMPS or not ink or entry.masters is None:
        return None
    path = view.path / entry.masters.file
    try:
        arrays = arrays_from_npz(bytes_of_plain_file(path, most=LARGEST_BYTES), where=str(path))
        keys = [key.decode() for key in arrays["keys"]]
        places = [(float(x), float(y)) for x, y in ink["origins"]]
        names = map(str, ink["names"])
        patched = {
            master.key: mark for mark, master in masters_of_patches(patches_in(view.path)).items()
        }
        keys = [patched.get(key, key) for key in keys]
        return _Stamp(entry=entry, marks=tuple(zip(names, places, keys, strict=True)))
    except (InputError, OSError, LookupError, TypeError, ValueError):
        return None


def _outlines_of(crop: Grey) -> tuple[list[Points], float]:
    """The outlines whose picture is `crop`, and how far off it is in the mean over its ink."""
    height, width = crop.shape
    wanted = crop.astype(np.float64)
    field, best, least = wanted.copy(), list[Points](), np.inf
    inked = max(1, int(np.count_nonzero(crop)))
    for _ in range(_ROUNDS):
        contours = ink_contours(field)
        lacks = wanted - grey_from_contours(contours, canvas=(width, height))
        off = float(np.abs(lacks).sum()) / inked
        if off < least:
            best, least = contours, off
        field += _STEP * lacks
    return best, least


def _key_of(mark: str, contours: Iterable[Points]) -> str:
    """The key of a patch's master: of what it is, in the place of which mark."""
    digest = hashlib.blake2b(mark.encode(), digest_size=16)
    for contour in contours:
        digest.update(np.round(contour, 6).astype("<f8").tobytes() + b";")
    return digest.hexdigest()


def _window(cell: Box, canvas: tuple[int, int]) -> tuple[slice, slice]:
    """Rows and columns of the pixels of a cell."""
    width, height = canvas
    x0, x1 = (min(max(round(x), 0), width) for x in (cell[0], cell[2]))
    y0, y1 = (min(max(round(y), 0), height) for y in (cell[1], cell[3]))
    return slice(y0, y1), slice(x0, x1)


def _is_in(place: tuple[float, float], cell: Box) -> bool:
    return cell[0] <= place[0] < cell[2] and cell[1] <= place[1] < cell[3]


def _box(values: Any) -> Box:
    x0, y0, x1, y1 = map(float, values)
    return x0, y0, x1, y1


def _white_about(boxes: Any) -> float:
    """How far ink beyond the side of a block belongs to it: half the white between neighbours."""
    if not boxes:
        return 0.0
    lefts, rights = (sorted({float(one[side]) for one in boxes}) for side in ("x0", "x1"))
    gaps = [left - right for right in rights for left in lefts if left > right]
    return 0.5 * min(gaps) if gaps else _GUTTER * (rights[0] - lefts[0])

"""A drawing of her own put into the cell of a stamp, as if she had retouched it there."""

from __future__ import annotations

from pathlib import Path, PurePath
from tempfile import TemporaryDirectory

import numpy as np
from PIL import Image

from inkline.artwork.picture.file import PICTURES, ink_of_picture
from inkline.desk.limited import limited
from inkline.errors import InputError
from inkline.folder.aside import free_name_beside
from inkline.folder.disk import write_whole
from inkline.folder.view import folder_view
from inkline.geometry.arrays import Grey
from inkline.output.pictures import read_grey
from inkline.output.png import png_bytes
from inkline.press.cutting import place_of_thing
from inkline.press.stamp_form import STAMP_FORM
from inkline.proof.picture import ink_bounds

_MOST_OF_CELL = 0.94
_USUAL_PPI = 300.0
_USUAL_HEIGHT = 0.4
"""How high ink stands in a cell that was empty, as a share of the cell."""


def put_own_drawing(kit: Path, name: str, file_name: str, data: bytes) -> None:
    """Put the ink of a picture in the place of `name` on its stamp in the folder `kit`.

    It becomes as high as what stood there, about the same middle, and never leaves the cell. The
    stamp's picture before is set aside beside it where she had changed it.

    Args:
        kit: a finished kit.
        name: what she drew, such as `tall/dates-3/17`.
        file_name: what her file is called.
        data: what it holds: dark ink on light paper, light on dark, or ink on nothing.

    Raises:
        InputError: nothing is called so in a cell, or it is no picture with ink.
        WorkError: it can't be written.
    """
    suffix = PurePath(file_name).suffix.lower()
    if suffix not in PICTURES:
        raise InputError(f"a picture is required (PNG, JPEG, TIFF or WebP), not {file_name!r:.80}")
    view = folder_view(kit, form=STAMP_FORM)
    place = place_of_thing(view, name)
    with TemporaryDirectory() as folder:
        file = Path(folder) / f"drawn{suffix}"
        file.write_bytes(data)
        ink = limited(ink_of_picture, file)
    path = kit / place.file
    picture = np.array(read_grey(path, canvas=place.canvas))
    if picture.shape[::-1] != place.canvas:
        raise InputError(f"{place.file} has another size than its canvas; save it at that size")
    cell = picture[place.rows, place.columns]
    cell[...] = _in_place_of(cell, ink)
    if place.is_hers:
        write_whole(free_name_beside(path), path.read_bytes())
    write_whole(path, png_bytes(picture, ppi=_ppi(view.about.get("ppi"))))


def _in_place_of(cell: Grey, ink: Grey) -> Grey:
    """An empty cell with `ink` where the ink of `cell` stood."""
    height, width = cell.shape
    bounds = ink_bounds(ink)
    if bounds is None:
        raise InputError("nothing is drawn in this picture")
    x0, y0, x1, y1 = bounds
    drawn = Image.fromarray(np.ascontiguousarray(ink[y0:y1, x0:x1]))
    stood = ink_bounds(cell)
    if stood is None:
        stood = (
            0,
            round(0.5 * height * (1.0 - _USUAL_HEIGHT)),
            width,
            round(0.5 * height * (1.0 + _USUAL_HEIGHT)),
        )
    scale = min(
        (stood[3] - stood[1]) / drawn.height,
        _MOST_OF_CELL * width / drawn.width,
        _MOST_OF_CELL * height / drawn.height,
    )
    size = max(1, round(drawn.width * scale)), max(1, round(drawn.height * scale))
    own = np.asarray(drawn.resize(size, Image.Resampling.LANCZOS))
    left = _within(0.5 * (stood[0] + stood[2] - size[0]), width - size[0])
    top = _within(stood[3] - size[1], height - size[1])
    found = np.zeros_like(cell)
    found[top : top + size[1], left : left + size[0]] = own
    return found


def _within(place: float, most: int) -> int:
    return max(0, min(round(place), most))


def _ppi(stated: object) -> float:
    return float(stated) if isinstance(stated, int | float) else _USUAL_PPI

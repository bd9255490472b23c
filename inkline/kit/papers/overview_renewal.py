"""An overview made of the one before: only what has another picture by now is put there anew.

What an overview was made of stands in the manifest: a digest of where everything lies and how it is
lettered, and a short checksum of each picture. Only a sheet that lies there as it was made is
taken, and lettering is never cut: where it may reach into what changes, all of it is made anew.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Mapping, Sequence
from dataclasses import asdict
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from inkline.errors import InputError
from inkline.folder.reading import LARGEST_FILE_BYTES, bytes_of_plain_file
from inkline.kit.papers.overview_items import OverviewSetting, PixelBox
from inkline.kit.papers.sheet import SHEETS_VERSION
from inkline.output.pictures import read_colours
from inkline.pages.lines import TextLine

_SETTING, _SHOWS = "setting", "shows"
"""Keys of the facts: the digest of the setting, and the checksums by the stamps' names."""
_SUM_DIGITS = 16
_ABOVE, _BELOW, _ASIDE = 1.5, 0.6, 0.4
"""How far lettering may reach above and below its baseline and beside its room, in heights of its
capitals: accents, tails, and a hand that strays."""
_RULE_PX = 20
"""How far a rule may reach from where it lies."""


def facts_of_overview(
    setting: OverviewSetting, look: Sequence[Any], files: Mapping[str, Path]
) -> dict[str, Any]:
    """What an overview is made of, as JSON values.

    Args:
        setting: where everything lies.
        look: what else its lettering and colours depend on, as JSON values.
        files: the pictures that it shows, by their stamps' names.
    """
    values = json.dumps([SHEETS_VERSION, asdict(setting), look], sort_keys=True)
    digest = hashlib.blake2b(values.encode(), digest_size=_SUM_DIGITS).hexdigest()
    return {_SETTING: digest, _SHOWS: {name: _sum_of(file) for name, file in files.items()}}


def renewed_pixels(
    path: Path,
    setting: OverviewSetting,
    facts: Mapping[str, Any],
    *,
    before: Mapping[str, Any],
    part: Callable[[PixelBox], NDArray[np.uint8]],
) -> NDArray[np.uint8] | None:
    """The overview at `path` with what has changed, sRGB `(height, width, 3)`.

    None where all of it has to be made anew.

    Args:
        path: of the one that lies there as it was made.
        setting: where everything lies now.
        facts: of the one to be made.
        before: of the one that lies there, or nothing.
        part: gives the pixels within a box as they are now, without lettering.
    """
    shows = before.get(_SHOWS)
    if before.get(_SETTING) != facts[_SETTING] or not isinstance(shows, Mapping):
        return None
    changed = {name for name, own in facts[_SHOWS].items() if not own or shows.get(name) != own}
    boxes = dict.fromkeys(one.box for one in setting.prints if one.name in changed)
    lettered = [*map(_box_of_line, setting.lines), *map(_box_of_rule, setting.rules)]
    if any(do_boxes_meet(box, other) for box in boxes for other in lettered):
        return None
    try:
        pixels = np.array(read_colours(path, canvas=setting.size))
    except InputError:
        return None
    if pixels.shape[:2] != setting.size[::-1]:
        return None
    for box in boxes:
        x0, y0, x1, y1 = box
        pixels[y0:y1, x0:x1] = part(box)
    return pixels


def do_boxes_meet(one: Sequence[float], other: Sequence[float]) -> bool:
    """Whether two boxes, left, top, right and bottom, have any area in common."""
    across = max(one[0], other[0]) < min(one[2], other[2])
    return across and max(one[1], other[1]) < min(one[3], other[3])


def _box_of_line(line: TextLine) -> tuple[float, float, float, float]:
    """Where a line's ink lies at the most."""
    left = line.x - line.align.share * line.room
    aside = _ASIDE * line.height
    return (
        left - aside,
        line.baseline - _ABOVE * line.height,
        left + line.room + aside,
        line.baseline + _BELOW * line.height,
    )


def _box_of_rule(rule: tuple[float, float, float]) -> tuple[float, float, float, float]:
    x0, x1, y = rule
    return x0 - _RULE_PX, y - _RULE_PX, x1 + _RULE_PX, y + _RULE_PX


def _sum_of(file: Path) -> str:
    """A short checksum of a file; "" if it cannot be read."""
    try:
        data = bytes_of_plain_file(file, most=LARGEST_FILE_BYTES)
    except OSError:
        return ""
    return hashlib.sha256(data).hexdigest()[:_SUM_DIGITS]

"""Months on a picture as pieces of their product: a flat file and one of layers for each."""

from __future__ import annotations

from collections.abc import Mapping
from functools import partial

from inkline.folder.disk import file_sha256
from inkline.kit.months.placing import Placing, refuse_unknown_inks
from inkline.kit.papers.artwork import flat_artwork, layered_artwork
from inkline.kit.papers.open_kit import OpenKit
from inkline.kit.papers.sheet import ON_ARTWORK
from inkline.kit.pieces import papers_of
from inkline.kit.stamps.names import folder_of, last_part
from inkline.press.product import Piece

_VERSION = 1
"""Raised when months are stamped into pictures in another way, so that they are made again."""


def artwork_papers(kit: OpenKit, placing: Placing, colours: Mapping[str, str]) -> list[Piece]:
    """The files of all months in the picture.

    Args:
        kit: the months, opened.
        placing: where they lie, and in which colours.
        colours: of all layers by their names, where none are asked for.

    Raises:
        InputError: a colour is asked for of layers that there aren't.
        WorkError: the picture can't be read.
    """
    layers = [(last_part(plan.name), str(plan.kind)) for plan in kit.plans.values()]
    refuse_unknown_inks(placing, layers)
    folders: dict[str, list[str]] = {}
    for name in kit.plans:
        folders.setdefault(folder_of(name), []).append(name)
    inks = sorted(placing.inks.items())
    seen = (_VERSION, file_sha256(placing.on), placing.at, placing.across, inks)
    makers = {
        "png": partial(flat_artwork, placing=placing, colours=colours),
        "ora": partial(layered_artwork, placing=placing, colours=colours),
    }
    return papers_of(
        kit,
        {f"{folder}/{ON_ARTWORK}": tuple(names) for folder, names in folders.items()},
        makers=lambda _: makers,
        depends_on=lambda name: (*seen, [colours[one] for one in folders[folder_of(name)]]),
    )

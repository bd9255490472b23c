"""The stamps of an artwork: what of it is drawn as one picture, and how it lies on black.

White ink on black knows no colours: dark ones are ink, pale ones take away what lies under them.
Where an artwork's colours are kept, each is a stamp of its own, and so is each layer if asked for.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from inkline.artwork.model import Paint
from inkline.drawing import Drawing, Layer, Leaves, Mark
from inkline.errors import InputError
from inkline.finishing.mark_areas import bared_marks, boxes_meet, mark_boxes
from inkline.finishing.marks import InkRun
from inkline.finishing.names import slug
from inkline.finishing.picture import is_pale
from inkline.finishing.request import OpenSheet
from inkline.finishing.treatment import Treatment
from inkline.geometry.arrays import Floats
from inkline.kit.recipe.choices import ArtSplit
from inkline.output.look import Ground

_MOST_STAMPS = 64
"""More colours than that are a picture's, not a layout's."""
_REST = "rest"
"""What the stamp of all that lies in no layer is called."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class FinishedStamp:
    """One picture.

    Attributes:
        name: such as "plan", or "plan/walls" for a part of it.
        drawing: its marks.
        treatments: how each is drawn, by full name.
        paint: its colour, `None` on black.
    """

    name: str
    drawing: Drawing
    treatments: Mapping[str, Treatment]
    paint: Paint | None = None


@dataclass(slots=True, kw_only=True)
class _Group:
    """Runs that make one stamp.

    Attributes:
        layer: their layer, "" where layers are together.
        paint: their colour, `None` where colours are together.
        runs: the runs.
        boxes: the bounds of their marks.
    """

    layer: str
    paint: Paint | None
    runs: list[InkRun] = field(default_factory=list)
    boxes: list[Floats] = field(default_factory=list)


def stamps_of_runs(
    sheet: OpenSheet, runs: Sequence[InkRun], *, ground: Ground, split: ArtSplit
) -> tuple[FinishedStamp, ...]:
    """The stamps of a file, back to front.

    Args:
        sheet: the file.
        runs: its marks, the hindmost first.
        ground: what the ink lies on.
        split: what becomes a stamp of its own.

    Raises:
        InputError: there would be too many.
    """
    groups = _groups(runs, has_colours=ground is not Ground.BLACK, split=split)
    if len(groups) > _MOST_STAMPS:
        raise InputError(
            f"{sheet.file} has {len(groups)} colours that lie over each other, and at most "
            f"{_MOST_STAMPS} can be kept; it can be drawn white on black",
            setting="ground",
        )
    is_whole = ground is Ground.BLACK and split is ArtSplit.WHOLE
    names = [sheet.stem] if is_whole else [f"{sheet.stem}/{name}" for name in _names(groups)]
    return tuple(
        FinishedStamp(
            name=name,
            drawing=_drawing(name, group, runs),
            treatments={mark.name: run.treatment for run in group.runs for mark in _marks_of(run)},
            paint=group.paint,
        )
        for name, group in zip(names, groups, strict=True)
    )


def _marks_of(run: InkRun) -> tuple[Mark, ...]:
    return tuple(run.drawing.marks)


def _groups(runs: Sequence[InkRun], *, has_colours: bool, split: ArtSplit) -> list[_Group]:
    """Runs in groups that can lie over each other.

    A run joins a group of its kind if nothing between them would come to lie over it.
    """
    groups = list[_Group]()
    for run in runs:
        layer = run.layer if split is ArtSplit.LAYERS else ""
        paint = run.paint if has_colours else None
        boxes = mark_boxes(_marks_of(run))
        own = _group_below(groups, layer, paint, boxes)
        if own is None:
            own = _Group(layer=layer, paint=paint)
            groups.append(own)
        own.runs.append(run)
        own.boxes.append(boxes)
    return groups


def _group_below(
    groups: Sequence[_Group], layer: str, paint: Paint | None, boxes: Floats
) -> _Group | None:
    """The uppermost group of that kind over which nothing lies that the marks would lie under.

    On black layers never lie over each other.
    """
    for group in groups[::-1][: _MOST_STAMPS + 1]:
        if (group.layer, group.paint) == (layer, paint):
            return group
        if paint is not None and any(boxes_meet(boxes, other) for other in group.boxes):
            return None
    return None


def _names(groups: Sequence[_Group]) -> Iterator[str]:
    """A name for each group: of its layer, of its colour, or of both."""
    n_paints: dict[str, int] = {}
    for group in groups:
        n_paints[group.layer] = n_paints.get(group.layer, 0) + 1
    has_layers = any(group.layer for group in groups)
    used: dict[str, int] = {}
    for group in groups:
        words = [slug(group.layer) or _REST] if has_layers or group.paint is None else []
        if group.paint is not None and (not has_layers or n_paints[group.layer] > 1):
            words.append(_name_of_paint(group.paint))
        name = "-".join(words)
        count = used[name.casefold()] = used.get(name.casefold(), 0) + 1
        yield name if count == 1 else f"{name}~{count}"


def _name_of_paint(paint: Paint) -> str:
    """Such as "27343d", or "27343d-50" for a half clear one."""
    share = "" if paint.opacity >= 1.0 else f"-{round(100 * paint.opacity)}"
    return f"{paint.hex.removeprefix('#')}{share}"


def _drawing(name: str, group: _Group, runs: Sequence[InkRun]) -> Drawing:
    """The exact drawing of a stamp."""
    first = runs[0].drawing
    ink, white = (
        _stamp_marks(group.runs)
        if group.paint is None
        else ([mark for run in group.runs for mark in _marks_of(run)], [])
    )
    layers = [Layer(name="ink", marks=tuple(ink))]
    if white:
        layers.append(Layer(name="white", marks=tuple(white), leaves=Leaves.WHITE))
    return Drawing(name=name, canvas=first.canvas, sheet_px=first.sheet_px, layers=tuple(layers))


def _stamp_marks(runs: Sequence[InkRun]) -> tuple[list[Mark], list[Mark]]:
    """Ink, and what takes it away, of colours that lie over each other.

    What takes ink away does so only where no ink lies over it. Where all is pale, that is the ink.
    """
    if all(is_pale(run.paint) for run in runs):
        return [mark for run in runs for mark in _marks_of(run)], []
    ink, white = list[Mark](), list[Mark]()
    for run in runs:
        marks = _marks_of(run)
        if is_pale(run.paint):
            below = mark_boxes(ink)
            white += [mark for mark in marks if boxes_meet(mark_boxes([mark]), below)]
        else:
            white = [part for mark in white for part in bared_marks(mark, marks)]
            ink += marks
    return ink, white

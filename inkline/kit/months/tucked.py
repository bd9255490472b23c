"""Names tucked into cells without a day: before the first day of a month, or after its last."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass, replace

from inkline.calendar.grid import Direction, Rule
from inkline.calendar.months import DAYS_PER_WEEK
from inkline.geometry.boxes import Box
from inkline.kit.months.title import TitleSetting, name_line
from inkline.kit.stamps.cells import numeral_size
from inkline.kit.stamps.content import RuleContent
from inkline.kit.stamps.layout import FormatLayout
from inkline.kit.stamps.month import CalendarMonth
from inkline.kit.stamps.pieces import PlacedText
from inkline.kit.stamps.place import Place
from inkline.lettering.setting import line_ink

_AIR = 0.14
"""White on either side of a name, as a share of a cell's width; chosen by eye."""
_MOST_OF_CELL = 0.5
"""Letters are at most this share of a cell's height; chosen by eye."""
_LEAST_OF_NUMERAL = 0.8
"""Letters that would be a smaller share of a numeral's height don't fit; chosen by eye."""
_HEAD = "head"
"""The panel of what is left of a rule above a name."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TuckedName:
    """A month's name in cells without a day.

    Attributes:
        box: the cells, in px.
        texts: the name.
    """

    box: Box
    texts: tuple[PlacedText, ...]

    def rules_around(self, content: RuleContent) -> RuleContent:
        """The rules of a grid without those that would go through the name."""
        rules = tuple(piece for rule in content.rules for piece in self._pieces(rule))
        return replace(content, rules=rules)

    def _pieces(self, rule: Rule) -> Iterator[Rule]:
        left, top, right, foot = self.box
        x = rule.start[0]
        is_inside = left + rule.width_px < x < right - rule.width_px
        if rule.direction is not Direction.DOWN or not is_inside:
            yield rule
            return
        below = foot + rule.width_px < rule.end[1]
        if top - rule.width_px > rule.start[1]:
            yield _piece(rule, rule.start[1], top, panel=_HEAD if below else rule.panel)
        if below:
            yield _piece(rule, foot, rule.end[1], panel=rule.panel)


def _piece(rule: Rule, top: float, foot: float, *, panel: str) -> Rule:
    """A part of a rule that goes down."""
    first = rule.start[1]
    crossings = tuple(
        first + at - top for at in rule.crossings if top - 1e-6 <= first + at <= foot + 1e-6
    )
    start, end = (rule.start[0], top), (rule.end[0], foot)
    return replace(rule, start=start, end=end, crossings=crossings, panel=panel)


def tucked_name(
    place: Place,
    setting: TitleSetting,
    shown: CalendarMonth,
    *,
    n_rows: int,
    taken: Collection[tuple[int, int]],
    language: str,
) -> TuckedName | None:
    """The month's name in the cells before its first day or after its last, None if it has no room.

    Args:
        place: the format of the finished month.
        setting: how large it would stand above; it is no larger here.
        shown: the month.
        n_rows: rows of its calendar.
        taken: row and column, from 0, of cells without a day in which something else stands.
        language: of the name.
    """
    grid, layout = place.layout.headed_grid(n_rows), place.layout
    if grid.column_gutter_px > 0.0:
        return None  # each column is a panel of its own
    cells = free_cells(shown, n_rows=n_rows, taken=taken)
    if not cells:
        return None
    boxes = [grid.cell(row, column) for row, column in cells]
    box = (
        min(one[0] for one in boxes),
        boxes[0][1],
        max(one[2] for one in boxes),
        boxes[0][3],
    )
    text = _text_in(box, place, setting, shown.month, layout, language)
    return None if text is None else TuckedName(box=box, texts=(text,))


def free_cells(
    shown: CalendarMonth, *, n_rows: int, taken: Collection[tuple[int, int]]
) -> tuple[tuple[int, int], ...]:
    """The longer run of cells without a day in the first or the last of `n_rows`; none if none."""
    end = shown.offset + shown.days
    before = [(0, column) for column in range(shown.offset)]
    after = [divmod(cell, DAYS_PER_WEEK) for cell in range(end, n_rows * DAYS_PER_WEEK)]
    after = [cell for cell in after if cell[0] == n_rows - 1]
    runs = [[cell for cell in run if cell not in taken] for run in (before, after)]
    longer = max(len(run) for run in runs)
    return tuple(next(run for run in runs if len(run) == longer))


def _text_in(
    box: Box,
    place: Place,
    setting: TitleSetting,
    month: int,
    layout: FormatLayout,
    language: str,
) -> PlacedText | None:
    """The name in the middle of `box`, None if it would be too small."""
    line, name, drawings = name_line(place, month, language=language)
    x0, _, x1, _ = line_ink(line, setting.size)
    room = box[2] - box[0] - 2.0 * _AIR * layout.cell_width
    most = _MOST_OF_CELL * (box[3] - box[1])
    scale = min(1.0, room / (x1 - x0), most / setting.size.height_px)
    if scale * setting.size.height_px < _LEAST_OF_NUMERAL * numeral_size(place).height_px:
        return None
    size = setting.size.times(scale)
    x0, _, x1, _ = line_ink(line, size)
    return PlacedText(
        label="",
        line=line,
        size=size,
        baseline=(
            (box[0] + box[2] - x0 - x1) / 2.0,
            (box[1] + box[3] + size.height_px) / 2.0,
        ),
        cell=box,
        drawings=drawings,
        drawn_as=name,
    )

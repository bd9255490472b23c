"""Whether a name is one that something is drawn under, on whatever stamp: numerals have one drawing on several."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from inkline.kit.catalogue_part import StampPlan


def is_drawn(name: str, makers: Mapping[str, Callable[[], StampPlan]]) -> bool:
    """Whether any stamp of the name's own format has a mark of that name, or marks of the numeral or letter so called.

    Args:
        name: such as `tall/dates-3/17`, which is drawn on `tall/dates-3-30` too, and so also in a kit without `tall/dates-3`.
        makers: what makes each stamp's plan, by name. Cost: 20 ms a stamp until one has it.
    """
    folder = f"{name.partition('/')[0]}/"
    marks = (mark for stamp, make in makers.items() if stamp.startswith(folder) for mark in make().drawing().marks)
    return any(name in (mark.name, mark.group) or mark.name.startswith(f"{name}/") for mark in marks)

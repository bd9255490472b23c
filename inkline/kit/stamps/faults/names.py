"""Names under [again] that nothing in the kit is drawn by."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping

from inkline.drawing import Mark
from inkline.kit.recipe.model import Recipe
from inkline.kit.stamps.names import stamp_of
from inkline.kit.stamps.plan import StampPlan
from inkline.source.faults import Fault, did_you_mean

_FULL_NAME = re.compile(r"([^/]+/[^/.]+)(?:/([^/.]+))?(?:\.\d+)?(?:/\d+)?")
"""A stamp's name, that of one of its parts, and of one letter or stroke of that, such as
`tall/dates-3/17.2` or `.../17/1`."""

_MOST_SHOWN = 2
"""Names listed before "and others"."""
Makers = Mapping[str, Callable[[], StampPlan]]
"""What makes the plan of each stamp, by its name."""


def again_faults(recipe: Recipe, makers: Makers) -> Iterator[Fault]:
    """Names to be drawn again by which nothing is drawn, with the nearest that something is.

    A numeral has one drawing on several stamps: `tall/dates-3/17` is on `tall/dates-3-30` too, and
    may be drawn again in a kit without `tall/dates-3`. A stamp all of whose drawings are another's
    is asked for by that other's name. Cost: 20 ms a name, and as much for each of a format's stamps
    where a name is only found on others.
    """
    for name in _again_in_kit(recipe):
        stamp, part = _parts(name)
        labels = makers[stamp]().content.labels if stamp in makers else ()
        if stamp in makers and (part in ("", *labels) or (not labels and part.isdecimal())):
            yield from _elsewhere(recipe, name, stamp, makers)
        elif stamp in makers and not labels:  # all of it may be another stamp's
            found = list(_elsewhere(recipe, name, stamp, makers))
            yield from found or [_unknown_name(recipe, name, name, ())]
        elif not _is_drawn(name, makers):
            names = [f"{stamp}/{label}" for label in labels] if stamp in makers else list(makers)
            yield _unknown_name(recipe, name, name if stamp in makers else stamp, names)


def unknown_stamps(recipe: Recipe, names: Iterable[str]) -> Iterator[Fault]:
    """The same for a recipe that cannot be laid out yet: of stamps alone.

    Nothing can be said of their parts.
    """
    known = list(names)
    for name in _again_in_kit(recipe):
        stamp, _ = _parts(name)
        if stamp not in known:
            yield _unknown_name(recipe, name, stamp, known)


def _again_in_kit(recipe: Recipe) -> list[str]:
    """What is to be drawn again but for what is drawn of the user's own artwork."""
    formats = {shape.name for shape in recipe.formats}
    return [
        name
        for name in recipe.again
        if name.split("/")[0] in formats or not recipe.finish.may_draw(name)
    ]


def _unknown_name(recipe: Recipe, name: str, near: str, names: Iterable[str]) -> Fault:
    """The fault of a name under [again] that nothing has.

    The nearest of `names` to `near` is asked for.
    """
    return recipe.fault(
        f"again.{name}", f'again: nothing in this kit is called "{name}"{did_you_mean(near, names)}'
    )


def _parts(name: str) -> tuple[str, str]:
    """The stamp that `name` names, and what of it, or ""."""
    found = _FULL_NAME.fullmatch(name)
    if found is not None:
        return found[1], found[2] or ""
    return stamp_of(name), "/".join(name.split("/")[2:])


def _elsewhere(recipe: Recipe, name: str, stamp: str, makers: Makers) -> Iterator[Fault]:
    """A name of a stamp's own whose drawings all belong to another stamp.

    Drawing it again would change nothing.
    """
    marks = list(makers[stamp]().drawing().marks)
    own = name.rpartition(".")[0] if "." in name else name
    if any(_reaches(own, mark) for mark in marks):
        return
    others = dict.fromkeys(stamp_of(mark.name) for mark in marks)
    if not others or list(others) == [stamp]:
        return
    shown = ", ".join(f'"{other}"' for other in list(others)[:_MOST_SHOWN])
    shown += " and others" if len(others) > _MOST_SHOWN else ""
    right = (
        f'"{next(iter(others))}{name.removeprefix(stamp)}"' if len(others) == 1 else "one of those"
    )
    yield recipe.fault(
        f"again.{name}",
        f'again: what is on "{stamp}" is drawn as {shown}; write {right} to have it drawn again '
        f"on all that show it",
    )


def _is_drawn(name: str, makers: Makers) -> bool:
    """Whether any stamp of the name's own format has a mark so called.

    It may have marks of the numeral or letter that is called so.
    """
    folder = f"{name.partition('/')[0]}/"
    plans = (make() for stamp, make in makers.items() if stamp.startswith(folder))
    return any(_reaches(name, mark) for plan in plans for mark in plan.drawing().marks)


def _reaches(name: str, mark: Mark) -> bool:
    return name in (mark.name, mark.group) or mark.name.startswith((f"{name}/", f"{name}."))

"""What the operators of a PDF page do (ISO 32000-1, annex A)."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
import pikepdf

from inkline.artwork.maps import Matrix, after
from inkline.artwork.model import FillRule
from inkline.artwork.pdf.colours import ColourSpace, as_values, space_of
from inkline.artwork.pdf.means import mean_of_pattern, mean_of_shading
from inkline.artwork.pdf.page import Operator, PageRun
from inkline.artwork.pdf.writing import WRITING, put_font

_DEVICE_SPACES = {"g": "/DeviceGray", "rg": "/DeviceRGB", "k": "/DeviceCMYK"}


def _numbers(operands: Sequence[Any]) -> list[float]:
    return [float(operand) for operand in operands if not isinstance(operand, pikepdf.Name)]


def _matrix(numbers: Sequence[float]) -> Matrix:
    a, b, c, d, e, f = numbers
    return np.array([[a, c, e], [b, d, f]])


def _save(run: PageRun, _: list[Any]) -> None:
    run.stack.append(run.state)


def _restore(run: PageRun, _: list[Any]) -> None:
    if run.stack:
        run.state = run.stack.pop()


def _concatenate(run: PageRun, operands: list[Any]) -> None:
    run.set_state(matrix=after(run.state.matrix, _matrix(_numbers(operands))))


def _dash(run: PageRun, operands: list[Any]) -> None:
    dashes = tuple(max(float(one), 0.0) for one in operands[0])
    run.set_state(dashes=dashes if sum(dashes) > 0.0 else (), dash_offset=float(operands[1]))


def _graphics_state(run: PageRun, operands: list[Any]) -> None:
    """The operator `gs`: a dictionary of values (8.4.5)."""
    values = run.resource("/ExtGState", operands[0])
    if values is None:
        return
    for key, name in (
        ("/LW", "width"),
        ("/ML", "miter_limit"),
        ("/ca", "fill_opacity"),
        ("/CA", "stroke_opacity"),
    ):
        if key in values:
            run.set_state(**{name: float(values[key])})
    for key, name in (("/LC", "cap"), ("/LJ", "join")):
        if key in values:
            run.set_state(**{name: int(values[key])})
    if "/D" in values:
        _dash(run, [values["/D"][0], values["/D"][1]])
    if "/Font" in values:
        put_font(run, *values["/Font"])
    if str(values.get("/BM", "/Normal")) not in {"/Normal", "/Compatible"}:
        run.drawer.lack("colour", "colours lie over each other, and are not blended")
    if "/SMask" in values:
        run.set_state(is_masked=isinstance(values["/SMask"], pikepdf.Dictionary))


def _curve_from_here(run: PageRun, operands: list[Any]) -> None:
    run.path.curve(*run.path.at, *_numbers(operands))


def _curve_to_end(run: PageRun, operands: list[Any]) -> None:
    x1, y1, x3, y3 = _numbers(operands)
    run.path.curve(x1, y1, x3, y3, x3, y3)


def _close(run: PageRun, _: list[Any]) -> None:
    run.path.close()


def _painter(fill: FillRule | None, *, strokes: bool = False, closes: bool = False) -> Operator:
    def paint(run: PageRun, _: list[Any]) -> None:
        if closes:
            run.path.close()
        run.paint(fill=fill, strokes=strokes)

    return paint


def _clipper(rule: FillRule) -> Operator:
    def clip(run: PageRun, _: list[Any]) -> None:
        run.clip_rule = rule

    return clip


def _device_colour(which: str, space: str) -> Operator:
    def colour(run: PageRun, operands: list[Any]) -> None:
        found = space_of(space, None)
        run.set_state(**{f"{which}_space": found, which: tuple(_numbers(operands))})

    return colour


def _colour_space(which: str) -> Operator:
    def choose(run: PageRun, operands: list[Any]) -> None:
        named = None if run.resources is None else run.resources.get("/ColorSpace")
        space: ColourSpace = space_of(as_values(operands[0]), named)
        first = {"DeviceRGB": (0.0,) * 3, "DeviceCMYK": (0.0, 0.0, 0.0, 1.0), "Tint": (1.0,)}
        run.set_state(**{f"{which}_space": space, which: first.get(space.kind, (0.0,))})

    return choose


def _colour(which: str) -> Operator:
    def choose(run: PageRun, operands: list[Any]) -> None:
        values = tuple(_numbers(operands))
        if not values and operands:
            values = mean_of_pattern(run.resource("/Pattern", operands[-1]))
        run.set_state(**{which: values})

    return choose


def _show(run: PageRun, operands: list[Any]) -> None:
    """The operator `Do`: a form or a picture."""
    shown = run.resource("/XObject", operands[0])
    if shown is None:
        return
    if str(shown.get("/Subtype", "")) == "/Form":
        run.drawer.form(shown, run.state, run.resources, run.depth, run.marks)
    else:
        run.frame()


def _begin_marked(run: PageRun, operands: list[Any]) -> None:
    """The operators `BDC` and `BMC`: what follows belongs together, perhaps to a layer."""
    name, hidden = "", False
    if len(operands) > 1 and str(operands[0]) == "/OC":
        group = run.resource("/Properties", operands[1])
        name, hidden = run.drawer.layer_name(group), run.drawer.hides(group)
    run.marks.append((name, hidden))


def _end_marked(run: PageRun, _: list[Any]) -> None:
    if len(run.marks) > run.n_outer_marks:
        run.marks.pop()


def _shading(run: PageRun, operands: list[Any]) -> None:
    run.blend(mean_of_shading(run.resource("/Shading", operands[0])))


def _state_number(name: str, kind: type[float | int]) -> Operator:
    def put(run: PageRun, operands: list[Any]) -> None:
        run.set_state(**{name: kind(operands[0])})

    return put


def _path_step(step: str) -> Operator:
    def put(run: PageRun, operands: list[Any]) -> None:
        getattr(run.path, step)(*_numbers(operands))

    return put


_NONZERO, _EVENODD = FillRule.NONZERO, FillRule.EVENODD


OPERATORS: dict[str, Operator] = {
    "q": _save,
    "Q": _restore,
    "cm": _concatenate,
    "w": _state_number("width", float),
    "J": _state_number("cap", int),
    "j": _state_number("join", int),
    "M": _state_number("miter_limit", float),
    "d": _dash,
    "gs": _graphics_state,
    "m": _path_step("move"),
    "l": _path_step("line"),
    "c": _path_step("curve"),
    "re": _path_step("rectangle"),
    "v": _curve_from_here,
    "y": _curve_to_end,
    "h": _close,
    "S": _painter(None, strokes=True),
    "s": _painter(None, strokes=True, closes=True),
    "f": _painter(_NONZERO),
    "F": _painter(_NONZERO),
    "f*": _painter(_EVENODD),
    "B": _painter(_NONZERO, strokes=True),
    "B*": _painter(_EVENODD, strokes=True),
    "b": _painter(_NONZERO, strokes=True, closes=True),
    "b*": _painter(_EVENODD, strokes=True, closes=True),
    "n": _painter(None),
    "W": _clipper(_NONZERO),
    "W*": _clipper(_EVENODD),
    **{name: _device_colour("fill", space) for name, space in _DEVICE_SPACES.items()},
    **{name.upper(): _device_colour("stroke", space) for name, space in _DEVICE_SPACES.items()},
    "cs": _colour_space("fill"),
    "CS": _colour_space("stroke"),
    "sc": _colour("fill"),
    "scn": _colour("fill"),
    "SC": _colour("stroke"),
    "SCN": _colour("stroke"),
    "Do": _show,
    "sh": _shading,
    "BDC": _begin_marked,
    "BMC": _begin_marked,
    "EMC": _end_marked,
    **WRITING,
}
"""The operators that are drawn, by their names (annex A)."""

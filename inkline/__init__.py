"""inkline: exact calendar layouts, drawn as hand-inked stamps that still line up.

Four functions do the work, each imported when it is first used:

- `build_kit(recipe, folder)` draws a whole kit of stamps into a folder;
- `finish(artwork, style=..., number=...)` inks a layout of your own: an SVG file, a page of a PDF
  file, a picture, or a drawing;
- `draw(drawing, style, number)` inks one exact drawing;
- `render(inked)` gives the picture of an inked drawing.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from inkline.finishing.drawn import finish
    from inkline.ink.engine import draw
    from inkline.kit.build import build_kit
    from inkline.raster.compose import render

__all__ = ["build_kit", "draw", "finish", "render"]

_HOMES = {
    "build_kit": "inkline.kit.build",
    "draw": "inkline.ink.engine",
    "finish": "inkline.finishing.drawn",
    "render": "inkline.raster.compose",
}


def __getattr__(name: str) -> Any:
    """The public function `name`, from the module where it lives.

    So numpy and scipy need not load for a version or a help text.
    """
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    from importlib import import_module  # noqa: PLC0415

    return getattr(import_module(_HOMES[name]), name)


def __dir__() -> list[str]:
    """The names of the module, the public functions included."""
    return sorted({*globals(), *__all__})

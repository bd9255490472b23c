"""Imports go only downwards, floor by floor; packages on one floor never import each other."""

import ast
from pathlib import Path

import pytest

import inkline

ROOT = Path(inkline.__file__).parent
FLOORS = (
    {"units", "errors"},
    {"geometry", "source", "folder"},
    {"drawing", "tracing"},
    {"calendar", "lettering"},
    {"ink"},
    {"raster", "styles"},
    {"output", "proof"},
    {"pages", "press"},
    {"kit", "numerals", "sampler"},
    {"cli"},
    {"__init__", "__main__"},
)
TO_COME = {
    ("lettering", "kit"),
    ("lettering", "calendar"),
    ("styles", "kit"),
    ("press", "kit"),
    ("pages", "sampler"),
    ("kit", "sampler"),
    ("numerals", "sampler"),
    ("numerals", "kit"),
}
"""Arrows that modules brought along from where they stood, until what they point at has moved as well."""
FLOOR_OF = {room: floor for floor, rooms in enumerate(FLOORS) for room in rooms}
MODULES = sorted(path for path in ROOT.rglob("*.py") if "data" not in path.relative_to(ROOT).parts)


def room_of(path):
    """`kit` of `kit/build.py`, `units` of `units.py`."""
    return path.relative_to(ROOT).parts[0].removesuffix(".py")


def imported_rooms(source, package):
    """Rooms of inkline that the source imports, wherever in it the import stands, each with its line.

    `package` is the dotted name of the package that the source lies in, for relative imports.
    """
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            base = package.split(".")[: len(package.split(".")) - node.level + 1] if node.level else []
            start = ".".join([*base, *([node.module] if node.module else [])])
            names = [f"{start}.{alias.name}" for alias in node.names]
        else:
            continue
        for name in names:
            parts = name.split(".")
            if parts[0] == "inkline":
                yield node.lineno, parts[1] if len(parts) > 1 else "__init__"


def wrong_arrows(path, source):
    room = room_of(path)
    package = ".".join(["inkline", *path.relative_to(ROOT).parent.parts])
    found = []
    for line, target in imported_rooms(source, package):
        downwards = target == room or FLOOR_OF.get(target, len(FLOORS)) < FLOOR_OF[room]
        if not downwards and {room, target} != {"units", "errors"} and (room, target) not in TO_COME:
            found.append(f"{path.relative_to(ROOT)}:{line} imports {target}")
    return found


def test_every_module_has_a_floor():
    assert {room_of(path) for path in MODULES} <= set(FLOOR_OF)
    assert len(MODULES) > 40


@pytest.mark.parametrize("path", MODULES, ids=lambda path: path.relative_to(ROOT).as_posix())
def test_imports_go_downwards(path):
    assert wrong_arrows(path, path.read_text(encoding="utf-8")) == []


@pytest.mark.parametrize(
    ("place", "source"),
    [
        ("geometry/union.py", "from inkline.drawing import Stroke"),
        ("ink/nib.py", "import inkline.raster.coverage"),
        ("output/png.py", "from inkline.proof.rules import rule_measurement"),
        ("calendar/grid.py", "def f():\n    from inkline.lettering import face"),
        ("kit/build.py", "from inkline import cli"),
        ("kit/build.py", "from ..cli import running"),
        ("ink/nib.py", "from .. import kit"),
        ("raster/compose.py", "import inkline"),
        ("output/png.py", "from inkline.pages import page"),
    ],
)
def test_an_arrow_that_goes_another_way_is_found(place, source):
    assert len(wrong_arrows(ROOT / place, source)) == 1


@pytest.mark.parametrize(
    ("place", "source"),
    [
        ("kit/build.py", "from inkline.folder.kept import KitFolder"),
        ("kit/build.py", "from .store import KitFolder"),
        ("units.py", "from inkline.errors import UnitError"),
        ("output/png.py", "import numpy\nfrom inkline.raster import coverage"),
        ("__init__.py", "from inkline.kit import build"),
    ],
)
def test_an_arrow_that_goes_down_is_not(place, source):
    assert wrong_arrows(ROOT / place, source) == []


def test_the_public_functions_are_there_and_documented():
    assert inkline.__all__ == ["build_kit", "draw", "render"]
    for name in inkline.__all__:
        assert getattr(inkline, name).__doc__
        assert name in dir(inkline)
    with pytest.raises(AttributeError, match="has no attribute 'paint'"):
        _ = inkline.paint

"""The walls of the house: who may import whom, how large rooms are, and what may be written where.

Each rule is held against the package as it stands, and shown to fail on a line planted against it.
"""

import ast
import re
from collections import Counter
from itertools import pairwise
from pathlib import Path

import pytest

import inkline

ROOT = Path(inkline.__file__).parent
FLOORS = (
    {"errors"},
    {"units", "chance", "progress"},
    {"geometry", "source", "folder", "phrases"},
    {"drawing", "tracing"},
    {"calendar", "lettering", "artwork"},
    {"ink"},
    {"raster", "styles"},
    {"output", "proof"},
    {"pages", "press"},
    {"delivery"},
    {"kit", "numerals", "sampler"},
    {"finishing"},
    {"shop"},
    {"desk"},
    {"cli"},
    {"__init__", "__main__"},
)
"""Rooms of one floor never import each other; imports go only downwards."""
FLOORS_OF_THE_KIT = ("recipe", "stamps", "months", "papers", "")
"""The rooms within `kit`, the lowest first; what lies in `kit` itself comes last."""
KNOWS_NOTHING_OF = {
    "kit.stamps": {"ink", "raster", "output", "proof", "folder", "press", "pages"},
    "press": {"calendar", "lettering", "kit", "numerals"},
    "ink": {"calendar", "lettering", "folder", "output"},
    "delivery": {"calendar", "kit", "numerals"},
    "proof": {"ink", "raster", "output"},
    "cli": {"geometry", "ink", "raster"},
}
KNOWS_ONLY = {
    "folder": {"errors"},
    "source": {"errors"},
    "phrases": {"errors"},
    "tracing": {"geometry"},
    "geometry": set(),
    "units": {"errors"},
}
OPTION = re.compile(r"(?<![\w-])--[a-z]")
NAMES_OF_STAMPS = "kit/stamps/names.py"
STEMS = ("grid-", "blocks-", "dates-", "weekdays-", "weeks-", "marks-")
MOST_MODULES = 30
MOST_LINES = 350
MOST_LINES_OF_A_FUNCTION = 45

FLOOR_OF = {room: floor for floor, rooms in enumerate(FLOORS) for room in rooms}
MODULES = {
    path.relative_to(ROOT).as_posix(): path.read_text(encoding="utf-8")
    for path in sorted(ROOT.rglob("*.py"))
    if "data" not in path.relative_to(ROOT).parts
}


def dotted(place):
    """`kit.build` of `kit/build.py`."""
    return place.removesuffix(".py").removesuffix("/__init__").replace("/", ".")


def imports(place, source):
    """Modules of inkline that the source imports, each with its line.

    An import counts wherever it stands.
    """
    package = ["inkline", *place.split("/")[:-1]]
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            base = package[: len(package) - node.level + 1] if node.level else []
            start = ".".join([*base, *([node.module] if node.module else [])])
            names = [f"{start}.{alias.name}" for alias in node.names]
        else:
            continue
        for name in names:
            parts = name.split(".")
            if parts[0] == "inkline":
                yield node.lineno, ".".join(parts[1:]) or "__init__"


def room_in_kit(name):
    """`stamps` of `kit.stamps.plan`, "" of `kit.build`."""
    parts = name.split(".")
    return parts[1] if len(parts) > 1 and parts[1] in FLOORS_OF_THE_KIT else ""


def is_downwards(here, there):
    if here.split(".")[0] == there.split(".")[0] == "kit":
        order = FLOORS_OF_THE_KIT.index
        return order(room_in_kit(there)) <= order(room_in_kit(here))
    room, target = here.split(".")[0], there.split(".")[0]
    if room == target:
        return True
    return FLOOR_OF.get(target, len(FLOORS)) < FLOOR_OF[room]


def is_known(here, there):
    target = there.split(".")[0]
    forbidden = [no for room, no in KNOWS_NOTHING_OF.items() if f"{here}.".startswith(f"{room}.")]
    only = [rooms for room, rooms in KNOWS_ONLY.items() if f"{here}.".startswith(f"{room}.")]
    inside = target == here.split(".")[0]
    return not any(target in no for no in forbidden) and (
        inside or all(target in rooms for rooms in only)
    )


def wrong_arrows(place, source):
    here = dotted(place)
    return [
        f"{place}:{line} imports {there}"
        for line, there in imports(place, source)
        if not (is_downwards(here, there) and is_known(here, there))
    ]


def test_every_module_has_a_floor():
    assert {place.split("/")[0].removesuffix(".py") for place in MODULES} <= set(FLOOR_OF)
    assert len(MODULES) > 200


@pytest.mark.parametrize("place", MODULES)
def test_imports_go_downwards(place):
    assert wrong_arrows(place, MODULES[place]) == []


@pytest.mark.parametrize(
    ("place", "source"),
    [
        ("geometry/union.py", "from inkline.drawing import Stroke"),
        ("geometry/union.py", "from inkline.errors import InklineError"),
        ("ink/nib.py", "import inkline.raster.coverage"),
        ("ink/nib.py", "from inkline.lettering.face import Face"),
        ("ink/nib.py", "from inkline.folder.disk import Disk"),
        ("ink/nib.py", "from .. import kit"),
        ("output/png.py", "from inkline.proof.rule import rule_measurement"),
        ("proof/rule.py", "from inkline.raster.coverage import Coverage"),
        ("calendar/grid.py", "def f():\n    from inkline.lettering import face"),
        ("folder/view.py", "from inkline.units import Length"),
        ("source/lines.py", "from inkline.geometry.arrays import Points"),
        ("tracing/axis.py", "from inkline.errors import InputError"),
        ("press/choice.py", "from inkline.kit.build import build_kit"),
        ("press/choice.py", "from inkline.lettering.face import Face"),
        ("pages/page.py", "from inkline.press.run import Run"),
        ("numerals/font.py", "from inkline.kit.recipe.key import Key"),
        ("kit/build.py", "from inkline import cli"),
        ("kit/build.py", "from ..cli import running"),
        ("cli/style_run.py", "from inkline.ink.style import Style"),
        ("kit/recipe/key.py", "from inkline.kit.stamps.place import Place"),
        ("kit/stamps/place.py", "from inkline.kit.months.plans import month_plans"),
        ("kit/stamps/place.py", "from inkline.raster.compose import render"),
        ("kit/stamps/faults/use.py", "from inkline.ink.engine import draw"),
        ("kit/months/plans.py", "from inkline.kit.papers.guide import guide_pdf"),
        ("kit/papers/guide.py", "from inkline.kit.build import build_kit"),
        ("raster/compose.py", "import inkline"),
    ],
)
def test_an_arrow_that_goes_another_way_is_found(place, source):
    assert len(wrong_arrows(place, source)) == 1


@pytest.mark.parametrize(
    ("place", "source"),
    [
        ("kit/build.py", "from inkline.kit.check import KitCheck"),
        ("kit/build.py", "from .stamps.plan import StampPlan"),
        ("kit/stamps/plan.py", "from inkline.kit.recipe.model import Recipe"),
        ("units.py", "from inkline.errors import UnitError"),
        ("output/png.py", "import numpy\nfrom inkline.raster import coverage"),
        ("__init__.py", "from inkline.kit import build"),
    ],
)
def test_an_arrow_that_goes_down_is_not(place, source):
    assert wrong_arrows(place, source) == []


def circles(sources):
    """Modules that import one another in a circle, wherever in them the imports stand."""
    names = {dotted(place): place for place in sources}
    uses = {
        name: {
            found
            for _, there in imports(place, sources[place])
            if (found := nearest_module(there, names))
        }
        - {name}
        for name, place in names.items()
    }
    while True:
        ends = {name for name, used in uses.items() if not used & set(uses)}
        if not ends:
            return sorted(uses)
        uses = {name: used for name, used in uses.items() if name not in ends}


def nearest_module(there, names):
    """The module that `there`, a module or a name in one, belongs to, or None."""
    return (
        there
        if there in names
        else there.rpartition(".")[0]
        if there.rpartition(".")[0] in names
        else None
    )


def test_nothing_runs_in_a_circle():
    assert (
        circles({place: source for place, source in MODULES.items() if place != "__init__.py"})
        == []
    )


def test_a_circle_is_found():
    planted = {
        "kit/one.py": "from inkline.kit.two import a",
        "kit/two.py": "from inkline.kit.three import a",
        "kit/three.py": "def f():\n    from inkline.kit import one",
        "kit/four.py": "from inkline.kit.five import a",
        "kit/five.py": "",
    }
    assert circles(planted) == ["kit.one", "kit.three", "kit.two"]


def full_rooms(places):
    """Folders with more modules than one can keep in mind."""
    sizes = Counter(
        place.rpartition("/")[0] for place in places if not place.endswith("__init__.py")
    )
    return [folder for folder, size in sizes.items() if size > MOST_MODULES]


def test_no_room_is_overfull():
    assert full_rooms(MODULES) == []
    assert full_rooms([f"kit/m{index}.py" for index in range(MOST_MODULES + 1)]) == ["kit"]


def long_functions(source):
    return [
        node.name
        for node in ast.walk(ast.parse(source))
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef)
        and node.end_lineno - node.lineno >= MOST_LINES_OF_A_FUNCTION + lines_of_docstring(node)
    ]


def lines_of_docstring(node):
    first = node.body[0]
    is_docstring = (
        isinstance(first, ast.Expr)
        and isinstance(first.value, ast.Constant)
        and isinstance(first.value.value, str)
    )
    return first.end_lineno - first.lineno + 1 if is_docstring else 0


@pytest.mark.parametrize("place", MODULES)
def test_modules_and_functions_are_short(place):
    assert len(MODULES[place].splitlines()) <= MOST_LINES
    assert long_functions(MODULES[place]) == []


def test_a_long_function_is_found():
    body = "\n".join(["    x = 1"] * MOST_LINES_OF_A_FUNCTION)
    assert long_functions(f'def f():\n    """Says\n\n    much.\n    """\n{body}\n') == ["f"]
    assert long_functions(f'def f():\n    """Says\n\n    much.\n    """\n{body[:-10]}\n') == []


def options_in(place, source):
    """Lines whose texts speak of an option, where a page would have none."""
    if place.startswith(("cli/", "__main__")):
        return []
    return [
        node.lineno
        for node in ast.walk(ast.parse(source))
        if isinstance(node, ast.Constant)
        and isinstance(node.value, str)
        and OPTION.search(node.value)
    ]


@pytest.mark.parametrize("place", MODULES)
def test_options_are_spoken_of_in_the_command_line_alone(place):
    assert options_in(place, MODULES[place]) == []


@pytest.mark.parametrize(
    ("place", "source", "lines"),
    [
        ("kit/check.py", 'OPTION = "--list"', [1]),
        ("kit/check.py", 'def f(x):\n    """Give x, or say --force."""', [2]),
        ("kit/check.py", "x = 1\nprint(f'{x} is kept, and --redraw {x} draws it')", [2]),
        ("kit/check.py", 'name = "month--de"  # not --de', []),
        ("cli/kit_run.py", 'OPTION = "--list"', []),
    ],
)
def test_an_option_elsewhere_is_found(place, source, lines):
    assert options_in(place, source) == lines


def aliases(source):
    """Names given to kinds of arrays."""
    return [
        node.lineno
        for node in ast.parse(source).body
        if isinstance(node, ast.Assign) and "NDArray" in ast.unparse(node.value)
    ]


@pytest.mark.parametrize("place", [place for place in MODULES if place != "geometry/arrays.py"])
def test_kinds_of_arrays_are_named_once(place):
    assert aliases(MODULES[place]) == []


def test_a_second_name_of_arrays_is_found():
    assert aliases("import numpy as np\n\nFloats = NDArray[np.float64]\n") == [3]


def public_definitions(source):
    """What a module defines by public names: functions, classes, constants and names of types.

    A command hangs on its group by its decorator, which is a user.
    """
    found = {}
    for node in ast.parse(source).body:
        if isinstance(node, ast.FunctionDef | ast.ClassDef):
            if not any(".command" in ast.unparse(one) for one in node.decorator_list):
                found[node.name] = node
        elif isinstance(node, ast.Assign | ast.AnnAssign):
            targets = node.targets if isinstance(node, ast.Assign) else [node.target]
            names = (one for target in targets for one in ast.walk(target))
            found |= {one.id: node for one in names if isinstance(one, ast.Name)}
    return {name: node for name, node in found.items() if not name.startswith("_")}


def names_in_signature(node):
    """Names by which a definition is used: in its annotations, its bases, the value of an alias."""
    parts = []
    for one in [node, *(node.body if isinstance(node, ast.ClassDef) else [])]:
        if isinstance(one, ast.FunctionDef):
            arguments = [*one.args.posonlyargs, *one.args.args, *one.args.kwonlyargs]
            parts += [one.returns, *(argument.annotation for argument in arguments)]
        elif isinstance(one, ast.ClassDef):
            parts += one.bases
        elif isinstance(one, ast.AnnAssign):
            parts.append(one.annotation)
        elif one is node and isinstance(one, ast.Assign):
            parts.append(one.value)
    names = (name for part in parts if part is not None for name in ast.walk(part))
    return {name.id for name in names if isinstance(name, ast.Name)}


def used_names(place, source):
    """`kit.build.build_kit` for what a source imports, reads off a module, or names to patch it."""
    yield from (there for _, there in imports(place, source))
    tree = ast.parse(source)
    modules = {
        alias.asname or alias.name: f"{node.module}.{alias.name}".removeprefix("inkline.")
        for node in ast.walk(tree)
        if isinstance(node, ast.ImportFrom) and node.module
        for alias in node.names
    }
    for node in ast.walk(tree):
        if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name):
            yield f"{modules.get(node.value.id)}.{node.attr}"
        elif isinstance(node, ast.Call | ast.Tuple):
            for one, other in pairwise(node.args if isinstance(node, ast.Call) else node.elts):
                if isinstance(one, ast.Name) and isinstance(other, ast.Constant):
                    yield f"{modules.get(one.id)}.{other.value}"


def names_without_user(sources, tests):
    """By module, its public names that no other module and no test uses.

    What stands in the signature of another public name has that one's users.
    """
    used = {
        name
        for place, source in [*sources.items(), *tests.items()]
        for name in used_names(place, source)
    }
    idle = {}
    for place, source in sources.items():
        definitions = public_definitions(source)
        idle[place] = sorted(
            name
            for name in definitions
            if f"{dotted(place)}.{name}" not in used
            and not any(
                name in names_in_signature(node)
                for other, node in definitions.items()
                if other != name
            )
        )
    return {place: names for place, names in idle.items() if names}


def test_a_public_name_has_a_user():
    """A public name has a user outside its module, or an underscore.

    The user may be in the package or its tests.
    """
    folder = Path(__file__).parent
    tests = {
        f"tests/{path.relative_to(folder).as_posix()}": path.read_text(encoding="utf-8")
        for path in folder.rglob("*.py")
    }
    assert len(tests) > 100
    sources = {place: source for place, source in MODULES.items() if place != "__init__.py"}
    idle = names_without_user(sources, tests)
    assert idle == {}


def test_a_public_name_without_a_user_is_found():
    one = """
LIMIT = 1
Line = list[int]
class Kept: pass
class Given(Kept):
    def own(self) -> Given: ...
class Alone:
    def own(self) -> Alone: ...
def f(x: Line) -> Given: ...
def g(): return LIMIT
def h(): ...
def patched(): ...
def _own(): ...
@main.command()
def command(): ...
"""
    two = "from inkline.kit.one import f\nfrom inkline.kit import one\none.h()"
    test = "from inkline.kit import one\nmonkeypatch.setattr(one, 'patched', None)"
    found = names_without_user({"kit/one.py": one, "kit/two.py": two}, {"tests/test_one.py": test})
    assert found == {"kit/one.py": ["Alone", "LIMIT", "g"]}


def stems_written_out(source):
    """Lines with a text that begins as the stems of stamps do.

    Strings that stand alone as a statement are docstrings and may show an example; pieces of
    f-strings count as any other text.
    """
    tree = ast.parse(source)
    docstrings = {
        id(node.value)
        for node in ast.walk(tree)
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)
    }
    return [
        node.lineno
        for node in ast.walk(tree)
        if isinstance(node, ast.Constant)
        and isinstance(node.value, str)
        and id(node) not in docstrings
        and node.value.startswith(STEMS)
    ]


@pytest.mark.parametrize("place", [place for place in MODULES if place != NAMES_OF_STAMPS])
def test_names_of_stamps_are_made_and_read_in_one_place(place):
    assert stems_written_out(MODULES[place]) == []


@pytest.mark.parametrize(
    "line",
    [
        'name = f"dates-{column}"',
        'names = {"blocks-head": 1}',
        'is_grid = stem.startswith("grid-")',
        'pattern = re.compile(r"weeks-\\d\\d")',
    ],
)
def test_a_name_of_a_stamp_that_is_written_out_is_found(line):
    source = f'"""grid-5 is a grid."""\n\nX = 1\n"""weeks-05 too."""\n{line}\n'
    assert stems_written_out(source) == [5]
    assert stems_written_out(MODULES[NAMES_OF_STAMPS])


def test_the_public_functions_are_there_and_documented():
    assert inkline.__all__ == ["build_kit", "draw", "finish", "render"]
    for name in inkline.__all__:
        assert getattr(inkline, name).__doc__
        assert name in dir(inkline)
    with pytest.raises(AttributeError, match="has no attribute 'paint'"):
        _ = inkline.paint

"""A small recipe of a line of its own, and a desk that draws in this process."""

from pathlib import Path

import font_source_sans_pro
import pytest
from starlette.testclient import TestClient

from inkline.desk.app import desk_app
from inkline.desk.desk import Desk
from inkline.desk.document import RecipeDocument
from inkline.desk.easel import Easel
from inkline.desk.maker import Maker
from tests.desk.browser import chromium, desk_running

RECIPE = """\
version = 1
title = "Ferry times"
number = 411

[canvas]
side = "500 px"             # small, for tests

[style]
name = "felt-marker"

[words]
years = [2027]

[formats.standard]
cell = 1.0
"""


SHOWN_BY_PAGE = "of-a-test"


class EaselHere:
    """An easel that draws in this process, called as one in another."""

    def __init__(self):
        self.easel = Easel()

    def call(self, method, *arguments):
        return getattr(self.easel, method)(*arguments)

    def start(self):
        pass

    def stop(self):
        pass


@pytest.fixture(autouse=True)
def _own_state(tmp_path, monkeypatch):
    """What desks remember lies in the test's own folder."""
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))


@pytest.fixture
def recipe_file(tmp_path):
    path = tmp_path / "ferry.toml"
    path.write_text(RECIPE)
    return path


@pytest.fixture
def desk(recipe_file):
    document = RecipeDocument.opened(recipe_file, otherwise="")
    return Desk(document=document, front=EaselHere(), back=EaselHere())


@pytest.fixture
def client(desk):
    maker = Maker()
    app = desk_app(desk, token=SHOWN_BY_PAGE, maker=maker)
    yield TestClient(app, raise_server_exceptions=False)
    maker.stop()


@pytest.fixture(scope="module")
def shared_desk(tmp_path_factory):
    """A desk for all tests of a module: the file of its recipe, and its address."""
    folder = tmp_path_factory.mktemp("ferry")
    path = folder / "ferry.toml"
    path.write_text(RECIPE)
    with desk_running(path, state=folder / "state") as address:
        yield path, address


@pytest.fixture
def laid_out(shared_desk):
    """The recipe on the shared desk as all tests find it."""
    path, _ = shared_desk
    path.write_text(RECIPE)
    return path


@pytest.fixture
def address(laid_out, shared_desk):
    """Where that is served; the page that is loaded there shows it."""
    assert laid_out.is_file()
    return shared_desk[1]


@pytest.fixture
def font_file():
    """A Latin font of a package of the registry."""
    return Path(font_source_sans_pro.font_files_ttf["SourceSansPro"])


@pytest.fixture(scope="module")
def browser():
    """Chromium without a window, for a module's tests."""
    with chromium() as one:
        yield one

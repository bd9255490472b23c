"""The guide among a kit's papers: when it is made, made again, and left alone."""

import json
from dataclasses import replace
from types import SimpleNamespace

import pytest

from inkline.errors import InputError
from inkline.folder.kept import Foreign
from inkline.folder.manifest import Manifest, manifest_bytes, manifest_from_bytes
from inkline.kit import build, pieces
from inkline.kit.months.recipe import months_recipe
from inkline.kit.papers.sheet import Sheet
from inkline.kit.product import KitOrder, MonthsOrder, Papers
from inkline.kit.recipe.loading import default_recipe, recipe_from_text
from inkline.press.shop import entry_of_piece
from inkline.press.stamp_form import STAMP_FORM
from inkline.progress import Note

TEXT = """
version = 1
title = "S"
number = 7
[canvas]
side = "160 px"
[formats.week]
blocks = "none"
[words]
years = []
"""


@pytest.fixture
def recipe(tmp_path):
    return recipe_from_text(TEXT, source="week.toml", folder=tmp_path)


class Guides:
    """Makes guides that hold the title and how many stamps there are, and remembers the titles."""

    def __init__(self):
        self.made = []

    def __call__(self, kit, _folder):
        self.made.append(kit.recipe.title)
        return f"{kit.recipe.title}: {len(kit.plans)}".encode()


@pytest.fixture
def guides():
    return Guides()


@pytest.fixture
def build_kit(guides):
    """Builds a kit whose papers take no time."""

    def built(recipe, folder, *, guide=guides, **options):
        papers = Papers(sheet=lambda _, job: Sheet(name=job.name, picture=b"sheet"), guide=guide)
        return build.build_kit(
            recipe, folder, papers=papers, workers=1, foreign=Foreign.LEAVE, **options
        )

    return built


def test_the_guide_waits_for_all_stamps_and_is_made_again_for_what_it_tells(
    tmp_path, recipe, guides, build_kit
):
    assert "guide" not in build_kit(recipe, tmp_path, only=["week/*"]).sheets
    report = build_kit(recipe, tmp_path)
    assert "guide" in report.sheets
    n_stamps = len(report.drawn) + len(report.unchanged)
    assert (tmp_path / "guide.pdf").read_text() == f"S: {n_stamps}"
    again = replace(recipe, again={"words/digit-1": 1})
    assert build_kit(again, tmp_path).drawn == ("words/digit-1",)
    assert guides.made == ["S"]  # which it doesn't show
    again = replace(again, again={"words/digit-1": 1, "week/weekdays-sunday": 1})
    assert build_kit(again, tmp_path).drawn == ("week/weekdays-sunday",)
    assert guides.made == ["S", "S"]
    firm = replace(again.style, nib=replace(again.style.nib, pressure=0.01))
    for changed in (
        replace(again, edition="2"),
        replace(again, title="T"),
        replace(again, title="T", file_pattern="{name} {title}"),
        replace(again, title="T", style=firm),
    ):
        build_kit(changed, tmp_path)
    assert guides.made == ["S", "S", "S", "T", "T", "T"]


def test_a_guide_that_somebody_changed_is_kept(tmp_path, recipe, build_kit):
    build_kit(recipe, tmp_path)
    (tmp_path / "guide.pdf").write_bytes(b"mine")
    report = build_kit(replace(recipe, title="T"), tmp_path)
    assert report.sheets_kept == ("guide",)
    assert (tmp_path / "guide.pdf").read_bytes() == b"mine"
    assert "guide" in build_kit(recipe, tmp_path, redraw=["guide"]).sheets
    assert (tmp_path / "guide.pdf").read_bytes().startswith(b"S: ")


def test_a_kit_whose_guide_cannot_be_written_is_finished_without_it(tmp_path, recipe, build_kit):
    def guide(*_):
        raise InputError("the letters lack something")

    report = build_kit(recipe, tmp_path, guide=guide)
    assert "guide" not in report.sheets
    assert report.notes == (Note("guide.pdf was not made: the letters lack something"),)
    assert (tmp_path / "manifest.json").exists()
    assert not (tmp_path / "guide.pdf").exists()


def test_the_guide_takes_an_entry_for_the_same_when_it_is_read_back(tmp_path):
    text = TEXT.replace("[formats.week]", "[formats.standard]").replace('"none"', '"cut"')
    recipe = recipe_from_text(text, source="cut.toml", folder=tmp_path)
    kit, name = KitOrder(recipe=recipe).open_and_check(), "standard/blocks-5-cut-1"
    entry = entry_of_piece(kit.pieces[name], files={"png": ("ab", "cd")})
    read = manifest_from_bytes(
        manifest_bytes(Manifest(entries=(entry,)), form=STAMP_FORM), where="m", form=STAMP_FORM
    ).stamps[0]
    digests = set()
    for one in (entry, read):
        folder = SimpleNamespace(entry_of=lambda *_, one=one: one)
        digests.add(kit.pieces["guide"].inputs("pdf", folder, (name,)))
    assert set(entry.layout) == {"boxes", "glyphs"}
    assert list(entry.layout) != list(read.layout)
    assert len(digests) == 1


def test_finished_months_have_no_guide(recipe_of):
    months = months_recipe(recipe_of(), [(2027, 2)])
    assert "guide" in KitOrder(recipe=recipe_of()).open().pieces
    assert "guide" not in MonthsOrder(recipe=months).open().pieces


def test_papers_have_files_of_their_own(recipe_of):
    kit = KitOrder(recipe=recipe_of()).open()
    files = [kit.pieces[name].files for name in ("overview", "standard/layout", "guide")]
    assert files == [{"png": "overview.png"}, {"png": "standard/layout.png"}, {"pdf": "guide.pdf"}]
    assert kit.changes_file == "changes.txt"


def test_the_default_recipe_has_a_digest_for_its_guide():
    assert json.loads(json.dumps(pieces._plain_recipe(default_recipe())))["title"]
    assert pieces._plain_recipe(frozenset("ba")) == ["a", "b"]

"""The manifest as a file, there and back."""

import json

import numpy as np
import pytest

from inkline.errors import InputError
from inkline.folder.entry import Entry, FileEntry, FileSum, Section
from inkline.folder.manifest import Manifest, manifest_bytes, manifest_from_bytes, plain_values
from inkline.press.stamp_form import STAMP_FORM
from kept_folders import FORM

GRID = FileEntry(form="png", file="standard/grid-5.png", sha256="ab" * 32, inputs="cd" * 16)
OUTLINES = FileEntry(form="svg", file="standard/grid-5.svg", sha256="78" * 32, inputs="9a" * 16)
FACTS = {"kind": "grid", "format": "standard", "canvas": [160, 160]}
DRAWN_WITH = {"number": 7, "style": {"name": "round-pen", "digest": "56" * 16}}


def entry(**changes):
    values = {
        "name": "standard/grid-5",
        "section": Section.STAMPS,
        "files": (GRID,),
        "facts": FACTS,
        "drawn_with": DRAWN_WITH,
        "masters": FileSum(file="masters/standard/grid-5.npz", sha256="ef" * 32),
        "layout": {"lines": [{"from": [0.1, 1 / 3], "to": [160.0, 1 / 3], "width_px": 2.5}]},
    }
    return Entry(**(values | changes))


SHEET = Entry(
    name="overview",
    section=Section.SHEETS,
    files=(FileEntry(form="png", file="overview.png", sha256="12" * 32, inputs="34" * 16),),
)
WHOLE = Manifest(
    about={"title": "Été", "ppi": 300.0, "number": 7},
    entries=(
        entry(),
        entry(
            name="words/a",
            masters=None,
            facts=FACTS | {"format": None, "kind": "words"},
            layout={"glyphs": [{"text": "Ä"}]},
        ),
        entry(
            name="standard/blocks-5",
            facts=FACTS | {"kind": "blocks"},
            layout={"boxes": []},
            drawn_with={"number": None, "style": None},
        ),
        entry(
            name="standard/blocks-5-cut-1",
            facts=FACTS | {"kind": "blocks"},
            layout={"boxes": [{"name": "b"}], "glyphs": [{"text": "1"}]},
        ),
        entry(
            name="standard/marks-2027-03-monday",
            facts=FACTS | {"kind": "marks"},
            layout={"glyphs": [{"text": "ring 8"}]},
        ),
        entry(name="standard/grid-6", files=(GRID, OUTLINES)),
        SHEET,
    ),
)


def test_a_manifest_comes_back_as_it_was():
    assert manifest_from_bytes(manifest_bytes(WHOLE, form=FORM), where="m", form=FORM) == WHOLE
    assert (
        manifest_from_bytes(manifest_bytes(Manifest(), form=FORM), where="m", form=FORM)
        == Manifest()
    )


def test_any_reader_of_json_finds_the_documented_keys():
    values = json.loads(manifest_bytes(WHOLE, form=FORM))
    assert (values["format"], values["version"], values["title"]) == ("inkline kit", 1, "Été")
    assert values["stamps"][0]["lines"][0]["from"] == [0.1, 1 / 3]
    assert values["stamps"][1]["format"] is None
    assert values["sheets"][0]["name"] == "overview"


def test_each_rule_has_a_line_of_its_own():
    lines = manifest_bytes(WHOLE, form=FORM).decode().splitlines()
    assert (
        json.loads(next(line for line in lines if '"from"' in line).rstrip(","))["width_px"] == 2.5
    )


def test_entries_without_number_and_style_are_read():
    values = json.loads(manifest_bytes(WHOLE, form=FORM))
    for stamp in values["stamps"]:
        del stamp["number"], stamp["style"]
    stamps = manifest_from_bytes(json.dumps(values).encode(), where="m.json", form=FORM).stamps
    assert {(stamp.number, len(stamp.drawn_with)) for stamp in stamps} == {(None, 0)}


def test_a_name_with_several_files_lists_them_all_and_the_main_one_as_ever():
    values = json.loads(manifest_bytes(WHOLE, form=FORM))
    one, two = values["stamps"][0], values["stamps"][5]
    assert "files" not in one
    assert (two["file"], two["sha256"], two["inputs"]) == (GRID.file, GRID.sha256, GRID.inputs)
    assert two["files"] == [GRID.to_dict(), OUTLINES.to_dict()]


@pytest.mark.parametrize(
    "data", [b"", b"{", b"\xff\xfe", b'{"format": "inkline kit", "version": 1}']
)
def test_damage_is_told_with_the_way_out(data):
    with pytest.raises(InputError, match=r"m\.json is damaged .*move it elsewhere"):
        manifest_from_bytes(data, where="m.json", form=FORM)


def test_an_entry_that_lacks_something_is_damage():
    values = json.loads(manifest_bytes(WHOLE, form=FORM))
    del values["stamps"][0]["canvas"]
    with pytest.raises(InputError, match=r"damaged \(an entry lacks or misstates 'canvas'\)"):
        manifest_from_bytes(json.dumps(values).encode(), where="m.json", form=STAMP_FORM)
    assert manifest_from_bytes(json.dumps(values).encode(), where="m.json", form=FORM).entries
    for key in ("name", "file", "sha256", "inputs", "masters"):
        broken = json.loads(manifest_bytes(WHOLE, form=FORM))
        del broken["stamps"][0][key]
        with pytest.raises(InputError, match=rf"an entry lacks or misstates '{key}'"):
            manifest_from_bytes(json.dumps(broken).encode(), where="m.json", form=FORM)


@pytest.mark.parametrize("data", [b"[]", b"{}", b'{"name": "a package"}', b"3"])
def test_another_file_is_told_apart(data):
    with pytest.raises(InputError, match="is not the manifest of a kit"):
        manifest_from_bytes(data, where="manifest.json", form=FORM)


def test_a_later_version_is_refused():
    with pytest.raises(InputError, match="has version 2, and this inkline reads version 1"):
        manifest_from_bytes(
            b'{"format": "inkline kit", "version": 2}', where="manifest.json", form=FORM
        )


def test_plain_values_are_what_json_gives_back():
    values = {"a": (1, np.float64(0.1)), "b": np.array([[1.5, 2.0]]), "c": np.int64(3)}
    assert plain_values(values) == {"a": [1, 0.1], "b": [[1.5, 2.0]], "c": 3}
    with pytest.raises(TypeError, match="set has no form in JSON"):
        plain_values({"a": {1}})


def test_layouts_are_compared_by_what_lies_where():
    assert entry().same_layout(entry(files=(OUTLINES,), masters=None, drawn_with={}))
    lines = [{"from": [0.1, 1 / 3], "to": [160.0, 1 / 3 + 1e-9], "width_px": 2.5}]
    assert entry().same_layout(entry(layout={"lines": lines}))
    assert not entry().same_layout(entry(layout={"lines": [lines[0] | {"width_px": 2.51}]}))
    assert not entry().same_layout(entry(layout={"lines": lines * 2}))
    assert not entry().same_layout(entry(layout={"boxes": lines}))
    assert not entry().same_layout(entry(facts=FACTS | {"canvas": [161, 160]}))
    assert not entry().same_layout(entry(layout={"lines": []}))

"""The manifest as a file, there and back."""

import json

import numpy as np
import pytest

from inkline.errors import InputError
from inkline.folder.manifest import (
    FileSum,
    Manifest,
    SheetEntry,
    StampEntry,
    StyleSum,
    manifest_bytes,
    manifest_from_bytes,
    plain_values,
)


def entry(**changes):
    values = {
        "name": "standard/grid-5",
        "file": "standard/grid-5.png",
        "sha256": "ab" * 32,
        "kind": "grid",
        "format": "standard",
        "canvas": (160, 160),
        "number": 7,
        "style": StyleSum(name="round-pen", digest="56" * 16),
        "inputs": "cd" * 16,
        "masters": FileSum(file="masters/standard/grid-5.npz", sha256="ef" * 32),
        "geometry": {"lines": [{"from": [0.1, 1 / 3], "to": [160.0, 1 / 3], "width_px": 2.5}]},
    }
    return StampEntry(**(values | changes))


SHEET = SheetEntry(name="overview", file="overview.png", sha256="12" * 32, inputs="34" * 16)
WHOLE = Manifest(
    about={"title": "Été", "ppi": 300.0, "number": 7},
    stamps=(
        entry(),
        entry(
            name="words/a",
            masters=None,
            format=None,
            kind="words",
            geometry={"glyphs": [{"text": "Ä"}]},
        ),
        entry(
            name="standard/blocks-5", kind="blocks", geometry={"boxes": []}, number=None, style=None
        ),
        entry(
            name="standard/blocks-5-cut-1",
            kind="blocks",
            geometry={"boxes": [{"name": "b"}], "glyphs": [{"text": "1"}]},
        ),
        entry(
            name="standard/marks-2027-03-monday",
            kind="marks",
            geometry={"glyphs": [{"text": "ring 8"}]},
        ),
    ),
    sheets=(SHEET,),
)


def test_a_manifest_comes_back_as_it_was():
    assert manifest_from_bytes(manifest_bytes(WHOLE), where="m") == WHOLE
    assert manifest_from_bytes(manifest_bytes(Manifest()), where="m") == Manifest()


def test_any_reader_of_json_finds_the_documented_keys():
    values = json.loads(manifest_bytes(WHOLE))
    assert (values["format"], values["version"], values["title"]) == ("inkline kit", 1, "Été")
    assert values["stamps"][0]["lines"][0]["from"] == [0.1, 1 / 3]
    assert values["stamps"][1]["format"] is None
    assert values["sheets"][0]["name"] == "overview"


def test_each_rule_has_a_line_of_its_own():
    lines = manifest_bytes(WHOLE).decode().splitlines()
    assert (
        json.loads(next(line for line in lines if '"from"' in line).rstrip(","))["width_px"] == 2.5
    )


def test_entries_without_number_and_style_are_read():
    values = json.loads(manifest_bytes(WHOLE))
    for stamp in values["stamps"]:
        del stamp["number"], stamp["style"]
    stamps = manifest_from_bytes(json.dumps(values).encode(), where="m.json").stamps
    assert {(stamp.number, stamp.style) for stamp in stamps} == {(None, None)}


@pytest.mark.parametrize(
    "data", [b"", b"{", b"\xff\xfe", b'{"format": "inkline kit", "version": 1}']
)
def test_damage_is_told_with_the_way_out(data):
    with pytest.raises(InputError, match=r"m\.json is damaged .*move it elsewhere"):
        manifest_from_bytes(data, where="m.json")


def test_an_entry_that_lacks_something_is_damage():
    values = json.loads(manifest_bytes(WHOLE))
    del values["stamps"][0]["canvas"]
    with pytest.raises(InputError, match=r"damaged \(an entry lacks or misstates 'canvas'\)"):
        manifest_from_bytes(json.dumps(values).encode(), where="m.json")


@pytest.mark.parametrize("data", [b"[]", b"{}", b'{"name": "a package"}', b"3"])
def test_another_file_is_told_apart(data):
    with pytest.raises(InputError, match="is not the manifest of a kit"):
        manifest_from_bytes(data, where="manifest.json")


def test_a_later_version_is_refused():
    with pytest.raises(InputError, match="has version 2, and this inkline reads version 1"):
        manifest_from_bytes(b'{"format": "inkline kit", "version": 2}', where="manifest.json")


def test_plain_values_are_what_json_gives_back():
    values = {"a": (1, np.float64(0.1)), "b": np.array([[1.5, 2.0]]), "c": np.int64(3)}
    assert plain_values(values) == {"a": [1, 0.1], "b": [[1.5, 2.0]], "c": 3}
    with pytest.raises(TypeError, match="set has no form in JSON"):
        plain_values({"a": {1}})


def test_layouts_are_compared_by_what_lies_where():
    assert entry().same_layout(entry(sha256="", inputs="", masters=None))
    lines = [{"from": [0.1, 1 / 3], "to": [160.0, 1 / 3 + 1e-9], "width_px": 2.5}]
    assert entry().same_layout(entry(geometry={"lines": lines}))
    assert not entry().same_layout(entry(geometry={"lines": [lines[0] | {"width_px": 2.51}]}))
    assert not entry().same_layout(entry(geometry={"lines": lines * 2}))
    assert not entry().same_layout(entry(geometry={"boxes": lines}))
    assert not entry().same_layout(entry(canvas=(161, 160)))
    assert not entry().same_layout(entry(geometry={"lines": []}))

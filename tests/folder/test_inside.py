"""Files that a manifest or a journal names outside of its folder, and links that lead there."""

import json
import os
from functools import partial
from pathlib import Path

import pytest

from inkline.errors import InputError, WorkError
from inkline.folder.disk import file_sha256, part_path
from inkline.folder.entry import FileEntry, FileSum
from inkline.folder.inside import refuse_path_elsewhere
from inkline.folder.journal import JOURNAL_FILE, read_journal
from inkline.folder.kept import Foreign
from inkline.folder.manifest import MANIFEST_FILE
from inkline.folder.reading import bytes_of_plain_file
from inkline.folder.view import folder_view
from kept_folders import FORM, entry, finished, opened, saved

ELSEWHERE = ["../victim", "/victim", "a/../../victim", "C:victim", "..\\victim", "a\0b", "", "."]


@pytest.fixture
def kit(tmp_path):
    (tmp_path / "victim").write_bytes(b"a stranger's")
    with opened(tmp_path / "kit") as held:
        saved(held, "a/one", b"picture one")
        finished(held)
    yield tmp_path / "kit"
    assert (tmp_path / "victim").read_bytes() == b"a stranger's"


@pytest.mark.parametrize("file", [*ELSEWHERE, "\ud800"])
def test_a_path_that_leads_elsewhere_is_none_of_a_file(file):
    for make in (
        refuse_path_elsewhere,
        lambda file: FileSum(file=file, sha256=""),
        lambda file: FileEntry(form="png", file=file, sha256="", inputs=""),
    ):
        with pytest.raises(ValueError, match=r"no path within the folder|surrogates"):
            make(file)


@pytest.mark.parametrize("file", ["a.png", "a/b c/ü-3.png", ".hidden", "a..b"])
def test_a_path_within_is_one(file):
    refuse_path_elsewhere(file)


@pytest.mark.parametrize("file", ELSEWHERE)
@pytest.mark.parametrize("key", ["file", "masters"])
def test_a_manifest_that_names_a_file_elsewhere_is_refused(kit, file, key):
    values = json.loads((kit / MANIFEST_FILE).read_text())
    if key == "file":
        values["stamps"][0]["file"] = file
    else:
        values["stamps"][0]["masters"]["file"] = file
    (kit / MANIFEST_FILE).write_text(json.dumps(values))
    for look in (opened, partial(folder_view, form=FORM)):
        with pytest.raises(InputError, match="is no path within the folder"):
            look(kit)


@pytest.mark.parametrize("file", ELSEWHERE)
def test_a_journal_that_names_a_file_elsewhere_says_nothing(kit, file):
    values = entry("a/two", b"x").to_dict() | {"file": file}
    (kit / JOURNAL_FILE).write_text(json.dumps({"stamp": values}) + "\n")
    assert read_journal(kit) == ()
    with opened(kit) as held:
        assert list(held.known) == ["a/one"]


@pytest.mark.parametrize(
    "link",
    [
        MANIFEST_FILE,
        JOURNAL_FILE,
        "a",
        "a/one.png",
        "a/two.png",
        "masters",
        "masters/a",
        "overview.png",
    ],
)
@pytest.mark.parametrize("target", ["file", "folder", "nothing"])
def test_a_link_to_a_place_outside_is_refused_and_nothing_is_written_there(
    kit, tmp_path, link, target
):
    outside = tmp_path / "outside"
    if target == "folder":
        outside.mkdir()
    elif target == "file":
        outside.write_bytes(b"a stranger's too")
    place = kit / link
    if place.is_dir():
        place.rename(tmp_path / "moved")
    else:
        place.unlink(missing_ok=True)
    place.symlink_to(outside)
    with pytest.raises(InputError, match="is a link to a place outside of"):
        opened(kit)
    if target == "folder":
        assert list(outside.iterdir()) == []
    else:
        assert outside.exists() == (target == "file")
        assert target == "nothing" or outside.read_bytes() == b"a stranger's too"


def test_a_temporary_name_that_is_a_link_is_not_followed(tmp_path):
    (tmp_path / "victim").write_bytes(b"a stranger's")
    with opened(tmp_path / "kit") as held:
        (tmp_path / "kit" / "a").mkdir()
        part = part_path(tmp_path / "kit" / "a" / "one.png")
        part.symlink_to(tmp_path / "victim")
        saved(held, "a/one", b"picture one")
        finished(held)
    assert (tmp_path / "victim").read_bytes() == b"a stranger's"
    assert (tmp_path / "kit" / "a" / "one.png").read_bytes() == b"picture one"
    assert not os.path.lexists(part)


def test_a_kit_folder_that_is_a_link_itself_is_fine(kit, tmp_path):
    (tmp_path / "link").symlink_to(kit)
    with opened(tmp_path / "link") as held:
        saved(held, "a/two", b"picture two")
        finished(held)
    assert (kit / "a" / "two.png").read_bytes() == b"picture two"


def test_a_link_within_the_folder_is_fine(kit):
    (kit / "a" / "one.png").rename(kit / "a" / "two.png")
    (kit / "a" / "one.png").symlink_to("two.png")
    with opened(kit) as held:
        assert held.sum_of("a/one.png") == held.sum_of("a/two.png")


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="needs pipes with names")
@pytest.mark.parametrize("name", [MANIFEST_FILE, JOURNAL_FILE, "a/one.png"])
def test_a_pipe_is_no_file_and_nobody_waits_for_it(kit, name):
    (kit / name).unlink(missing_ok=True)
    os.mkfifo(kit / name)
    with (
        pytest.raises(WorkError, match="could not be read: it is no plain file"),
        opened(kit, foreign=Foreign.LEAVE) as held,
    ):
        held.sum_of("a/one.png")


@pytest.mark.skipif(not Path("/dev/zero").exists(), reason="needs the device that never ends")
def test_a_device_and_a_file_that_is_too_large_are_not_read(tmp_path):
    with pytest.raises(WorkError, match="it is no plain file"):
        file_sha256(Path("/dev/zero"))
    with (tmp_path / "large").open("wb") as file:
        file.truncate(3_000_000)
    with pytest.raises(OSError, match="larger than 2 MB"):
        bytes_of_plain_file(tmp_path / "large", most=2_000_000)


@pytest.mark.parametrize(
    "text",
    [
        '{"format": "inkline kit", "version": 1, "sheets": [], "stamps": ' + "[" * 100_000,
        '{"format": "inkline kit", "version": 1, "sheets": [], "stamps": '
        + "[" * 900
        + "]" * 900
        + "}",
        '{"format": "inkline kit", "version": 1, "sheets": [], "stamps": 3}',
        '{"format": "inkline kit", "version": 1, "sheets": [], "title": "\\ud800", "stamps": []}',
    ],
)
def test_a_manifest_of_a_strange_form_is_told_as_damaged(kit, text):
    (kit / MANIFEST_FILE).write_text(text)
    with pytest.raises(InputError, match=r"manifest\.json is damaged"):
        folder_view(kit, form=FORM)
    (kit / MANIFEST_FILE).unlink()
    (kit / JOURNAL_FILE).write_text(text + "\n")
    assert read_journal(kit) == ()


@pytest.mark.parametrize("rows", [-1e308, "text", [3], {"a": 1}])
@pytest.mark.parametrize("key", ["lines", "glyphs", "boxes"])
def test_a_layout_that_is_no_list_of_objects_is_damage(kit, key, rows):
    values = json.loads((kit / MANIFEST_FILE).read_text())
    values["stamps"][0][key] = rows
    (kit / MANIFEST_FILE).write_text(json.dumps(values))
    with pytest.raises(InputError, match=rf"lacks or misstates '{key}'|of another kind"):
        folder_view(kit, form=FORM)

"""The folder of a kit: refusals, leftovers and what cannot be read or removed."""

from pathlib import Path

import pytest

from inkline.errors import InputError, WorkError
from inkline.folder.disk import Disk, part_path, sha256
from inkline.folder.entry import Entry, Section
from inkline.folder.journal import JOURNAL_FILE
from inkline.folder.kept import Foreign, masters_file, open_kept_folder
from inkline.folder.manifest import MANIFEST_FILE
from inkline.folder.state import State
from inkline.folder.strangers import Kind, read_manifest
from inkline.folder.view import folder_view
from kept_folders import FILES, FORM, entry, file_of, finished, opened, saved


@pytest.fixture
def folder(tmp_path):
    with opened(tmp_path / "kit") as kit:
        saved(kit, "a/one", b"picture one")
        finished(kit)
    return tmp_path / "kit"


def test_states_of_a_picture(folder):
    with opened(folder) as kit:
        assert kit.state_of("a/one", "a/one.png", "in") is State.UNCHANGED
        assert kit.state_of("a/one", "a/one.png", "other") is State.OUTDATED
        assert kit.state_of("a/two", "a/two.png", "in") is State.MISSING
    (folder / "a" / "one.png").write_bytes(b"mine")
    (folder / "a" / "two.png").write_bytes(b"whose?")
    with opened(folder) as kit:
        assert kit.state_of("a/one", "a/one.png", "in") is State.RETOUCHED
        assert kit.state_of("a/two", "a/two.png", "in") is State.UNKNOWN


def test_a_picture_without_its_masters_is_outdated(folder):
    (folder / "masters" / "a" / "one.npz").write_bytes(b"other")
    with opened(folder) as kit:
        assert kit.state_of("a/one", "a/one.png", "in") is State.OUTDATED


def test_the_journal_speaks_for_pictures_that_the_manifest_does_not_know_yet(folder):
    with opened(folder) as kit:
        saved(kit, "a/two", b"picture two")  # and then the run is stopped
    assert (folder / JOURNAL_FILE).exists()
    with opened(folder) as kit:
        assert kit.state_of("a/two", "a/two.png", "in") is State.UNCHANGED
        finished(kit)
    assert not (folder / JOURNAL_FILE).exists()
    assert [stamp.name for stamp in read_manifest(folder, form=FORM).stamps] == ["a/one", "a/two"]


def test_a_redrawing_that_was_stopped_before_the_renaming_leaves_the_retouch_hers(folder):
    (folder / "a" / "one.png").write_bytes(b"mine")
    with opened(folder) as kit:
        kit.journal.add(entry("a/one", b"picture one, redrawn", inputs="new"))
    with opened(folder) as kit:
        assert kit.state_of("a/one", "a/one.png", "in") is State.RETOUCHED
        assert kit.entry_of("a/one", "a/one.png").files[0].sha256 == sha256(b"picture one")


def test_sheets_are_listed_apart(folder):
    with opened(folder) as kit:
        sheet = Entry(
            name="overview", section=Section.SHEETS, files=(file_of("overview", "png", b"o"),)
        )
        kit.save(sheet, "overview.png", b"o")
        finished(kit)
    manifest = read_manifest(folder, form=FORM)
    assert [sheet.name for sheet in manifest.sheets] == ["overview"]
    assert [stamp.name for stamp in manifest.stamps] == ["a/one"]


def test_half_written_files_of_a_stopped_run_are_cleared_away(folder):
    parts = [
        folder / name
        for name in ("a/two.png", "masters/a/two.npz", "manifest.json", "overview.png")
    ]
    for path in parts:
        part_path(path).write_bytes(b"half")
    with opened(folder):
        assert not [path for path in folder.rglob("*") if "inkline-part" in path.name]


class NoRemoving(Disk):
    def remove(self, path):
        raise OSError(1, "Operation not permitted", str(path))


def test_a_part_that_cannot_be_removed_is_told_and_the_folder_is_free_again(folder):
    part_path(folder / "overview.png").write_bytes(b"half")
    with pytest.raises(
        WorkError, match=r"inkline-part could not be removed: Operation not permitted"
    ):
        opened(folder, disk=NoRemoving())
    opened(folder).__exit__(None, None, None)


class NoSyncing(Disk):
    def sync_folder(self, folder):
        raise OSError(5, f"Input/output error in {folder.name}")


def test_a_folder_that_cannot_be_synced_is_told(folder):
    with opened(folder, disk=NoSyncing()) as kit:
        saved(kit, "a/two", b"two")
        with pytest.raises(WorkError, match=r"could not be written: Input/output error in a"):
            finished(kit)


def test_a_manifest_that_cannot_be_read_is_told(tmp_path):
    (tmp_path / MANIFEST_FILE).mkdir()
    with pytest.raises(WorkError, match=r"manifest\.json could not be read"):
        read_manifest(tmp_path, form=FORM)
    assert read_manifest(tmp_path / "none", form=FORM).stamps == ()


def test_foreign_files_anywhere_in_a_kit_are_found_and_no_reason_to_refuse_it(folder):
    with opened(folder) as kit:
        assert kit.foreign == ""
    (folder / "masters" / "of-another-recipe.npz").write_bytes(b"")
    with opened(folder) as kit:
        assert kit.foreign == ""
    (folder / "a" / "deep").mkdir()
    (folder / "a" / "deep" / "letter.txt").write_bytes(b"")
    for foreign in Foreign:
        with opened(folder, foreign=foreign) as kit:
            assert kit.foreign == str(Path("a", "deep", "letter.txt"))


def test_a_kit_of_another_number_is_refused_before_anything_is_written(tmp_path):
    with opened(tmp_path / "kit", number=7) as kit:
        assert kit.number is None
        saved(
            kit, "a/one", b"picture one"
        )  # and then the run is stopped, so only the journal knows the number
    files = sorted((tmp_path / "kit").rglob("*"))
    with pytest.raises(
        InputError,
        match=r"kit was drawn with number 7, and this is 8$",
    ):
        opened(tmp_path / "kit", number=8)
    assert sorted((tmp_path / "kit").rglob("*")) == files
    with opened(tmp_path / "kit", number=7) as kit:
        kit.finish({"number": 7}, names=("a/one",))
    with pytest.raises(InputError, match=r"kit was drawn with number 7, and this is 0$"):
        opened(tmp_path / "kit", number=0)
    for options in ({"number": 8, "foreign": Foreign.LEAVE}, {}):
        with opened(tmp_path / "kit", **options) as kit:
            assert kit.number == 7


def test_in_a_folder_that_is_no_kit_even_a_file_of_the_right_name_is_foreign(tmp_path):
    (tmp_path / "overview.png").write_bytes(b"mine")
    with pytest.raises(InputError, match=r"such as overview\.png"):
        opened(tmp_path)


def test_equal_files_are_not_written_again(folder):
    class Counting(Disk):
        def __init__(self):
            self.written = []

        def write(self, path, data):
            self.written.append(path.name)
            super().write(path, data)

    disk = Counting()
    with opened(folder, disk=disk) as kit:
        kit.save_masters(masters_file("a/one"), b"masters")
        finished(kit)
    assert disk.written == []


def called(path, files, *, disk=None):
    return open_kept_folder(
        path,
        kind=Kind(form=FORM),
        files=FILES | {name: {"png": file} for name, file in files.items()},
        foreign=Foreign.REFUSE,
        **({"disk": disk} if disk else {}),
    )


def test_pictures_get_the_names_that_they_are_to_have_whatever_they_are(folder):
    (folder / "a" / "one.png").write_bytes(b"mine")
    with called(folder, {"a/one": "a/first.png"}) as kit:
        assert kit.n_renamed == 1
        assert kit.state_of("a/one", "a/first.png", "in") is State.RETOUCHED
        finished(kit)
    assert (folder / "a" / "first.png").read_bytes() == b"mine"
    (stamp,) = read_manifest(folder, form=FORM).stamps
    assert (stamp.files[0].file, stamp.masters.file) == ("a/first.png", "masters/a/one.npz")
    with called(folder, {"a/one": "a/first.png"}) as kit:
        assert kit.n_renamed == 0


def test_one_picture_may_take_the_name_that_another_leaves(folder):
    with opened(folder) as kit:
        saved(kit, "a/two", b"picture two")
        finished(kit)
    with called(folder, {"a/one": "a/two.png", "a/two": "a/three.png"}) as kit:
        assert kit.n_renamed == 2
        finished(kit)
    assert (folder / "a" / "two.png").read_bytes() == b"picture one"
    assert (folder / "a" / "three.png").read_bytes() == b"picture two"


def test_a_picture_is_not_renamed_over_another_file(folder):
    (folder / "a" / "first.png").write_bytes(b"somebody's")
    sentence = (
        r"a/one\.png in .*kit is to be called a/first\.png now, and another file has that name; "
        r"move it elsewhere"
    )
    with pytest.raises(InputError, match=sentence):
        called(folder, {"a/one": "a/first.png"})
    assert (folder / "a" / "one.png").read_bytes() == b"picture one"
    assert (folder / "a" / "first.png").read_bytes() == b"somebody's"
    assert not (folder / JOURNAL_FILE).exists()


class NoRenaming(Disk):
    def replace(self, source, target):
        raise OSError(30, f"Read-only file system, so {source.name} stays {target.name}")


def test_a_renaming_that_fails_is_told(folder):
    with pytest.raises(WorkError, match=r"first\.png could not be written: its disk is read-only"):
        called(folder, {"a/one": "a/first.png"}, disk=NoRenaming())
    with opened(folder) as kit:
        assert kit.state_of("a/one", "a/one.png", "in") is State.UNCHANGED


def test_a_kit_can_be_looked_at_without_being_held(folder):
    with opened(folder) as kit:
        saved(kit, "a/two", b"picture two")  # and then the run is stopped
    before = sorted(folder.rglob("*"))
    view = folder_view(folder, form=FORM)
    assert [entry.name for entry in view.listed_entries()] == ["a/one", "a/two"]
    assert (view.number, view.about) == (7, {"title": "T"})
    assert view.state_of("a/two", "a/two.png", "in") is State.UNCHANGED
    assert sorted(folder.rglob("*")) == before
    assert not folder_view(folder / "none", form=FORM).known

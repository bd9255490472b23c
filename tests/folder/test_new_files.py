"""Files that are never written over others."""

from pathlib import Path

import pytest

from inkline.errors import InputError, WorkError
from inkline.folder.new_files import refuse_existing, require_suffix, write_all_new, write_new


def test_a_new_file_is_written_whole(tmp_path):
    write_new(tmp_path / "a", b"data")
    assert [(path.name, path.read_bytes()) for path in tmp_path.iterdir()] == [("a", b"data")]


def test_a_file_that_exists_stays(tmp_path):
    (tmp_path / "a").write_bytes(b"theirs")
    sentence = f"^{tmp_path / 'a'} exists already and is left as it is; choose another name$"
    for write in (
        lambda: write_new(tmp_path / "a", b"ours"),
        lambda: write_all_new({tmp_path / "b": b"ours", tmp_path / "a": b"ours"}),
        lambda: refuse_existing([tmp_path / "b", tmp_path / "a"]),
    ):
        with pytest.raises(InputError, match=sentence):
            write()
    assert [(path.name, path.read_bytes()) for path in tmp_path.iterdir()] == [("a", b"theirs")]


def test_several_files_have_their_folders_made(tmp_path):
    files = {tmp_path / "new" / "deep" / "a": b"1", tmp_path / "b": b"2"}
    write_all_new(files)
    assert {file: file.read_bytes() for file in files} == files


def test_one_file_needs_its_folder(tmp_path):
    with pytest.raises(WorkError, match="could not be written"):
        write_new(tmp_path / "no" / "a", b"data")


def test_a_name_must_end_as_its_kind_does():
    require_suffix(Path("a.PNG"), ".png", what="a sheet", setting="out")
    with pytest.raises(InputError, match=r"^a sheet's name must end in \.png, not 'a\.jpg'$") as no:
        require_suffix(Path("a.jpg"), ".png", what="a sheet", setting="out")
    assert no.value.setting == "out"

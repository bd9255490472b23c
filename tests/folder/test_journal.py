"""The journal: what survives a stop, and that only one run works in a folder."""

from dataclasses import replace

import pytest

from inkline.errors import WorkError
from inkline.folder.disk import Disk
from inkline.folder.entry import Entry, FileEntry, Section
from inkline.folder.journal import JOURNAL_FILE, open_journal, read_journal


def sheet(number):
    file = FileEntry(form="png", file=f"sheet-{number}.png", sha256=f"{number:064x}", inputs="0")
    return Entry(name=f"sheet-{number}", section=Section.SHEETS, files=(file,))


def test_entries_are_read_back_in_order(tmp_path):
    journal = open_journal(tmp_path)
    journal.add(sheet(1))
    journal.add(sheet(2))
    journal.close()
    assert read_journal(tmp_path) == (sheet(1), sheet(2))
    again = open_journal(tmp_path)
    assert again.earlier == (sheet(1), sheet(2))
    again.close()


def test_an_entry_that_was_called_by_its_file_is_called_without_its_suffix(tmp_path):
    """So numeral sets once called theirs, a picture and its outlines apart."""
    journal = open_journal(tmp_path)
    journal.add(replace(sheet(1), name="sheet-1.png"))
    journal.close()
    assert read_journal(tmp_path) == (sheet(1),)


def test_without_a_journal_nothing_was_begun(tmp_path):
    assert read_journal(tmp_path) == ()


@pytest.mark.parametrize("lost", [1, 10, 60])
def test_a_line_cut_short_is_passed_over_and_harms_no_later_one(tmp_path, lost):
    journal = open_journal(tmp_path)
    journal.add(sheet(1))
    journal.add(sheet(2))
    journal.close()
    path = tmp_path / JOURNAL_FILE
    path.write_bytes(path.read_bytes()[:-lost])
    journal = open_journal(tmp_path)
    assert sheet(1) in journal.earlier
    journal.add(sheet(3))
    journal.close()
    assert read_journal(tmp_path)[0] == sheet(1)
    assert read_journal(tmp_path)[-1] == sheet(3)


def test_lines_of_no_meaning_are_passed_over(tmp_path):
    (tmp_path / JOURNAL_FILE).write_bytes(b'\n[]\n3\n{"stamp": {}}\n{"sheet": 4}\n\xff\n')
    assert read_journal(tmp_path) == ()


def test_a_second_run_in_the_folder_is_turned_away(tmp_path):
    first = open_journal(tmp_path)
    with pytest.raises(WorkError, match="another run of inkline is building in"):
        open_journal(tmp_path)
    first.close()
    open_journal(tmp_path).close()


def test_a_removed_journal_leaves_the_folder_free(tmp_path):
    journal = open_journal(tmp_path)
    journal.remove()
    journal.close()
    assert not list(tmp_path.iterdir())


class BrokenDisk(Disk):
    def append(self, path, data):
        raise OSError(30, f"Read-only file system for {len(data)} bytes", str(path))

    def remove(self, path):
        raise OSError(30, "Read-only file system", str(path))


def test_a_journal_that_cannot_be_written_is_told(tmp_path):
    with pytest.raises(
        WorkError, match=r"unfinished\.jsonl could not be written: its disk is read-only"
    ):
        open_journal(tmp_path, disk=BrokenDisk())


def test_a_journal_that_cannot_be_removed_is_told(tmp_path):
    open_journal(tmp_path).close()
    journal = open_journal(tmp_path, disk=BrokenDisk())
    with pytest.raises(WorkError, match=r"unfinished\.jsonl could not be written"):
        journal.remove()
    journal.close()

"""The recipe on the desk: written at once, undone to the byte, never over another's change."""

import pytest

from inkline.desk.document import RecipeDocument
from inkline.desk.editing import Edit
from inkline.errors import InputError, WorkError

FIRST = 'version = 1\ntitle = "Fog bell"\n'


def title(text):
    return Edit(way=("title",), value=text)


@pytest.fixture
def file(tmp_path):
    path = tmp_path / "fog.toml"
    path.write_text(FIRST)
    return path


def test_a_change_is_in_the_file_at_once_and_undone_to_the_byte(file):
    document = RecipeDocument.opened(file, otherwise="")
    for name in ("One", "Two"):
        document.edit([title(name)])
        assert f'"{name}"' in file.read_text()
    document.undo()
    document.undo()
    assert file.read_text() == document.text == FIRST
    assert not document.can_undo
    document.redo()
    assert '"One"' in file.read_text()
    document.edit([title("Three")])
    assert not document.can_redo
    assert document.version == 6


def test_a_change_that_changes_nothing_is_none(file):
    document = RecipeDocument.opened(file, otherwise="")
    document.edit([title("Fog bell")])
    assert document.version == 0
    assert not document.can_undo


def test_a_recipe_that_is_not_there_is_written_at_its_first_change(tmp_path):
    path = tmp_path / "new.toml"
    document = RecipeDocument.opened(path, otherwise=FIRST)
    assert not path.exists()
    document.edit([title("One")])
    assert '"One"' in path.read_text()


def test_a_file_made_meanwhile_is_left(tmp_path):
    path = tmp_path / "new.toml"
    document = RecipeDocument.opened(path, otherwise=FIRST)
    path.write_text("hers")
    with pytest.raises(InputError, match="made meanwhile"):
        document.edit([title("One")])
    assert path.read_text() == "hers"


def test_what_another_program_wrote_is_not_written_over(file):
    document = RecipeDocument.opened(file, otherwise="")
    file.write_text(FIRST.replace("Fog", "Storm"))
    with pytest.raises(InputError, match="changed by another program"):
        document.edit([title("One")])
    assert "Storm" in file.read_text()
    assert document.text == FIRST
    assert document.look_again()
    document.edit([title("One")])
    document.undo()
    assert "Storm" in file.read_text()
    document.undo()
    assert file.read_text() == FIRST
    assert not document.look_again()


def test_what_cannot_be_written_changes_nothing(file, monkeypatch):
    document = RecipeDocument.opened(file, otherwise="")

    def full(*_, **__):
        raise WorkError("the disk is full")

    monkeypatch.setattr("inkline.desk.document.write_whole", full)
    with pytest.raises(WorkError):
        document.edit([title("One")])
    assert document.text == FIRST
    assert not document.can_undo

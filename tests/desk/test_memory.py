"""History that outlives the command, and the page's address of last time."""

import json

from inkline.desk.document import RecipeDocument
from inkline.desk.editing import Edit
from inkline.desk.memory import DeskMemory


def opened(path):
    document = RecipeDocument.opened(path, otherwise="")
    document.remember(DeskMemory.of(path))
    return document


def test_undo_and_redo_go_on_after_a_restart(recipe_file):
    text, document = recipe_file.read_text(), opened(recipe_file)
    for number in (412, 413):
        document.edit([Edit(way=("number",), value=number)])
    document.undo()
    again = opened(recipe_file)
    assert again.can_redo
    again.redo()
    assert "number = 413" in recipe_file.read_text()
    again.undo()
    again.undo()
    assert recipe_file.read_text() == text
    assert not again.can_undo


def test_what_another_program_wrote_meanwhile_is_one_more_change(recipe_file):
    document = opened(recipe_file)
    document.edit([Edit(way=("number",), value=412)])
    mine = recipe_file.read_text()
    recipe_file.write_text(mine.replace("412", "500"))
    again = opened(recipe_file)
    assert not again.can_redo
    again.undo()
    assert recipe_file.read_text() == mine


def test_only_so_much_is_remembered_for_its_owner_alone(recipe_file):
    memory = DeskMemory.of(recipe_file)
    memory.keep_history("now", [f"{count}" for count in range(900)], ["x" * 1_500_000] * 2)
    held = json.loads(memory.file.read_text())
    assert held["past"][-1] == "899"
    assert len(held["past"]) == 200
    assert len(held["future"]) == 1
    assert memory.file.stat().st_mode & 0o077 == 0


def test_what_can_not_be_read_is_forgotten(recipe_file):
    memory = DeskMemory.of(recipe_file)
    memory.keep(text="a")
    for damaged in ("[", "[1]", '{"past": 3, "text": 4}'):
        memory.file.write_text(damaged)
        assert opened(recipe_file).can_undo == ("text" in damaged)


def test_a_change_holds_where_nothing_can_be_remembered(recipe_file, tmp_path):
    (tmp_path / "state").write_text("a file where the folder would be")
    document = opened(recipe_file)
    document.edit([Edit(way=("number",), value=412)])
    assert "number = 412" in recipe_file.read_text()

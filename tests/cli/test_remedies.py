"""Errors and notes in the words of the command line."""

import pytest

from inkline.cli.remedies import error_sentence, note_sentence
from inkline.errors import Action, InputError, Remedy, WorkError
from inkline.progress import Note


def test_a_setting_is_named_as_its_option():
    assert error_sentence(InputError("too high", setting="height")) == "--height: too high"
    assert error_sentence(InputError("too long", setting="texts")) == "--list: too long"
    assert error_sentence(InputError("a recipe lacks it")) == "a recipe lacks it"


def test_remedies_follow_the_sentence_as_options():
    error = WorkError(
        "mine was drawn with number 7",
        remedies=(
            Remedy(action=Action.OTHER_FOLDER),
            Remedy(action=Action.GO_ON, effect="to draw it anew"),
        ),
    )
    assert error_sentence(error) == (
        "mine was drawn with number 7; give another folder, or say --force to draw it anew"
    )


def test_a_note_keeps_its_full_stop_behind_its_remedies():
    assert note_sentence(Note("One sheet is yours.")) == "One sheet is yours."
    note = Note(
        "tall/dates-3 was kept.",
        (
            Remedy(action=Action.SAVE_AT_CANVAS_SIZE),
            Remedy(action=Action.REDRAW, subject="tall/dates-3", effect="to draw it anew"),
        ),
    )
    assert note_sentence(note) == (
        "tall/dates-3 was kept; save it at the size of the canvas, or say --redraw tall/dates-3 "
        "to draw it anew."
    )


@pytest.mark.parametrize("action", Action)
def test_every_action_has_words(action):
    assert error_sentence(InputError("no", remedies=[Remedy(action=action, subject="it")])) > "no; "

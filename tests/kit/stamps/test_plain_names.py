"""What stamps are called in plain words."""

import pytest

from inkline.kit.stamps.plain_names import kind_of


@pytest.mark.parametrize(
    ("stem", "called"),
    [
        ("grid-5", "grids"),
        ("grid-6-head-b", "grids with a row for the weekdays"),
        ("grid", "grids"),
        ("blocks-5-cut-3", "blocks with the dates cut out"),
        ("blocks-head", "blocks of the weekdays"),
        ("dates-3", "dates"),
        ("dates-3-30", "dates of one length"),
        ("dates-6-shared", "dates that share cells"),
        ("dates-3-workdays-monday", "dates by kind of day"),
        ("weekdays-monday-de", "weekdays"),
        ("weeks-05", "week numbers"),
        ("marks-2027-03-monday", "marked days"),
        ("month-3-30-monday", "small months"),
        ("month-03-short", "names of the months"),
        ("years-2027-2028", "pairs of years"),
        ("caption-1", "captions"),
        ("lantern", "other stamps"),
    ],
)
def test_stamps_in_plain_words(stem, called):
    assert kind_of(stem)[0] == called

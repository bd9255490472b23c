"""Where months lie in a picture: what is asked for, what is remembered, what can't be."""

import pytest

from inkline.errors import InputError
from inkline.kit.months.placing import (
    Placing,
    is_remembered,
    placing_from_wishes,
    refuse_unknown_inks,
    remembering_text,
)


def wishes(folder, *, on=None, at=None, across=None, inks=()):
    return placing_from_wishes(folder, on=on, at=at, across=across, inks=inks)


def test_what_is_remembered_is_read_and_what_is_asked_wins(tmp_path):
    folder = tmp_path / "year"
    folder.mkdir()
    placing = wishes(
        folder,
        on=tmp_path / 'hills "dusk".png',
        at="40%, 55.5%",
        across="60%",
        inks=("#fdf3dc", "blocks=beneath", "dates=#1D3A6B"),
    )
    assert placing == Placing(
        on=tmp_path / 'hills "dusk".png',
        at=(40.0, 55.5),
        across=60.0,
        inks={"": "#fdf3dc", "blocks": "beneath", "dates": "#1d3a6b"},
    )
    (folder / "place.toml").write_text(remembering_text(placing, folder))
    assert is_remembered(placing, folder)
    other = wishes(folder, across="50%", inks=("dates=#000000",))
    assert not is_remembered(other, folder)
    assert (other.at, other.across) == ((40.0, 55.5), 50.0)
    assert other.inks == {"": "#fdf3dc", "blocks": "beneath", "dates": "#000000"}
    assert other.on.resolve() == placing.on.resolve()


def test_no_picture_is_no_placing(tmp_path):
    assert wishes(tmp_path) is None
    with pytest.raises(InputError, match="are for a month on a picture, and none is given"):
        wishes(tmp_path, at="40%,40%")


@pytest.mark.parametrize(
    ("wish", "sentence"),
    [
        ({"at": "140%,20%"}, "each from 0% to 100%, such as"),
        ({"at": "-4%,20%"}, "each from 0% to 100%"),
        ({"at": "40%"}, "each from 0% to 100%"),
        ({"at": "40%,50%,60%"}, "each from 0% to 100%"),
        ({"at": "left,top"}, "not 'left,top'"),
        ({"across": "0%"}, "from 2% to 100% as wide as its picture"),
        ({"across": "120%"}, "not '120%'"),
        ({"across": "60"}, "not '60'"),
        ({"inks": ("dates=reddish",)}, "a colour is written as"),
    ],
)
def test_bad_wishes_get_their_sentence(tmp_path, wish, sentence):
    with pytest.raises(InputError, match=sentence):
        wishes(tmp_path, on=tmp_path / "a.png", **wish)


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ('at = "140%,20%"\non = "a.png"', "each from 0% to 100%"),
        ("at = [40, 50]", "at must be a text, not"),
        ('ink = "#ffffff"', "ink must be a table, not"),
        ('acros = "4%"', "unknown key 'acros'; did you mean .across."),
        ("at = ", "place.toml cannot be read: "),
        ("# " + "x" * 200_000, "is too large to be what inkline wrote"),
    ],
)
def test_a_file_that_cannot_be_used_gets_its_sentence(tmp_path, text, sentence):
    (tmp_path / "place.toml").write_text(text)
    with pytest.raises(InputError, match=sentence):
        wishes(tmp_path)


def test_colours_are_for_layers_that_there_are(tmp_path):
    layers = [("blocks", "blocks"), ("blocks-head", "blocks"), ("dates", "dates")]
    placing = Placing(on=tmp_path, inks={"dotes": "#000000"})
    with pytest.raises(InputError, match="no layer is called 'dotes'"):
        refuse_unknown_inks(placing, layers)
    for name in ("dates", ""):
        with pytest.raises(InputError, match="only blocks take the colour of what lies beneath"):
            refuse_unknown_inks(Placing(on=tmp_path, inks={name: "beneath"}), layers)
    whole = Placing(
        on=tmp_path, inks={"": "#111111", "blocks": "beneath", "blocks-head": "#222222"}
    )
    refuse_unknown_inks(whole, layers)
    assert whole.colour_of("blocks", "blocks") == "beneath"
    assert whole.colour_of("blocks-head", "blocks") == "#222222"
    assert whole.colour_of("dates", "dates") == "#111111"
    assert Placing(on=tmp_path, inks={"": "#111111"}).colour_of("blocks", "blocks") is None

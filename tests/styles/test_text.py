"""Styles in words, and files of them: reading one back gives exactly what was set."""

import tomllib
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from inkline.errors import InputError
from inkline.ink.values import ValueKind
from inkline.styles.files import (
    read_style,
    style_fields,
    style_files,
    style_with_settings,
    value_of,
)
from inkline.styles.text import (
    PARTS,
    style_file_text,
    style_values,
    value_text,
    view_of_style,
    write_style,
)

PEN = read_style(style_files()["round-pen"])
NUMBERS = [
    key for key, field in style_fields().items() if field.metadata["kind"] is not ValueKind.CHOICE
]
UNITS = {
    ValueKind.LENGTH: " mm",
    ValueKind.SPEED: " mm/s",
    ValueKind.ANGLE: " deg",
    ValueKind.SHARE: "",
}


def saved(folder, base, texts, name="mine.toml"):
    style, changes = style_with_settings(base.style, texts, where="--set")
    target = Path(folder) / name
    target.write_text(style_file_text(base, changes, target=target), encoding="utf-8")
    return style, target


def test_a_saved_style_says_what_it_is_based_on_and_what_it_changes(tmp_path):
    _, target = saved(
        tmp_path, PEN, ["edge.raggedness=25um", "nib.ends=tapered", "paper.dryness=0.2"]
    )
    assert tomllib.loads(target.read_text()) == {
        "based_on": "round-pen",
        "edge": {"raggedness": "25um"},
        "nib": {"ends": "tapered"},
        "paper": {"dryness": 0.2},
    }
    text = target.read_text()
    assert "# Standard deviation of the edge about its smooth course." in text
    assert (
        f'raggedness = "25um"    # {value_text(PEN.style, "edge.raggedness")} in round-pen' in text
    )


@st.composite
def some_settings(draw):
    texts = []
    for key in draw(st.lists(st.sampled_from(NUMBERS), min_size=1, max_size=5, unique=True)):
        data = style_fields()[key].metadata
        number = draw(st.floats(data["low"], min(data["high"], 1e4), allow_subnormal=False))
        if key not in {"hand.stray", "hand.run_over_share", "hand.fall_short_share"}:
            texts.append(f"{key}={number!r}{UNITS[data['kind']]}")
    return texts


@settings(max_examples=40, deadline=None)
@given(some_settings())
def test_a_saved_style_reads_back_as_exactly_what_was_set(tmp_path_factory, texts):
    style, target = saved(tmp_path_factory.mktemp("styles"), PEN, texts)
    read = read_style(target)
    assert (read.style.name, read.base) == ("mine", PEN.style)
    for key in style_fields():
        assert value_of(read.style, key) == value_of(style, key)


def test_a_style_saved_from_a_file_finds_it_from_where_it_lies(tmp_path):
    _, first = saved(tmp_path, PEN, ["edge.raggedness=25um"], name="first.toml")
    (tmp_path / "lines").mkdir()
    _, second = saved(
        tmp_path / "lines", read_style(first), ["hand.drift=60um"], name="second.toml"
    )
    assert tomllib.loads(second.read_text())["based_on"] == "../first.toml"
    style = read_style(second).style
    assert (style.edge.raggedness, style.hand.drift) == (pytest.approx(0.025), pytest.approx(0.06))
    assert style.nib == PEN.style.nib


def test_words_of_one_s_own_are_written_safely(tmp_path):
    words = 'a "quick" pen \\ of Zoë\'s\x7f'
    _, target = saved(tmp_path, PEN, [f"imitates={words}"])
    assert read_style(target).style.imitates == words


def test_all_values_are_told_with_unit_and_sentence_and_what_differs():
    style, _ = style_with_settings(PEN.style, ["edge.raggedness=25um"], where="--set")
    values = {value.key: value for value in style_values(style, base=PEN.style)}
    assert list(values) == list(style_fields())
    assert [key for key, value in values.items() if value.differs] == ["edge.raggedness"]
    assert values["edge.raggedness"].text == "25 um"
    assert values["edge.raggedness"].base_text == value_text(PEN.style, "edge.raggedness")
    assert values["drawn_at"].text == "84 mm"
    assert values["hand.speed"].text.endswith(" mm/s")
    assert values["hand.tilt"].text.endswith(" deg")
    assert values["nib.ends"].text == PEN.style.nib.ends
    assert {key.partition(".")[0] for key in values} == {"drawn_at", *PARTS}


def test_a_style_stands_beside_what_it_was_made_from(tmp_path):
    own = view_of_style(PEN, PEN.style)
    assert (own.name, own.lender) == (PEN.style.name, "")
    changed, changes = style_with_settings(PEN.style, ["edge.raggedness=25um"], where="--set")
    view = view_of_style(PEN, changed)
    assert view.lender == PEN.style.name
    assert [value.key for value in view.values if value.differs] == ["edge.raggedness"]
    write_style(PEN, changes, tmp_path / "mine.toml")
    held = read_style(tmp_path / "mine.toml")
    based = view_of_style(held, held.style)
    assert (based.name, based.lender) == ("mine", PEN.style.name)
    assert [value.key for value in based.values if value.differs] == ["edge.raggedness"]


def test_a_style_is_written_where_none_is_and_called_as_one(tmp_path):
    (tmp_path / "mine.toml").write_text("mine")
    with pytest.raises(InputError, match=r"mine\.toml exists already and is left as it is"):
        write_style(PEN, {}, tmp_path / "mine.toml")
    assert (tmp_path / "mine.toml").read_text() == "mine"
    with pytest.raises(InputError, match=r"^a style file's name must end in \.toml, not '") as no:
        write_style(PEN, {}, tmp_path / "mine.txt")
    assert no.value.setting == "style file"

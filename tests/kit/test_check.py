"""Checks of recipe files: all faults at once, or what their kits will hold."""

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from any_recipes import any_recipe
from inkline.kit.build import build_kit
from inkline.kit.check import check_recipe_file
from inkline.kit.letters import face_of
from inkline.kit.papers.sheet import Sheet
from inkline.kit.product import Papers, catalogue
from inkline.kit.recipe import kinds
from inkline.kit.recipe.key import FORMATS
from inkline.kit.recipe.keys import keys_of
from inkline.kit.recipe.loading import load_recipe, load_recipes
from inkline.kit.recipe.text import EXAMPLES, recipe_text, toml_text

HEAD = "version = 1\nnumber = 7\n"
SHARED = Path(__file__).parents[2] / "shared" / "recipes"


@pytest.fixture
def look(tmp_path):
    def looked(text, **others):
        for name, other in others.items():
            (tmp_path / f"{name}.toml").write_text(other, encoding="utf-8")
        path = tmp_path / "dusk.toml"
        path.write_text(text, encoding="utf-8")
        return check_recipe_file(path)

    return looked


def sentences_of(check):
    return [str(fault) for fault in check.faults]


def test_a_good_recipe_has_what_it_will_hold(look):
    check = look(recipe_text(5))
    assert (check.faults, check.is_whole) == ((), True)
    (kit,) = check.kits
    assert (kit.name, kit.title, sum(kit.stamps.values())) == ("", "A year of evenings", 59)
    assert list(kit.stamps) == ["standard", "tall", "words"]
    assert kit.notes == ()


@pytest.mark.parametrize("path", sorted(SHARED.glob("*.toml")), ids=lambda path: path.stem)
def test_example_recipes_are_well_and_hold_what_is_said(path):
    check = check_recipe_file(path)
    assert sentences_of(check) == []
    for kit, recipe in zip(check.kits, load_recipes(path).values(), strict=True):
        assert sum(kit.stamps.values()) == len(catalogue(recipe, face_of(recipe)))


def test_faults_of_text_style_layout_marks_and_names_come_together(look):
    check = look(
        HEAD
        + '[formats.standard]\nnumeral = 0.9\n[formats.tall]\nrul = 3\n[style.hand]\ndrift = "9 '
        'm"\n[marks]\n"2027-13-01" = "ring"\n'
        '[again]\n"standard/dates-9" = 1\n"tall/dates-9" = 0\n'
    )
    assert [(fault.line, fault.key) for fault in check.faults] == [
        (4, "formats.standard.numeral"),
        (6, "formats.tall.rul"),
        (8, "style.hand.drift"),
        (10, "marks.2027-13-01"),
        (12, "again.standard/dates-9"),
        (13, "again.tall/dates-9"),
    ]
    assert (
        sentences_of(check)[4]
        == 'dusk.toml, line 12: again: nothing in this kit is called "standard/dates-9"; did you '
        'mean "standard/dates-7"?'
    )
    assert (check.kits, check.is_whole) == ((), True)


def test_a_name_in_a_format_that_is_itself_faulty_is_not_judged(look):
    check = look(
        HEAD + '[formats.standard]\n[formats.tall]\nrul = 3\n[again]\n"tall/dates-3" = 1\n'
    )
    assert [fault.key for fault in check.faults] == ["formats.tall.rul"]


def test_what_a_faulty_canvas_leaves_in_doubt_is_not_judged(look):
    check = look(HEAD + '[canvas]\nside = "3 %"\n[formats.standard]\nnumeral = 0.9\n')
    assert [fault.key for fault in check.faults] == ["canvas.side"]
    assert not check.is_whole


def test_faults_of_several_kits_are_told_once(look):
    check = look(
        HEAD + '[formats.standard]\nnumeral = 0.9\n[kits.one]\n[kits.two]\nwords.height = "90 %"\n'
    )
    assert [(fault.line, fault.key) for fault in check.faults] == [
        (4, "formats.standard.numeral"),
        (7, "words.height"),
    ]


def test_kits_are_looked_over_one_by_one(look):
    check = look(
        HEAD + '[formats.standard]\n[kits.one]\n[kits.two]\ntitle = "Two"\nwords.years = [2027]\n'
    )
    titles = {kit.name: kit.title for kit in check.kits}
    assert titles == {"one": "A year of evenings", "two": "Two"}
    assert [kit.notes for kit in check.kits] == [(), ()]
    assert sum(check.kits[0].stamps.values()) - sum(check.kits[1].stamps.values()) == 4


def test_a_fault_of_a_base_is_told_by_its_own_file(look):
    check = look(
        'version = 1\nextends = "base.toml"\n[formats.standard]\ngap = 0.01\n',
        base=HEAD + "[formats.standard]\nweekday = 1.0\n",
    )
    places = [(fault.source, fault.line, fault.key) for fault in check.faults]
    assert places == [
        ("base.toml", 4, "formats.standard.weekday"),
        ("dusk.toml", 4, "formats.standard.gap"),
    ]


def test_letters_that_cannot_be_had_are_told(look, tmp_path):
    (tmp_path / "no.ttf").write_bytes(b"no font")
    (check,) = sentences_of(look(HEAD + '[lettering]\nfont = "no.ttf"\n'))
    assert check.startswith("dusk.toml, line 4: lettering.font: ")
    (check,) = sentences_of(look(HEAD + '[lettering.swap]\n"4" = "four.opn"\n'))
    assert check.startswith("dusk.toml, line 3: lettering.swap: ")
    (check,) = sentences_of(look(HEAD + "[lettering.axes]\nwght = 3\n"))
    assert (
        check
        == "dusk.toml, line 3: lettering.axes needs a variable font, and the letters are a family's"
    )
    (tmp_path / "no.ufo").mkdir()
    (check,) = sentences_of(look(HEAD + '[lettering]\nfamily = "no.ufo"\n'))
    assert check.startswith("dusk.toml, line 4: lettering.family: ")


def test_a_file_that_is_none_is_told(tmp_path):
    check = check_recipe_file(tmp_path / "gone.toml")
    assert (check.kits, check.is_whole) == ((), False)
    assert sentences_of(check) == [
        (
            f"gone.toml: the recipe cannot be read (No such file or directory): "
            f"{tmp_path / 'gone.toml'}"
        )
    ]


def values_of(key):
    """Values that the key allows by itself."""
    numbers = st.one_of(
        st.sampled_from([key.low, key.high]),
        st.floats(key.low, key.high).map(lambda one: round(one, 3)),
    )
    made = {
        kinds.WHOLE: st.integers(int(key.low), int(key.high)),
        kinds.NUMBER: numbers,
        kinds.PERCENT: numbers,
        kinds.CHOICE: st.sampled_from(key.choices or ("",)),
        kinds.LENGTH: numbers.map(lambda one: f"{one} %"),
        kinds.SHARE_OR_LENGTH: st.one_of(numbers, st.sampled_from(["1 %", "9 pt", "0.2 mm"])),
        kinds.SHARE_OR_FIT: st.one_of(numbers, st.just("fit")),
    }
    return made.get(key.kind, st.just(EXAMPLES.get(key.path, key.default)))


@given(data=st.data())
@settings(
    max_examples=6, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
def test_whatever_single_keys_allow_is_drawn_or_told(look, data):
    name = data.draw(st.sampled_from(["standard", "wide", "strip", "week", "day", "small"]))
    keys = data.draw(
        st.lists(
            st.sampled_from([key for key in keys_of(FORMATS) if not key.example]),
            max_size=5,
            unique_by=lambda key: key.name,
        )
    )
    lines = [f"{key.name} = {toml_text(data.draw(values_of(key)))}" for key in keys]
    check = look("\n".join([f"{HEAD}words.years = [2027]", f"[formats.{name}]", *lines]))
    assert bool(check.kits) != bool(check.faults)
    # Only what the recipe leaves to its defaults, such as the canvas margin, has no line.
    assert all(str(fault).startswith("dusk.toml") for fault in check.faults)


def no_sheet(_kit, job):
    return Sheet(name=job.name, picture=b"none")


def no_guide(_kit):
    return b"none"


@pytest.mark.parametrize("first", range(0, 500, 50))
def test_what_is_called_good_is_drawn_whatever_the_values(tmp_path, first):
    """500 recipes with values at the ends of their ranges, in pairs and over-long.

    All are looked over, and of one in each fifty that is good some stamps are drawn. About 10 000
    were checked once, and 218 drawn in part.
    """
    path, drawn = tmp_path / "any.toml", False
    for seed in range(first, first + 50):
        path.write_text(any_recipe(seed))
        check = check_recipe_file(path)
        assert check.kits or check.faults, seed
        assert all(len(str(fault)) < 700 for fault in check.faults), seed
        if drawn or check.faults:
            continue
        recipe = load_recipe(path)
        names = [plan.name for plan in catalogue(recipe, face_of(recipe))]
        some = (names[0], names[seed % len(names)])
        papers = Papers(sheet=no_sheet, guide=no_guide)
        report = build_kit(recipe, tmp_path / "kit", workers=1, only=some, papers=papers)
        assert set(report.drawn) == set(some), seed
        drawn = True

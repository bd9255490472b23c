"""What a recipe check tells of what stands too near to something, and is drawn all the same."""

import re
from pathlib import Path

import pytest

from faces import shipped_family
from inkline.kit.recipe.loading import recipe_from_text
from inkline.kit.stamps.catalogue import plan_by_name
from inkline.kit.stamps.faults.every import recipe_faults, recipe_notes


def read(body):
    text = f"version = 1\nnumber = 5\n[formats.one]\n{body}"
    return recipe_from_text(text, source="one.toml", folder=Path())


def notes(body, family="scullery"):
    recipe, face = read(body), shipped_family(family)
    assert recipe_faults(recipe, face) == ()
    return recipe_notes(recipe, face)


@pytest.mark.parametrize("family", ["clothesline", "scullery", "stairwell", "errand", "porchlight"])
def test_numerals_of_the_default_size_crowd_nothing(family):
    assert notes("", family) == ()


@pytest.mark.parametrize("side", ["left", "right"])
def test_a_numeral_that_crowds_the_far_rule_is_told_with_a_size_that_does_not(side):
    body = f'blocks = "none"\nside = "{side}"\nnumeral = 0.61\ngap = 0.15\n'
    (note,) = notes(body)
    far = "right" if side == "left" else "left"
    found = re.search(rf"the edge at its {far}, .*; numeral = ([\d.]+) has as much on both", note)
    assert found, note
    assert notes(body.replace("0.61", found[1])) == ()
    glyphs = plan_by_name(
        read(body.replace("0.61", found[1])), shipped_family("scullery"), "one/dates-1"
    ).geometry()["glyphs"]
    lefts = min(one["ink"][0] - one["cell"][0] for one in glyphs)
    rights = min(one["cell"][2] - one["ink"][2] for one in glyphs)
    before, after = (lefts, rights) if side == "left" else (rights, lefts)
    assert 0.75 * before <= after
    assert notes(body.replace(f'"{side}"', '"centre"').replace("0.61", "0.5")) == ()


def test_a_mark_near_a_rule_is_told():
    marks = '[marks]\n"2027-03-30" = "{}"\n'
    tight = 'blocks = "none"\nside = "centre"\nlevel = "bottom"\ngap = 0.07\nnumeral = 0.6\n'
    (note,) = notes(tight + marks.format("underline"))
    assert note == (
        "marks: in one the underline of marks-2027-03-monday touches a rule, and a hand strays "
        "farther; a smaller numeral, or another mark, leaves it room"
    )
    assert notes(tight + marks.format("ring")) == ()  # which are drawn within their rules
    assert notes("numeral = 0.3\n" + marks.format("underline")) == ()


@pytest.mark.parametrize(
    ("name", "meant"), [("standart", "standard"), ("tal", "tall"), ("moon", ""), ("wide", "")]
)
def test_a_format_that_is_called_nearly_as_a_known_one_is_asked_for(name, meant):
    text = f"version = 1\nnumber = 5\n[formats.{name}]\n"
    recipe = recipe_from_text(text, source="one.toml", folder=Path())
    asked = [note for note in recipe_notes(recipe, shipped_family("scullery")) if "mean" in note]
    assert [f'did you mean "{meant}"?' in note for note in asked] == [True] * bool(meant)

"""What doesn't fit is said before anything is drawn, and what is suggested fits."""

import re
from pathlib import Path

import pytest
from shapely import box

from faces import scullery
from inkline.kit.letters import face_of
from inkline.kit.product import catalogue
from inkline.kit.recipe.loading import recipe_from_text
from inkline.source.faults import RecipeError


def read(text):
    return recipe_from_text("version = 1\nnumber = 1\n" + text, source="dusk.toml", folder=Path())


def faults_of(text, face=None):
    with pytest.raises(RecipeError) as caught:
        catalogue(read(text), face or scullery())
    return [str(fault) for fault in caught.value.faults]


def font(name):
    """A real font from the package registry: Source Sans Pro or Roboto, both free."""
    import importlib  # noqa: PLC0415

    package = importlib.import_module(f"font_{name}")
    return next(Path(package.__file__).parent.glob("files/*-Regular.ttf"))


@pytest.mark.parametrize(
    ("text", "sentence", "remedy"),
    [
        (
            "[formats.a]\nnumeral = 0.9",
            (
                r"line 4: formats\.a\.numeral must be at most (\S+) for the 30 to fit its cell, "
                r"not 0\.9"
            ),
            "[formats.a]\nnumeral = {}",
        ),
        (
            '[formats.a]\nnumeral = "120 pt"',
            (
                r'line 4: formats\.a\.numeral must be at most "(\S+) pt" for the \d+ to fit its '
                r"cell, not 120 pt"
            ),
            '[formats.a]\nnumeral = "{} pt"',
        ),
        (
            "[formats.a]\ncell = 0.3\nweekday_row = 1\nblock_corner = 0",
            (
                r"line 3: formats\.a\.numeral must be at most (\S+) for the \d+ to fit its cell, "
                r"not 0\.5"
            ),
            "[formats.a]\ncell = 0.3\nweekday_row = 1\nblock_corner = 0\nnumeral = {}",
        ),
        (
            "[formats.a]\ngap = 0.01",
            (
                r"line 4: formats\.a\.gap must be at least (\S+) for all numerals to stand clear "
                r"of the rules, not 0\.01"
            ),
            "[formats.a]\ngap = {}",
        ),
        (
            '[formats.a]\ngap = "0.2 mm"',
            (
                r'line 4: formats\.a\.gap must be at least "(\S+) mm" for all numerals to stand '
                r"clear of the rules, not 0\.2 mm"
            ),
            '[formats.a]\ngap = "{} mm"',
        ),
        (
            "[formats.a]\nweekday = 0.9",
            (
                r'line 4: formats\.a\.weekday must be at most (\S+), or "fit", for MON to fit its '
                r"place, not 0\.9"
            ),
            "[formats.a]\nweekday = {}",
        ),
        (
            '[formats.a]\nrule = "4 %"\nframe = 2',
            (
                r"line 4: formats\.a\.rule must be at most (\S+) px for white to stay between the "
                r"rules, not 4 % \(100 px\)"
            ),
            (
                '[formats.a]\nrule = "{} px"\nframe = 2\ngap = 0.2\nnumeral = 0.3\n[canvas]\n'
                "safe = "
                '"0 px"'
            ),
        ),
        (
            '[formats.a]\nblock_inset = "8 %"',
            (
                r"line 4: formats\.a\.block_inset must be at most (\S+) px for the blocks to keep "
                r"a quarter .*, not 8 % \(200 px\)"
            ),
            '[formats.a]\nblock_inset = "{} px"\nblock_corner = 0',
        ),
        (
            "[formats.a]\nblock_corner = 0.4",
            (
                r"line 4: formats\.a\.block_corner must be at most (\S+) px, half of the smallest "
                r"block, not 0\.4 \(136 px\)"
            ),
            '[formats.a]\nblock_corner = "{} px"',
        ),
        (
            '[canvas]\nmargin = "1 %"\n[formats.a]',
            (
                r"line 4: canvas\.margin must be at least (\S+) px for the frame of a to stay 24 "
                r"px .*, not 1 % \(25 px\)"
            ),
            '[canvas]\nmargin = "{} px"\n[formats.a]',
        ),
        (
            '[formats.a]\n[words]\nheight = "600 px"',
            (
                r"line 5: words\.height must be at most (\S+) px for SEPTEMBER to fit the canvas, "
                r"not 600 px"
            ),
            '[formats.a]\n[words]\nheight = "{} px"',
        ),
    ],
)
def test_what_does_not_fit_is_said_and_what_is_suggested_fits(text, sentence, remedy):
    faults = faults_of(text)
    found = [re.fullmatch(rf"dusk\.toml, {sentence}", fault) for fault in faults]
    (match,) = [one for one in found if one]
    assert catalogue(read(remedy.format(match[1])), scullery())


@pytest.mark.parametrize(("gap_from", "edge"), [("rules", 17.0 / 2.0), ("blocks", 26.0)])
def test_the_largest_numerals_that_fit_do_so_exactly(gap_from, edge):
    # 0.5 % more than the suggestion no longer fits, so the suggestion is not a guess.
    own = f'[formats.a]\ngap_from = "{gap_from}"\ngap = 0.15\n'
    (fault,) = faults_of(f"{own}numeral = 0.9")
    most = float(re.search(r"at most (\S+) for", fault)[1])
    plans = {plan.name: plan for plan in catalogue(read(f"{own}numeral = {most}"), scullery())}
    rights = [one["cell"][2] - one["ink"][2] for one in plans["a/dates-1"].geometry()["glyphs"]]
    assert edge + 5.1 - 1e-9 <= min(rights) < edge + 5.1 + 2
    assert all(
        box(*one["cell"]).contains(box(*one["ink"]))
        for one in plans["a/dates-1"].geometry()["glyphs"]
    )
    assert faults_of(f"{own}numeral = {most * 1.005}")


def test_a_gap_that_leaves_no_place_is_refused():
    assert faults_of("[formats.a]\ngap = 1.0") == [
        (
            "dusk.toml, line 4: formats.a.gap leaves a numeral no place in its cell, which is 340 "
            "px "
            "wide and 340 px high"
        )
    ]


def test_a_row_too_low_for_weekdays_is_refused():
    faults = faults_of("[formats.a]\ncell = 0.3\nweekday_row = 0.1\nweekday = 0.5\n")
    row = (
        "dusk.toml, line 5: formats.a.weekday_row leaves the weekdays no place between its rules: "
        "it is 10.2 px high"
    )
    assert row in faults


def test_faults_of_all_formats_come_together():
    faults = faults_of(
        "[formats.a]\nnumeral = 0.9\nweekday = 1.0\n[formats.b]\nnumeral = 0.9\nblock_corner = "
        "1.0\n"
    )
    assert [fault.split(": ")[1].split(" ")[0] for fault in faults] == [
        "formats.a.numeral",
        "formats.a.weekday",
        "formats.b.numeral",
        "formats.b.block_corner",
    ]


def test_letters_that_the_family_lacks_are_named_before_anything_is_drawn():
    (fault,) = faults_of('[words]\nlanguage = "he"\n')
    assert fault.startswith(
        "dusk.toml, line 4: words.language needs letters that are missing: Scullery has no glyph "
        "for"
    )
    assert "U+05D9 HEBREW LETTER YOD" in fault
    assert fault.count("U+05D9") == 1
    assert len(fault) < 400


@pytest.mark.parametrize("name", ["source_sans_pro", "roboto"])
def test_the_default_recipe_fits_common_fonts(name):
    recipe = read("")
    face = face_of(recipe, font=font(name))
    plans = {plan.name: plan for plan in catalogue(recipe, face)}
    for stamp in ("standard/dates-1", "tall/dates-7", "standard/weekdays-monday"):
        for one in plans[stamp].geometry()["glyphs"]:
            assert box(*one["cell"]).contains(box(*one["ink"]))


def test_a_font_draws_languages_that_the_family_cannot():
    recipe = read('[words]\nlanguage = "fr"\nletters = "as written"\n')
    plans = {
        plan.name: plan for plan in catalogue(recipe, face_of(recipe, font=font("source_sans_pro")))
    }
    assert plans["words/month-02"].geometry()["glyphs"][0]["text"] == "février"
    assert plans["standard/weekdays-sunday"].geometry()["glyphs"][0]["text"] == "dim."


def test_a_font_named_by_the_recipe_is_opened(tmp_path):
    copy = tmp_path / "letters.ttf"
    copy.write_bytes(font("roboto").read_bytes())
    text = 'version = 1\nnumber = 1\n[lettering]\nfont = "letters.ttf"\n'
    assert "Roboto" in face_of(recipe_from_text(text, source="x", folder=tmp_path)).name


def test_names_to_be_drawn_again_may_be_a_stamp_a_part_a_letter_or_a_stroke():
    names = [
        "tall/dates-3",
        "tall/dates-3/17",
        "tall/dates-3/17.2",
        "tall/dates-3/17/1",
        "tall/grid-5/across-3",
    ]
    names += [
        "words/month-02",
        "words/month-02/3",
        "words/month-02.4",
        "tall/weekdays-sunday/tue/1",
    ]
    names += ["standard/blocks-5/r2c4"]
    lines = "".join(f'"{name}" = 2\n' for name in names)
    assert catalogue(read("[again]\n" + lines), scullery())


@pytest.mark.parametrize(
    ("name", "question"),
    [
        ("tall/dates-3/37", '; did you mean "tall/dates-3/7"?'),
        ("tal/dates-3/17", '; did you mean "tall/dates-3"?'),
        ("tall/grid-5/across-33", '; did you mean "tall/grid-5/across-3"?'),
        ("words/mnth-02", '; did you mean "words/month-02"?'),
        ("tall/dates-3/17/x", '; did you mean "tall/dates-3/17"?'),
        ("words/month-02/x", ""),
        ("q", ""),
    ],
)
def test_a_name_that_nothing_has_is_refused(name, question):
    (fault,) = faults_of(f'[again]\n"{name}" = 2\n')
    assert fault == f'dusk.toml, line 4: again: nothing in this kit is called "{name}"{question}'

"""Words used alone: what there is of them, what they say, and how large they stand."""

import shutil
import unicodedata
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from faces import ARABIC, arabic, scullery, shipped_family
from inkline.calendar.numbering import NUMBERING_SYSTEMS, NumberingError
from inkline.drawing import Stroke
from inkline.ink.engine import draw
from inkline.kit.product import catalogue
from inkline.kit.recipe import model as recipe_model
from inkline.kit.recipe.loading import recipe_from_text
from inkline.kit.stamps.catalogue import plan_by_name, plan_makers, stamp_names
from inkline.kit.stamps.faults.every import recipe_notes
from inkline.kit.stamps.word_sheets import MOST_GROWN
from inkline.kit.stamps.words import widest_word, width_to_fill, word_sets, word_size
from inkline.lettering import setting as layout_text
from inkline.lettering.face import Figures, Glyph, PlacedGlyph
from inkline.lettering.families import family_path
from inkline.lettering.family import open_family
from inkline.lettering.setting import EN_DASH, figure_line, leftward_span_line, span_line, word_line
from inkline.raster.compose import render
from inkline.source.faults import RecipeError
from inkline.styles.files import style_of

FAMILIES = (
    "clothesline",
    "scullery",
    "stairwell",
    "errand",
    "mantelpiece",
    "porchlight",
    "woodshed",
)
HEAD = "version = 1\nnumber = 5\n[formats.standard]\n"
LINING = Figures.LINING
STYLE = style_of("round-pen", {}, where="test")
RICH = """
[words]
language = ["en", "fr"]
months = "both"
years = ["2027-2029"]
spans = ["2027-2028", "2029-2031"]
captions = ["Notes", "to do this week"]
"""
FILLED = RICH + 'sizes = "fill each"\n'


@cache
def read(text):
    return recipe_from_text(HEAD + text, source="one.toml", folder=Path())


@cache
def makers(text, of):
    return plan_makers(read(text), of())


@cache
def plan(text, name, of=scullery):
    return makers(text, of)[name]()


@cache
def shipped(family):
    return lambda: shipped_family(family)


def words(text):
    return [name for name in stamp_names(read(text), scullery()) if name.startswith("words/")]


def said(text, name):
    (placed,) = plan(text, name).content.setting()
    return placed.line.text


def geometry_of(text, name):
    made = plan(text, name)
    return made.canvas, made.geometry(), [mark.points.tolist() for mark in made.drawing().marks]


SAME = {"": {"month-05"}, "-fr": {"month-03", "month-05", "month-06", "month-08"}}
"""Months whose abbreviated names are their full ones: May; mars, mai, juin, août (CLDR)."""


def test_the_words_of_a_rich_kit():
    months = [f"month-{number:02d}" for number in range(1, 13)]
    expected = [
        f"{month}{short}{suffix}"
        for suffix in ("", "-fr")
        for short in ("", "-short")
        for month in months
        if not (short and month in SAME[suffix])
    ]
    expected += [f"digit-{digit}" for digit in range(10)] + ["year-2027", "year-2028", "year-2029"]
    expected += ["years-2027-2028", "years-2029-2031", "caption-1", "caption-2"]
    # A set is listed whole before the next one.
    n = 48 - sum(map(len, SAME.values()))
    expected[:n] = sorted(expected[:n], key=lambda name: (name.endswith("-fr"), "-short" in name))
    assert words(RICH) == [f"words/{name}" for name in expected]
    assert {plan(RICH, name).kind for name in words(RICH)} == {"words"}


def test_what_the_words_say():
    # Names by CLDR, from memory.
    for name, text in [
        ("month-02", "FEBRUARY"),
        ("month-02-short", "FEB"),
        ("month-12-fr", "DÉCEMBRE"),
        ("month-01-short-fr", "JANV"),
        ("digit-7", "7"),
        ("year-2028", "2028"),
        ("years-2027-2028", "2027–2028"),
        ("caption-1", "Notes"),
        ("caption-2", "to do this week"),
    ]:
        assert said(RICH, f"words/{name}") == text


def test_a_language_that_abbreviates_no_month_has_each_once_and_that_is_said():
    """In Vietnamese months are numbered, and their abbreviated names are the full ones in CLDR."""
    text = '[words]\nlanguage = "vi"\nmonths = "both"\nletters = "as written"\n'
    months = [name for name in words(text) if "/month-" in name]
    assert months == [f"words/month-{number:02d}" for number in range(1, 13)]
    notes = recipe_notes(read(text), scullery())
    assert len(notes) == 1
    assert notes[0].startswith("words.months: in vi the full name is as short as the abbreviated")
    assert notes[0].endswith("Tháng 12")
    assert recipe_notes(read(text.replace('"both"', '"wide"')), scullery()) == ()


def test_abbreviated_months_alone_keep_the_plain_names():
    text = '[words]\nmonths = "abbreviated"\n'
    assert said(text, "words/month-09") == said(RICH, "words/month-09-short")
    assert not any("-short" in name for name in words(text))


@pytest.mark.parametrize("family", FAMILIES)
@pytest.mark.parametrize("sign", [EN_DASH, "-", "/"])
def test_the_families_have_the_signs_between_years(family, sign):
    glyph = shipped_family(family).glyph(sign)
    assert glyph.has_ink
    points = np.concatenate([stroke.points for stroke in glyph.strokes])
    if sign == EN_DASH:
        # Level, about halfway up the figures, and longer than a hyphen.
        assert 0.3 < np.mean(points[:, 1]) / shipped_family(family).digit_height_em < 0.7
        hyphen = np.concatenate(
            [stroke.points for stroke in shipped_family(family).glyph("-").strokes]
        )
        assert np.ptp(points[:, 0]) > 1.2 * np.ptp(hyphen[:, 0])


def without_dash(tmp_path):
    folder = tmp_path / "mine.ufo"
    shutil.copytree(family_path("scullery"), folder)
    file = folder / "glyphs" / "endash.glif"
    file.write_text(
        "".join(
            line for line in file.read_text().splitlines(keepends=True) if "<unicode" not in line
        )
    )
    return open_family(folder)


def test_a_hyphen_stands_for_a_dash_that_the_letters_lack(tmp_path):
    lacking = without_dash(tmp_path)
    line = span_line(lacking, f"2027{EN_DASH}2028", LINING)
    assert line.text == "2027-2028"
    assert line.glyphs[4].glyph.name == "hyphen"
    catalogue(read(RICH), lacking)  # nothing is missing


def from_left(line):
    """The characters of a line from left to right on the page."""
    places = sorted(line.glyphs, key=lambda item: item.x_em)
    return "".join(line.text[index] for index in dict.fromkeys(item.letter for item in places))


# UAX #9: digits of the Arabic script (AN, EN) run from the left within a number, whatever runs
# around them.
@pytest.mark.parametrize("code", ["arab", "arabext", "latn"])
def test_numbers_run_from_the_left_in_arabic_too(code):
    digits = NUMBERING_SYSTEMS[code]
    year = "".join(digits[int(digit)] for digit in "2017")
    line = figure_line(arabic(), year, LINING)
    assert line.text == year
    assert from_left(line) == year
    names = [item.glyph.name for item in sorted(line.glyphs, key=lambda item: item.x_em)]
    assert names == [
        item.glyph.name for digit in year for item in figure_line(arabic(), digit, LINING).glyphs
    ]


def test_the_forms_of_digits_follow_them_when_they_are_turned_about():
    year = "٢٠١٧"
    form = arabic().glyph("٥")
    line = figure_line(arabic(), year, LINING, ((3, form),))
    assert {item.letter: item.glyph.name for item in line.glyphs}[3] == form.name
    assert from_left(line) == year


def test_a_script_that_writes_numbers_from_the_right_is_left_to_the_shaper(monkeypatch):
    seen = []
    monkeypatch.setattr(
        layout_text, "set_numeral", lambda _face, text, **_: seen.append(text) or "set"
    )
    assert unicodedata.bidirectional("߂") == "R"  # N'Ko
    assert figure_line(arabic(), "߂߀", LINING) == "set"
    assert leftward_span_line(arabic(), "߂߀–߂߁", LINING) == "set"
    assert seen == ["߂߀", "߂߀–߂߁"]


@pytest.mark.parametrize("digits", ["0123456789", "٠١٢٣٤٥٦٧٨٩"])
def test_spans_are_read_in_the_direction_of_the_language(digits):
    first, last = ("".join(digits[int(digit)] for digit in year) for year in ("2027", "2031"))
    text = f"{first}{EN_DASH}{last}"
    assert from_left(span_line(arabic(), text, LINING)) == text
    leftward = leftward_span_line(arabic(), text, LINING)
    assert leftward.text == text
    assert from_left(leftward) == f"{last}{EN_DASH}{first}"


ARAB = f"""
numeral = 0.4
[words]
language = "ar"
years = [2027]
spans = ["2027-2028"]
[lettering]
numbering = "arab"
font = "{ARABIC.as_posix()}"
"""


def test_digits_and_years_are_written_in_the_kits_digits():
    recipe = read(ARAB)
    texts = {
        name: text
        for words in word_sets(recipe)
        for name, text in zip(words.names, words.texts, strict=True)
    }
    assert texts["words/digit-7"] == "٧"
    assert texts["words/year-2027"] == "٢٠٢٧"
    assert set(texts) == {
        name for name in stamp_names(recipe, arabic()) if name.startswith("words/")
    }
    (placed,) = plan(ARAB, "words/years-2027-2028", arabic).content.setting()
    assert from_left(placed.line) == "٢٠٢٨–٢٠٢٧"
    assert len(catalogue(recipe, arabic())) == len(stamp_names(recipe, arabic()))


def test_one_drawing_a_digit_is_that_of_its_stamp_in_any_digits():
    text = ARAB.replace('numbering = "arab"', 'numbering = "arab"\ndrawings = "one"')
    (placed,) = plan(text, "words/year-2027", arabic).content.setting()
    assert placed.drawings == {
        0: "words/digit-2",
        1: "words/digit-0",
        2: "words/digit-2",
        3: "words/digit-7",
    }


def test_digits_that_nobody_knows_are_laid_to_their_key(monkeypatch):
    def unknown(code, *, locale):
        raise NumberingError(f"no digits {code} {locale}", code=code)

    monkeypatch.setattr(recipe_model, "digits_of", unknown)
    text = '[lettering]\nnumbering = "language"\n'
    with pytest.raises(
        RecipeError, match=r"one\.toml, line 5: lettering\.numbering: no digits language en"
    ):
        word_sets(read(text))


def test_letters_that_captions_need_are_laid_to_them():
    with pytest.raises(RecipeError, match=r"words\.captions needs letters that are missing"):
        catalogue(read('[words]\ncaptions = ["ש"]\n'), scullery())


def test_captions_share_one_canvas_height_and_one_baseline():
    text = '[words]\ncaptions = ["Notes", "to do this week", "jog", "a", "HOLIDAYS"]\n'
    made = [plan(text, f"words/caption-{number}") for number in range(1, 6)]
    assert len({one.canvas[1] for one in made}) == 1
    assert len({round(mark.origin[1], 9) for one in made for mark in one.drawing().marks}) == 1


@pytest.mark.parametrize("letters", ["capitals", "as written"])
@pytest.mark.parametrize("family", FAMILIES)
def test_names_years_and_captions_share_letter_height_and_baseline(family, letters):
    """With the middles of their canvases at one height, as the guide says to place them."""
    text = (
        f'[words]\nletters = "{letters}"\nlanguage = ["en", "de"]\nspans = ["2027-2028"]\n'
        'captions = ["Notes", "a gym", "Ångström"]\n'
    )
    made = {
        name: plan(text, name, shipped(family))
        for name in words(text)
        if not name.startswith("words/digit-")
    }
    placed = {name: one.content.setting()[0] for name, one in made.items()}
    assert len({one.size for one in placed.values()}) == 1
    below = [placed[name].baseline[1] - made[name].canvas[1] / 2 for name in made]
    assert below == pytest.approx([below[0]] * len(below), abs=1e-9)
    for name, one in made.items():
        margin = read(text).px(read(text).words.margin)
        assert placed[name].ink[1] >= margin - 1e-9
        assert placed[name].ink[3] <= one.canvas[1] - margin + 1e-9
    plain = {made[f"words/{name}"].canvas[1] for name in ("month-01", "month-12", "year-2027")}
    assert len(plain) == 1
    if letters == "as written":
        assert {made[f"words/caption-{number}"].canvas[1] for number in (1, 2)} == plain


@pytest.mark.parametrize("letters", ["capitals", "as written"])
@pytest.mark.parametrize("family", ["errand", "mantelpiece", "scullery"])
def test_drawn_names_years_and_captions_share_letter_height_and_baseline(family, letters):
    """Read off the ink of flat first letters, with the middles of the canvases at one height.

    A hand of usual style moves letters by a hundredth of their height or two.
    """
    text = (
        f'[words]\nletters = "{letters}"\nyears = [2027]\ncaptions = ["HIT", "NIE 17"]\n'
        '[canvas]\nside = "1000 px"\n'
    )
    spans = []
    for name in ("month-03", "year-2027", "caption-1", "caption-2"):
        picture = render(draw(plan(text, f"words/{name}", shipped(family)).drawing(), STYLE, 7))
        rows = np.flatnonzero((picture[:, : _first_letter(picture)] >= 128).any(axis=1))
        spans.append((rows[0] - len(picture) / 2, rows[-1] + 1 - len(picture) / 2))
    heights = [foot - top for top, foot in spans]
    assert np.ptp(heights) < 0.06 * max(heights)
    assert np.ptp([foot for _, foot in spans]) < 0.04 * max(heights)


def _first_letter(picture):
    """Where the first letter of a word ends."""
    inked = (picture >= 128).any(axis=0)
    first = int(np.argmax(inked))
    return first + int(np.argmin(inked[first:]))


def test_adding_words_changes_none_that_are_there():
    few = '[words]\nyears = [2027, 2028]\ncaptions = ["Notes"]\n'
    many = (
        '[words]\nlanguage = ["en", "de"]\nmonths = "both"\nyears = [2027, 2028, 2044]\nspans = '
        '["2027-2028"]\n'
        'captions = ["Notes", "a very long caption", "Qy"]\n'
    )
    for extra in ("", 'sizes = "fill each"\n'):
        for name in words(few + extra):
            if name[-2:] in {"-1", "-2", "01", "05", "27", "28"}:
                assert geometry_of(few + extra, name) == geometry_of(many + extra, name)


def test_words_that_fill_have_one_width():
    recipe = read(FILLED)
    size, margin = word_size(recipe, scullery()), recipe.px(recipe.words.margin)
    width = width_to_fill(recipe, scullery())
    (longest,) = (placed for placed in plan(RICH, "words/month-09").content.setting())
    assert width == pytest.approx(
        longest.ink[2] - longest.ink[0], abs=1e-9
    )  # SEPTEMBER as it is at one letter height
    for name in words(FILLED):
        made = plan(FILLED, name)
        (placed,) = made.content.setting()
        x0, y0, x1, y1 = placed.ink
        if "digit" in name:
            assert placed.size == size
            continue
        assert made.canvas[0] == np.ceil(width + 2 * margin)
        assert x0 == pytest.approx(made.canvas[0] - x1, abs=1e-9)
        assert y0 == pytest.approx(made.canvas[1] - y1, abs=1e-9)
        assert margin - 1e-9 <= y0 < margin + 0.5 + 1e-9
        grown = placed.size.em_px / size.em_px
        assert placed.size.pen_px / size.pen_px == pytest.approx(grown, rel=1e-12)
        assert placed.size.height_px / size.height_px == pytest.approx(grown, rel=1e-12)
        assert grown <= MOST_GROWN
        if grown < MOST_GROWN:
            assert x1 - x0 == pytest.approx(width, abs=1e-9)
        else:
            assert x1 - x0 <= width


def test_the_widest_word_is_what_a_canvas_must_hold():
    long = '[words]\ncaptions = ["everything that this week brings"]\n'
    text, width = widest_word(read(long), scullery())
    assert text == "everything that this week brings"
    (placed,) = plan(long, "words/caption-1").content.setting()
    assert width == pytest.approx(placed.ink[2] - placed.ink[0], abs=1e-9)
    # A caption that is made to fit a width needs no more than the longest month.
    filled = read(long + 'sizes = "fill each"\n')
    assert widest_word(filled, scullery()) == ("SEPTEMBER", width_to_fill(filled, scullery()))


def test_short_words_grow_to_the_same_height_and_long_captions_shrink():
    heights = {
        name: plan(FILLED, f"words/{name}").content.setting()[0].size.height_px
        for name in ("month-05", "month-06", "month-07", "month-09", "caption-2")
    }
    assert (
        heights["month-05"] == heights["month-06"] == heights["month-07"] == pytest.approx(400)
    )  # twice 8 % of 2500 px
    assert heights["month-09"] == pytest.approx(200)
    tiny = '[words]\nsizes = "fill each"\ncaptions = ["everything that this week brings"]\n'
    assert plan(tiny, "words/caption-1").content.setting()[0].size.height_px < 200


@settings(max_examples=15, deadline=None)
@given(st.floats(0.0, 0.4), st.floats(4.0, 12.0), st.sampled_from(FAMILIES))
def test_filling_holds_for_any_spacing_pen_and_family(spacing, stem, family):
    text = f'[words]\nsizes = "fill each"\nspacing = {spacing}\nstem = {stem}\nheight = "3 %"\n'
    recipe = recipe_from_text(HEAD + text, source="x", folder=Path())
    width = width_to_fill(recipe, shipped_family(family))
    for number in (2, 9, 12):
        (placed,) = plan_by_name(
            recipe, shipped_family(family), f"words/month-{number:02d}"
        ).content.setting()
        assert placed.ink[2] - placed.ink[0] == pytest.approx(width, abs=1e-6)
        assert placed.size.height_px / placed.size.pen_px == pytest.approx(stem, rel=1e-9)


class Tiles:
    """A face that has a square tile for every character."""

    name, cap_height_em, digit_height_em, nominal_stem_em, is_drawn_with_pen = (
        "Tiles",
        0.7,
        0.7,
        0.1,
        False,
    )

    own_stem_em = None

    def has(self, _):
        return True

    def glyph(self, character):
        square = np.array([[0.0, 0.0], [0.5, 0.0], [0.5, 0.5], [0.0, 0.5]])
        return Glyph(
            name=character, advance_em=0.5, contours=() if character.isspace() else (square,)
        )

    def alternates(self, _):
        return ()

    def placed_glyphs(self, text, *, figures):  # noqa: ARG002
        glyphs = (self.glyph(letter) for letter in text)
        return tuple(
            PlacedGlyph(glyph=glyph, x_em=0.5 * index, y_em=0.0, letter=index)
            for index, glyph in enumerate(glyphs)
        ), 0.5 * len(text)


def test_words_that_hang_from_a_line_are_not_torn():
    spaced = word_line(Tiles(), "जून मई", LINING, spacing=0.3)
    assert spaced.advance_em == word_line(Tiles(), "जून मई", LINING).advance_em
    assert [item.letter for item in spaced.glyphs] == [0, 0, 0, 3, 4, 4]
    apart = word_line(Tiles(), "ab", LINING, spacing=0.3)
    assert apart.advance_em == pytest.approx(1.3)


def test_arabic_words_are_not_spaced():
    for month in ("يناير", "سبتمبر"):
        wide, plain = (
            word_line(arabic(), month, LINING, spacing=spacing) for spacing in (0.3, 0.0)
        )
        joined = [(item.glyph.name, item.letter) for item in plain.glyphs]
        assert [(item.glyph.name, item.letter) for item in wide.glyphs] == joined
        steps = len({item.letter for item in plain.glyphs}) - 1
        assert wide.advance_em == pytest.approx(plain.advance_em + 0.3 * steps)


def test_strokes_of_filled_words_are_the_small_ones_enlarged():
    small, large = (list(plan(text, "words/month-05").drawing().marks) for text in (RICH, FILLED))
    for one, other in zip(small, large, strict=True):
        assert isinstance(one, Stroke)
        assert other.width_px == pytest.approx(2 * one.width_px)
        assert np.ptp(other.points, axis=0) == pytest.approx(2 * np.ptp(one.points, axis=0))

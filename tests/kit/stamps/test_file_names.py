"""What files are called: the pattern filled in, and names that every file system takes."""

import unicodedata
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from inkline.kit.recipe.loading import recipe_from_text
from inkline.kit.recipe.model import Recipe
from inkline.kit.stamps.file_names import (
    file_faults,
    files_of,
    parts_of,
    safe_name,
    text_from_pattern,
)
from inkline.source.faults import RecipeError

# Microsoft, "Naming Files, Paths, and Namespaces" (from memory): characters and names that Windows
# refuses.
FORBIDDEN = '<>:"/\\|?*'
DEVICES = [
    "CON",
    "PRN",
    "AUX",
    "NUL",
    *(f"COM{n}" for n in range(1, 10)),
    *(f"LPT{n}" for n in range(1, 10)),
]


@pytest.fixture
def named(recipe_of):
    """The small recipe with a pattern of file names and other values of the words."""

    def changed(pattern, **values):
        small = recipe_of()
        words = {key: values.pop(key) for key in ("languages",) if key in values}
        return replace(small, file_pattern=pattern, words=replace(small.words, **words), **values)

    return changed


def file_of(recipe: Recipe, name: str) -> str:
    return files_of(recipe, [name])[name]


@pytest.mark.parametrize(
    ("name", "file"),
    [
        ("tall/dates-3", "tall/dates-3-sun-tue-mon-wed.png"),
        ("tall/dates-1", "tall/dates-1-sun-sun-mon-mon.png"),
        ("tall/dates-3-28", "tall/dates-3-28-sun-tue-mon-wed.png"),
        ("tall/dates-3-workdays-monday", "tall/dates-3-workdays-monday-mon-wed.png"),
        ("tall/dates-6-shared", "tall/dates-6-shared-sun-fri-mon-sat.png"),
        ("tall/blocks-5-cut-7", "tall/blocks-5-cut-7-sun-sat-mon-sun.png"),
        ("small/month-3-30-sunday", "small/month-3-30-sunday-sun-tue.png"),
        ("tall/weekdays-sunday", "tall/weekdays-sunday-sun.png"),
        ("strip/weekdays-from-wed", "strip/weekdays-from-wed-wed.png"),
        ("strip/dates-31", "strip/dates-31.png"),
        ("tall/grid-6-head-b", "tall/grid-6-head-b.png"),
        ("words/month-03", "words/month-03.png"),
        ("words/year-2027", "words/year-2027.png"),
        ("tall/weeks-48-of-53", "tall/weeks-48-of-53.png"),
    ],
)
def test_days_are_those_of_the_weeks_and_of_the_first(named, name, file):
    assert file_of(named("{name}-{days}"), name) == file


def test_a_kit_with_one_start_of_the_week_has_short_names(named):
    recipe = named("{name}-{days}", week_starts=("sunday",))
    assert file_of(recipe, "standard/dates-3") == "standard/dates-3-sun-tue.png"
    assert (
        file_of(replace(recipe, week_starts=("saturday",)), "standard/dates-3")
        == "standard/dates-3-sat-mon.png"
    )


def test_names_speak_the_first_language_and_words_their_own(named):
    """German and French names from CLDR by way of Babel.

    These have been the same for many releases.
    """
    recipe = named(
        "{name} {days} ({month}, {language})", languages=("de", "fr"), week_starts=("monday",)
    )
    assert file_of(recipe, "a/dates-7") == "a/dates-7 mo-so.png"
    assert file_of(recipe, "words/month-03") == "words/month-03 (märz, de).png"
    assert file_of(recipe, "words/month-08-fr") == "words/month-08-fr (août, fr).png"
    assert file_of(recipe, "words/month-01-short-fr") == "words/month-01-short-fr (janv, fr).png"
    assert file_of(recipe, "a/marks-2027-03-monday") == "a/marks-2027-03-monday (märz).png"
    assert file_of(recipe, "a/weekdays-monday-fr") == "a/weekdays-monday-fr mo (fr).png"
    assert parts_of(recipe, "a/grid-5")["language"] == ""


def test_other_scripts_are_kept_and_turkish_keeps_its_two_letters_i_apart(named):
    assert (
        file_of(named("{name} {month}", languages=("ru",)), "words/month-01")
        == "words/month-01 январь.png"
    )
    assert (
        file_of(named("{name} {month}", languages=("tr",)), "words/month-04")
        == "words/month-04 nisan.png"
    )
    assert (
        file_of(named("{name} {month}", languages=("tr",)), "words/month-05")
        == "words/month-05 mayıs.png"
    )


def test_title_edition_and_format_say_what_they_are(named):
    recipe = named("{title} {edition} - {format} {name}", title="Evenings: all", edition="2")
    assert file_of(recipe, "tall/grid-5") == "tall/Evenings- all 2 - tall grid-5.png"
    assert file_of(recipe, "words/digit-7") == "words/Evenings- all 2 - digit-7.png"


@pytest.mark.parametrize(
    ("pattern", "name"),
    [
        ("{name}-{days}", "n"),
        ("{days}-{name}", "n"),
        ("{name}-{days}-{format}", "n-f"),
        ("{name}, {days} - {format}", "n, f"),
        ("{name}{days} {format}", "n f"),
        ("{name} ({days})", "n"),
        ("{name} [{days}, {days}] {format}", "n f"),
        ("{days}{days}{name}", "n"),
        ("{name} x{days}", "n x"),
        ("{name}--{format}", "n--f"),
        ("{name} ({days}, {format})", "n (f)"),
        ("{name} ({format}, {days}) {days}", "n (f)"),
        ("{{{name}}}", "{n}"),
    ],
)
def test_separators_around_an_empty_part_are_one(pattern, name):
    assert text_from_pattern(pattern, {"name": "n", "days": "", "format": "f"}) == name


@pytest.mark.parametrize(
    ("text", "name"),
    [
        (' .a<b>c:d"e/f\\g|h?i*j. ', "a-b-c-d-e-f-g-h-i-j"),
        ("a\tb\nc\x7fd\u2028e\u202ef", "abcdef"),
        ("a\N{NO-BREAK SPACE} \N{THIN SPACE}b", "a b"),
        ("e\N{COMBINING ACUTE ACCENT}", "é"),
        ("سه\u200cشنبه", "سه\u200cشنبه"),
        ("con", "con_"),
        ("Aux.tall", "Aux_.tall"),
        ("com1", "com1_"),
        ("LPT\N{SUPERSCRIPT TWO}.x", "LPT\N{SUPERSCRIPT TWO}_.x"),
        ("com10", "com10"),
        ("console", "console"),
    ],
)
def test_what_some_system_refuses_is_replaced(text, name):
    assert safe_name(text) == name


@settings(max_examples=200, deadline=None)
@given(
    st.text(max_size=40)
    | st.sampled_from(DEVICES).map(str.lower)
    | st.sampled_from(DEVICES).map(lambda d: f" {d}.a")
)
def test_a_safe_name_is_safe_and_stays_as_it_is(text):
    name = safe_name(text)
    assert not set(name) & set(FORBIDDEN)
    assert not any(unicodedata.category(one) in {"Cc", "Cs"} for one in name)
    assert unicodedata.is_normalized("NFC", name)
    assert name == name.strip(" .")
    assert name.partition(".")[0].rstrip().upper() not in DEVICES
    assert safe_name(name) == name


def test_the_pattern_that_says_nothing_changes_no_name(named):
    names = ("tall/dates-3", "words/caption-1", "small/month-1-31-monday-de")
    assert files_of(named("{name}"), names) == {name: f"{name}.png" for name in names}


def test_a_name_that_is_too_long_is_refused(named):
    letters = named("{name} {title}", title="x" * 80)
    assert file_of(letters, "tall/grid-5-head") == "tall/grid-5-head " + "x" * 80 + ".png"
    with pytest.raises(
        RecipeError,
        match=r"names.pattern must make names of at most 100 characters and 200 bytes with",
    ) as caught:
        files_of(
            replace(letters, file_pattern="{name} {title} {title}"),
            ["tall/grid-5", "tall/grid-5-head"],
        )
    assert str(caught.value).endswith(
        "and that of tall/grid-5-head has 177 characters and 177 bytes"
    )
    with pytest.raises(RecipeError, match=r"has 91 characters and 251 bytes"):
        files_of(replace(letters, title="月" * 80), ["tall/grid-5"])


def test_two_files_of_one_name_are_refused_whatever_their_case(named):
    sentence = (
        r"must give each stamp a file of its own, and a/É and a/e\u0301 would both be called "
        r"a/é\.png"
    )
    with pytest.raises(RecipeError, match=sentence):
        files_of(named("{name}-{days}"), ["a/É", "a/e\N{COMBINING ACUTE ACCENT}"])
    assert len(set(files_of(named("{name}-{days}"), ["a/É", "b/é"]).values())) == 2


def test_a_format_called_as_a_device_is_refused_with_its_line(tmp_path):
    text = "version = 1\nnumber = 1\n[formats.standard]\n[formats.aux]\n"
    recipe = recipe_from_text(text, source="r.toml", folder=tmp_path)
    sentence = (
        r"^r\.toml, line 4: formats\.aux must be called by another name, since Windows can make no "
        r'folder called "aux"$'
    )
    with pytest.raises(RecipeError, match=sentence):
        files_of(recipe, ["aux/grid-5"])
    (fault,) = file_faults(recipe, ["aux/grid-5"])
    assert fault.key == "formats.aux"


def test_a_disk_takes_the_names(named, tmp_path):
    recipe = named(
        "{title} · {name} {days} {month}", title='What? A "year": <2027> | *', languages=("ar",)
    )
    names = [f"tall/dates-{n}" for n in range(1, 8)] + [
        f"words/month-{n:02d}" for n in range(1, 13)
    ]
    for file in files_of(recipe, names).values():
        (tmp_path / file).parent.mkdir(exist_ok=True)
        (tmp_path / file).write_bytes(b"")
    assert len([path for path in tmp_path.rglob("*.png") if path.is_file()]) == len(names)

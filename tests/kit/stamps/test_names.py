"""Names of stamps.

What is made is read back, what a kit holds is read and made again, and nothing else is read.
"""

from functools import cache
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inkline.kit.letters import face_of
from inkline.kit.months.plans import month_plans
from inkline.kit.months.recipe import months_recipe
from inkline.kit.recipe.loading import default_recipe, load_recipe, load_recipes
from inkline.kit.stamps.catalogue import plan_makers
from inkline.kit.stamps.names import (
    TAKES,
    WEEKDAY_LABELS,
    WORDS,
    MonthLayer,
    SplitPart,
    StampName,
    Subject,
    folder_of,
    last_part,
    layer_of,
    month_folder,
    name_from_text,
    part_name,
    stamp_of,
)

HERE = Path(__file__).parents[3]
FILES = sorted(
    [*(HERE / "shared" / "recipes").glob("*.toml"), *(HERE / "tests/kit/data").glob("*.toml")]
)
KITS = [("", ""), *((str(path), kit) for path in FILES for kit in load_recipes(path))]

rows, columns = st.integers(4, 6), st.integers(1, 7)
days, months = st.integers(28, 31), st.integers(1, 12)
years = st.integers(1000, 9999)
takes = st.sampled_from(["", *TAKES])
starts = st.sampled_from(["sunday", "monday", "saturday"])
languages = st.from_regex(r"[a-z]{2,3}(-[a-z0-9]{1,8}){0,2}", fullmatch=True) | st.just("")
formats = st.from_regex(r"[a-z][a-z0-9-]{0,31}", fullmatch=True).filter(
    lambda name: name not in (WORDS, "masters")
)
month_folders = st.builds(month_folder, years, months, formats)
FIELDS = {
    Subject.GRID: {"rows": rows | st.none(), "head": st.booleans(), "take": takes},
    Subject.BLOCKS: {"rows": rows | st.none(), "take": takes},
    Subject.HEADER_BLOCKS: {"take": takes},
    Subject.CUT_BLOCKS: {"rows": rows, "column": columns},
    Subject.STRIP_CUT_BLOCKS: {"days": days},
    Subject.DATES: {"column": columns, "days": days | st.none(), "shared": st.booleans()},
    Subject.STRIP_DATES: {"days": days},
    Subject.WEEKDAYS: {"start": starts, "language": languages},
    Subject.STRIP_WEEKDAYS: {"first": st.sampled_from(WEEKDAY_LABELS), "language": languages},
    Subject.WEEKS: {
        "week": st.integers(1, 54),
        "weeks": st.sampled_from([None, 53, 54]),
        "rows": rows | st.none(),
    },
    Subject.MARKS: {"year": years, "month": months, "start": starts, "shared": st.booleans()},
    Subject.STRIP_MARKS: {"year": years, "month": months},
    Subject.SMALL_MONTH: {
        "column": columns,
        "days": days,
        "start": starts,
        "language": languages,
    },
    Subject.MONTH: {"month": months, "short": st.booleans(), "language": languages},
    Subject.YEAR: {"year": years},
    Subject.YEARS: {"year": years, "last_year": years},
    Subject.DIGIT: {"digit": st.integers(0, 9)},
    Subject.CAPTION: {"number": st.integers(1, 10**6)},
    Subject.LAYER: {"layer": st.sampled_from(MonthLayer)},
}
WORDS_ALONE = (Subject.MONTH, Subject.YEAR, Subject.YEARS, Subject.DIGIT, Subject.CAPTION)
PARTS = {
    Subject.GRID: ["down-3", "across-12", "r1c2-down-1", "c31-across-2"],
    Subject.BLOCKS: ["r5c4"],
    Subject.DATES: ["1", "17", "31", "23-30"],
    Subject.WEEKDAYS: ["mon"],
    Subject.STRIP_WEEKDAYS: ["9"],
    Subject.WEEKS: ["5", "54"],
    Subject.MARKS: ["8", "8-ring"],
    Subject.LAYER: ["down-3", "r5c4", "c7"],
}


@st.composite
def stamp_names(draw):
    subject = draw(st.sampled_from(Subject))
    said = {name: draw(values) for name, values in FIELDS[subject].items()}
    if subject is Subject.DATES and draw(st.booleans()):
        said |= {"split": draw(st.sampled_from(SplitPart)), "start": draw(starts)}
    if subject in WORDS_ALONE:
        folders = st.sampled_from(["", WORDS])
    else:
        folders = month_folders if subject is Subject.LAYER else formats | st.just("")
    folder = draw(folders)
    part = draw(st.sampled_from(["", *PARTS.get(subject, [])])) if folder else ""
    return StampName(subject=subject, folder=folder, part=part, **said)


def test_every_subject_is_tried():
    assert set(FIELDS) == set(Subject)


@given(stamp_names())
def test_what_is_made_is_read_back(name):
    assert name_from_text(name.text) == name


@given(st.text(max_size=30) | st.from_regex(r"[a-z]{1,8}(-[a-z0-9]{1,8}){0,4}(/[a-z0-9-]{1,9})?"))
def test_what_is_read_is_made_again(text):
    name = name_from_text(text)
    assert name is None or name.text == text


@cache
def plans_of(path, kit):
    recipe = load_recipe(Path(path), kit=kit) if path else default_recipe()
    face = face_of(recipe)
    finished = months_recipe(recipe, [(2027, 3), (2027, 8)])
    return [*(make() for make in plan_makers(recipe, face).values()), *month_plans(finished, face)]


@pytest.mark.parametrize(("path", "kit"), KITS, ids=lambda said: Path(said).stem)
def test_every_stamp_of_a_kit_and_of_its_months_is_read_and_made_again(path, kit):
    plans = plans_of(path, kit)
    assert len(plans) > 40
    for plan in plans:
        name = name_from_text(plan.name)
        assert name.text == name.stamp == plan.name
        assert (name.folder, name.stem) == (folder_of(plan.name), last_part(plan.name))
        for label in plan.content.labels:
            part = name_from_text(part_name(plan.name, label))
            assert (part.stamp, part.part) == (plan.name, label)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("tall/grid-6-head-b", {"subject": Subject.GRID, "rows": 6, "head": True, "take": "b"}),
        ("tall/blocks-5-cut-3", {"subject": Subject.CUT_BLOCKS, "rows": 5, "column": 3}),
        ("tall/blocks-cut-31", {"subject": Subject.STRIP_CUT_BLOCKS, "days": 31}),
        ("tall/dates-3/17", {"subject": Subject.DATES, "column": 3, "part": "17"}),
        (
            "tall/dates-6-30-shared-sundays-monday",
            {
                "subject": Subject.DATES,
                "column": 6,
                "days": 30,
                "shared": True,
                "split": SplitPart.SUNDAYS,
                "start": "monday",
            },
        ),
        (
            "tall/weeks-48-of-53-5-rows",
            {"subject": Subject.WEEKS, "week": 48, "weeks": 53, "rows": 5},
        ),
        (
            "small/month-3-30-monday-pt-br",
            {
                "subject": Subject.SMALL_MONTH,
                "column": 3,
                "days": 30,
                "start": "monday",
                "language": "pt-br",
            },
        ),
        (
            "words/month-01-short-de",
            {"subject": Subject.MONTH, "month": 1, "short": True, "language": "de"},
        ),
        (
            "2027-02-standard/dates-sundays",
            {"subject": Subject.LAYER, "layer": MonthLayer.SUNDAYS},
        ),
    ],
)
def test_what_names_say(text, said):
    assert name_from_text(text) == StampName(folder=folder_of(stamp_of(text)), **said)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "/",
        "/grid-5",
        "tall/",
        "tall/grid-5/",
        "tall//grid-5",
        "tall/grid-5/down-3/1",
        "tall/grid-5/down-3.1",
        "Tall/grid-5",
        "tall/grid-7",
        "tall/grid-05",
        "tall/grid-5-b-head",
        "tall/grid-5\n",
        "tall/blocks-5-cut-3-a",
        "tall/blocks-head/r1c1",
        "tall/dates",
        "tall/dates-8",
        "tall/dates-3-27",
        "tall/dates-3-sundays",
        "tall/dates-3/32",
        "tall/dates-٣",
        "tall/weekdays",
        "tall/weekdays-tuesday",
        "tall/weekdays-monday-German",
        "tall/weeks-5",
        "tall/weeks-55",
        "tall/marks-2027-13-monday",
        "tall/marks-2027-03-shared",
        "tall/month-01",
        "words/month-3-30-monday",
        "words/month-00",
        "words/month-01-short-short",
        "words/digit-10",
        "words/caption-0",
        "words/digit-7/1",
        "words/grid-5",
        "masters/grid-5",
        "tall/name",
        "name",
        "2027-02-standard/grid-5",
        "2027-13-standard/grid",
        "2027-02/grid",
        "2027-02-standard/month",
        "lantern",
    ],
)
def test_nothing_else_is_read(text):
    assert name_from_text(text) is None


@pytest.mark.parametrize(
    ("said", "message"),
    [
        ({"subject": Subject.GRID, "rows": 7}, "no stamp of the subject grid has a name of"),
        ({"subject": Subject.GRID, "year": 2027}, "no stamp of the subject grid has a name of"),
        ({"subject": Subject.DATES}, "no stamp of the subject dates of a month has a name of"),
        (
            {"subject": Subject.DATES, "column": 3, "split": "sundays"},
            "no stamp of the subject dates of a month has a name of",
        ),
        ({"subject": Subject.GRID, "folder": WORDS}, "'words' is no folder for a stamp of grid"),
        ({"subject": Subject.GRID, "folder": "A"}, "'A' is no folder for a stamp of grid"),
        (
            {"subject": Subject.YEAR, "folder": "tall", "year": 2027},
            "'tall' is no folder for a stamp of year",
        ),
        (
            {"subject": Subject.GRID, "folder": "tall", "part": "17"},
            "'17' is no part of a stamp of grid in a folder",
        ),
        (
            {"subject": Subject.GRID, "part": "down-3"},
            "'down-3' is no part of a stamp of grid in a folder",
        ),
    ],
)
def test_what_is_no_name_cannot_be_made(said, message):
    with pytest.raises(ValueError, match=message):
        StampName(**said)


@pytest.mark.parametrize(
    ("stem", "layer"),
    [
        ("grid-5-head", "grid"),
        ("blocks-6", "blocks"),
        ("blocks-6-cut-3", "blocks"),
        ("blocks-cut-31", "blocks"),
        ("blocks-head-a", "blocks-head"),
        ("dates-3-30-shared", "dates"),
        ("dates-3-31-sundays-monday", "dates-sundays"),
        ("weekdays-from-mon", "weekdays"),
        ("weeks-48-of-53", "weeks"),
        ("marks-2027-03", "marks"),
    ],
)
def test_layers_of_stamps(stem, layer):
    assert layer_of(name_from_text(stem)) == layer


def test_a_small_month_is_no_layer():
    with pytest.raises(ValueError, match="month"):
        layer_of(name_from_text("month-3-30-monday"))

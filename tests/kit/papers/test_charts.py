"""The charts of a kit: for which years there are any, what they name, and how files are called."""

from dataclasses import replace
from pathlib import Path

import pytest

from inkline.errors import InputError
from inkline.kit.letters import face_of
from inkline.kit.papers.charts import chart_files, kit_charts
from inkline.kit.papers.guide_stamps import guide_years
from inkline.kit.recipe.choices import WeekNumbers
from inkline.kit.recipe.loading import default_recipe, recipe_from_text
from inkline.kit.stamps.catalogue import stamp_names

SUNDAY, MONDAY = 6, 0
RECIPE = default_recipe()
STARTS = {"sunday": SUNDAY, "monday": MONDAY}


def test_a_kit_has_week_numbers_for_its_own_years_and_others_where_they_fit():
    format_ = replace(RECIPE.formats[0], week_numbers=WeekNumbers.ISO)
    recipe = replace(RECIPE, formats=(format_,), words=replace(RECIPE.words, years=(2027,)))
    names = set(stamp_names(recipe, face_of(recipe)))
    own, other = kit_charts(recipe, [2027, 2026], starts={"monday": MONDAY}, language="en")
    assert all(f"standard/{month.weeks}" in names for month in own.months)
    assert own.months[0].weeks.startswith("weeks-53-of-53")
    assert other.months[11].weeks == ""  # weeks 49 to 53; in 2027 there are only 52
    assert all(f"standard/{month.weeks}" in names for month in other.months if month.weeks)


def test_a_guides_years():
    assert guide_years(RECIPE) == range(2027, 2032)
    assert guide_years(replace(RECIPE, words=replace(RECIPE.words, years=()))) == range(2027, 2032)
    assert guide_years(replace(RECIPE, words=replace(RECIPE.words, years=(9998, 9999)))) == range(
        9998, 10000
    )


def test_charts_of_a_kit():
    found = kit_charts(RECIPE, [2027, 2028], starts=RECIPE.starts, language="en")
    assert [(one.year, one.start, one.formats) for one in found] == [
        (year, start, ("standard", "tall"))
        for year in (2027, 2028)
        for start in ("sunday", "monday")
    ]
    strip = recipe_from_text(
        "version = 1\nnumber = 1\n[formats.strip]\n[formats.tall]\n", source="s", folder=Path()
    )
    assert {one.formats for one in kit_charts(strip, [2027], starts=STARTS, language="en")} == {
        ("tall",)
    }


def test_a_chart_goes_into_a_file_of_its_kind_or_a_folder_of_both(tmp_path):
    charts = kit_charts(default_recipe(), [2027], starts=default_recipe().starts, language="en")
    pictures = [tmp_path / f"chart-2027-{start}.png" for start in default_recipe().starts]
    assert list(chart_files(charts, tmp_path / "a.PDF")) == [tmp_path / "a.PDF"]
    assert list(chart_files(charts[:1], tmp_path / "a.png")) == [tmp_path / "a.png"]
    assert list(chart_files(charts, tmp_path)) == [tmp_path / "chart.pdf", *pictures]


def test_several_charts_are_no_picture_and_a_text_is_no_chart(tmp_path):
    charts = kit_charts(default_recipe(), [2027], starts=default_recipe().starts, language="en")
    with pytest.raises(InputError, match=r"^one picture holds one year and one week st") as several:
        chart_files(charts, tmp_path / "a.png")
    with pytest.raises(InputError, match=r"^a folder, or a file ending in \.pdf or \.png") as other:
        chart_files(charts, tmp_path / "a.txt")
    assert several.value.setting == other.value.setting == "out"


def test_charts_of_several_languages_say_which_stamps_of_names_are_whose():
    text = (
        'version = 1\nnumber = 1\n[formats.tall]\n[words]\nlanguage = ["en", "de"]\n'
        '[names]\npattern = "{pattern}"\n'
    )
    for pattern, said in (
        ("{name}", "month-01 in English, month-01-de in German"),
        ("{name}!", "month-01! in English, month-01-de! in German"),
    ):
        recipe = recipe_from_text(
            text.replace("{pattern}", pattern), source="a.toml", folder=Path()
        )
        charts = kit_charts(recipe, [2027], starts=recipe.starts, language="en")
        assert {chart.languages for chart in charts} == {said}
    one = kit_charts(default_recipe(), [2027], starts=STARTS, language="en")
    assert {chart.languages for chart in one} == {""}

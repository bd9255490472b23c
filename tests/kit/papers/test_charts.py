"""The chart as a picture and as a PDF, against Python's calendar.

Both are read back by Pillow and PDFium.
"""

import calendar
import io
from dataclasses import replace
from itertools import product
from pathlib import Path

import numpy as np
import pypdfium2
import pytest
from PIL import Image

from inkline.errors import InputError
from inkline.ink.style import EXACT
from inkline.kit.letters import face_of
from inkline.kit.papers import chart_png
from inkline.kit.papers.chart_pdf import A4, chart_pdf, stamp_lines
from inkline.kit.papers.charts import chart_files, guide_years, kit_charts, look_of
from inkline.kit.recipe.choices import Dates, Header, SixthWeek, WeekNumbers
from inkline.kit.recipe.loading import default_recipe, recipe_from_text
from inkline.kit.stamps.catalogue import stamp_names
from inkline.kit.stamps.month import Offer
from inkline.kit.stamps.year_chart import chart_names, year_chart
from inkline.pages.lines import Align, TextLine
from inkline.pages.palette import DAY, ERASED_DAY
from inkline.pages.pdf_letters import PageLetters, first_with, usual_family
from inkline.styles.files import load_style, style_path

SUNDAY, MONDAY = 6, 0
RECIPE = default_recipe()
PLAIN = Offer(
    weeks=(5, 6),
    header=Header.BOTH,
    takes=1,
    dates=Dates.TO_31,
    sixth_week=SixthWeek.OWN_ROW,
    week_numbers=WeekNumbers.NONE,
)
STARTS = {"sunday": SUNDAY, "monday": MONDAY}


def look(style=EXACT, **changes):
    return replace(look_of(RECIPE, face=usual_family(), style=style, language="en"), **changes)


def chart(year=2027, start="monday", *, offer=PLAIN, language="en"):
    return year_chart(
        offer,
        year,
        start=start,
        names=chart_names(language),
        formats=("standard",),
    )


def pixels(data):
    with Image.open(io.BytesIO(data)) as picture:
        return np.asarray(picture.convert("RGB"))


def counted(picture, colour):
    """How many px have exactly this colour."""
    wanted = np.array([int(colour[index : index + 2], 16) for index in (1, 3, 5)])
    return int((picture == wanted).all(axis=2).sum())


@pytest.mark.parametrize(
    ("year", "start", "mirrored"), [(2027, "monday", False), (2028, "sunday", True)]
)
def test_the_little_months_show_pythons_calendar(year, start, mirrored):
    python = calendar.Calendar(firstweekday=STARTS[start])
    for month in chart(year, start).months:
        boxes = dict(chart_png.little_month(month, mirrored=mirrored))
        days = {box for box, colour in boxes.items() if colour == DAY}
        expected = set()
        for row, week in enumerate(python.monthdayscalendar(year, month.month)):
            for column, day in enumerate(week):
                x = 16 * (6 - column if mirrored else column)
                expected |= {(x, 16 * row, x + 12, 16 * row + 12)} if day else set()
        assert days == expected
        assert len(boxes) == 31


def test_a_picture_is_as_large_as_a_telephone_and_shows_every_day():
    picture = pixels(chart_png.chart_png(chart(), look()))
    assert picture.shape == (1920, 1080, 3)
    # 365 days of 12 x 12 px, and the 29th to 31st of February and four 31sts to be erased.
    assert counted(picture, DAY) == 365 * 144
    assert counted(picture, ERASED_DAY) > 7 * 144
    lettered = (picture == [0x27, 0x34, 0x3D]).all(axis=2)
    rows = np.flatnonzero(lettered.any(axis=1))
    assert rows[0] == pytest.approx(190 - 112, abs=3)


def test_months_are_inked_in_the_kits_style():
    exact = chart_png.chart_png(chart(), look())
    style = load_style(style_path("dry-pencil", where="test"))
    drawn, again = (chart_png.chart_png(chart(), look(style)) for _ in range(2))
    assert drawn == again
    assert drawn != exact


@pytest.mark.parametrize("counted_by", list(WeekNumbers))
def test_no_letter_of_a_picture_is_lower_than_32_px(counted_by):
    seen, shape = look(), RECIPE.formats[0]
    for header, takes, dates, sixth in product(Header, (1, 3), Dates, SixthWeek):
        format_ = replace(
            shape,
            header=header,
            takes=takes,
            dates=dates,
            sixth_week=sixth,
            week_numbers=counted_by,
        )
        recipe = replace(
            RECIPE, formats=(format_,), words=replace(RECIPE.words, years=(2026, 2027, 2028))
        )
        charts = kit_charts(recipe, [2026], starts={"monday": MONDAY}, language="en")
        for month in charts[0].months:
            for line in chart_png._month_lines(month, 0, seen):
                if line.text:
                    width = chart_png._width(line.text, seen) * line.height / chart_png._SMALL
                    assert line.height * min(1.0, line.room / width) >= 32.0, line.text


def test_where_week_numbers_stand_if_a_line_is_too_long():
    seen = look()
    short, long, longer = (
        replace(chart().months[3], weeks=weeks)
        for weeks in ("weeks-13", "weeks-13-of-53", "weeks-13-of-53-5-rows")
    )
    assert chart_png._stamps_and_notes(short, seen, rooms=(790.0, 400.0)) == (
        "grid-5 + dates-4 + weeks-13 + name",
        "erase 31",
    )
    assert chart_png._stamps_and_notes(long, seen, rooms=(790.0, 560.0)) == (
        "grid-5 + dates-4 + name",
        "erase 31  + weeks-13-of-53",
    )
    assert chart_png._stamps_and_notes(longer, seen, rooms=(900.0, 400.0)) == (
        "grid-5 + dates-4 + weeks-13-of-53-5-rows",
        "erase 31",
    )
    assert chart_png._stamps_and_notes(longer, seen, rooms=(100.0, 100.0))[0] == "grid-5 + dates-4"


def test_a_kit_has_week_numbers_for_its_own_years_and_others_where_they_fit():
    format_ = replace(RECIPE.formats[0], week_numbers=WeekNumbers.ISO)
    recipe = replace(RECIPE, formats=(format_,), words=replace(RECIPE.words, years=(2027,)))
    names = set(stamp_names(recipe, face_of(recipe)))
    own, other = kit_charts(recipe, [2027, 2026], starts={"monday": MONDAY}, language="en")
    assert all(f"standard/{month.weeks}" in names for month in own.months)
    assert own.months[0].weeks.startswith("weeks-53-of-53")
    assert other.months[11].weeks == ""  # weeks 49 to 53; in 2027 there are only 52
    assert all(f"standard/{month.weeks}" in names for month in other.months if month.weeks)


def test_a_page_of_the_pdf_says_what_the_chart_says():
    data = chart_pdf([chart(2027, start) for start in STARTS], look())
    document = pypdfium2.PdfDocument(data)
    assert [page.get_size() for page in document] == [pytest.approx(A4, abs=1e-2)] * 2
    assert [entry.get_title() for entry in document.get_toc()] == [
        "2027, weeks begin on Sunday",
        "2027, weeks begin on Monday",
    ]
    for page, start in zip(document, STARTS.values(), strict=True):
        lines = page.get_textpage().get_text_range().splitlines()
        for month in range(1, 13):
            first, days = calendar.monthrange(2027, month)
            rows = len(calendar.Calendar(firstweekday=start).monthdayscalendar(2027, month))
            stamps = f"grid-{max(rows, 5)} + dates-{(first - start) % 7 + 1} + name"
            erase = ", ".join(str(day) for day in range(days + 1, 32))
            words = (
                f"{calendar.month_name[month]} {calendar.day_name[first]} {stamps} {erase}".strip()
            )
            assert words in lines
    assert chart_pdf([chart(2027, start) for start in STARTS], look()) == data


def test_another_way_stands_in_a_second_line():
    shared = replace(PLAIN, sixth_week=SixthWeek.SHARED)
    may, five = chart(offer=shared).months[4], chart(offer=replace(shared, weeks=(5,))).months[4]
    assert [text for text, _ in stamp_lines(may)] == [
        "grid-5 + dates-6-shared + name",
        "or grid-6 + dates-6",
    ]
    assert [text for text, _ in stamp_lines(five)] == [
        "grid-5 + dates-6-shared + name",
        "24/31 in one cell",
    ]
    none = chart(offer=replace(PLAIN, weeks=(5,))).months[4]
    assert [text for text, _ in stamp_lines(none)] == [
        "dates-6 + name",
        "no grid here has its 6 rows",
    ]
    assert len(stamp_lines(chart().months[4])) == 1


def test_months_in_letters_of_a_font_are_outlines_with_words_over_them(arabic):
    recipe = replace(RECIPE, words=replace(RECIPE.words, languages=("ar",)))
    seen = look_of(recipe, face=arabic, style=EXACT, language="ar")
    data = chart_pdf([chart(language="ar")], seen)
    words = pypdfium2.PdfDocument(data)[0].get_textpage().get_text_range()
    assert all(name in words for name in chart_names("ar"))
    assert seen.mirrored
    assert (
        data.count(b"/FontFile3") == 2
    )  # our own family and the letters that are not seen; not the user's font
    assert counted(pixels(chart_png.chart_png(chart(language="ar"), seen)), DAY) == 365 * 144


def test_a_users_font_is_never_embedded(arabic):
    letters = PageLetters("scullery", arabic)
    letters.plain_items(TextLine(text="مارس", x=0.0, baseline=0.0, height=10.0))
    letters.plain_items(TextLine(text="March", x=0.0, baseline=0.0, height=10.0))
    assert list(letters.fonts()) == ["scullery"]


def test_words_are_aligned_fit_their_room_and_lose_what_no_face_has():
    letters = PageLetters("no such family", usual_family())
    words = TextLine(text="March", x=100.0, baseline=50.0, height=10.0)
    width = letters.width(words)
    (left,), (right,) = (
        letters.plain_items(replace(words, align=align)) for align in (Align.LEFT, Align.RIGHT)
    )
    assert left.at[0] - right.at[0] == pytest.approx(width)
    assert letters.width(replace(words, room=width / 2)) == pytest.approx(width / 2)
    assert letters.plain_items(replace(words, text="尺寸")) == ()
    assert letters.inked_items(replace(words, text=" "), style=EXACT, number=1) == ()
    assert letters.width(replace(words, text="")) == 0.0
    assert first_with("尺", (usual_family(),)) is None


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

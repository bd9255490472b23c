"""The chart of a year as pages of a PDF, read back by another reader."""

import calendar
from dataclasses import replace

import pypdfium2
import pytest

from charts import PLAIN, RECIPE, STARTS, chart, counted, look, pixels
from inkline.ink.style import EXACT
from inkline.kit.papers import chart_png
from inkline.kit.papers.chart_pdf import A4, chart_pdf, stamp_lines
from inkline.kit.papers.charts import look_of
from inkline.kit.recipe.choices import SixthWeek
from inkline.kit.stamps.year_chart import chart_names
from inkline.pages.palette import DAY
from inkline.phrases.phrases import Phrases


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


def test_a_chart_is_in_the_language_of_its_phrases():
    own = {"chart.begins": "alkaa: {day}"}
    for phrases, said in (
        (
            Phrases(language="tr"),
            ("haftanın ilk günü Pazartesi", "29, 30, 31", "grid-5 + dates-1 + ad"),
        ),
        (Phrases(language="fi", own=own), ("alkaa: maanantai",)),
    ):
        data = chart_pdf([chart()], look(phrases=phrases))
        text = pypdfium2.PdfDocument(data)[0].get_textpage().get_text_range()
        for one in said:
            assert one in text

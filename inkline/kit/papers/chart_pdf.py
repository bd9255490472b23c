"""The chart as pages of a PDF, one for each year and day on which weeks begin."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from inkline.calendar.months import first_weekday
from inkline.calendar.names import LetterCase, NameWidth, weekday_names
from inkline.kit.papers.chart_png import ChartLook, little_month
from inkline.kit.stamps.year_chart import MonthChart, YearChart, comma_list, named_stamps
from inkline.output.pdf import PdfItem, PdfPage, Rectangle, pdf_bytes
from inkline.pages.lines import Align, TextLine, Tone
from inkline.pages.palette import HAIRLINE, PALE_CARD
from inkline.pages.pdf_letters import PageLetters
from inkline.phrases.phrases import Phrases

A4 = (595.276, 841.89)
"""210 x 297 mm (ISO 216) in points."""
MARGIN = 56.0
TITLE, TEXT, _HEAD, _NOTE = 34.0, 8.0, 6.2, 6.6
"""Heights of capitals in points: of a page's title, of text, of the heads of columns, of what
stands under a table."""
_TITLE_BASE, _ABOUT_BASE = 104.0, 132.0
_TABLE_TOP, _ROW, _HEAD_ROW = 160.0, 48.0, 22.0
_BASE = 0.5 * (_ROW + TEXT)
_FIRST_DAY, _STAMPS, _ERASE = 96.0, 168.0, 370.0
"""Where columns begin, from the table's left edge."""
_NOTE_LINE = 12.5
_ENGLISH = Phrases()
_LITTLE = 0.29
"""Points to a px of the little month."""
_FIRST_LINE, _SECOND_LINE = 21.0, 35.0
"""Baselines of a row that has two lines."""


def chart_pdf(charts: Sequence[YearChart], look: ChartLook) -> bytes:
    """The charts as a PDF file, a page each; equal charts give equal bytes.

    Raises:
        ValueError: no charts.
    """
    letters = PageLetters(look.family, look.faces[-1])
    pages = [chart_page(chart, letters, look) for chart in charts]
    return pdf_bytes(pages, fonts=letters.fonts(), title=look.title, language=look.phrases.language)


def chart_page(chart: YearChart, letters: PageLetters, look: ChartLook) -> PdfPage:
    """The page of one chart."""
    items = [*_head(chart, letters, look), *_table(chart, letters, look)]
    items += _foot(chart, letters, look)
    return PdfPage(
        size=A4,
        items=tuple(items),
        title=f"{chart.year}, {look.week_start(chart.start)}",
    )


def _head(chart: YearChart, letters: PageLetters, look: ChartLook) -> Iterator[PdfItem]:
    right = A4[0] - MARGIN
    year = TextLine(
        text=str(chart.year), x=MARGIN, baseline=_TITLE_BASE, height=TITLE, tone=Tone.STRONG
    )
    yield from letters.inked_items(year, style=look.style, number=look.number)
    about = look.week_start(chart.start)
    yield from letters.plain_items(
        TextLine(text=about, x=MARGIN, baseline=_ABOUT_BASE, height=TEXT, tone=Tone.ACCENT)
    )
    for text, base in ((look.title, _TITLE_BASE), (comma_list(chart.formats), _ABOUT_BASE)):
        beside = TextLine(
            text=text,
            x=right,
            baseline=base,
            height=TEXT,
            tone=Tone.SOFT,
            align=Align.RIGHT,
            room=240.0,
        )
        yield from letters.plain_items(beside)


def _table(chart: YearChart, letters: PageLetters, look: ChartLook) -> Iterator[PdfItem]:
    left, right, bottom = MARGIN, A4[0] - MARGIN, _TABLE_TOP + _HEAD_ROW + 12 * _ROW
    yield Rectangle(box=(left - 12.0, _TABLE_TOP, right + 12.0, bottom), colour=PALE_CARD)
    heads = (
        ("month", 0.0, _FIRST_DAY),
        ("first_day", _FIRST_DAY, _STAMPS),
        ("stamp", _STAMPS, _ERASE),
        ("erase", _ERASE, right - left),
    )
    for key, x, end in heads:
        yield from letters.plain_items(
            TextLine(
                text=look.phrases.say(f"chart.{key}"),
                x=left + x,
                room=end - x - 8.0,
                baseline=_TABLE_TOP + 15.0,
                height=_HEAD,
                tone=Tone.SOFT,
            )
        )
    days = weekday_names(look.language, width=NameWidth.WIDE, case=LetterCase.AS_WRITTEN)
    height = _stamp_height(chart, letters, look)
    for index, month in enumerate(chart.months):
        top = _TABLE_TOP + _HEAD_ROW + index * _ROW
        yield Rectangle(box=(left, top - 0.3, right, top + 0.3), colour=HAIRLINE)
        yield from _row(
            month, days[first_weekday(month.year, month.month)], top, height, letters, look
        )


def _row(
    month: MonthChart, day: str, top: float, height: float, letters: PageLetters, look: ChartLook
) -> Iterator[PdfItem]:
    left, base = MARGIN, top + _BASE
    name = TextLine(
        text=month.name,
        x=left,
        baseline=base,
        height=TEXT + 1.0,
        tone=Tone.STRONG,
        room=_FIRST_DAY - 10.0,
    )
    yield from letters.plain_items(name)
    begins = TextLine(
        text=day,
        x=left + _FIRST_DAY,
        baseline=base,
        height=_HEAD + 0.6,
        tone=Tone.SOFT,
        room=_STAMPS - _FIRST_DAY - 8.0,
    )
    yield from letters.plain_items(begins)
    lines = stamp_lines(month, look.phrases)
    bases = (base,) if len(lines) == 1 else (top + _FIRST_LINE, top + _SECOND_LINE)
    for (text, tone), line in zip(lines, bases, strict=True):
        yield from letters.plain_items(
            TextLine(text=text, x=left + _STAMPS, baseline=line, height=height, tone=tone)
        )
    erase = TextLine(
        text=comma_list(month.way.erase),
        x=left + _ERASE,
        baseline=base,
        height=TEXT,
        tone=Tone.ACCENT,
    )
    yield from letters.plain_items(erase)
    corner = (A4[0] - MARGIN - (7 * 16 - 4) * _LITTLE, top + 0.5 * (_ROW - (6 * 16 - 4) * _LITTLE))
    for box, colour in little_month(month, mirrored=look.mirrored):
        yield Rectangle(box=_little_box(box, corner), colour=colour)


def _stamp_height(chart: YearChart, letters: PageLetters, look: ChartLook) -> float:
    """The height at which the longest line of stamps fits its column.

    It is the same for all lines, since they are compared.
    """
    texts = [text for month in chart.months for text, _ in stamp_lines(month, look.phrases)]
    widest = max(
        letters.width(TextLine(text=text, x=0.0, baseline=0.0, height=TEXT, tone=Tone.STRONG))
        for text in texts
    )
    return TEXT * min(1.0, (_ERASE - _STAMPS - 12.0) / widest)


def stamp_lines(month: MonthChart, phrases: Phrases = _ENGLISH) -> tuple[tuple[str, Tone], ...]:
    """The stamps of a month as a line, and a second line if there is more to say, with their tones.

    The second tells of another way, or of what the stamps leave open.
    """
    first = (" + ".join(named_stamps(month.stamps, phrases)), Tone.STRONG)
    if month.instead is not None:
        other = f"{month.instead.grid} + {month.instead.dates}"
        return first, (phrases.say("chart.instead", stamps=other), Tone.SOFT)
    shared = month.shared_notes_in(phrases)
    if shared:
        return first, (shared[0], Tone.SOFT)
    if month.way.grid:
        return (first,)
    return first, (phrases.say("chart.no_grid", rows=month.rows), Tone.ACCENT)


def _little_box(
    box: tuple[int, int, int, int], corner: tuple[float, float]
) -> tuple[float, float, float, float]:
    x, y = corner
    return x + box[0] * _LITTLE, y + box[1] * _LITTLE, x + box[2] * _LITTLE, y + box[3] * _LITTLE


def _foot(chart: YearChart, letters: PageLetters, look: ChartLook) -> Iterator[PdfItem]:
    """What the table leaves to be said."""
    base, phrases = _TABLE_TOP + _HEAD_ROW + 12 * _ROW + 20.0, look.phrases
    key = "chart.names_are" if chart.languages else "chart.name_is"
    sentences = [phrases.say(key, name=phrases.say("chart.name"), stamps=chart.languages)]
    if any(month.way.erase for month in chart.months):
        sentences.append(phrases.say("chart.erase_about"))
    sentences += chart.further
    for sentence in sentences:
        yield from letters.plain_items(
            TextLine(
                text=sentence,
                x=MARGIN,
                baseline=base,
                height=_NOTE,
                tone=Tone.SOFT,
                room=A4[0] - 2 * MARGIN,
            )
        )
        base += _NOTE_LINE

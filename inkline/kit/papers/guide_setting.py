"""Pages of text in a guide: headings, paragraphs and tables down a page; lengths in points."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import accumulate

from inkline.kit.papers.chart_pdf import A4, MARGIN, TEXT, TITLE
from inkline.kit.papers.chart_png import ChartLook
from inkline.output.pdf import Figure, PdfItem, PdfPage, PlacedFigure, Rectangle
from inkline.pages.lines import Align, TextLine, Tone
from inkline.pages.palette import HAIRLINE, PALE_CARD
from inkline.pages.pdf_letters import PageLetters

_HEADING = 11.0
_LINE = 17.0
"""From baseline to baseline of a paragraph: twice and a little more the height of a capital."""
_TITLE_BASE = 104.0
_TITLE_BELOW = 46.0
_AFTER = 10.0
_HEADING_ABOVE, _HEADING_BELOW = 20.0, 12.0
_ROW, _TABLE_ABOVE = 22.0, 6.0
_CELL_BASE = 0.5 * (_ROW + TEXT) - 0.5
_BESIDE = 12.0
"""How far a card reaches beyond the text."""
_SMALL = 7.2
_USUAL_LETTER = 0.66
"""Breadth of a letter as a share of the height of capitals: to guess how many fit a line."""
BOTTOM = A4[1] - MARGIN
"""Nothing stands lower."""


@dataclass(slots=True, kw_only=True)
class GuidePage:
    """A page while it is being set; `y` is where the next thing goes."""

    letters: PageLetters
    look: ChartLook
    title: str
    y: float = MARGIN
    items: list[PdfItem] = field(default_factory=list)

    @property
    def width(self) -> float:
        """Width of the text."""
        return A4[0] - 2.0 * MARGIN

    def add_head(self) -> None:
        """Add the page's title in the kit's own ink."""
        words = TextLine(
            text=self.title,
            x=MARGIN,
            baseline=_TITLE_BASE,
            height=0.72 * TITLE,
            tone=Tone.STRONG,
            room=self.width,
        )
        self.items += self.letters.inked_items(
            words, style=self.look.style, number=self.look.number
        )
        self.y = _TITLE_BASE + _TITLE_BELOW

    def add_heading(self, text: str) -> None:
        """Add a heading of a part of the page."""
        self.y += _HEADING_ABOVE
        self.items += self.letters.plain_items(
            TextLine(
                text=text,
                x=MARGIN,
                baseline=self.y,
                height=_HEADING,
                tone=Tone.ACCENT,
                room=self.width,
            )
        )
        self.y += _HEADING_BELOW

    def add_paragraph(
        self, text: str, *, x: float = MARGIN, width: float | None = None, tone: Tone = Tone.STRONG
    ) -> None:
        """Add a paragraph, broken into lines where words end."""
        for line in break_lines(text, self.letters, width=width or self.width, height=TEXT):
            self.y += _LINE
            self.items += self.letters.plain_items(
                TextLine(text=line, x=x, baseline=self.y, height=TEXT, tone=tone)
            )
        self.y += _AFTER

    def add_table(
        self, heads: Sequence[str], rows: Sequence[Sequence[str]], *, widths: Sequence[float]
    ) -> None:
        """Add a table on a card, its first column set left and the others right.

        Args:
            heads: of the columns.
            rows: a text for each column.
            widths: the columns' shares of the text's width.
        """
        top = self.y + _TABLE_ABOVE
        bottom = top + _ROW * (len(rows) + 1)
        self.items.append(
            Rectangle(
                box=(MARGIN - _BESIDE, top, A4[0] - MARGIN + _BESIDE, bottom), colour=PALE_CARD
            )
        )
        for index, row in enumerate((heads, *rows)):
            base = top + index * _ROW + _CELL_BASE
            if index:
                line = (MARGIN, top + index * _ROW - 0.3, A4[0] - MARGIN, top + index * _ROW + 0.3)
                self.items.append(Rectangle(box=line, colour=HAIRLINE))
            self._add_row(row, base, widths, tone=Tone.STRONG if index else Tone.SOFT)
        self.y = bottom + _AFTER

    def _add_row(
        self, cells: Sequence[str], base: float, widths: Sequence[float], *, tone: Tone
    ) -> None:
        right = MARGIN
        for index, (cell, share) in enumerate(zip(cells, widths, strict=True)):
            left, right = right, right + share * self.width
            align, x = (Align.RIGHT, right) if index else (Align.LEFT, left)
            room = share * self.width - 8.0
            self.items += self.letters.plain_items(
                TextLine(
                    text=cell, x=x, baseline=base, height=_SMALL, tone=tone, align=align, room=room
                )
            )

    def add_entries(
        self, entries: Sequence[tuple[str, str]], *, column: float = 190.0, x: float = MARGIN
    ) -> None:
        """Add names from `x` on, each with a sentence beside it, `column` points further."""
        for name, sentence in entries:
            start = self.y
            room = column - 14.0
            lines = break_lines(name, self.letters, width=room, height=TEXT)
            for index, line in enumerate(lines, start=1):
                words = TextLine(
                    text=line,
                    x=x,
                    baseline=start + index * _LINE,
                    height=TEXT,
                    tone=Tone.ACCENT,
                    room=room,
                )
                self.items += self.letters.plain_items(words)
            self.add_paragraph(sentence, x=x + column, width=self.width - (x - MARGIN) - column)
            self.y = max(self.y, start + len(lines) * _LINE + _AFTER) - 2.0

    def add_figures(
        self, figures: Sequence[tuple[Figure, str]], *, at: tuple[float, float], scale: float
    ) -> None:
        """Add figures over one another, each with its colour."""
        self.items += [
            PlacedFigure(figure=figure, at=at, scale=scale, colour=colour)
            for figure, colour in figures
        ]

    def add_card(self, box: tuple[float, float, float, float], *, colour: str = PALE_CARD) -> None:
        """Add a ground for what comes next."""
        self.items.append(Rectangle(box=box, colour=colour))

    def page(self) -> PdfPage:
        """The page as it stands."""
        return PdfPage(size=A4, items=tuple(self.items), title=self.title)


def table_height(n_rows: int) -> float:
    """How much room a heading and a table of so many rows below it need."""
    return _HEADING_ABOVE + _HEADING_BELOW + _TABLE_ABOVE + _ROW * (n_rows + 1)


def break_lines(text: str, letters: PageLetters, *, width: float, height: float) -> tuple[str, ...]:
    """The lines of a paragraph, as many words on each as fit `width`.

    A word that is wider alone has a line of its own.
    """
    words = text.split()
    lines: list[str] = []
    first, letter = 0, _USUAL_LETTER * height
    while first < len(words):
        rest = words[first:]
        guess = _count_of_length(rest, width / letter)
        count = _count_that_fits(rest, letters, width=width, height=height, guess=guess)
        lines.append(" ".join(rest[:count]))
        letter = letters.reach(lines[-1], height=height) / len(lines[-1]) or letter
        first += count
    return tuple(lines)


def _count_of_length(words: Sequence[str], n_letters: float) -> int:
    """How many of `words`, at least one, are together as long as so many letters, spaces too."""
    ends = accumulate(len(word) + 1 for word in words)
    return max(sum(end - 1 <= n_letters for end in ends), 1)


def _count_that_fits(
    words: Sequence[str], letters: PageLetters, *, width: float, height: float, guess: int
) -> int:
    """How many of `words` fit a line, at least one; looked for from a `guess` on.

    A line takes long to set, so as few as may be are tried.
    """

    def fits(count: int) -> bool:
        return letters.reach(" ".join(words[:count]), height=height) <= width

    count = guess
    if fits(count):
        while count < len(words) and fits(count + 1):
            count += 1
        return count
    while count > 1 and not fits(count):
        count -= 1
    return count


def entry_height(sentence: str, letters: PageLetters, *, column: float = 190.0) -> float:
    """How much room an entry of `GuidePage.add_entries` needs."""
    width = A4[0] - 2.0 * MARGIN - column
    return len(break_lines(sentence, letters, width=width, height=TEXT)) * _LINE + _AFTER - 2.0

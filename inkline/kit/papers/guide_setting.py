"""Setting pages of text: headings, paragraphs and tables, one under another down a page; lengths in points."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from inkline.kit.papers.chart_pdf import A4, ACCENT, CARD, INK, MARGIN, RULE, SOFT, TEXT, TITLE
from inkline.kit.papers.chart_png import ChartLook
from inkline.output.pdf import Figure, PdfItem, PdfPage, Placed, Rectangle
from inkline.pages.lines import Align
from inkline.pages.pdf_letters import PageLetters, Words

HEADING = 11.0
_LINE = 17.0
"""From baseline to baseline of a paragraph: twice and a little more the height of a capital."""
_TITLE_BASE = 104.0
_TITLE_BELOW = 46.0
_AFTER = 10.0
_HEADING_ABOVE, _HEADING_BELOW = 20.0, 12.0
_ROW = 22.0
_CELL_BASE = 0.5 * (_ROW + TEXT) - 0.5
_BESIDE = 12.0
"""How far a card reaches beyond the text."""
_SMALL = 7.2
BOTTOM = A4[1] - MARGIN
"""Nothing stands lower."""


@dataclass(slots=True, kw_only=True)
class Sheet:
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

    def head(self) -> None:
        """The page's title in the kit's own ink."""
        words = Words(
            text=self.title,
            at=(MARGIN, _TITLE_BASE),
            height=0.72 * TITLE,
            colour=INK,
            room=self.width,
        )
        self.items += self.letters.drawn(words, style=self.look.style, number=self.look.number)
        self.y = _TITLE_BASE + _TITLE_BELOW

    def heading(self, text: str) -> None:
        """A heading of a part of the page."""
        self.y += _HEADING_ABOVE
        self.items += self.letters.items(
            Words(text=text, at=(MARGIN, self.y), height=HEADING, colour=ACCENT, room=self.width)
        )
        self.y += _HEADING_BELOW

    def paragraph(
        self, text: str, *, x: float = MARGIN, width: float | None = None, colour: str = INK
    ) -> None:
        """A paragraph, broken into lines where words end."""
        for line in broken(text, self.letters, width=width or self.width, height=TEXT):
            self.y += _LINE
            self.items += self.letters.items(
                Words(text=line, at=(x, self.y), height=TEXT, colour=colour)
            )
        self.y += _AFTER

    def table(
        self, heads: Sequence[str], rows: Sequence[Sequence[str]], *, widths: Sequence[float]
    ) -> None:
        """A table on a card; `widths` are the columns' shares of the text's width. Its first column is set left, the others right."""
        top = self.y + 6.0
        bottom = top + _ROW * (len(rows) + 1)
        self.items.append(
            Rectangle(box=(MARGIN - _BESIDE, top, A4[0] - MARGIN + _BESIDE, bottom), colour=CARD)
        )
        for index, row in enumerate((heads, *rows)):
            base = top + index * _ROW + _CELL_BASE
            if index:
                line = (MARGIN, top + index * _ROW - 0.3, A4[0] - MARGIN, top + index * _ROW + 0.3)
                self.items.append(Rectangle(box=line, colour=RULE))
            self._row(row, base, widths, colour=INK if index else SOFT)
        self.y = bottom + _AFTER

    def _row(
        self, cells: Sequence[str], base: float, widths: Sequence[float], *, colour: str
    ) -> None:
        right = MARGIN
        for index, (cell, share) in enumerate(zip(cells, widths, strict=True)):
            left, right = right, right + share * self.width
            align, x = (Align.RIGHT, right) if index else (Align.LEFT, left)
            room = share * self.width - 8.0
            self.items += self.letters.items(
                Words(text=cell, at=(x, base), height=_SMALL, colour=colour, align=align, room=room)
            )

    def entries(self, entries: Sequence[tuple[str, str]], *, column: float = 190.0) -> None:
        """Names, each with a sentence beside it."""
        for name, sentence in entries:
            start = self.y
            words = Words(
                text=name,
                at=(MARGIN, start + _LINE),
                height=TEXT,
                colour=ACCENT,
                room=column - 14.0,
            )
            self.items += self.letters.items(words)
            self.paragraph(sentence, x=MARGIN + column, width=self.width - column)
            self.y = max(self.y, start + _LINE + _AFTER) - 2.0

    def figures(
        self, figures: Sequence[tuple[Figure, str]], *, at: tuple[float, float], scale: float
    ) -> None:
        """Figures over one another, each with its colour."""
        self.items += [
            Placed(figure=figure, at=at, scale=scale, colour=colour) for figure, colour in figures
        ]

    def card(self, box: tuple[float, float, float, float]) -> None:
        """A pale ground for what comes next."""
        self.items.append(Rectangle(box=box, colour=CARD))

    def page(self) -> PdfPage:
        """The page as it stands."""
        return PdfPage(size=A4, items=tuple(self.items), title=self.title)


def broken(text: str, letters: PageLetters, *, width: float, height: float) -> tuple[str, ...]:
    """The lines of a paragraph, as many words on each as fit; a word that is wider alone has its own line."""
    lines: list[str] = []
    for word in text.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and letters.reach(longer, height=height) <= width:
            lines[-1] = longer
        else:
            lines.append(word)
    return tuple(lines)


def entry_height(sentence: str, letters: PageLetters, *, column: float = 190.0) -> float:
    """How much room an entry of `Sheet.entries` needs."""
    width = A4[0] - 2.0 * MARGIN - column
    return len(broken(sentence, letters, width=width, height=TEXT)) * _LINE + _AFTER - 2.0

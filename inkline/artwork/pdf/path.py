"""The path that a PDF page builds before it paints it (ISO 32000-1, 8.5.2)."""

from __future__ import annotations

from inkline.artwork.flattening import FlatteningPen
from inkline.artwork.maps import Matrix
from inkline.artwork.model import Subpath

_Step = tuple[str, tuple[float, ...]]


class PdfPath:
    """The path that is being built, in user space."""

    def __init__(self) -> None:
        self._steps: list[_Step] = []
        self.at = (0.0, 0.0)
        self._start = (0.0, 0.0)

    def __bool__(self) -> bool:
        return bool(self._steps)

    def move(self, x: float, y: float) -> None:
        """Begin a run."""
        self._steps.append(("move", (x, y)))
        self.at = self._start = (x, y)

    def line(self, x: float, y: float) -> None:
        """Go straight to a point."""
        self._steps.append(("line", (x, y)))
        self.at = (x, y)

    def curve(self, *numbers: float) -> None:
        """Go along a cubic: two control points and the end, x and y each."""
        self._steps.append(("curve", numbers))
        self.at = (numbers[4], numbers[5])

    def close(self) -> None:
        """Go back to where the run began."""
        self._steps.append(("close", ()))
        self.at = self._start

    def rectangle(self, x: float, y: float, width: float, height: float) -> None:
        """Add a rectangle as a run of its own."""
        self.move(x, y)
        self.line(x + width, y)
        self.line(x + width, y + height)
        self.line(x, y + height)
        self.close()

    def subpaths(self, matrix: Matrix) -> tuple[Subpath, ...]:
        """Its runs, mapped and flattened."""
        pen, is_open = FlatteningPen(matrix), False
        start = (0.0, 0.0)
        for kind, numbers in self._steps:
            if kind == "move":
                if is_open:
                    pen.endPath()
                is_open, start = False, (numbers[0], numbers[1])
                continue
            if kind == "close":
                if is_open:
                    pen.closePath()
                is_open = False
                continue
            if not is_open:
                pen.moveTo(start)
                is_open = True
            if kind == "line":
                pen.lineTo((numbers[0], numbers[1]))
            else:
                a, b, c, d, e, f = numbers
                pen.curveTo((a, b), (c, d), (e, f))
        if is_open:
            pen.endPath()
        return pen.subpaths

"""News of a run for its listener: what was made, and how much of the work that is."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from inkline.press.product import Piece
from inkline.progress import Listener, Step


@dataclass(kw_only=True)
class News:
    """What a listener is told while pieces are made one after another.

    Attributes:
        listener: takes each step.
        pieces: of the product, by their names; their costs say how much work each is.
    """

    listener: Listener
    pieces: Mapping[str, Piece]
    _done: int = 0
    _total: int = 0
    _work_done: float = 0.0
    _work: float = field(default=0.0)

    def expect(self, names: Iterable[str]) -> None:
        """Count on the pieces `names` to be made."""
        for name in names:
            self._total += 1
            self._work += self.pieces[name].cost

    def tell(self, name: str) -> None:
        """Say that the piece `name` is made, whether or not it was expected."""
        self._done += 1
        self._work_done += self.pieces[name].cost
        self._total, self._work = max(self._total, self._done), max(self._work, self._work_done)
        share = self._work_done / self._work if self._work else None
        self.listener(Step(name=name, done=self._done, total=self._total, work=share))

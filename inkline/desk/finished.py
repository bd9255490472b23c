"""Pictures that were drawn, kept while there is room, so that going back costs nothing."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Hashable

from inkline.geometry.arrays import Grey

_MOST_BYTES = 48_000_000
"""Some fifty pictures of a usual window, or six of a 4K one."""


class FinishedPictures:
    """The pictures drawn last, by what they depend on."""

    def __init__(self, most_bytes: int = _MOST_BYTES) -> None:
        self._most_bytes, self._bytes = most_bytes, 0
        self._pictures: OrderedDict[Hashable, Grey] = OrderedDict()

    def __len__(self) -> int:
        return len(self._pictures)

    def get(self, key: Hashable, draw: Callable[[], Grey]) -> Grey:
        """The picture of `key`, drawn now if it is not kept."""
        if key in self._pictures:
            self._pictures.move_to_end(key)
            return self._pictures[key]
        grey = draw()
        self._bytes += grey.nbytes
        self._pictures[key] = grey
        while self._bytes > self._most_bytes:
            self._bytes -= self._pictures.popitem(last=False)[1].nbytes
        return grey

    def clear(self) -> None:
        """Forget all."""
        self._pictures.clear()
        self._bytes = 0

"""The objects of a PDF file and how they are written (ISO 32000-1, 7.3 and 7.5)."""

from __future__ import annotations

import re
import zlib
from collections.abc import Sequence
from io import BytesIO

_HEAD = b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n"
"""The version, and a comment of bytes above 127: programs that move files then take it as data."""


class PdfObjects:
    """The numbered objects of a file, written in the order of their numbers."""

    def __init__(self) -> None:
        """No objects yet."""
        self._bodies: list[bytes | None] = []

    def reserve(self) -> int:
        """Reserve a number for an object that is yet to be `put`, and give it."""
        self._bodies.append(None)
        return len(self._bodies)

    def put(self, number: int, body: str) -> None:
        """Give the reserved object `number` its `body`."""
        self._bodies[number - 1] = body.encode("ascii")

    def add(self, body: str) -> int:
        """Add an object with this `body`, and give its number."""
        self._bodies.append(body.encode("ascii"))
        return len(self._bodies)

    def add_stream(self, data: bytes, *, head: str = "") -> int:
        """Add a stream, packed, and give its number.

        Args:
            data: what it holds.
            head: the entries of its dictionary beside filter and length.
        """
        packed = zlib.compress(data, 9)
        space = " " if head else ""
        start = f"<< {head}{space}/Filter /FlateDecode /Length {len(packed)} >>\nstream\n".encode(
            "ascii"
        )
        self._bodies.append(start + packed + b"\nendstream")
        return len(self._bodies)

    def add_outline(self, entries: Sequence[tuple[str, int]]) -> int:
        """Add the list of contents and give its number; 0 if there are no entries.

        Args:
            entries: titles, each with the number of its page.
        """
        if not entries:
            return 0
        top, first = self.reserve(), len(self._bodies) + 1
        last = first + len(entries) - 1
        for own, (title, page) in enumerate(entries, start=first):
            beside = (f" /Prev {own - 1} 0 R" if own > first else "") + (
                f" /Next {own + 1} 0 R" if own < last else ""
            )
            self.add(
                f"<< /Title {text_of(title)} /Parent {top} 0 R{beside} /Dest [{page} 0 R /Fit] >>"
            )
        self.put(
            top, f"<< /Type /Outlines /First {first} 0 R /Last {last} 0 R /Count {len(entries)} >>"
        )
        return top

    def file(self, *, catalogue: int, about: int) -> bytes:
        """The whole file, with the numbers of its catalogue and of what it says about itself.

        Raises:
            ValueError: an object was reserved and never put.
        """
        out, places = BytesIO(), []
        out.write(_HEAD)
        for index, body in enumerate(self._bodies, start=1):
            if body is None:
                raise ValueError(f"object {index} was reserved and never written")
            places.append(out.tell())
            out.write(f"{index} 0 obj\n".encode("ascii") + body + b"\nendobj\n")
        start = out.tell()
        lines = "".join(f"{place:010d} 00000 n \n" for place in places)
        size = len(places) + 1
        out.write(f"xref\n0 {size}\n0000000000 65535 f \n{lines}".encode("ascii"))
        out.write(
            f"trailer\n<< /Size {size} /Root {catalogue} 0 R /Info {about} 0 R >>\n".encode("ascii")
        )
        out.write(f"startxref\n{start}\n%%EOF\n".encode("ascii"))
        return out.getvalue()


def text_of(text: str) -> str:
    """A text string in hexadecimal: UTF-16 with its mark, which holds every language."""
    return f"<FEFF{text.encode('utf-16-be').hex().upper()}>"


def name_of(key: str) -> str:
    """`key` as a name may be written: letters and digits only."""
    return re.sub(r"[^A-Za-z0-9]", "", key) or "F"


def unicode_map(texts: Sequence[tuple[int, str]], *, digits: int) -> bytes:
    """The map from codes to texts by which a reader finds words (ISO 32000-1, 9.10.3).

    Args:
        texts: codes, each with what it stands for.
        digits: hexadecimal digits of a code, 2 or 4.
    """
    width = "FF" * (digits // 2)
    head = (
        "/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n"
        "/CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def\n"
        "/CMapName /Adobe-Identity-UCS def\n/CMapType 2 def\n"
        f"1 begincodespacerange\n<{'0' * digits}> <{width}>\nendcodespacerange\n"
    )
    parts = []
    for first in range(0, len(texts), 100):  # a section holds at most a hundred
        some = texts[first : first + 100]
        lines = "".join(
            f"<{code:0{digits}X}> <{text.encode('utf-16-be').hex().upper()}>\n"
            for code, text in some
        )
        parts.append(f"{len(some)} beginbfchar\n{lines}endbfchar\n")
    tail = "endcmap\nCMapName currentdict /CMap defineresource pop\nend\nend\n"
    return (head + "".join(parts) + tail).encode("ascii")

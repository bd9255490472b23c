"""An SVG file as a tree of elements whose lines are known, read within limits.

Nothing outside the file is ever fetched, and entities that the file declares are refused, since a
few of them can stand for more text than any machine holds.
"""

from __future__ import annotations

import gzip
import io
import re
import zlib
from pathlib import Path
from xml.etree.ElementTree import Element
from xml.parsers import expat

from inkline.errors import InputError

_SVG = "{http://www.w3.org/2000/svg}"
XLINK_HREF = "{http://www.w3.org/1999/xlink}href"
XML_SPACE = "{http://www.w3.org/XML/1998/namespace}space"
_MOST_BYTES = 64_000_000
_MOST_ELEMENTS, _MOST_DEPTH, _MOST_NUMBERS = 200_000, 256, 2_000_000
_OUTLINES, _DIGITS = ("d", "points"), re.compile(r"\d[\d.]*")
_GZIP = b"\x1f\x8b"
_CHUNK = 1 << 16


def bad_svg(file: Path, sentence: str, line: int = 0) -> InputError:
    """What is wrong with a file, and on which line if that is known."""
    place = f", line {line}" if line else ""
    return InputError(f"{file}{place}: {sentence}")


class SvgTree:
    """A parsed file.

    Attributes:
        file: where it lies, for sentences.
        root: the outermost element, an `svg`.
        sheets_outside: style sheets that it names in other files, a sentence each.
    """

    def __init__(
        self,
        file: Path,
        root: Element,
        lines: dict[Element, int],
        sheets_outside: tuple[str, ...] = (),
    ) -> None:
        self.file, self.root, self.sheets_outside = file, root, sheets_outside
        self._lines = lines
        self._by_id: dict[str, Element] = {}
        for element in root.iter():
            name = element.get("id")
            if name is not None:
                self._by_id.setdefault(name, element)

    def line_of(self, element: Element) -> int:
        """The line on which an element begins."""
        return self._lines.get(element, 0)

    def with_id(self, name: str) -> Element | None:
        """The first element of that id."""
        return self._by_id.get(name)


def read_svg_tree(file: Path) -> SvgTree:
    """The tree of an SVG file, plain or compressed (`.svgz`).

    Raises:
        InputError: it can't be read, is no SVG, or passes a limit.
    """
    try:
        data = _bytes_of(file)
    except (OSError, EOFError, zlib.error) as error:
        told = getattr(error, "strerror", None) or error
        raise bad_svg(file, f"the file can't be read ({told})") from error
    builder = _Builder(file)
    root, lines = builder.tree_of(data)
    if root.tag not in {f"{_SVG}svg", "svg"}:
        raise bad_svg(file, f"an SVG file begins with <svg>, not <{_plain(root.tag)}>")
    return SvgTree(file, root, lines, tuple(builder.sheets_outside))


def _bytes_of(file: Path) -> bytes:
    if not file.is_file():
        raise bad_svg(file, "there is no such file")
    with file.open("rb") as source:
        data = source.read(_MOST_BYTES + 1)
    if data.startswith(_GZIP):
        with gzip.GzipFile(fileobj=io.BytesIO(data)) as packed:
            data = packed.read(_MOST_BYTES + 1)
    if len(data) > _MOST_BYTES:
        raise bad_svg(file, f"a file of at most {_MOST_BYTES // 1_000_000} MB can be read")
    return data


def _plain(tag: str) -> str:
    return tag.rpartition("}")[2]


def plain_tag(element: Element) -> str:
    """An SVG element's name without its namespace; "" of another namespace's."""
    tag = element.tag
    if not isinstance(tag, str):
        return ""
    if tag.startswith("{"):
        return tag.removeprefix(_SVG) if tag.startswith(_SVG) else ""
    return tag


class _Builder:
    """Builds the tree while the parser reads, and counts as it goes."""

    def __init__(self, file: Path) -> None:
        self._file = file
        self._lines: dict[Element, int] = {}
        self._n_numbers = 0
        self._open: list[Element] = []
        self._root: Element | None = None
        self._parser = expat.ParserCreate(namespace_separator="}")
        self._parser.buffer_text = True
        self._parser.StartElementHandler = self._start
        self._parser.EndElementHandler = self._end
        self._parser.CharacterDataHandler = self._text
        self._parser.EntityDeclHandler = self._entity
        self._parser.ProcessingInstructionHandler = self._instruction
        self.sheets_outside: list[str] = []

    def tree_of(self, data: bytes) -> tuple[Element, dict[Element, int]]:
        try:
            for start in range(0, len(data), _CHUNK):
                self._parser.Parse(data[start : start + _CHUNK], False)
            self._parser.Parse(b"", True)
        except expat.ExpatError as error:
            why = expat.errors.messages[error.code]
            raise bad_svg(self._file, f"this is no whole SVG: {why}", error.lineno) from error
        if self._root is None:
            raise bad_svg(self._file, "the file is empty")
        return self._root, self._lines

    def _start(self, tag: str, attributes: dict[str, str]) -> None:
        line = self._parser.CurrentLineNumber
        if len(self._open) >= _MOST_DEPTH:
            sentence = f"elements lie more than {_MOST_DEPTH} deep in one another"
            raise bad_svg(self._file, sentence, line)
        if len(self._lines) >= _MOST_ELEMENTS:
            sentence = f"a file of at most {_MOST_ELEMENTS} elements can be read"
            raise bad_svg(self._file, sentence, line)
        element = Element(_named(tag), {_named(key): value for key, value in attributes.items()})
        self._lines[element] = line
        self._n_numbers += sum(len(_DIGITS.findall(attributes.get(name, ""))) for name in _OUTLINES)
        if self._n_numbers > _MOST_NUMBERS:
            sentence = f"outlines of at most {_MOST_NUMBERS} numbers can be read"
            raise bad_svg(self._file, sentence, line)
        if self._open:
            self._open[-1].append(element)
        else:
            self._root = element
        self._open.append(element)

    def _end(self, tag: str) -> None:  # noqa: ARG002 - the parser has checked it
        self._open.pop()

    def _text(self, text: str) -> None:
        if not self._open:
            return
        parent = self._open[-1]
        if len(parent):
            parent[-1].tail = (parent[-1].tail or "") + text
        else:
            parent.text = (parent.text or "") + text

    def _instruction(self, target: str, data: str) -> None:
        if target == "xml-stylesheet" and not self.sheets_outside:
            self.sheets_outside.append(f"{data.strip()[:60]}: nothing outside the file is read")

    def _entity(self, name: str, *_rest: object) -> None:
        raise bad_svg(
            self._file,
            f"the file declares an entity of its own, {name!r}, and such files are not read",
            self._parser.CurrentLineNumber,
        )


def _named(name: str) -> str:
    return f"{{{name}" if "}" in name else name

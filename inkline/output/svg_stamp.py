"""Stamps as SVG files: a group a mark, in true size (W3C Recommendation SVG 1.1).

Curves lie within 0.1 px of what is drawn. What paper or medium break up is no curve: there the file
holds the outlines and says what they lose, or the picture itself, at full size.
"""

from __future__ import annotations

import base64
import re
from collections.abc import Iterator, Sequence
from xml.sax.saxutils import escape, quoteattr

from inkline.output.ground import ground_values
from inkline.output.look import FileLook, Grain, Words
from inkline.output.outlines import MarkOutline
from inkline.output.png import png_bytes_in_look, png_of_values
from inkline.output.profiles import Profile
from inkline.output.shown import Shown
from inkline.output.svg import path_data

_MM_PER_INCH = 25.4
_NOT_IN_AN_ID = re.compile(r"[^\w.-]")
_LOST_TOOTH = (
    "Outlines only: the grain that paper and medium leave in the ink of the picture is no outline "
    "and is not in this file."
)
_SOLID = "All of the ink is in these outlines."
_EMBEDDED = "The picture itself, at full size."


def svg_stamp_bytes(stamps: Sequence[Shown], look: FileLook) -> bytes:
    """The SVG file of one stamp, or of several over each other, back to front.

    Equal stamps give equal bytes. A stamp that has no curves is embedded as its picture.

    Args:
        stamps: at least one, on canvases of one size.
        look: ink, ground, grain and words; pictures in it are of 8 bits.
    """
    first = stamps[0]
    width, height = first.canvas
    to_mm = _MM_PER_INCH / first.ppi
    embedded = [_is_embedded(stamp, look) for stamp in stamps]
    ids = _Ids()
    body = "".join(
        _layer(stamp, look, ids, alone=len(stamps) == 1, embedded=inside)
        for stamp, inside in zip(stamps, embedded, strict=True)
    )
    under = _ground(look, first)
    title = first.name if len(stamps) == 1 else first.name.split("/")[0]
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" '
        f'xmlns:xlink="http://www.w3.org/1999/xlink" width="{width * to_mm:.6g}mm" '
        f'height="{height * to_mm:.6g}mm" viewBox="0 0 {width} {height}">\n'
        f"<title>{escape(title)}</title>\n<desc>{escape(_note(stamps, embedded))}</desc>\n"
        f"{_metadata(look.words)}{under}{body}</svg>\n"
    ).encode()


def _is_embedded(stamp: Shown, look: FileLook) -> bool:
    """Whether a stamp is in the file as its picture."""
    outlines = stamp.outlines
    return outlines is None or (outlines.has_tooth and look.grain is Grain.PICTURE)


def _note(stamps: Sequence[Shown], embedded: Sequence[bool]) -> str:
    pairs = list(zip(stamps, embedded, strict=True))
    tooth = any(not inside and s.outlines and s.outlines.has_tooth for s, inside in pairs)
    if tooth:
        return _LOST_TOOTH
    return _EMBEDDED if all(embedded) else _SOLID


def _layer(stamp: Shown, look: FileLook, ids: _Ids, *, alone: bool, embedded: bool) -> str:
    colour = stamp.colour or look.ink_on_ground
    outlines = stamp.outlines
    if embedded or outlines is None:
        body = _picture(stamp, colour)
    else:
        body = "".join(_groups(outlines.marks, ids, stem=stamp.name.split("/")[-1]))
    hidden = "" if stamp.is_visible else ' display="none"'
    name = "" if alone else f" id={quoteattr(ids.take(stamp.name))}"
    title = "" if alone else f"<title>{escape(stamp.name)}</title>\n"
    return f'<g{name} fill="{colour}"{hidden}>\n{title}{body}</g>\n'


def _groups(marks: Sequence[MarkOutline], ids: _Ids, *, stem: str) -> Iterator[str]:
    """A group a mark; the strokes of one numeral or word lie in a group of their own."""
    index = 0
    while index < len(marks):
        head = marks[index].path[:-1]
        last = index
        while head and last < len(marks) and marks[last].path[:-1] == head:
            last += 1
        last = max(last, index + 1)
        inner = "".join(_group(mark, ids, stem) for mark in marks[index:last])
        if head:
            own = ids.take(".".join((stem, *head)))
            inner = f"<g id={quoteattr(own)}><title>{escape('/'.join(head))}</title>\n{inner}</g>\n"
        yield inner
        index = last


def _group(mark: MarkOutline, ids: _Ids, stem: str) -> str:
    own = quoteattr(ids.take(".".join((stem, *mark.path))))
    title = escape("/".join(mark.path))
    return f'<g id={own}><title>{title}</title><path d="{path_data(mark.outlines)}"/></g>\n'


class _Ids:
    """Names for elements: each once, without what an XML name can't hold (XML 1.0, 2.3)."""

    def __init__(self) -> None:
        self._taken: set[str] = set()

    def take(self, name: str) -> str:
        """An id like `name` that nothing has yet."""
        plain = _NOT_IN_AN_ID.sub("-", name)
        plain = plain if plain[:1].isalpha() else f"_{plain}"
        own, count = plain, 1
        while own in self._taken:
            count += 1
            own = f"{plain}-{count}"
        self._taken.add(own)
        return own


def _ground(look: FileLook, first: Shown) -> str:
    """What lies under the ink: nothing, a colour or a picture."""
    width, height = first.canvas
    if look.picture is not None:
        values = ground_values(look, first.canvas, Profile.NONE)
        return _image(png_of_values(values, FileLook(), ppi=first.ppi), first.canvas)
    if look.ground_colour is None:
        return ""
    return f'<rect width="{width}" height="{height}" fill="{look.ground_colour}"/>\n'


def _picture(stamp: Shown, colour: str) -> str:
    data = png_bytes_in_look(stamp.picture, FileLook(ink=colour), ppi=stamp.ppi)
    return _image(data, stamp.canvas)


def _image(data: bytes, size: tuple[int, int]) -> str:
    width, height = size
    text = base64.b64encode(data).decode("ascii")
    return f'<image width="{width}" height="{height}" xlink:href="data:image/png;base64,{text}"/>\n'


def _metadata(words: Words) -> str:
    """Author and licence by the terms of Dublin Core (ISO 15836), in RDF."""
    said = {"title": words.title, "creator": words.author, "rights": words.licence}
    lines = "".join(f"<dc:{key}>{escape(text)}</dc:{key}>" for key, text in said.items() if text)
    if not lines:
        return ""
    return (
        '<metadata><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#" '
        'xmlns:dc="http://purl.org/dc/elements/1.1/"><rdf:Description rdf:about="">'
        f"{lines}</rdf:Description></rdf:RDF></metadata>\n"
    )

"""What an SVG element looks like: style sheets, attributes and what is inherited (SVG 2, 6).

Selectors are matched by cssselect2 and values read by tinycss2; which of several declarations wins
follows CSS Cascading 4, 6: importance, then specificity, then order.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any
from xml.etree.ElementTree import Element

import cssselect2
import tinycss2

from inkline.artwork.model import Lack
from inkline.artwork.svg.tree import XML_SPACE, SvgTree, bad_svg, plain_tag

_MOST_RULES, _MOST_MATCHES = 5_000, 1_000_000
INHERITED = {
    "fill": "black",
    "fill-rule": "nonzero",
    "fill-opacity": "1",
    "stroke": "none",
    "stroke-width": "1",
    "stroke-linecap": "butt",
    "stroke-linejoin": "miter",
    "stroke-miterlimit": "4",
    "stroke-dasharray": "none",
    "stroke-dashoffset": "0",
    "stroke-opacity": "1",
    "color": "black",
    "visibility": "visible",
    "clip-rule": "nonzero",
    "font-size": "16",
    "text-anchor": "start",
    "letter-spacing": "normal",
    "word-spacing": "normal",
    "white-space": "normal",
    "text-transform": "none",
    "dominant-baseline": "auto",
    "text-decoration": "none",
    "paint-order": "normal",
    "marker-start": "none",
    "marker-mid": "none",
    "marker-end": "none",
    "context-fill": "none",
    "context-stroke": "none",
}
"""Properties that pass from a group to what lies in it, and what they are at the top.

Lines under letters are not inherited but drawn through all within (CSS Text Decoration 3, 2.1),
which is the same here. The last two are no properties: they hold the paints of what a marker or a
shape that is used belongs to (SVG 2, 13.2)."""
_OWN = {
    "opacity": "1",
    "display": "inline",
    "clip-path": "none",
    "mask": "none",
    "filter": "none",
    "vector-effect": "none",
    "overflow": "hidden",
    "transform": "none",
    "transform-origin": "0 0",
    "baseline-shift": "baseline",
    "alignment-baseline": "auto",
}
"""Properties that each element has for itself."""
_MEDIA = frozenset({"all", "screen", "print"})
_SHORTHANDS = {
    "marker": ("marker-start", "marker-mid", "marker-end"),
    "text-decoration-line": ("text-decoration",),
}
PROPERTIES = (frozenset(INHERITED) | frozenset(_OWN)) - {"context-fill", "context-stroke"}
"""Properties that are taken, as attributes and in style sheets."""
_NO_ATTRIBUTES = frozenset({"white-space", "text-transform"})
_SIZE_OF_FONT = re.compile(
    r"(?:^|\s)((?:\d+\.?\d*|\.\d+)(?:%|[a-z]+)|(?:xx?-)?(?:small|large)|medium|smaller|larger)"
    r"(?:\s*/\s*\S+)?\s+\S",
    re.IGNORECASE,
)
"""Where `font` says the size: before the names of families (CSS Fonts 3, 3.7)."""

Style = Mapping[str, str]
"""The computed value of every property, as text."""

_Declared = tuple[tuple[bool, bool, tuple[int, ...], int], str, str]
"""One declaration: its rank (important, not by attribute, specificity, order), name and value."""


@dataclass(frozen=True, kw_only=True, eq=False)
class Styles:
    """All declarations of a file, found once.

    Attributes:
        declared: for each element what its style sheets and its own `style` say.
        lacks: what of the style sheets is left out.
    """

    declared: Mapping[Element, list[_Declared]] = field(default_factory=dict)
    lacks: tuple[Lack, ...] = ()

    def style_of(self, element: Element, parent: Style) -> Style:
        """The style of an element whose parent has the style `parent`."""
        values = dict(self._winners(element))
        style = dict(_OWN)
        for name, first in INHERITED.items():
            style[name] = parent.get(name, first)
        for name, value in values.items():
            if value == "inherit":
                style[name] = parent.get(name, _OWN.get(name, INHERITED.get(name, "")))
            elif value in {"initial", "unset", "revert"}:
                is_passed_on = name in INHERITED and value != "initial"
                usual = _OWN.get(name, INHERITED.get(name, ""))
                style[name] = parent.get(name, usual) if is_passed_on else usual
            else:
                style[name] = value
        return style

    def sheet_values(self, element: Element) -> dict[str, str]:
        """What style sheets and its own `style` say of an element, without its attributes."""
        ranked = sorted(self.declared.get(element, ()), key=lambda one: one[0])
        return {name: value for _, name, value in ranked}

    def _winners(self, element: Element) -> Iterator[tuple[str, str]]:
        """Names and values of all declarations, those that win last."""
        for name, value in element.attrib.items():
            if name in PROPERTIES and name not in _NO_ATTRIBUTES:
                yield name, value.strip()
            elif name == XML_SPACE:
                yield "white-space", "pre" if value == "preserve" else "normal"
        for _, name, value in sorted(self.declared.get(element, ()), key=lambda one: one[0]):
            size = _SIZE_OF_FONT.search(value) if name == "font" else None
            if size is not None:
                yield "font-size", size[1].lower()
            for full in _SHORTHANDS.get(name, (name,)):
                yield full, value


def styles_of_tree(tree: SvgTree) -> Styles:
    """All that the style sheets and `style` attributes of a file declare.

    Raises:
        InputError: there are more rules than can be matched.
    """
    matcher, lacks, n_rules = cssselect2.Matcher(), list[Lack](), 0
    for element in tree.root.iter():
        if plain_tag(element) != "style":
            continue
        line = tree.line_of(element)
        why = _unread_sheet(element)
        if why:
            lacks.append(_left_out(line, "<style>", why))
            continue
        for rule in _rules("".join(element.itertext()), line, lacks):
            n_rules += 1
            if n_rules > _MOST_RULES:
                raise bad_svg(tree.file, f"at most {_MOST_RULES} style rules can be read", line)
            _add_rule(matcher, rule, line, lacks)
    declared = dict(_declared_by_element(tree, matcher if n_rules else None))
    return Styles(declared=declared, lacks=tuple(lacks))


def _declared_by_element(
    tree: SvgTree, matcher: cssselect2.Matcher | None
) -> Iterator[tuple[Element, list[_Declared]]]:
    """What style sheets and its own attribute `style` say of each element that they speak of.

    Raises:
        InputError: too many rules may concern too many elements.
    """
    n_matches = 0
    for wrapper in cssselect2.ElementWrapper.from_xml_root(tree.root).iter_subtree():
        element, found = wrapper.etree_element, list[_Declared]()
        for specificity, order, pseudo, payload in matcher.match(wrapper) if matcher else ():
            if pseudo is None:
                found += [
                    ((important, False, specificity, order), name, value)
                    for name, value, important in payload
                ]
        own = element.get("style")
        if own:
            found += [
                ((important, True, (), 0), name, value)
                for name, value, important in _declarations(tinycss2.parse_blocks_contents(own))
            ]
        n_matches += len(found) + (_n_candidates(matcher, wrapper.local_name) if matcher else 0)
        if n_matches > _MOST_MATCHES:
            sentence = f"style rules may concern elements {_MOST_MATCHES} times at most"
            raise bad_svg(tree.file, sentence, tree.line_of(element))
        if found:
            yield element, found


def _n_candidates(matcher: cssselect2.Matcher, name: str) -> int:
    """How many rules are tried on an element of that name, whatever its class and id."""
    named = matcher.lower_local_name_selectors.get(name.lower(), ())
    return len(matcher.other_selectors) + len(named)


def _rules(text: str, line: int, lacks: list[Lack]) -> Iterator[Any]:
    """The rules of a style sheet, those for screen and paper alike included."""
    for rule in tinycss2.parse_stylesheet(text, skip_comments=True, skip_whitespace=True):
        if rule.type == "qualified-rule":
            yield rule
        elif rule.type == "at-rule" and rule.lower_at_keyword == "media":
            media = tinycss2.serialize(rule.prelude).strip().lower()
            if media in _MEDIA and rule.content is not None:
                yield from _rules(tinycss2.serialize(rule.content), line, lacks)
            else:
                lacks.append(_left_out(line, "@media", f"rules for {media!r} are left out"))
        elif rule.type == "at-rule" and rule.lower_at_keyword == "font-face":
            lacks.append(_left_out(line, "@font-face", "letters of a file's own are left out"))
        elif rule.type == "at-rule" and rule.lower_at_keyword != "charset":
            what = f"@{rule.lower_at_keyword}"
            lacks.append(_left_out(line, what, "nothing outside the file is read, nor such rules"))
        elif rule.type == "error":
            lacks.append(_left_out(line, "<style>", f"a rule can't be read: {rule.message}"))


def _unread_sheet(element: Element) -> str:
    """Why a `style` element is left out, "" if it isn't."""
    if (element.get("type") or "text/css").strip().lower() != "text/css":
        return f"style sheets of the type {element.get('type')!r} are left out"
    media = element.get("media", "all").strip().lower() or "all"
    is_ours = any(one.strip() in _MEDIA for one in media.split(","))
    return "" if is_ours else f"rules for {media!r} are left out"


def _left_out(line: int, what: str, sentence: str) -> Lack:
    return Lack(line=line, what=what, sentence=sentence)


def _add_rule(matcher: cssselect2.Matcher, rule: Any, line: int, lacks: list[Lack]) -> None:
    payload = list(_declarations(tinycss2.parse_blocks_contents(rule.content)))
    try:
        selectors = cssselect2.compile_selector_list(rule.prelude)
    except cssselect2.SelectorError:
        what = tinycss2.serialize(rule.prelude).strip()
        lacks.append(_left_out(line, "<style>", f"the selector {what!r} can't be read"))
        return
    for selector in selectors:
        matcher.add_selector(selector, payload)


def _declarations(nodes: list[Any]) -> Iterator[tuple[str, str, bool]]:
    """Names, values and importance of the declarations that can be read."""
    for node in nodes:
        if node.type == "declaration":
            yield node.lower_name, tinycss2.serialize(node.value).strip(), node.important

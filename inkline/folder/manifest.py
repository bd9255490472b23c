"""The manifest of a kit: `manifest.json`, which says what the folder holds and where everything lies exactly.

It is UTF-8 JSON (RFC 8259), meant to be read by others. It holds no time of day and no path outside
the folder. Points and lengths are px of the stamp's own canvas, x to the right, y down, pixel (0,
0) covering [0, 1) x [0, 1), as floats that are not rounded. All geometry is exact: before ink,
without the run-over of rules.

At the top:

- `format`: `"inkline kit"`, and `version`: 1, raised when a key changes its meaning;
- `title`: the recipe's title, and `edition`, what the kit's owner calls this version of it, if she
  calls it anything;
- `ppi`: pixels per inch of all pictures, as in their pHYs chunk (there rounded to whole pixels per
  metre);
- `holds`: `"months"` in a folder of finished months, else left out;
- `safe_px`: no ink on the canvas of a format comes nearer to its edge than this (not in files that
  were written before there was this key);
- `number`: the kit's drawing number; a run that sees to some stamps only leaves it as it is;
- `style`: `name`, `values`, the ink style in mm, um and s, and `digest`, equal for equal values, as
  of the run that last wrote this file. Stamps that such a run left alone may have been drawn with
  another number or style: what is true of a stamp stands in its own entry;
- `lettering`: the name of the stroke family or font; `letters`: its `name` and, as far as it says,
  its `version`, `licence`, the `address` of the licence's text, and a font's `embedding` and the
  `way` in which it is drawn, `stroke` or `contour`. What a font says of itself is no licence: its
  text decides;
- `versions`: the version of inkline and of the packages that shape the pictures, as of the run that
  last wrote this file;
- in a kit that was made since an earlier edition `since`: that one's `edition`, which may be "",
  and `pictures`, the checksum of each of its pictures as it lay there, by the stamp's name; and
  `changes`: the names of the stamps that are `added`, `redrawn` (another picture), the `same` (to
  the byte) or `gone`;
- `stamps`: one entry a stamp, in the order of the catalogue; `sheets`: one entry each for what is
  no stamp: `layout.png`, `overview.png`, `guide.pdf`, and `changes.txt`.

A stamp has:

- `name`, such as `standard/dates-3`, and `file`, its picture, a path from the kit folder with
  forward slashes. The file is called by the recipe's pattern, in any script; masters are always
  called by the name;
- `sha256`: the checksum of the picture as inkline drew it. A file with another checksum has been
  retouched by hand; inkline leaves it alone, and leaves its entry as it was when the picture under
  the retouch was drawn;
- `kind`: `grid`, `blocks`, `dates`, `words` (rows of weekdays and week numbers are `words`) or
  `marks` (of marked days);
- `format`: `standard`, `tall` or another format of the recipe; null for words used alone;
- `canvas`: width and height in px; stamps of one format share theirs, but for week numbers on a
  narrow one; words used alone have their own;
- `number`: the drawing number that it was drawn with; `style`: the `name` of the style that it was
  drawn in and the `digest` of that style's values (both null in files that were written before
  there were these keys);
- `inputs`: a digest of all that the picture depends on; `masters`: `file` and `sha256` of what was
  drawn, as curves;
- for a grid `lines`, each `{"name": n, "from": [x, y], "to": [x, y], "width_px": w}`: the full name
  of a rule, such as `standard/grid-6/down-3`, its centreline and its weight. Rules across come
  first, from the top down, then rules down, from the left. The exact picture is the union of the
  rectangles that lines and weights span; the rules of the frame begin and end half a weight outside
  the frame's corners, so that those are square;
- for dates, words and marks `glyphs`, one a numeral, word or mark, each `{"text": t, "cell": [x0,
  y0, x1, y1], "ink": [x0, y0, x1, y1]}`: what it says, its cell (the whole canvas for words used
  alone) and the bounds of its undrawn ink;
- for blocks `boxes`, each `{"name": n, "x0": .., "y0": .., "x1": .., "y1": .., "radius": r}`: the
  full name of a block, such as `standard/blocks-5/r5c4` for the fifth row and fourth column, its
  sides, and the radius of its corners; outlined ones also have `line_px`, the weight of the
  outline, which lies within the sides. Blocks that are underlines have `lines`, as rules do;
- blocks with dates cut out also have the `glyphs` that are missing from them. What is drawn on
  several stamps alike goes by the name of the first of them: the blocks by that of the uncut stamp,
  a 17 of any stamp whose month begins in the third column by `tall/dates-3/17`.

By such a name, or a stamp's name and a numeral's text as in `tall/dates-3/17`, a recipe has one
thing drawn again.

A sheet has `name`, `file`, `sha256` and `inputs`, as above. Stamps that the recipe no longer asks
for stay in the folder and, after the others, in the list. What isn't in the folder isn't in the
manifest.

The manifest is the last file that a run replaces; while one is under way, what it has finished
stands in the journal (see `journal`).
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, Self

from inkline.errors import InputError

MANIFEST_FILE = "manifest.json"
_FORMAT = "inkline kit"
_VERSION = 1
_SAME_PLACE_PX = 1e-6
_GEOMETRY = ("lines", "glyphs", "boxes")


@dataclass(frozen=True, slots=True, kw_only=True)
class FileSum:
    """A file of the kit, by its path from the folder, and its SHA-256 checksum."""

    file: str
    sha256: str


@dataclass(frozen=True, slots=True, kw_only=True)
class StyleSum:
    """A style, by its name and the digest of its values."""

    name: str
    digest: str


@dataclass(frozen=True, slots=True, kw_only=True)
class StampEntry:
    """One stamp as the manifest lists it; see the module for what each means."""

    name: str
    file: str
    sha256: str
    kind: str
    format: str | None
    canvas: tuple[int, int]
    number: int | None = None
    style: StyleSum | None = None
    inputs: str
    masters: FileSum | None
    geometry: Mapping[str, Any]

    def to_dict(self) -> dict[str, Any]:
        """The entry as JSON values, its geometry last."""
        masters = (
            None
            if self.masters is None
            else {"file": self.masters.file, "sha256": self.masters.sha256}
        )
        style = (
            None if self.style is None else {"name": self.style.name, "digest": self.style.digest}
        )
        return {
            "name": self.name,
            "file": self.file,
            "sha256": self.sha256,
            "kind": self.kind,
            "format": self.format,
            "canvas": list(self.canvas),
            "number": self.number,
            "style": style,
            "inputs": self.inputs,
            "masters": masters,
            **self.geometry,
        }

    @classmethod
    def from_dict(cls, values: Mapping[str, Any]) -> Self:
        """The entry that `to_dict` gave.

        Raises:
            KeyError, TypeError, ValueError: something is missing or of another type.
        """
        masters, (width, height) = values["masters"], values["canvas"]
        number, style = values.get("number"), values.get("style")
        return cls(
            name=str(values["name"]),
            file=str(values["file"]),
            sha256=str(values["sha256"]),
            kind=str(values["kind"]),
            format=values["format"],
            canvas=(int(width), int(height)),
            number=None if number is None else int(number),
            style=None
            if style is None
            else StyleSum(name=str(style["name"]), digest=str(style["digest"])),
            inputs=str(values["inputs"]),
            masters=None
            if masters is None
            else FileSum(file=str(masters["file"]), sha256=str(masters["sha256"])),
            geometry={key: values[key] for key in _GEOMETRY if key in values},
        )

    def same_layout(self, other: StampEntry) -> bool:
        """Whether both lay out the same things at the same places, to a millionth of a px (platforms differ in the last bits)."""
        return (self.kind, self.canvas) == (other.kind, other.canvas) and _alike(
            self.geometry, other.geometry
        )


def _alike(one: Any, other: Any) -> bool:
    """Whether two JSON values are equal but for differences of numbers that no layout means."""
    if isinstance(one, Mapping) and isinstance(other, Mapping):
        return one.keys() == other.keys() and all(_alike(one[key], other[key]) for key in one)
    if isinstance(one, list) and isinstance(other, list):
        return len(one) == len(other) and all(map(_alike, one, other))
    if isinstance(one, int | float) and isinstance(other, int | float):
        return abs(one - other) <= _SAME_PLACE_PX
    return bool(one == other)


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetEntry:
    """One layout or overview as the manifest lists it."""

    name: str
    file: str
    sha256: str
    inputs: str

    def to_dict(self) -> dict[str, Any]:
        """The entry as JSON values."""
        return {"name": self.name, "file": self.file, "sha256": self.sha256, "inputs": self.inputs}

    @classmethod
    def from_dict(cls, values: Mapping[str, Any]) -> Self:
        """The entry that `to_dict` gave.

        Raises:
            KeyError: something is missing.
        """
        return cls(**{key: str(values[key]) for key in ("name", "file", "sha256", "inputs")})


@dataclass(frozen=True, slots=True, kw_only=True)
class Manifest:
    """All that the manifest says.

    Attributes:
        about: what stands at the top besides `format` and `version`: title, ppi, number, style,
            lettering, versions.
        stamps: entries in the order in which they are listed.
        sheets: likewise.
    """

    about: Mapping[str, Any] = field(default_factory=dict)
    stamps: tuple[StampEntry, ...] = ()
    sheets: tuple[SheetEntry, ...] = ()


def plain_values(values: Any) -> Any:
    """`values` as reading them back from JSON would give them: lists for tuples, plain floats for numpy's.

    Raises:
        TypeError: something that JSON has no form for.
    """
    return json.loads(json.dumps(values, default=_plain))


def _plain(value: Any) -> Any:
    if hasattr(value, "tolist"):
        return value.tolist()
    raise TypeError(f"{type(value).__name__} has no form in JSON")


def manifest_bytes(manifest: Manifest) -> bytes:
    """The file that says `manifest`; one line for each rule, numeral, word or block, so that changes show line by line."""
    head = {"format": _FORMAT, "version": _VERSION, **manifest.about}
    lines = [
        f"  {json.dumps(key)}: {json.dumps(value, ensure_ascii=False)}"
        for key, value in head.items()
    ]
    lines.append(_listed("stamps", [_stamp_text(entry) for entry in manifest.stamps]))
    lines.append(
        _listed("sheets", [f"    {json.dumps(entry.to_dict())}" for entry in manifest.sheets])
    )
    return ("{\n" + ",\n".join(lines) + "\n}\n").encode()


def _listed(key: str, items: list[str]) -> str:
    return f'  "{key}": [\n' + ",\n".join(items) + "\n  ]" if items else f'  "{key}": []'


def _stamp_text(entry: StampEntry) -> str:
    fields = []
    for key, value in entry.to_dict().items():
        if key in _GEOMETRY:
            rows = ",\n".join(f"        {json.dumps(item, ensure_ascii=False)}" for item in value)
            fields.append(f'      "{key}": [\n{rows}\n      ]' if value else f'      "{key}": []')
        else:
            fields.append(f'      "{key}": {json.dumps(value, ensure_ascii=False)}')
    return "    {\n" + ",\n".join(fields) + "\n    }"


def manifest_from_bytes(data: bytes, *, where: str) -> Manifest:
    """The manifest that the file `where` says.

    Raises:
        InputError: it isn't a kit's manifest, it is damaged, or a later inkline wrote it.
    """
    try:
        values = json.loads(data)
    except ValueError as problem:
        raise InputError(
            f"{where} is damaged ({problem}); move it elsewhere and build again with --force"
        ) from problem
    if not isinstance(values, dict) or values.get("format") != _FORMAT:
        raise InputError(
            f"{where} is not the manifest of a kit; choose another folder or move it elsewhere"
        )
    if values.get("version") != _VERSION:
        raise InputError(
            f"{where} has version {values.get('version')!r}, and this inkline reads version "
            f"{_VERSION}; "
            "build with the inkline that made the kit, or into another folder"
        )
    try:
        stamps = tuple(StampEntry.from_dict(entry) for entry in values.pop("stamps"))
        sheets = tuple(SheetEntry.from_dict(entry) for entry in values.pop("sheets"))
    except (KeyError, TypeError, ValueError) as problem:
        raise InputError(
            f"{where} is damaged (an entry lacks or misstates {problem}); move it elsewhere and "
            f"build again with --force"
        ) from problem
    about = {key: value for key, value in values.items() if key not in ("format", "version")}
    return Manifest(about=about, stamps=stamps, sheets=sheets)

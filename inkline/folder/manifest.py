"""The manifest of a folder: `manifest.json`, a list of what it holds and what each file is.

It is UTF-8 JSON (RFC 8259), meant to be read by others. It holds no time of day and no path outside
the folder. At the top stand `format` and `version`, raised when a key changes its meaning, and what
the product says of itself; then what the folder holds, one entry a name. A product says in which
form it lists them (`ManifestForm`); most do so in sections (`SectionForm`):

- `stamps`: what is drawn, `sheets`: what is made from that;
- an entry has its `name`; `file`, a path from the folder with forward slashes; `sha256`, the
  checksum of the file as inkline made it; `inputs`, a digest of all that it depends on;
- `files`, only where a name has more than one file: each with its `form`, such as "svg", and its
  own `file`, `sha256` and `inputs`; the first is the one that stands in the entry itself;
- `masters`: `file` and `sha256` of what was drawn, as curves, or null;
- `number` and `style`: what it was drawn with; and what else the product says of it: last `lines`,
  `boxes` and `glyphs`, where everything lies exactly.

A file with another checksum than its entry's was changed by hand. inkline leaves it alone, and
leaves its entry as it was when the file under the change was made.

The manifest is the last file that a run replaces; while one is under way, what it has finished
stands in the journal (see `journal`).
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Protocol

from inkline.errors import Action, InputError, Remedy
from inkline.folder.entry import _LAYOUT, Entry, Section
from inkline.folder.json_values import json_values

MANIFEST_FILE = "manifest.json"
_OURS, _LONGEST = "inkline ", 40
"""What the forms of all manifests begin with, and letters of one that are told."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Manifest:
    """All that the manifest says.

    Attributes:
        about: what stands at the top besides `format` and `version`.
        entries: in the order in which they are listed.
    """

    about: Mapping[str, Any] = field(default_factory=dict)
    entries: tuple[Entry, ...] = ()

    @property
    def stamps(self) -> tuple[Entry, ...]:
        """What was drawn."""
        return tuple(entry for entry in self.entries if entry.section is Section.STAMPS)

    @property
    def sheets(self) -> tuple[Entry, ...]:
        """What was made from that."""
        return tuple(entry for entry in self.entries if entry.section is Section.SHEETS)


class ManifestForm(Protocol):
    """How the manifest of one kind of folder lists what that holds."""

    @property
    def format(self) -> str:
        """What stands at the top as `format`, such as "inkline kit"."""

    @property
    def version(self) -> int:
        """Raised when a key changes its meaning."""

    @property
    def noun(self) -> str:
        """What it is usually the manifest of, such as "kit"."""

    def noun_of(self, holds: str) -> str:
        """What a folder is called whose manifest says that it `holds` this; "" for the usual."""

    def lists(self, entries: Sequence[Entry]) -> dict[str, list[str]]:
        """For each list that the manifest ends in, its rows as JSON text, indented."""

    def rows(self) -> frozenset[str]:
        """Keys at the top whose values are written one a line."""

    def entries(self, values: Mapping[str, Any]) -> tuple[Entry, ...]:
        """The entries in the values of a manifest.

        Raises:
            KeyError, TypeError, ValueError: something is missing or of another type.
        """

    def list_keys(self) -> frozenset[str]:
        """The keys at the top that hold entries."""


@dataclass(frozen=True, slots=True)
class SectionForm:
    """Stamps and sheets apart, each entry with all that is said of it.

    Attributes:
        format: what stands at the top, such as "inkline kit".
        noun: what the folder holds.
        version: of the form.
        required: facts without which a stamp's entry is taken for damaged.
        others: what else a folder of this form may hold: what its manifest says, and a noun for it
            in the plural.
    """

    format: str
    noun: str
    version: int = 1
    required: tuple[str, ...] = ()
    others: Mapping[str, str] = field(default_factory=dict)

    def noun_of(self, holds: str) -> str:
        """Its own noun, or one of the others; what it doesn't know is called as it is there."""
        return self.others.get(holds, holds[:_LONGEST]) if holds else self.noun

    def lists(self, entries: Sequence[Entry]) -> dict[str, list[str]]:
        """Stamps with a line for each rule, numeral, word or block; then sheets, a line each."""
        stamps = [_stamp_text(one) for one in entries if one.section is Section.STAMPS]
        sheets = [one.to_dict() for one in entries if one.section is Section.SHEETS]
        return {"stamps": stamps, "sheets": [f"    {json.dumps(one)}" for one in sheets]}

    def rows(self) -> frozenset[str]:
        """No key: all values at the top are short."""
        return frozenset()

    def entries(self, values: Mapping[str, Any]) -> tuple[Entry, ...]:
        """The entries of both sections."""
        for entry in values[Section.STAMPS]:
            for key in (*self.required, "masters"):
                entry[key]  # says what is missing
        return tuple(
            Entry.from_dict(entry, section=section)
            for section in Section
            for entry in values[section.value]
        )

    def list_keys(self) -> frozenset[str]:
        """Both sections."""
        return frozenset(section.value for section in Section)


def plain_values(values: Any) -> Any:
    """`values` as reading them back from JSON would give them: lists for tuples, plain floats.

    Raises:
        TypeError: something that JSON has no form for.
    """
    return json.loads(json.dumps(values, default=_plain))


def _plain(value: Any) -> Any:
    if hasattr(value, "tolist"):
        return value.tolist()
    raise TypeError(f"{type(value).__name__} has no form in JSON")


def manifest_bytes(manifest: Manifest, *, form: ManifestForm) -> bytes:
    """The file that says `manifest`, in rows so that changes show line by line."""
    head = {"format": form.format, "version": form.version, **manifest.about}
    lines = [_key_text(key, value, rows=form.rows()) for key, value in head.items()]
    lines += [_list_text(key, items) for key, items in form.lists(manifest.entries).items()]
    return ("{\n" + ",\n".join(lines) + "\n}\n").encode()


def _key_text(key: str, value: Any, *, rows: frozenset[str]) -> str:
    if key in rows and value:
        return _list_text(key, [f"    {json.dumps(row, ensure_ascii=False)}" for row in value])
    return f"  {json.dumps(key)}: {json.dumps(value, ensure_ascii=False)}"


def _list_text(key: str, items: Sequence[str]) -> str:
    return f'  "{key}": [\n' + ",\n".join(items) + "\n  ]" if items else f'  "{key}": []'


def _stamp_text(entry: Entry) -> str:
    fields = []
    for key, value in entry.to_dict().items():
        if key in _LAYOUT:
            rows = ",\n".join(f"        {json.dumps(item, ensure_ascii=False)}" for item in value)
            fields.append(f'      "{key}": [\n{rows}\n      ]' if value else f'      "{key}": []')
        else:
            fields.append(f'      "{key}": {json.dumps(value, ensure_ascii=False)}')
    return "    {\n" + ",\n".join(fields) + "\n    }"


def manifest_from_bytes(data: bytes, *, where: str, form: ManifestForm) -> Manifest:
    """The manifest that the file `where` says.

    Raises:
        InputError: it isn't a manifest of this form, it is damaged, or a later inkline wrote it.
    """
    try:
        values = json_values(data)
    except ValueError as problem:
        raise _damage(where, str(problem)) from problem
    found = str(values.get("format")) if isinstance(values, dict) else ""
    if found != form.format and found.startswith(_OURS):
        raise InputError(
            f'{where} says "{found[:_LONGEST]}", and a {form.noun} would come between',
            remedies=(Remedy(action=Action.OTHER_FOLDER),),
        )
    if found != form.format:
        raise InputError(
            f"{where} is not the manifest of a {form.noun}; move it elsewhere",
            remedies=(Remedy(action=Action.OTHER_FOLDER),),
        )
    if values.get("version") != form.version:
        raise InputError(
            f"{where} has version {values.get('version')!r}, and this inkline reads version "
            f"{form.version}; use the inkline that made it",
            remedies=(Remedy(action=Action.OTHER_FOLDER),),
        )
    try:
        entries = form.entries(values)
    except ValueError as problem:
        raise _damage(where, str(problem)) from problem
    except KeyError as problem:
        raise _damage(where, f"an entry lacks or misstates {problem}") from problem
    except (TypeError, AttributeError) as problem:
        raise _damage(where, "something in it is of another kind than it must be") from problem
    own = {"format", "version", *form.list_keys()}
    return Manifest(
        about={key: value for key, value in values.items() if key not in own}, entries=entries
    )


def _damage(where: str, problem: str) -> InputError:
    """The error that says of the manifest `where` what is wrong with it."""
    return InputError(
        f"{where} is damaged ({problem}); move it elsewhere and build again",
        remedies=(Remedy(action=Action.GO_ON, effect="to build beside the files"),),
    )

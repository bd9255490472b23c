"""How the manifest of a numeral set lists what the set holds.

`manifest.json` is UTF-8 JSON (RFC 8259), meant to be read by others. It holds no time of day and no
path outside the folder. At the top stand

- `format`: `"inkline numerals"`, and `version`: 1, raised when a key changes its meaning;
- `ppi`, `number`, `height_px` (of a flat figure), `ground` (`black` or `clear`), `style` (`name`,
  `values`), `lettering` and `versions`;
- `numerals`: one entry a picture: its `name` and `text`; `picture` and `outline`, its files;
  `canvas` and `baseline` in px, x to the right, y down, pixel (0, 0) covering [0, 1) x [0, 1);
  `ink`, the exact bounds of what is drawn, before ink;
- `font`: the font file, its name and what its letters are, or null;
- `files`: every file that inkline made here, with `sha256`, its checksum as drawn, and `inputs`, a
  digest of all that it depends on.

A file with another checksum than its own was changed by hand; it is left alone. Files that are no
longer asked for stay in the folder and in `files`.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import PurePosixPath
from typing import Any

from inkline.folder.entry import Entry, FileEntry, Section

MASTERS_FILE = "masters.npz"
"""What was drawn, as curves, of all numerals together."""
_FILES = "files"


@dataclass(frozen=True, slots=True)
class SetForm:
    """How a set's manifest lists what the set holds: file by file, outlines apart.

    Files that are called alike but for their suffixes belong to one name.
    """

    format: str = "inkline numerals"
    noun: str = "numeral set"
    version: int = 1

    def noun_of(self, holds: str) -> str:
        """The set; there is nothing else of this form."""
        return holds or self.noun

    def lists(self, entries: Sequence[Entry]) -> dict[str, list[str]]:
        """The files of all names, a line each."""
        files = [one for entry in entries for one in entry.files]
        rows = [{"file": f.file, "sha256": f.sha256, "inputs": f.inputs} for f in files]
        return {_FILES: [f"    {json.dumps(row, ensure_ascii=False)}" for row in rows]}

    def rows(self) -> frozenset[str]:
        """The numerals, a line each."""
        return frozenset({"numerals"})

    def entries(self, values: Mapping[str, Any]) -> tuple[Entry, ...]:
        """The names in `values`, each with its files."""
        found: dict[str, list[FileEntry]] = {}
        for one in values[_FILES]:
            path = PurePosixPath(str(one["file"]))
            file = FileEntry(
                form=path.suffix.removeprefix("."),
                file=str(one["file"]),
                sha256=str(one["sha256"]),
                inputs=str(one["inputs"]),
            )
            found.setdefault(str(path.with_suffix("")), []).append(file)
        return tuple(
            Entry(name=name, section=Section.STAMPS, files=tuple(files))
            for name, files in found.items()
        )

    def list_keys(self) -> frozenset[str]:
        """The one list of files."""
        return frozenset({_FILES})

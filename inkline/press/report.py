"""What a build tells: step by step while it works, and in sum at its end."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from inkline.press.editions import Changes


@dataclass(frozen=True, slots=True, kw_only=True)
class KitReport:
    """What one build did. Names are in the order of the catalogue.

    Attributes:
        folder: where the kit lies.
        drawn: stamps whose pictures were made.
        unchanged: stamps left as they were, since nothing that they depend on has changed.
        kept: stamps left as they were because they were retouched by hand.
        moved: those of `kept` whose exact layout has changed since.
        left_over: stamps in the folder that the recipe no longer asks for.
        sheets: layouts and overviews that were made.
        sheets_kept: layouts and overviews retouched by hand.
        n_marks: strokes and shapes that were drawn; the others came from masters.
        notes: sentences that the user should read.
        changes: what has changed since an earlier edition, or None if there is none.
    """

    folder: Path
    drawn: tuple[str, ...]
    unchanged: tuple[str, ...]
    kept: tuple[str, ...]
    moved: tuple[str, ...]
    left_over: tuple[str, ...]
    sheets: tuple[str, ...]
    sheets_kept: tuple[str, ...]
    n_marks: int
    notes: tuple[str, ...]
    changes: Changes | None = None

"""How the manifest of a folder of stamps lists them, whichever product they belong to."""

from __future__ import annotations

from inkline.folder.manifest import SectionForm

MONTHS, ARTWORK = "months", "artwork"
"""What a manifest says that its folder holds, where that is no kit."""
STAMP_FORM = SectionForm(
    format="inkline kit",
    noun="kit",
    required=("kind", "canvas"),
    others={MONTHS: "finished months", ARTWORK: "finished artwork"},
)
"""A kit's; finished months and finished artwork are read as one, and delivered as one."""

"""What has changed between two editions of finished artwork, for those who have the earlier one."""

from __future__ import annotations

from collections.abc import Iterator

from inkline.press.report import Changes


def changes_text(changes: Changes, *, title: str, edition: str) -> str:
    """The text of `changes.txt`: first in sum, then picture by picture."""
    lines = [f"{title}, edition {edition}" if edition else title]
    since = f"edition {changes.before}" if changes.before else "the one before"
    lines += [f"What has changed since {since}", ""]
    if not (changes.added or changes.redrawn or changes.gone):
        lines.append("Nothing: all pictures are the same.")
    else:
        lines.append(", ".join(f"{count} {words}" for count, words in changes.counts()) + ".")
    return "\n".join([*lines, *_names(changes)]) + "\n"


def _names(changes: Changes) -> Iterator[str]:
    for words, names in (
        ("Added", changes.added),
        ("Redrawn", changes.redrawn),
        ("The same", changes.same),
        ("No longer there", changes.gone),
    ):
        if names:
            yield from ("", words)
            yield from (f"    {name}.png" for name in names)

"""Names of marks: from what an artwork calls them, or from their places, never from their order."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterable

import numpy as np

from inkline.geometry.arrays import Points

_STEPS = 64.0
"""Names from geometry hold places to this part of a px."""


def name_of_outlines(outlines: Iterable[Points]) -> str:
    """A short name for geometry: the same for the same places."""
    digest = hashlib.blake2b(digest_size=4)
    for points in outlines:
        digest.update((np.rint(points * _STEPS) + 0.0).astype("<i8").tobytes())
    return digest.hexdigest()


def slug(text: str) -> str:
    """Text as part of a name."""
    return re.sub(r"[^\w.-]+", "-", text.strip())[:40].strip("-")

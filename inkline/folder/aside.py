"""The names under which files of the owner's are set aside before others take their places."""

from __future__ import annotations

import itertools
import os
import re
from pathlib import Path, PurePath

_SET_ASIDE = re.compile(r".+\.before(-[1-9][0-9]*)?(\.[^.]*)?")


def free_name_beside(path: Path) -> Path:
    """`digit-4.before.png`, or `digit-4.before-2.png` and so on where that is taken."""
    for count in itertools.count(1):
        number = f"-{count}" if count > 1 else ""
        free = path.with_name(f"{path.stem}.before{number}{path.suffix}")
        if not os.path.lexists(free):
            return free
    raise AssertionError  # counting never ends


def is_set_aside(path: PurePath) -> bool:
    """Whether a file has a name of those that were set aside."""
    return _SET_ASIDE.fullmatch(path.name) is not None

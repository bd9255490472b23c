"""The command line."""

from __future__ import annotations

import sys
from typing import NoReturn


def main() -> NoReturn:
    """Run the command that the arguments of this process say, and exit with its code."""
    from inkline.cli.running import run  # noqa: PLC0415 - wanted only when a command is run

    sys.exit(run(sys.argv[1:]))

"""The command line."""

from __future__ import annotations

import sys
from typing import NoReturn


def main() -> NoReturn:
    """Run the command that the arguments of this process say, and exit with its code."""
    from inkline.cli.running import run_as_process  # noqa: PLC0415 - wanted only when it is run

    sys.exit(run_as_process(sys.argv[1:]))

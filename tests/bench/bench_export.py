"""What the default kit in all forms of files costs, as a ratio to drawing it.

Run with `python tests/bench/bench_export.py`. Both are processor time of all processes, as
`bench_commands` measures it. All forms at once may cost as much as drawing; each form by itself
says where it goes.
"""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

from bench_commands import command_cost

FORMS = ("png", "svg", "pdf", "ora", "tiff")
BAR = 1.0


def main():
    """Prints the ratios; 1 where all forms cost more than drawing."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        kit = folder / "kit"
        drawing = command_cost("kit", "-o", kit).cpu
        print(f"drawing the default kit: {drawing:.1f} s of processor time")
        for form in FORMS:
            cost = command_cost("export", kit, form, "-o", folder / form).cpu
            print(f"  {form}: {cost:.1f} s, {cost / drawing:.2f} of drawing")
        cost = command_cost("export", kit, *FORMS, "-o", folder / "all").cpu
        print(f"all forms: {cost:.1f} s, {cost / drawing:.2f} of drawing (at most {BAR:g})")
    return int(cost > BAR * drawing)


if __name__ == "__main__":
    sys.exit(main())

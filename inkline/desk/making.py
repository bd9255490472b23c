"""Builds a kit in a process of its own and tells of it, a line of JSON for each step.

Run as `python -m inkline.desk.making RECIPE FOLDER`. The kit is the one that the command line
builds, to the byte; an interrupt stops it, and the next run goes on from there.
"""

from __future__ import annotations

import json
import signal
import sys
from pathlib import Path
from typing import Any

from inkline.errors import InklineError
from inkline.kit.build import build_all, proof_of_drawn
from inkline.kit.requests import kit_requests, named_recipes
from inkline.progress import Step


def _main() -> int:
    """Build what the arguments name; 0, or 1 where something could not be done."""
    signal.signal(signal.SIGTERM, signal.getsignal(signal.SIGINT))
    recipe, folder = map(Path, sys.argv[1:3])
    try:
        requests = kit_requests(named_recipes([recipe], kit=None), folder, since=None)
        for report in build_all(requests, listener=_tell_step):
            proof = proof_of_drawn(report) if report.drawn else None
            _tell(
                kind="kit",
                folder=str(report.folder),
                drawn=len(report.drawn),
                unchanged=len(report.unchanged),
                kept=list(report.hers),
                notes=[note.sentence for note in report.notes],
                faults=[] if proof is None else sorted({fault.stamp for fault in proof.faults}),
            )
    except InklineError as error:
        _tell(kind="refused", sentence=str(error))
        return 1
    except KeyboardInterrupt:
        _tell(kind="stopped")
        return 1
    _tell(kind="done")
    return 0


def _tell_step(step: Step) -> None:
    _tell(kind="step", name=step.name, done=step.done, total=step.total)


def _tell(**news: Any) -> None:
    sys.stdout.write(f"{json.dumps(news)}\n")
    sys.stdout.flush()


if __name__ == "__main__":
    sys.exit(_main())

"""The speed of the four published product lines together, as a seller draws them, on two workers.

Run with `python tests/bench/bench_lines.py`, on a machine that has nothing else to do. One line a
kit, then the whole: seconds from process started to process ended (bound 60), and the seconds that
both processors were busy, which say more where others work too.
"""

from __future__ import annotations

import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path

RECIPES = sorted((Path(__file__).resolve().parents[2] / "shared" / "recipes").glob("*.toml"))
BOUND_S = 60.0
WORKERS = 2


def main():
    with tempfile.TemporaryDirectory() as folder:
        start = time.perf_counter()
        command = [
            sys.executable,
            "-m",
            "inkline",
            "kit",
            *map(str, RECIPES),
            "-o",
            folder,
            "--workers",
            str(WORKERS),
        ]
        said = subprocess.run(command, check=True, capture_output=True, text=True).stdout
        seconds = time.perf_counter() - start
        megabytes = (
            sum(path.stat().st_size for path in Path(folder).rglob("*") if path.is_file()) / 1e6
        )
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    busy = used.ru_utime + used.ru_stime
    print("\n".join(f"    {line}" for line in said.splitlines() if " stamps in " in line))
    print(f"    all together              {seconds:8.1f} s  (bound {BOUND_S:.0f})")
    print(
        f"    processors busy           {busy:8.1f} s, by {WORKERS} workers {busy / WORKERS:.1f} s"
    )
    print(f"    largest process           {used.ru_maxrss / 1024:8.0f} MB")
    print(f"    on disk                   {megabytes:8.1f} MB")


if __name__ == "__main__":
    main()

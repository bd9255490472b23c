"""How much memory the page's processes hold over a thousand changes.

Run with `python tests/bench/bench_desk_memory.py`. Every hundred changes it prints MB that stay in
memory (VmRSS, proc(5)) of the server and of what draws for it; Linux only.
"""

from __future__ import annotations

import os
import re
import sys
import tempfile
from pathlib import Path

import httpx

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT / "tests" / "desk"))

from browser import desk_running  # noqa: E402 - it lies there

CHANGES, EACH = 1_000, 100
STAMPS = ("standard/grid-5", "standard/dates-3", "standard/blocks-6")
RECIPE = 'version = 1\ntitle = "Fog Bell"\nnumber = 5140\n[style]\nname = "round-pen"\n'


def megabytes(process):
    """MB that stay in memory."""
    status = Path(f"/proc/{process}/status").read_text()
    return int(re.search(r"VmRSS:\s+(\d+)", status)[1]) / 1024


def processes(server):
    """The server and what it began."""
    children = Path(f"/proc/{server}/task/{server}/children").read_text().split()
    return [server, *map(int, children)]


def turn(client, count):
    """Change a value, and have drawn what the page then asks for."""
    values = {"edge.raggedness": 0.01 + 0.00002 * count}
    asked = {"stamp": STAMPS[count // 10 % 2], "width": 700}
    client.post("/draw", json={**asked, "changes": values}).raise_for_status()
    client.post("/turn", json={"values": values}).raise_for_status()
    client.post("/draw", json=asked).raise_for_status()
    client.post("/stroke", json={"size": [304, 88]}).raise_for_status()


def main():
    with tempfile.TemporaryDirectory() as folder:
        os.environ["XDG_STATE_HOME"] = folder
        recipe = Path(folder) / "fog-bell.toml"
        recipe.write_text(RECIPE)
        with desk_running(recipe) as address, httpx.Client(follow_redirects=True) as client:
            client.base_url = address.partition("/?")[0]
            page = client.get(address).text
            client.headers["x-inkline-token"] = re.search(r'desk-token" content="([^"]+)', page)[1]
            (server,) = [
                int(path.parent.name)
                for path in Path("/proc").glob("[0-9]*/cmdline")
                if str(recipe.name).encode() in path.read_bytes() and is_child(path.parent)
            ][:1]
            for count in range(CHANGES + 1):
                turn(client, count)
                if count % EACH == 0:
                    held = " ".join(f"{megabytes(one):8.1f}" for one in processes(server))
                    print(f"{count:6} {held}", flush=True)


def is_child(folder):
    """Whether this process began the one at `folder` of /proc."""
    status = (folder / "status").read_text()
    return f"PPid:\t{os.getpid()}\n" in status


if __name__ == "__main__":
    main()

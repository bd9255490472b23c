"""Plants faults in the pictures of a kit and prints by what name the proof calls each.

    python tests/bench/plant_faults.py --side 600
    python tests/bench/plant_faults.py --side 2500

Checksums are made to fit, so that the proof takes each picture for one that was drawn so. A line
that begins with `MISSED` or `WRONG` is a fault that was not found, or by a wrong name.
"""

import argparse
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "support"))

from inkline.kit.build import build_kit
from inkline.kit.recipe.loading import load_recipe
from inkline.press.redrawn import redrawn_stamp
from inkline.proof.finding import Check
from inkline.proof.kit_proof import prove_kit
from planted import FAULTS, entry_named, full_name, grey_at, plant, png_of

STAMPS = ("tall/grid-5", "tall/dates-3", "tall/blocks-5", "words/month-05")
RECIPE = """
version = 1
number = {number}
[canvas]
side = "{side} px"
[formats.tall]
blocks = "both"
[style.edge]
raggedness = "{raggedness} um"
"""


def drawn_kit(folder, *, side, number=12, raggedness=9):
    folder.mkdir()
    recipe = folder / "recipe.toml"
    recipe.write_text(RECIPE.format(side=side, number=number, raggedness=raggedness))
    build_kit(load_recipe(recipe), folder / "kit", only=STAMPS)
    return folder / "kit"


def told_of(kit, fault, others):
    """What the proof says against the masters of a stamp with this fault planted."""
    name = full_name(fault.stem)
    entry = entry_named(kit, name)
    path = kit / entry["file"]
    before, manifest = path.read_bytes(), (kit / "manifest.json").read_bytes()
    plant(kit, name, png_of(fault.change(grey_at(path), entry, others)))
    try:
        proof = prove_kit(kit, drawer=redrawn_stamp, only={name})
    finally:
        path.write_bytes(before)
        (kit / "manifest.json").write_bytes(manifest)
    return [one for one in proof.faults if one.check is Check.MASTERS]


def verdict_on(fault, faults):
    """Whether the fault was found, and by a name and marks of its own."""
    if not faults:
        return "MISSED"
    kinds, marks = {one.kind for one in faults}, {mark for one in faults for mark in one.marks}
    right = kinds <= set(fault.kinds) and (not fault.marks or marks == set(fault.marks))
    return "found " if right else "WRONG "


def main():
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--side", type=int, default=600)
    side = parser.parse_args().side
    with tempfile.TemporaryDirectory() as place:
        kit = drawn_kit(Path(place) / "kit", side=side)
        folders = {
            "number": drawn_kit(Path(place) / "number", side=side, number=13),
            "rough": drawn_kit(Path(place) / "rough", side=side, raggedness=18),
        }
        others = {
            which: {name: grey_at(folder / f"{name}.png") for name in STAMPS}
            for which, folder in folders.items()
        }
        counts = {}
        for fault in FAULTS:
            start = time.process_time()
            faults = told_of(kit, fault, others)
            verdict = verdict_on(fault, faults)
            counts[verdict] = counts.get(verdict, 0) + 1
            said = "; ".join(one.sentence for one in faults)
            seconds = time.process_time() - start
            print(f"{verdict} {fault.stem:15} {fault.what:32} {seconds:5.1f} s  {said}", flush=True)
    print(", ".join(f"{count} {verdict.strip()}" for verdict, count in counts.items()))


if __name__ == "__main__":
    main()

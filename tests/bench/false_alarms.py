"""How often an untouched kit is called faulty: a kit for each style and number, drawn and proved.

    python tests/bench/false_alarms.py --numbers 12

Prints a line for each kit with a finding, and at the end how many findings there are in how many
stamps; at most 1 in 1 000 is meant to be so.
"""

import argparse
import tempfile
from pathlib import Path

from inkline.kit.build import build_kit
from inkline.kit.papers.sheet import Sheet
from inkline.kit.product import Papers
from inkline.kit.recipe.loading import load_recipe
from inkline.press.redrawn import redrawn_stamp
from inkline.proof.kit_proof import prove_kit
from inkline.styles.files import style_files

RECIPE = """
version = 1
number = {number}
[canvas]
side = "{side} px"
[style]
name = "{style}"
"""
FIRST_NUMBER, STEP = 101, 7919


def no_sheet(_kit, job):
    """In place of overview and layouts, which the proof doesn't look at."""
    return Sheet(name=job.name, picture=b"none")


def no_guide(_kit):
    return b"none"


def faults_of_kit(folder, *, number, style, side, only):
    """How many stamps an untouched kit has, and what is called faulty in it."""
    recipe = folder / "recipe.toml"
    recipe.write_text(RECIPE.format(number=number, style=style, side=side))
    build_kit(
        load_recipe(recipe),
        folder / "kit",
        workers=1,
        only=only,
        papers=Papers(sheet=no_sheet, guide=no_guide),
    )
    proof = prove_kit(folder / "kit", drawer=redrawn_stamp)
    return proof.n_stamps, [str(fault) for fault in proof.faults]


def main():
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--numbers", type=int, default=12)
    parser.add_argument("--first", type=int, default=0, help="numbers that are passed over")
    parser.add_argument("--side", type=int, default=600)
    parser.add_argument("--styles", nargs="*", default=None)
    parser.add_argument("--only", nargs="*", default=(), help="patterns of stamps; else all")
    options = parser.parse_args()
    n_stamps = n_faults = n_kits = 0
    for index in range(options.first, options.first + options.numbers):
        for style in options.styles or sorted(style_files()):
            number = FIRST_NUMBER + STEP * index
            with tempfile.TemporaryDirectory() as place:
                stamps, faults = faults_of_kit(
                    Path(place),
                    number=number,
                    style=style,
                    side=options.side,
                    only=options.only,
                )
            n_kits, n_stamps, n_faults = n_kits + 1, n_stamps + stamps, n_faults + len(faults)
            for fault in faults:
                print(f"{style} {number}: {fault}", flush=True)
            print(f"{n_kits} kits, {n_stamps} stamps, {n_faults} findings", flush=True)


if __name__ == "__main__":
    main()

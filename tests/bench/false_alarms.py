"""How often an untouched kit is called faulty: a kit for each style and number, drawn and proved.

    python tests/bench/false_alarms.py --numbers 12 --results alarms.jsonl
    python tests/bench/false_alarms.py --results alarms.jsonl --numbers 0

Numbers come one after another, each in all styles. A line of JSON is added to the file for each
kit, and kits that it has already, drawn by the same code, are passed over: so a measurement may be
stopped and gone on with. It prints a line for each finding, and at the end a table: how many
findings in how many stamps of each style; at most 1 in 1 000 is meant to be so.
"""

import argparse
import json
import subprocess
import tempfile
import time
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


def no_guide(_kit, _folder):
    return b"none"


def commit():
    """What the code is called that draws, or nothing outside of its repository."""
    said = subprocess.run(
        ["git", "describe", "--always", "--dirty"],
        cwd=Path(__file__).parent,
        capture_output=True,
        text=True,
        check=False,
    )
    return said.stdout.strip()


def kit_measured(folder, *, number, style, side, only):
    """What is called faulty in an untouched kit, how many stamps it has, and what it took."""
    recipe = folder / "recipe.toml"
    recipe.write_text(RECIPE.format(number=number, style=style, side=side))
    start = time.process_time()
    build_kit(
        load_recipe(recipe),
        folder / "kit",
        workers=1,
        only=only,
        papers=Papers(sheet=no_sheet, guide=no_guide),
    )
    drawn = time.process_time()
    proof = prove_kit(folder / "kit", drawer=redrawn_stamp)
    return {
        "style": style,
        "number": number,
        "side": side,
        "only": list(only),
        "stamps": proof.n_stamps,
        "measures": len(proof.findings),
        "findings": [str(fault) for fault in proof.faults],
        "drawing_s": round(drawn - start, 1),
        "proof_s": round(time.process_time() - drawn, 1),
    }


def results_in(file):
    """What a file of results holds; a last line that was cut short is none."""
    lines = file.read_text().split("\n") if file is not None and file.exists() else []
    return [json.loads(line) for line in lines if line.endswith("}")]


def add_result(file, result):
    if file is not None:
        is_cut = file.exists() and not file.read_bytes().endswith(b"\n")
        with file.open("a") as stream:
            stream.write("\n" * is_cut + json.dumps(result, ensure_ascii=False) + "\n")


def table_lines(results):
    """A line for each style, and one for all."""
    for style in (*sorted({one["style"] for one in results}), None):
        own = [one for one in results if style in {None, one["style"]}]
        n_stamps, n_faults = (
            sum(one["stamps"] for one in own),
            sum(len(one["findings"]) for one in own),
        )
        rate = 1000.0 * n_faults / max(n_stamps, 1)
        yield (
            f"{style or 'all':14} {len(own):4} kits {n_stamps:6} stamps {n_faults:4} findings "
            f"{rate:6.2f} in 1 000"
        )


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--numbers", type=int, default=12)
    parser.add_argument("--first", type=int, default=0, help="numbers that are passed over")
    parser.add_argument("--side", type=int, default=600)
    parser.add_argument("--styles", nargs="*", default=None)
    parser.add_argument("--only", nargs="*", default=(), help="patterns of stamps; else all")
    parser.add_argument("--results", type=Path, default=None, help="a file of JSON lines")
    options = parser.parse_args()
    code, results = commit(), results_in(options.results)
    keys = ("style", "number", "side", "only", "commit")
    done = {json.dumps([one[key] for key in keys]) for one in results}
    for index in range(options.first, options.first + options.numbers):
        for style in options.styles or sorted(style_files()):
            number = FIRST_NUMBER + STEP * index
            wanted = [style, number, options.side, list(options.only), code]
            if json.dumps(wanted) in done:
                continue
            with tempfile.TemporaryDirectory() as place:
                found = kit_measured(
                    Path(place),
                    number=number,
                    style=style,
                    side=options.side,
                    only=options.only,
                )
            found["commit"] = code
            add_result(options.results, found)
            results.append(found)
            for fault in found["findings"]:
                print(f"{style} {number}: {fault}", flush=True)
    print("\n".join(table_lines(results)))


if __name__ == "__main__":
    main()

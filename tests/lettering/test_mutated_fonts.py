"""Broken fonts are refused in a sentence.

No traceback, no hang, no more than 1 GB, over 320 mutated files. Any module that reads fonts may be
the one that breaks, so the file is named for what it tries.
"""

import subprocess
import sys
from pathlib import Path

import pylopdf_fonts_he
from fontTools.ttLib import TTFont

MUTATIONS = Path(__file__).parent / "font_mutations.py"
VARIABLE = Path(pylopdf_fonts_he.__file__).parent / "NotoSansHebrew-Variable.ttf"
PER_FONT = 64


def test_mutated_fonts_are_set_or_refused_in_a_sentence(tmp_path, font_files):
    packed = tmp_path / "packed.woff2"
    font = TTFont(font_files["roboto"])
    font.flavor = "woff2"
    font.save(packed)
    files = [
        font_files["source-ttf"],
        font_files["source-otf"],
        font_files["roboto"],
        VARIABLE,
        packed,
    ]
    command = [sys.executable, "-W", "ignore", MUTATIONS, tmp_path, *files]
    done = subprocess.run(
        [str(part) for part in command], capture_output=True, text=True, check=False
    )
    lines = [line.split("\t") for line in done.stdout.splitlines()]
    assert (done.returncode, done.stderr) == (0, ""), f"ended after {lines[-1:]}"
    assert len(lines) == PER_FONT * len(files) >= 200
    assert [line for line in lines if line[2].startswith("FAILED")] == []
    refused = [line[2] for line in lines if line[2].startswith("refused")]
    assert len(refused) > 60
    assert max(len(sentence) for sentence in refused) < 400
    # Some damage must go unnoticed, or every font would be refused whatever its fault.
    assert sum(line[2].startswith("set") for line in lines) > 60

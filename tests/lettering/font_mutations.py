"""Opens and sets mutated fonts in a process of its own, and says for each how it went.

The process may use 1 GB, and 10 s a font.

Called as `python font_mutations.py FOLDER FONT...`; prints one line a mutation: name, seconds, and
`set`, `refused` with the sentence, or the name of the exception that should not have come.
"""

import random
import signal
import struct
import sys
import time
import warnings
from pathlib import Path

from inkline.errors import InputError
from inkline.lettering.face import Figures
from inkline.lettering.font import open_font
from inkline.lettering.licence import licence_of_font
from inkline.lettering.line import ink_bounds, marks_from_line, set_line

PER_FONT = 64
MOST_BYTES = 1 << 30
MOST_SECONDS = 10


def limited():
    """Ask the system, where it can, to refuse more memory than allowed."""
    try:
        import resource  # noqa: PLC0415 - not every system has it
    except ImportError:
        return
    resource.setrlimit(resource.RLIMIT_AS, (MOST_BYTES, MOST_BYTES))


def tables(data):
    """Offset and length of each table of a plain font."""
    count = struct.unpack(">H", data[4:6])[0]
    for index in range(count):
        record = data[12 + 16 * index : 28 + 16 * index]
        yield record[:4], *struct.unpack(">II", record[8:16])


def mutated(data, index, generator):  # noqa: C901 - one branch for each kind
    """The font with one kind of damage, by turns."""
    data = bytearray(data)
    size = len(data)
    kind = index % 8
    if kind == 0:
        return bytes(data[: generator.randrange(size)])
    if kind == 1:  # a few bytes anywhere
        for _ in range(generator.randrange(1, 40)):
            data[generator.randrange(size)] = generator.randrange(256)
    elif kind == 2:  # the header and directory
        for _ in range(generator.randrange(1, 6)):
            data[generator.randrange(min(size, 300))] = generator.randrange(256)
    elif kind == 3:  # a stretch of one value
        start = generator.randrange(size)
        stretch = min(generator.randrange(1, 4000), size - start)
        data[start : start + stretch] = bytes([generator.choice((0, 255, 127))]) * stretch
    elif kind == 4:  # a piece moved elsewhere
        start, to = generator.randrange(size), generator.randrange(size)
        piece = data[start : start + 512]
        data[to : to + len(piece)] = piece
    elif kind == 5:  # bytes gone or put in
        start = generator.randrange(size)
        data[start : start + generator.randrange(64)] = generator.randbytes(generator.randrange(64))
    else:  # a table that matters, thoroughly
        known = list(tables(data)) if data[:4] in (b"\0\1\0\0", b"OTTO") else [(b"all ", 0, size)]
        _, offset, length = known[generator.randrange(len(known))]
        for _ in range(generator.randrange(1, 200)):
            if length and offset + length <= size:
                data[offset + generator.randrange(length)] = generator.randrange(256)
    return bytes(data)


def tried(path):
    """How one font went."""
    try:
        font = open_font(path)
        licence_of_font(font).words()
        line = set_line(font, "17 May", figures=Figures.TABULAR)
        sizes = (font.cap_height_em, font.digit_height_em, font.nominal_stem_em)
        ink_bounds(line, size_px=300.0, width_px=20.0)
        marks_from_line(
            line, name="m", role="word", baseline=(0.0, 0.0), size_px=300.0, width_px=20.0
        )
    except InputError as error:
        return f"refused {type(error).__name__} {' '.join(str(error).split())}"
    except BaseException as error:  # noqa: BLE001 - whatever else comes is what this looks for
        return f"FAILED {type(error).__name__} {error}"
    return f"set {sizes}"


def main(folder, files):
    warnings.simplefilter("ignore")
    limited()
    signal.signal(signal.SIGALRM, signal.SIG_DFL)
    for file in files:
        data = Path(file).read_bytes()
        for index in range(PER_FONT):
            name = f"{Path(file).stem}-{index}"
            path = Path(folder) / f"{name}{Path(file).suffix}"
            path.write_bytes(mutated(data, index, random.Random(name)))  # noqa: S311 - damage is no secret
            signal.alarm(MOST_SECONDS)  # the process ends here if one font hangs
            start = time.monotonic()
            said = tried(path)
            signal.alarm(0)
            print(f"{name}\t{time.monotonic() - start:.2f}\t{said}", flush=True)
            path.unlink()


if __name__ == "__main__":
    main(sys.argv[1], sys.argv[2:])

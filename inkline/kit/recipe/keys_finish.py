"""The keys of a user's own artwork: which files, how they look, and how each part is drawn."""

from __future__ import annotations

from inkline.kit.recipe import kinds
from inkline.kit.recipe.choices import ArtBeyond, ArtLetters, ArtLines, ArtSplit, Overlay
from inkline.kit.recipe.finish import parts_from, parts_in_words, parts_schema
from inkline.kit.recipe.key import Key, KeyKind
from inkline.kit.recipe.kinds import choice_key
from inkline.output.look import Ground

FINISH = "finish"
"""The table of the user's own artwork."""

FINISH_KEYS: tuple[Key, ...] = (
    Key(
        table=FINISH,
        name="files",
        kind=kinds.CAPTIONS,
        default=[],
        high=1024,
        sentence="The artwork that inkline finish redraws: SVG files, PDF files and pictures, "
        "their places given from this recipe's folder.",
    ),
    choice_key(
        FINISH,
        "ground",
        Ground,
        Ground.BLACK,
        sentence="What its ink lies on: black, where all ink is white, or white or nothing, where "
        "it has the artwork's own colours.",
    ),
    choice_key(
        FINISH,
        "split",
        ArtSplit,
        ArtSplit.WHOLE,
        sentence="What becomes a stamp of its own: a whole file, or each of its layers.",
    ),
    choice_key(
        FINISH,
        "overlay",
        Overlay,
        Overlay.WITHOUT,
        sentence="Whether a picture shows the exact artwork under the drawn one.",
    ),
    Key(
        table=FINISH,
        name="ppi",
        kind=kinds.NUMBER,
        default=300,
        low=30,
        high=4800,
        sentence="Pixels to an inch of the artwork's own size; pictures keep their pixels.",
    ),
    Key(
        table=FINISH,
        name="drawn_at",
        kind=kinds.TEXT,
        default="",
        high=40,
        sentence="How wide the artwork is on paper: the smaller, the coarser its ink. As it says "
        "itself if this is left out.",
    ),
    choice_key(
        FINISH,
        "lines",
        ArtLines,
        ArtLines.BARS,
        sentence="What a pen draws along its middle: what is stroked and thin bars, only what is "
        "stroked, or nothing, so that all is inked as shapes.",
    ),
    choice_key(
        FINISH,
        "beyond_ink",
        ArtBeyond,
        ArtBeyond.LEFT_OUT,
        sentence="What becomes of what no pen draws: it is left out, or drawn as its nearest plain "
        "thing, which is a mean colour of a gradient or pattern, a shape without its mask or "
        "filter, and the frame of a picture within a file. Either is told.",
    ),
    choice_key(
        FINISH,
        "letters",
        ArtLetters,
        ArtLetters.SET,
        sentence="How the text of PDF pages is drawn: set in letters of a family or of a font that "
        "is given, or its own letters inked as they stand there.",
    ),
    Key(
        table=FINISH,
        name="colours",
        kind=kinds.CAPTIONS,
        default=[],
        high=7,
        sentence='The inks of pictures such as ["#1d2b36", "#c03050"], each of which becomes a '
        "layer that is called as it; all ink of a picture is one if there are fewer than two.",
    ),
    Key(
        table=FINISH,
        name="pages",
        kind=kinds.TEXT,
        default="",
        high=200,
        sentence='Pages of PDF files, such as "1,3-5"; all if this is left out.',
    ),
    Key(
        table=FINISH,
        name="into_cells",
        kind=kinds.TEXT,
        default="",
        high=120,
        sentence='What is set into the cells of a grid that is found: "dates=2027-02" or '
        '"numerals=1-31", with "weekdays" above it (in French "weekdays=fr") and filled cells '
        '("blocks=6,13-15") if there are to be any.',
    ),
    Key(
        table=FINISH,
        name="parts",
        kind=KeyKind(
            read=parts_from, allowed=parts_in_words, schema=parts_schema, has_entries=True
        ),
        default={},
        sentence="How single parts are drawn: a table for a file, for a layer, or for a layer of a "
        'file as in [finish.parts."plan/walls"].',
        example=(
            "[finish.parts.walls]             # a layer",
            'style = "felt-marker"',
            "firmness = 0.9",
            "[finish.parts.furniture]",
            'ink = "exact"',
        ),
    ),
)

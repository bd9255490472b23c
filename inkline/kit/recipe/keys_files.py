"""The keys of the files that are made of a kit's stamps: forms, look, and what they say."""

from __future__ import annotations

from inkline.kit.recipe import kinds
from inkline.kit.recipe.key import Key
from inkline.kit.recipe.kinds import choice_key
from inkline.output.forms import FORMS
from inkline.output.look import Grain, Ground, Sheets
from inkline.output.profiles import Profile

_TABLE = "files"

FILE_KEYS: tuple[Key, ...] = (
    Key(
        table=_TABLE,
        name="forms",
        kind=kinds.CHOICES,
        default=[],
        choices=tuple(FORMS),
        sentence="The forms that inkline kit, month and finish keep up to date in files/ beside "
        "their pictures, and that inkline export writes where no other is asked for. Left out, "
        "none are kept, and inkline export writes all.",
        example=("[files]", 'forms = ["png", "svg"]'),
    ),
    choice_key(
        _TABLE,
        "ground",
        Ground,
        Ground.CLEAR,
        sentence="What lies under the ink in exported files: nothing, white or black. The kit's "
        "own pictures are white on black.",
    ),
    Key(
        table=_TABLE,
        name="ink",
        kind=kinds.COLOUR,
        default="#000000",
        sentence="The colour of the ink in files on a clear ground.",
    ),
    Key(
        table=_TABLE,
        name="bits",
        kind=kinds.CHOICE,
        default="8",
        choices=("8", "16"),
        sentence="Bits of a value in exported pictures.",
    ),
    choice_key(
        _TABLE,
        "profile",
        Profile,
        Profile.NONE,
        sentence="The colour profile that exported pictures name.",
    ),
    choice_key(
        _TABLE,
        "grain",
        Grain,
        Grain.OUTLINES,
        sentence="What SVG and PDF files hold where paper breaks up the ink: its outlines, which "
        "lose that, or the picture.",
    ),
    choice_key(
        _TABLE,
        "sheets",
        Sheets,
        Sheets.PAGES,
        sentence="How a PDF file shows a format: a stamp a page, or all as layers of one page.",
    ),
    Key(
        table=_TABLE,
        name="author",
        kind=kinds.TEXT,
        default="",
        high=80,
        sentence="Who made the kit; exported files say it.",
    ),
    Key(
        table=_TABLE,
        name="licence",
        kind=kinds.TEXT,
        default="",
        high=400,
        sentence="What those who have the kit may do with it, in a sentence; exported files and "
        "packs say it.",
    ),
    Key(
        table=_TABLE,
        name="licence_file",
        kind=kinds.TEXT,
        default="",
        high=1024,
        sentence="A text file with your licence, its place given from this recipe's folder; packs "
        "hold it.",
    ),
)

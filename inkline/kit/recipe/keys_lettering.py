"""The keys of the lettering: where letters come from and which forms of them are drawn."""

from __future__ import annotations

from inkline.calendar.numbering import NUMBERING_SYSTEMS
from inkline.kit.recipe import kinds
from inkline.kit.recipe.choices import Drawings, Guests
from inkline.kit.recipe.key import BY_LANGUAGE, Key
from inkline.kit.recipe.kinds import choice_key
from inkline.lettering.face import Figures
from inkline.lettering.old_style import FigureStyle
from inkline.lettering.writing import Way

LETTERING_KEYS: tuple[Key, ...] = (
    Key(
        table="lettering",
        name="family",
        kind=kinds.TEXT,
        default="scullery",
        high=1024,
        sentence="A family of letters drawn stroke by stroke with the pen: one that inkline "
        "glyphs lists, or a UFO folder of your own "
        "ending in .ufo, its place given from this recipe's folder.",
    ),
    Key(
        table="lettering",
        name="font",
        kind=kinds.TEXT,
        default="",
        high=1024,
        sentence="Or a font file (TTF, OTF, WOFF, WOFF2), its place given from this recipe's "
        "folder. Read its licence "
        'before you sell what it draws, and ask a professional when it matters. "" takes the '
        "family.",
    ),
    Key(
        table="lettering",
        name="numerals",
        kind=kinds.LETTERS,
        default={},
        sentence="Letters of their own for numerals and week numbers in cells: a family or a font, "
        "as above. So a font that lacks a language's letters can still give the numerals. Swaps of "
        "digits and figure_style then hold for these.",
        example=("[lettering.numerals]", 'family = "errand"'),
    ),
    Key(
        table="lettering",
        name="words",
        kind=kinds.LETTERS,
        default={},
        sentence="Letters of their own for weekdays, names of months, years, digits and captions: "
        "a family or a font, as above.",
        example=("[lettering.words]", 'family = "scullery"'),
    ),
    choice_key(
        "lettering",
        "way",
        Way,
        Way.AUTO,
        sentence="How a font is drawn: its letters traced and written stroke by stroke "
        '("stroke"), its outlines inked ("contour"), or as '
        "its weight and build suggest.",
    ),
    choice_key(
        "lettering",
        "figures",
        Figures,
        Figures.LINING,
        sentence="Which figures of a font to take, where it has a choice.",
    ),
    choice_key(
        "lettering",
        "figure_style",
        FigureStyle,
        FigureStyle.LINING,
        sentence='How figures stand: all as high as capitals, or in "old style", some as high as '
        "small letters, some rising, some hanging below the line, where family or font has them "
        "(mantelpiece has).",
    ),
    Key(
        table="lettering",
        name="numbering",
        kind=kinds.CHOICE,
        default="latn",
        choices=(*NUMBERING_SYSTEMS, BY_LANGUAGE),
        sentence='Which digits are written, by the code of Unicode\'s CLDR: "latn" for 0 to 9, '
        '"arab" for those of Arabic, "deva" for those of '
        'Devanagari, and so on; or "language" for those usual where the first language is '
        "spoken. Family or font must have them.",
    ),
    choice_key(
        "lettering",
        "guests",
        Guests,
        Guests.NONE,
        sentence="Whether other forms that a family has, such as an open 4, stand among the "
        'usual ones in dates and words: never, or "rare", '
        "about one in six.",
    ),
    choice_key(
        "lettering",
        "drawings",
        Drawings,
        Drawings.EACH,
        sentence='"each" draws every numeral for itself; "one" draws each digit once and uses '
        "that drawing throughout the kit.",
    ),
    Key(
        table="lettering",
        name="swap",
        kind=kinds.SWAPS,
        default={},
        sentence="Single characters to draw by another glyph: one of the same family by its "
        "name, one of another family, or a glyph "
        "file of the UFO standard.",
        example=(
            "[lettering.swap]",
            '"4" = "four.open"',
            '"7" = "scullery:seven"',
            '"9" = "my-nine.glif"',
        ),
    ),
    Key(
        table="lettering",
        name="axes",
        kind=kinds.AXES,
        default={},
        sentence="Places on the axes of a variable font.",
        example=("[lettering.axes]", "wght = 650"),
    ),
)
"""The keys of the lettering, in the order in which the recipe prints them."""

"""Broken recipes, each with all that is said of it: file, line, key and what is allowed."""

from pathlib import Path

import pytest

from inkline.kit.recipe.loading import recipes_from_text
from inkline.lettering.families import family_names
from inkline.source.faults import RecipeError

HEAD = "version = 1\nnumber = 7\n"
NOWHERE = Path("/nowhere")
_QUOTED_FAMILIES = ", ".join(f'"{name}"' for name in family_names())
BROKEN = [
    (
        'titel = "x"',
        ', line 3: there is no key "titel" at the top of a recipe; did you mean "title"?',
    ),
    (
        'week_starts = ["monday"]',
        ', line 3: there is no key "week_starts" at the top of a recipe; it belongs in [calendar]',
    ),
    (
        "[canvas]\ngap = 0.1",
        ', line 4: there is no key "gap" in [canvas]; it belongs in [formats.NAME]',
    ),
    (
        '[words]\ntitle = "x"',
        ', line 4: there is no key "title" in [words]; it belongs at the top',
    ),
    (
        "formts = 3",
        ', line 3: there is no key "formts" at the top of a recipe; did you mean "formats"?',
    ),
    ("[cavas]", ', line 3: there is no key "cavas" at the top of a recipe; did you mean "canvas"?'),
    ("title = 3", ", line 3: title must be a text of at most 80 letters on one line, not 3"),
    (
        'title = "a\\nb"',
        ', line 3: title must be a text of at most 80 letters on one line, not "a\\nb"',
    ),
    ("edition = 2", ", line 3: edition must be a text of at most 40 letters on one line, not 2"),
    (
        'edition = "a very long name of an edition, longer than forty"',
        (
            ', line 3: edition must be a text of at most 40 letters on one line, not "a very long '
            'name of an edition, longer than forty"'
        ),
    ),
    ("canvas = 3", ", line 3: canvas must be a table, begun by a line [canvas]"),
    (
        "[canvas]\nside = 2500",
        ', line 4: canvas.side must be a length such as "2500 px" or "20 cm", not 2500',
    ),
    (
        '[canvas]\nside = "2500"',
        ', line 4: canvas.side must be a length such as "2500 px" or "20 cm", not "2500"',
    ),
    (
        '[canvas]\nside = "3 %"',
        ", line 4: canvas.side must be a length with a unit, not the percentage 3 %",
    ),
    (
        '[canvas]\nside = "50 px"',
        ", line 4: canvas.side must lie between 100 px and 20000 px, not 50 px",
    ),
    ('[canvas]\nppi = "300"', ', line 4: canvas.ppi must be a number from 30 to 4800, not "300"'),
    ("[canvas]\nppi = 20", ", line 4: canvas.ppi must be a number from 30 to 4800, not 20"),
    (
        '[canvas]\nmargin = "1 m"',
        ', line 4: canvas.margin must be a length such as "5 pt", "0.4 mm" or "1.5 %", not "1 m"',
    ),
    (
        '[canvas]\nmargin = "-1 px"',
        ", line 4: canvas.margin must lie between 0 px and 1000 px on this canvas, not -1 px",
    ),
    (
        "[canvas]\nsafe = 24",
        ', line 4: canvas.safe must be a length such as "5 pt", "0.4 mm" or "1.5 %", not 24',
    ),
    (
        '[canvas]\nmargn = "1 %"',
        ', line 4: there is no key "margn" in [canvas]; did you mean "margin"?',
    ),
    (
        "[formats]\ntall = 3",
        ', line 4: formats.tall must be a table, begun by a line [formats.tall], or "none"',
    ),
    (
        "[formats.Tall]",
        (
            ", line 3: a format's name must be up to 32 small letters a to z, digits and hyphens, "
            'must begin with a letter and be none of files, masters, words, not "Tall"'
        ),
    ),
    (
        "[formats.masters]",
        (
            ", line 3: a format's name must be up to 32 small letters a to z, digits and hyphens, "
            'must begin with a letter and be none of files, masters, words, not "masters"'
        ),
    ),
    (
        '[formats.tall]\nnumeral = "75"',
        (
            ", line 4: formats.tall.numeral must be a share of the cell's width such as 0.3 or a "
            'length such as "75 pt", not "75"'
        ),
    ),
    (
        "[formats.tall]\nnumeral = -2",
        (
            ', line 4: formats.tall.numeral must be a share from 0.02 to 3 or a length such as "75 '
            'pt", not -2'
        ),
    ),
    (
        "[formats.tall]\nnumeral = true",
        (
            ", line 4: formats.tall.numeral must be a share of the cell's width such as 0.3 or a "
            'length such as "75 pt", not true'
        ),
    ),
    (
        '[formats.tall]\nnumeral = "9 in"',
        (
            ", line 4: formats.tall.numeral must lie between 2.5 px and 1250 px on this canvas, "
            "not 9 in (2700 px)"
        ),
    ),
    (
        "[formats.tall]\nnumerals = 0.3",
        ', line 4: there is no key "numerals" in [formats.tall]; did you mean "numeral"?',
    ),
    (
        '[formats.tall]\nshows = "year"',
        (
            ', line 4: formats.tall.shows must be "month" or "strip" or "week" or "day" or '
            '"small", not "year"'
        ),
    ),
    (
        "[formats.tall]\nweeks = true",
        ", line 4: formats.tall.weeks must be a list of whole numbers from 4 to 6, not true",
    ),
    (
        "[formats.tall]\nweeks = [5, 7]",
        ", line 4: formats.tall.weeks must be a list of whole numbers from 4 to 6, not 7",
    ),
    (
        "[formats.tall]\nweeks = []",
        ", line 4: formats.tall.weeks must be a list of whole numbers from 4 to 6, not []",
    ),
    (
        "[formats.tall]\ncolumns = 7.0",
        ", line 4: formats.tall.columns must be a whole number from 1 to 40, not 7.0",
    ),
    ("[formats.tall]\ncolumns = 6", ", line 4: formats.tall.columns must be 7 in a month, not 6"),
    (
        "[formats.strip]\ncolumns = 15",
        ", line 4: formats.strip.columns and rows must have room for 31 days, not for 15",
    ),
    ("[formats.day]\ncolumns = 2", ", line 4: formats.day.columns must be 1 in a day, not 2"),
    (
        "[formats.week]\nrows = 3",
        ", line 4: formats.week.columns and rows must have room for 7 days, not for 6",
    ),
    (
        "[formats.tall]\ncolumn_gutter = 1.5",
        (
            ", line 4: formats.tall.column_gutter must be a share from 0 to 1 or a length such as "
            '"75 pt", not 1.5'
        ),
    ),
    (
        '[formats.tall]\nrow_gutter = "wide"',
        (
            ", line 4: formats.tall.row_gutter must be a share of the cell's width such as 0.3 or "
            'a length such as "75 pt", not "wide"'
        ),
    ),
    (
        '[formats.tall]\nmargin = "none"',
        (
            ', line 4: formats.tall.margin must be "canvas", a length such as "3 %", or a list of '
            'four, clockwise from the top, not "none"'
        ),
    ),
    (
        '[formats.tall]\nmargin = ["1 %", "2 %"]',
        (
            ', line 4: formats.tall.margin must be "canvas", a length such as "3 %", or a list of '
            'four, clockwise from the top, not ["1 %", "2 %"]'
        ),
    ),
    (
        '[formats.tall]\nmargin = ["1 %", "2 %", "3 %", "90 %"]',
        (
            ", line 4: formats.tall.margin must lie between 0 px and 1000 px on this canvas, not "
            "90 % (2250 px)"
        ),
    ),
    (
        '[formats.tall]\nheight = "fitting"',
        ', line 4: formats.tall.height must be "fit" or a share from 0.05 to 3, not "fitting"',
    ),
    (
        "[formats.tall]\nheader = true",
        ', line 4: formats.tall.header must be "both" or "with" or "without", not true',
    ),
    (
        '[formats.tall]\nblocks = "round"',
        ', line 4: formats.tall.blocks must be "plain" or "cut" or "both" or "none", not "round"',
    ),
    (
        '[formats.tall]\nblock_form = "square"',
        ', line 4: formats.tall.block_form must be "box" or "circle" or "underline", not "square"',
    ),
    (
        "[formats.tall]\nblock_omit = true",
        (
            ', line 4: formats.tall.block_omit must be a list of blocks such as ["r5c4", "c1"], '
            "not true"
        ),
    ),
    (
        '[formats.tall]\nblock_omit = ["r0c4"]',
        (
            ', line 4: formats.tall.block_omit must be a list of blocks such as ["r5c4", "c1"], '
            'not "r0c4"'
        ),
    ),
    (
        "[formats.tall]\nblock_line = 2",
        (
            ', line 4: formats.tall.block_line must be a length such as "5 pt", "0.4 mm" or '
            '"1.5 %", not 2'
        ),
    ),
    (
        "[formats.tall]\ntakes = 4",
        ", line 4: formats.tall.takes must be a whole number from 1 to 3, not 4",
    ),
    (
        '[formats.tall]\ndates = "31"',
        (
            ', line 4: formats.tall.dates must be "to 31" or "exact" or "both", not "31"; did you '
            'mean "to 31"?'
        ),
    ),
    (
        '[formats.tall]\nsplit = "weekends"',
        (
            ', line 4: formats.tall.split must be "none" or "weekend", not "weekends"; did you '
            'mean "weekend"?'
        ),
    ),
    (
        "[formats.tall]\nrule = { px = 5 }",
        (
            ', line 4: formats.tall.rule must be a length such as "5 pt", "0.4 mm" or "1.5 %", not '
            "{px = 5}"
        ),
    ),
    (
        "[formats.tall]\nrule = [1, true]",
        (
            ', line 4: formats.tall.rule must be a length such as "5 pt", "0.4 mm" or "1.5 %", not '
            "[1, true]"
        ),
    ),
    (
        "[words]\nyears = [2027-01-01]",
        ", line 4: words.years must hold years from 1583 to 9999, not 2027-01-01",
    ),
    (
        '[formats.tall]\nsixth_week = "shared"\nweeks = [6]',
        (
            ', line 4: formats.tall.sixth_week = "shared" needs a grid of five rows, and weeks has '
            "none"
        ),
    ),
    (
        "[formats.tall]\nshared_numeral = 0.1",
        ", line 4: formats.tall.shared_numeral must be a number from 0.2 to 1, not 0.1",
    ),
    (
        '[formats.tall]\nweek_numbers = "ISO"',
        (
            ', line 4: formats.tall.week_numbers must be "none" or "iso" or "us", not "ISO"; did '
            'you mean "iso"?'
        ),
    ),
    (
        '[formats.tall]\nused_at = "25"',
        ', line 4: formats.tall.used_at must be a number from 5 to 100, not "25"',
    ),
    (
        '[formats.tall]\nused_at = "3 %"',
        ', line 4: formats.tall.used_at must be a number from 5 to 100, not "3 %"',
    ),
    (
        "[formats.tall]\nshift = 3",
        (
            ", line 4: formats.tall.shift must give numerals two lengths, to the right and down, "
            'such as "17" = ["3 px", "-1 px"], not 3'
        ),
    ),
    (
        '[formats.tall.shift]\n"32" = ["1 px", "1 px"]',
        (
            ", line 4: formats.tall.shift must give numerals two lengths, to the right and down, "
            'such as "17" = ["3 px", "-1 px"]; there is no numeral "32"'
        ),
    ),
    (
        '[formats.tall.shift]\n"17" = "1 px"',
        (
            ", line 4: formats.tall.shift must give numerals two lengths, to the right and down, "
            'such as "17" = ["3 px", "-1 px"], not "1 px" for the 17'
        ),
    ),
    (
        '[formats.tall.shift]\n"17" = ["1 px", 1]',
        ", line 4: formats.tall.shift must be two lengths with units, not 1 for the 17",
    ),
    (
        '[formats.tall.shift]\n"17" = ["900 px", "0 px"]',
        (
            ", line 4: formats.tall.shift must lie between -375 px and 375 px on this canvas, not "
            "900 px for the 17"
        ),
    ),
    (
        "[calendar]\nweek_starts = true",
        (
            ', line 4: calendar.week_starts must be a list of one or more of "sunday", "monday", '
            '"saturday", "language", not true'
        ),
    ),
    (
        '[calendar]\nweek_starts = ["friday"]',
        (
            ', line 4: calendar.week_starts must be a list of one or more of "sunday", "monday", '
            '"saturday", "language", not "friday"'
        ),
    ),
    ("[each_format]\nstem = 2", ", line 4: each_format.stem must be a number from 3 to 40, not 2"),
    (
        '[words]\nlanguage = "klingon"',
        (
            ', line 4: words.language must be a language as CLDR names it, such as "en", "de" or '
            "\"pt_BR\", not 'klingon'"
        ),
    ),
    (
        "[words]\nlanguage = []",
        (
            ', line 4: words.language must be a language such as "en", "de" or "pt_BR", or a list '
            "of at most 12 of them, not []"
        ),
    ),
    (
        "[words]\nlanguage = 3",
        (
            ', line 4: words.language must be a language such as "en", "de" or "pt_BR", or a list '
            "of at most 12 of them, not 3"
        ),
    ),
    (
        '[words]\nweekdays = "four letters"',
        (
            ', line 4: words.weekdays must be "wide" or "abbreviated" or "one letter" or "two '
            'letters" or "three letters", not "four letters"; did you mean "two letters"?'
        ),
    ),
    (
        "[words]\nyears = true",
        (
            ", line 4: words.years must be a list of at most 50 years such as [2027, 2028] or "
            '["2027-2031"], not true'
        ),
    ),
    (
        "[words]\nyears = [2027, 27]",
        ", line 4: words.years must hold years from 1583 to 9999, not 27",
    ),
    (
        '[words]\nyears = ["2031-2027"]',
        (
            ", line 4: words.years must hold years from 1583 to 9999, or ranges of them such as "
            '"2027-2031", the earlier year first, not "2031-2027"'
        ),
    ),
    (
        '[words]\nyears = [2027, "2026-2028"]',
        ", line 4: words.years must hold each year once, not 2027 2 times",
    ),
    ('[words]\nyears = ["2027-2100"]', ", line 4: words.years must hold at most 50 years, not 74"),
    (
        "[words]\nspans = [2027]",
        (
            ", line 4: words.spans must hold years from 1583 to 9999, or ranges of them such as "
            '"2027-2031", not 2027'
        ),
    ),
    (
        '[words]\nspans = ["27-28"]',
        (
            ", line 4: words.spans must hold years from 1583 to 9999, or ranges of them such as "
            '"2027-2031", not "27-28"'
        ),
    ),
    (
        '[words]\ncaptions = ["Notes", ""]',
        (
            ", line 4: words.captions must be a list of at most 50 texts of at most 40 letters "
            'each on one line, not ""'
        ),
    ),
    (
        "[words]\ncaptions = true",
        (
            ", line 4: words.captions must be a list of at most 50 texts of at most 40 letters "
            "each on one line, not true"
        ),
    ),
    ("[words]\nspacing = 2", ", line 4: words.spacing must be a number from -0.1 to 1, not 2"),
    (
        '[lettering]\nfont = "no.ttf"',
        ", line 4: lettering.font must be a font file, and there is none at /nowhere/no.ttf",
    ),
    (
        '[lettering]\nfamily = "scully"',
        (
            f", line 4: lettering.family must be one of {_QUOTED_FAMILIES}, or a UFO "
            'folder ending in .ufo, not "scully"; did you mean "scullery"?'
        ),
    ),
    (
        '[lettering]\nfamily = "no.ufo"',
        ", line 4: lettering.family must be a UFO folder, and there is none at /nowhere/no.ufo",
    ),
    (
        '[lettering]\nnumbering = "roman"',
        (
            ', line 4: lettering.numbering must be "latn" or "adlm" or "arab" or "arabext" or '
            '"beng" or "cakm" or "deva" or "gujr" or "guru" or "hmnp" or "khmr" or "knda" or '
            '"laoo" or "mlym" or "mtei" or "mymr" or "nkoo" or "olck" or "orya" or "tamldec" or '
            '"telu" or "thai" or "tibt" or "language", not "roman"'
        ),
    ),
    (
        '[lettering]\nway = "trace"',
        ', line 4: lettering.way must be "auto" or "stroke" or "contour", not "trace"',
    ),
    (
        '[lettering.swap]\n"10" = "ten"',
        (
            ', line 4: lettering.swap must name a glyph for each character, such as "9" = '
            '"nine.curved"; "10" is not one character'
        ),
    ),
    (
        '[lettering.swap]\n"4" = 4',
        (
            ", line 4: lettering.swap must be a text of at most 1024 letters on one line, not 4 "
            'for "4"'
        ),
    ),
    (
        "[lettering.axes]\nweight = 650",
        (
            ", line 4: lettering.axes must give axes by their four letters, such as wght = 650, "
            'not "weight" = 650'
        ),
    ),
    (
        '[lettering.axes]\nwght = "bold"',
        (
            ", line 4: lettering.axes must give axes by their four letters, such as wght = 650, "
            'not "wght" = "bold"'
        ),
    ),
    (
        '[style]\nname = "round-pn"',
        ", line 4: style.name: there is no style 'round-pn'; did you mean 'round-pen'?",
    ),
    (
        '[style]\nname = "no.toml"',
        (
            ", line 4: style.name: the style /nowhere/no.toml cannot be read: No such file or "
            "directory"
        ),
    ),
    (
        "[style.hand]\ndrift = 3",
        (
            ', line 4: style.hand.drift must be a length on the sheet such as "40 um" or "0.4 mm", '
            "from 0 um to 5 mm, not 3"
        ),
    ),
    (
        '[style.hand]\ndrift = "9 m"',
        (
            ', line 4: style.hand.drift must be a length on the sheet such as "40 um" or "0.4 mm", '
            'from 0 um to 5 mm, not "9 m"'
        ),
    ),
    (
        '[style.hand]\ndrft = "3 um"',
        ', line 4: there is no key "drft" in [style.hand]; did you mean "drift"?',
    ),
    (
        "[style.hand]\nrun_over_share = 0.9\nfall_short_share = 0.9",
        ", line 3: style.hand: run_over_share and fall_short_share may not exceed 1 together",
    ),
    (
        '[style.nib]\nends = "square"',
        ', line 4: style.nib.ends must be "own", "round", "blunt" or "tapered", not "square"',
    ),
    ("[style]\nhand = 3", ", line 4: style.hand must be a table, begun by a line [style.hand]"),
    ("[style]\nedgy = 3", ', line 4: there is no key "edgy" in [style]; did you mean "edge"?'),
    (
        '[marks]\n"2027-02-29" = "ring"',
        (
            ", line 4: marks: what is marked must be a day of a year from 1583 to 9999, as "
            '"2027-03-08", or of every year, as "03-08", not "2027-02-29"'
        ),
    ),
    (
        '[marks]\nchristmas = "ring"',
        (
            ", line 4: marks: what is marked must be a day of a year from 1583 to 9999, as "
            '"2027-03-08", or of every year, as "03-08", not "christmas"'
        ),
    ),
    (
        '[marks]\n"12-24" = "star"',
        ', line 4: marks."12-24" must be "ring" or "dot" or "underline", not "star"',
    ),
    (
        '[marks]\n"12-24" = "dot"\n[words]\nyears = []',
        ', line 4: marks."12-24" is a day of every year of words.years, which has none',
    ),
    (
        '[formats.tall]\nweek_numbers = "iso"\n[words]\nyears = []',
        ', line 4: formats.tall.week_numbers = "iso" needs years, and words.years has none',
    ),
    (
        '[again]\n"tall/dates-3/17" = 0',
        ', line 4: again."tall/dates-3/17" must be a whole number from 1 to 1000000, not 0',
    ),
    ('again = ["tall/dates-3/17"]', ", line 3: again must be a table, begun by a line [again]"),
    (
        '[names]\npattern = "{nam}"',
        (
            ", line 4: names.pattern must be a pattern with {name} in it and no other braces than "
            '{name}, {days}, {month}, {format}, {title}, {edition}, {language}, not "{nam}"'
        ),
    ),
    (
        '[names]\npattern = "dates"',
        (
            ", line 4: names.pattern must be a pattern with {name} in it and no other braces than "
            '{name}, {days}, {month}, {format}, {title}, {edition}, {language}, not "dates"'
        ),
    ),
    (
        '[names]\npattern = "{name"',
        (
            ", line 4: names.pattern must be a pattern with {name} in it and no other braces than "
            '{name}, {days}, {month}, {format}, {title}, {edition}, {language}, not "{name"'
        ),
    ),
    (
        '[kits]\nevening = "none"',
        ", line 4: kits.evening must be a table, begun by a line [kits.evening]",
    ),
    (
        "[kits.Evening]",
        (
            ", line 3: a kit's name must be up to 32 small letters a to z, digits and hyphens and "
            'must begin with a letter, not "Evening"'
        ),
    ),
    (
        "[kits.evening]\nversion = 1",
        ", line 4: kits.evening.version must stand at the top of the file, for all its kits",
    ),
    ("number = 8", ", line 3: number stands twice, here and on line 2; one of them must go"),
    (
        '[formats.tall]\nmargin = "5 %"\nmargin = "6 %"',
        ", line 5: formats.tall.margin stands twice, here and on line 4; one of them must go",
    ),
    (
        "[canvas]\nppi = 300\n[words]\n[canvas]",
        ", line 6: canvas stands twice, here and on line 3; one of them must go",
    ),
    (
        "a.a.a.a.a.a.a.a.a.a.a.a.a.a.a.a.a.a.a.a.b = 1",
        ": this is not a recipe: its lists are nested too deeply",
    ),
    (
        "[calendar]\nx = 999999999999999999999999999999",
        ": this is not a recipe: it holds a whole number of more than 64 bits",
    ),
    (
        '[words]\ndirection = "rtl"',
        (
            ', line 4: words.direction must be "language" or "left to right" or "right to left", '
            'not "rtl"'
        ),
    ),
    (
        '[words]\nsizes = "same"',
        ', line 4: words.sizes must be "same height" or "fill each", not "same"',
    ),
    (
        '[formats.tall]\nside = "centr"',
        (
            ', line 4: formats.tall.side must be "start" or "left" or "centre" or "right", not '
            '"centr"; did you mean "centre"?'
        ),
    ),
    (
        '[formats.tall]\nblock_corner = "1 yd"',
        (
            ", line 4: formats.tall.block_corner must be a share of the cell's width such as 0.3 "
            'or a length such as "75 pt", not "1 yd"'
        ),
    ),
    (
        '[formats.tall]\nweekday = "fitted"',
        ', line 4: formats.tall.weekday must be "fit" or a share from 0.05 to 1, not "fitted"',
    ),
    (
        '[each_format]\nblok_line = "1 %"',
        ', line 4: there is no key "blok_line" in [each_format]; did you mean "block_line"?',
    ),
    (
        '[kits.evening.words]\nlettrs = "capitals"',
        ', line 4: there is no key "lettrs" in [words]; did you mean "letters"?',
    ),
    (
        '[lettering]\nfigures = "oldstyle"',
        (
            ', line 4: lettering.figures must be "lining" or "tabular" or "proportional", not '
            '"oldstyle"'
        ),
    ),
    (
        '[lettering]\nguests = "few"',
        ', line 4: lettering.guests must be "none" or "rare", not "few"',
    ),
    (
        '[formats.tall]\nevenness = "50 %"',
        ', line 4: formats.tall.evenness must be a number from 0 to 1, not "50 %"',
    ),
    (
        "extends = 3",
        (
            ", line 3: extends must be the place of another recipe file, seen from this one's "
            "folder, not 3"
        ),
    ),
    (
        'extends = "gone.toml"',
        (
            ", line 3: extends must be the place of another recipe file, seen from this one's "
            "folder, and there is none at /nowhere/gone.toml"
        ),
    ),
    ("[style]\nimitates = 3", ", line 4: style.imitates must be a text, not 3"),
    (
        "[style.paper]\ndryness = 1.5",
        ", line 4: style.paper.dryness must be a plain number, from 0 to 0.9, not 1.5",
    ),
    (
        '[style.hand]\nspeed = "40 mm"',
        (
            ', line 4: style.hand.speed must be a speed such as "40 mm/s", from 1 mm/s to 1000 '
            'mm/s, not "40 mm"'
        ),
    ),
    (
        "[style.hand]\ntilt = 2",
        ', line 4: style.hand.tilt must be an angle such as "2 deg", from 0 deg to 15 deg, not 2',
    ),
    (
        '[style]\ndrawn_at = "2500 px"',
        (
            ', line 4: style.drawn_at must be a length on the sheet such as "40 um" or "0.4 mm", '
            'from 10 mm to 2000 mm, not "2500 px"'
        ),
    ),
    (
        '[style.hand]\nstray = "0 mm"',
        (
            ", line 4: style.hand.stray: a length above 0 is required where there is drift or "
            "tremor, not 0 mm"
        ),
    ),
]
"""What follows version and number, and what is said of it after the file's name."""


@pytest.mark.parametrize(
    ("text", "said"), BROKEN, ids=[text.replace("\n", " ")[:60] for text, _ in BROKEN]
)
def test_a_broken_recipe_is_told_in_one_sentence(text, said):
    with pytest.raises(RecipeError) as caught:
        recipes_from_text(HEAD + text, source="dusk.toml", folder=NOWHERE)
    assert str(caught.value) == f"dusk.toml{said}"
    (fault,) = caught.value.faults
    assert fault.sentence.isprintable()


def test_there_are_more_than_sixty_and_no_two_are_the_same():
    assert len({text for text, _ in BROKEN}) == len(BROKEN) > 60


def test_all_that_is_broken_is_told_at_once():
    """The tables of those of them that can stand in one file, each key once."""
    apart = ("[kits", "[formats]", "[formats.tall.shift]", "[calendar]")
    single = [
        text.partition("\n") for text, _ in BROKEN if text.startswith("[") and text.count("\n") == 1
    ]
    tables = {}
    for table, _, line in single:
        if not table.startswith(apart) and line != "hand = 3":  # which is a table elsewhere
            tables.setdefault(table, {})[line.partition(" = ")[0]] = line
    whole = HEAD + "".join(
        "\n".join([table, *lines.values(), ""]) for table, lines in tables.items()
    )
    n_broken = sum(map(len, tables.values()))
    with pytest.raises(RecipeError) as caught:
        recipes_from_text(whole, source="dusk.toml", folder=NOWHERE)
    told = {fault.line for fault in caught.value.faults}
    lines = list(enumerate(whole.split("\n"), start=1))
    # What only several keys together forbid is looked at where the single ones are in order.
    untold = {line for number, line in lines[2:] if " = " in line and number not in told}
    assert untold <= {"columns = 6", "columns = 2", "columns = 15", "rows = 3", 'stray = "0 mm"'}
    assert len(told) == n_broken - len(untold) > 60


def test_of_very_many_unknown_keys_the_rest_is_counted():
    with pytest.raises(RecipeError) as caught:
        recipes_from_text(
            HEAD + "[canvas]\n" + "".join(f"k{index} = 1\n" for index in range(50)),
            source="dusk.toml",
            folder=NOWHERE,
        )
    assert len(caught.value.faults) == 41
    assert (
        str(caught.value.faults[0])
        == "dusk.toml, line 3: there are 10 more keys in [canvas] that a recipe doesn't have"
    )


def test_what_is_no_toml_is_told_with_its_line():
    for text in ("title = ", "[canvas", "title = [1,\n2"):
        with pytest.raises(
            RecipeError, match=rf"^dusk\.toml, line {3 + text.count(chr(10))}: this is not TOML: "
        ):
            recipes_from_text(HEAD + text, source="dusk.toml", folder=NOWHERE)

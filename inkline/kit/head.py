"""What a kit's manifest says: its head, and what stands in a stamp's entry besides its files.

Points and lengths are px of the stamp's own canvas, x to the right, y down, pixel (0, 0) covering
[0, 1) x [0, 1), as floats that are not rounded. All geometry is exact: before ink, without the
run-over of rules. At the top stand, besides `format` (`"inkline kit"`) and `version` (1):

- `title`: the recipe's title, `kit`, what a kit is called among several of one recipe, if it is,
  and `edition`, what the kit's owner calls this version of it, if she calls it anything;
- `ppi`: pixels per inch of all pictures, as in their pHYs chunk (there rounded to whole pixels per
  metre);
- `holds`: `"months"` in a folder of finished months, else left out;
- `side_px`: how wide the sheet is on which all of it is drawn, which is how wide its formats are;
- `safe_px`: no ink on the canvas of a format comes nearer to its edge than this;
- `used_at`: at how many per cent of its canvas each format is used, by its name;
- `files`: how its recipe wants files for others, where it differs from what is usual; `guide` and
  `shop` likewise, with sentences of its owner's own in `own`;
- `number`: the kit's drawing number; a run that sees to some stamps only leaves it as it is;
- `style`: `name`, `values`, the ink style in mm, um and s, and `digest`, equal for equal values, as
  of the run that last wrote this file. Stamps that such a run left alone may have been drawn with
  another number or style: what is true of a stamp stands in its own entry;
- `lettering`: the name of the stroke family or font; `letters`: its `name` and, as far as it says,
  its `version`, `licence`, the `address` of the licence's text, and a font's `embedding` and the
  `way` in which it is drawn, `stroke` or `contour`. What a font says of itself is no licence: its
  text decides. `numeral_letters` says the same of the numerals in cells, where they have others;
- `versions`: the version of inkline and of the packages that shape the pictures, as of the run that
  last wrote this file;
- in a kit that was made since an earlier edition `since`: that one's `edition`, which may be "",
  and `pictures`, the checksum of each of its pictures as it lay there, by the stamp's name; and
  `changes`: the names of the stamps that are `added`, `redrawn` (another picture), the `same` (to
  the byte) or `gone`.

A stamp has, besides what every entry has (see `folder.manifest`):

- `name`, such as `standard/dates-3`. Its file is called by the recipe's pattern, in any script;
  masters are always called by the name;
- `kind`: `grid`, `blocks`, `dates`, `words` (rows of weekdays and week numbers are `words`) or
  `marks` (of marked days);
- `format`: `standard`, `tall` or another format of the recipe; null for words used alone;
- `canvas`: width and height in px; stamps of one format share theirs, but for week numbers on a
  narrow one; words used alone have their own;
- `number`: the drawing number that it was drawn with; `style`: the `name` of the style that it was
  drawn in and the `digest` of that style's values;
- `ink`: how the masters of its marks lie on the canvas, so that it can be drawn again from them:
  `names`, the full name of each, and `origins`, its place in px, in the order of the file;
  `px_per_mm` of the sheet; how many
  at the end are cut out, `n_cut`; and `fillet_px` and `cut_fillet_px`, the radius to which ink
  fills corners where marks cross; `patched`, the names of marks in whose place its owner's own ink
  stands, where there are any; in finished months also the `colour` of the layer;
- for a grid `lines`, each `{"name": n, "from": [x, y], "to": [x, y], "width_px": w}`: the full name
  of a rule, such as `standard/grid-6/down-3`, its centreline and its weight. Rules across come
  first, from the top down, then rules down, from the left. The exact picture is the union of the
  rectangles that lines and weights span; the rules of the frame begin and end half a weight outside
  the frame's corners, so that those are square;
- for dates, words and marks `glyphs`, one a numeral, word or mark, each `{"text": t, "cell": [x0,
  y0, x1, y1], "ink": [x0, y0, x1, y1]}`: what it says, its cell (the whole canvas for words used
  alone) and the bounds of its undrawn ink;
- for blocks `boxes`, each `{"name": n, "x0": .., "y0": .., "x1": .., "y1": .., "radius": r}`: the
  full name of a block, such as `standard/blocks-5/r5c4` for the fifth row and fourth column, its
  sides, and the radius of its corners; outlined ones also have `line_px`, the weight of the
  outline, which lies within the sides. Blocks that are underlines have `lines`, as rules do;
- blocks with dates cut out also have the `glyphs` that are missing from them. What is drawn on
  several stamps alike goes by the name of the first of them: the blocks by that of the uncut stamp,
  a 17 of any stamp whose month begins in the third column by `tall/dates-3/17`.

By such a name, or a stamp's name and a numeral's text as in `tall/dates-3/17`, a recipe has one
thing drawn again. Sheets are `layout.png` of each format, `overview.png`, `guide.pdf`, and
`changes.txt`. The overview says what it was made of: `setting`, a digest of where everything lies
on it, and `shows`, a short checksum of each picture.
"""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from inkline.kit.papers.open_kit import OpenKit
from inkline.kit.recipe.buyers import GuideRecipe, ShopRecipe
from inkline.kit.recipe.model import FilesRecipe, Recipe
from inkline.kit.stamps.two_faces import numerals_face, words_face
from inkline.lettering.face import Face
from inkline.lettering.licence import origin_of
from inkline.press.editions import EDITION
from inkline.press.inputs import style_digest
from inkline.press.product import package_versions


def head_of(kit: OpenKit) -> dict[str, Any]:
    """What stands at the top of a kit's manifest, as JSON values."""
    recipe, style = kit.recipe, kit.style.to_dict()
    edition = {EDITION: recipe.edition} if recipe.edition else {}
    words, numerals = words_face(kit.face), numerals_face(kit.face)
    return {
        "title": recipe.title,
        **({"kit": kit.name} if kit.name else {}),
        **edition,
        "ppi": recipe.ppi,
        "side_px": recipe.side_px,
        "safe_px": recipe.px(recipe.safe),
        "used_at": {shape.name: shape.used_at for shape in recipe.formats},
        **_wishes_of(recipe),
        "number": recipe.number,
        "style": {"name": kit.style.name, "digest": style_digest(style), "values": style},
        "lettering": kit.face.name,
        "letters": _origin(words),
        **({} if numerals is words else {"numeral_letters": _origin(numerals)}),
        "versions": package_versions(),
    }


def _origin(face: Face) -> dict[str, str]:
    """What letters say of themselves, without what they are silent about."""
    return {key: value for key, value in asdict(origin_of(face)).items() if value}


def _wishes_of(recipe: Recipe) -> dict[str, Any]:
    """What the recipe says of those who have the kit, as far as it isn't the usual."""
    pairs: dict[str, tuple[dict[str, Any], dict[str, Any]]] = {
        "files": (asdict(FilesRecipe()), asdict(recipe.files)),
        "guide": (asdict(GuideRecipe()), asdict(recipe.guide)),
        "shop": (asdict(ShopRecipe()), asdict(recipe.shop)),
    }
    said: dict[str, Any] = {}
    for table, (usual, now) in pairs.items():
        changed = {key: one for key, one in now.items() if one != usual[key]}
        said |= {table: changed} if changed else {}
    return said

"""What draws for the page: a recipe that stays open, and stamps that are drawn as they are turned.

Nothing here is written anywhere. What was opened and drawn is kept for the next wish, so that a
value that is turned costs only what depends on it.
"""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from inkline.desk.exact import boxes_of, large_stroke, part_of, small_stroke
from inkline.desk.finished import FinishedPictures
from inkline.desk.looking import PictureWish, Sheet, fault_values, kit_values, kits_of, stamps_of
from inkline.desk.measuring import measured_stroke
from inkline.errors import InklineError, InputError
from inkline.geometry.arrays import Grey, Values
from inkline.ink.engine import draw
from inkline.ink.inked import InkedDrawing
from inkline.ink.master import Master
from inkline.ink.style import EXACT, Style, style_from_dict
from inkline.kit.pieces import StampPiece
from inkline.kit.product import Kit, KitOrder
from inkline.kit.recipe.loading import recipes_from_text
from inkline.kit.recipe.model import Recipe
from inkline.kit.stamps.faults.every import recipe_notes
from inkline.kit.stamps.two_faces import numerals_face
from inkline.lettering.licence import font_licence
from inkline.lettering.swap import SwappedFace
from inkline.press.patches import masters_of_patches, patches_in
from inkline.raster.compose import render
from inkline.raster.preview import Preview
from inkline.source.faults import RecipeError
from inkline.styles.files import load_style, style_path

if TYPE_CHECKING:
    from inkline.desk.artwork.easel import ArtworkEasel
    from inkline.desk.artwork.reading import ReadArtwork

_MOST_PREVIEWS = 12
"""Drawings of which all stages are kept."""
_WARM_WIDTH = 900
"""Of what is drawn before the page asks."""


class Easel:
    """Keeps a recipe open and draws what is wished for.

    Attributes:
        is_drawing: whether it draws a picture that may be let go: an error that is raised then
            leaves all that is kept as it was.
    """

    def __init__(self) -> None:
        self._kit: Kit | None = None
        self._sheet: Sheet | None = None
        self._previews: OrderedDict[Any, Preview] = OrderedDict()
        self._finished = FinishedPictures()
        self._beside: Easel | None = None
        self._artwork: ArtworkEasel | None = None
        self.is_drawing = False

    def look(self, sheet: Sheet) -> dict[str, Any]:
        """What the page needs to know of `sheet`, as JSON: stamps, values, faults, notes."""
        try:
            kit = self._opened(sheet)
        except RecipeError as error:
            return {"faults": [fault_values(one) for one in error.faults]}
        except InputError as error:
            return {"faults": [{"key": "", "line": 0, "sentence": str(error), "fixes": []}]}
        return {"faults": [], "kits": kits_of(sheet), **kit_values(kit)}

    def remarks(self, sheet: Sheet) -> dict[str, list[str]]:
        """What is not wrong and should be known all the same: notes, and what fonts say.

        Raises:
            InputError: a faulty recipe.
        """
        kit = self._opened(sheet).kit
        return {
            "notes": list(recipe_notes(kit.recipe, kit.face)),
            "licences": [font_licence(font).words() for font in kit.recipe.fonts],
        }

    def forms(self, sheet: Sheet, characters: str) -> dict[str, list[str]]:
        """Names of the other forms that the letters have for each of `characters`.

        Raises:
            InputError: a faulty recipe.
        """
        face = numerals_face(self._opened(sheet).kit.face)
        face = face.face if isinstance(face, SwappedFace) else face
        found = {one: [form.name for form in face.alternates(one)] for one in characters}
        return {one: names for one, names in found.items() if names}

    def warm(self, sheet: Sheet) -> None:
        """Open `sheet` and draw its first stamp, which the page will soon ask for.

        What is wrong with it is said when it is looked at.
        """
        with suppress(InklineError):
            first = stamps_of(self._opened(sheet))[0]
            self.picture(sheet, PictureWish(stamp=first.name, width=_WARM_WIDTH))

    def picture(self, sheet: Sheet, wish: PictureWish) -> Grey:
        """What is wished for as uint8 `(height, width)`: 0 is bare, 255 all ink.

        Raises:
            InputError: no such stamp, a faulty recipe or value.
        """
        if wish.style:
            self._beside = self._beside or Easel()
            return self._beside.picture(sheet.in_style(wish.style), replace(wish, style=""))
        piece = self._piece(sheet, wish.stamp)
        again = {**piece.kit.recipe.again, **wish.again}
        kit = replace(
            piece.kit,
            style=_turned(piece.kit.style, wish.changes),
            recipe=replace(piece.kit.recipe, again=again),
        )
        piece = replace(piece, kit=kit)
        ink = (kit.recipe.number, piece.style, piece.cut_style, piece.patch_keys())
        key = (
            piece.name,
            None if wish.is_exact else ink,
            tuple(sorted(again.items())),
            (wish.width, wish.window),
        )
        with self._drawing():
            return self._finished.get(key, lambda: self._grey(piece, wish))

    @contextmanager
    def _drawing(self) -> Iterator[None]:
        self.is_drawing = True
        try:
            yield
        finally:
            self.is_drawing = False

    def has_artwork(self, key: str) -> bool:
        """Whether the artwork that was read as `key` can be drawn."""
        return self._artwork is not None and self._artwork.read.key == key

    def take_artwork(self, read: ReadArtwork) -> None:
        """Draw this artwork from now on."""
        from inkline.desk.artwork.easel import ArtworkEasel  # noqa: PLC0415 - slow; rarely wanted

        self._artwork = ArtworkEasel(read)

    def artwork_picture(self, sheet: Sheet, wish: PictureWish) -> Values:
        """The artwork in the recipe's ink, as a `picture`.

        Where it keeps its colours these are given with how opaque they are, `(height, width, 4)`.

        Raises:
            InputError: no such artwork, a faulty recipe or value.
        """
        kit = self._opened(sheet).kit
        style = self._style(sheet, wish.style) if wish.style else _turned(kit.style, wish.changes)
        return self._artwork_here().picture(replace(kit, style=style), wish)

    def artwork_places(self, _: Sheet, name: str) -> list[dict[str, Any]]:
        """What can be chosen on a picture of the artwork, as `places`."""
        return _places(self._artwork_here().places(name))

    def _artwork_here(self) -> ArtworkEasel:
        if self._artwork is None:
            raise InputError("there is no artwork any more")
        return self._artwork

    def stroke(
        self, sheet: Sheet, size: tuple[int, int], changes: Mapping[str, Any]
    ) -> tuple[Grey, dict[str, float]]:
        """One stroke drawn large in the recipe's style, as a `picture`, and what it measures.

        It is as heavy as a numeral's on its sheet, 9 mm long, with a second one across it.

        Args:
            sheet: the recipe.
            size: width and height of the picture in px.
            changes: values of the style that are being turned, as of a wish.

        Raises:
            InputError: a faulty recipe or value.
        """
        opened = self._opened(sheet)
        kit = opened.kit
        style = _turned(kit.style, changes)
        drawing = large_stroke(size, drawn_at=style.drawn_at)
        number = kit.recipe.number
        return render(draw(drawing, style, number)), measured_stroke(
            style, number, kit_px_per_mm=_kit_px_per_mm(opened, style)
        )

    def sample(self, sheet: Sheet, name: str, size: tuple[int, int]) -> Grey:
        """A stroke in the style `name` as it comes, drawn as `stroke`.

        Raises:
            InputError: no such style, or a faulty recipe.
        """
        style = self._style(sheet, name)
        drawing = small_stroke(size, drawn_at=style.drawn_at)
        number = self._opened(sheet).kit.recipe.number
        return render(draw(drawing, style, number))

    def _style(self, sheet: Sheet, name: str) -> Style:
        return load_style(style_path(name, folder=sheet.folder, where="style"))

    def places(self, sheet: Sheet, stamp: str) -> list[dict[str, Any]]:
        """What can be chosen on a stamp: the names of numerals, words, rules, blocks, with boxes.

        Raises:
            InputError: no such stamp, or a faulty recipe.
        """
        return _places(boxes_of(self._piece(sheet, stamp).plan.drawing()))

    def _piece(self, sheet: Sheet, name: str) -> StampPiece:
        for piece in stamps_of(self._opened(sheet)):
            if piece.name == name:
                return piece
        raise InputError(f'there is no stamp "{name}" any more')

    def _grey(self, piece: StampPiece, wish: PictureWish) -> Grey:
        style, cut_style = piece.style, piece.cut_style
        if wish.is_exact:
            style = cut_style = replace(EXACT, drawn_at=style.drawn_at)
        preview = self._preview(piece)
        scale = wish.width / piece.plan.canvas[0]
        if not wish.is_exact and piece.patch_keys():
            return part_of(render(_with_own_hand(piece, preview).at_scale(scale)), wish.window)
        whole = (0, 0, *_whole(piece, scale))
        if wish.window is None or wish.window == whole:
            return preview.picture(style, scale=scale, cut_style=cut_style)
        return preview.picture(style, scale=scale, window=wish.window, cut_style=cut_style)

    def _preview(self, piece: StampPiece) -> Preview:
        """The drawing of a stamp, with what is kept of its last pictures."""
        number, again = piece.kit.recipe.number, piece.kit.recipe.again
        key = (piece.name, number, tuple(sorted(again.items())))
        held = self._previews.pop(key, None)
        if held is None:
            held = Preview(piece.plan.drawing(), number, again=again)
        self._previews[key] = held
        while len(self._previews) > _MOST_PREVIEWS:
            self._previews.popitem(last=False)
        return held

    def _opened(self, sheet: Sheet) -> Kit:
        if self._kit is not None and sheet == self._sheet:
            return self._kit
        recipes = recipes_from_text(sheet.text, source=sheet.source, folder=sheet.folder)
        name = sheet.kit if sheet.kit in recipes else next(iter(recipes))
        recipe, before = recipes[name], self._kit
        patches = masters_of_patches(patches_in(sheet.made)) if sheet.made is not None else {}
        if before is not None and _layout_of(recipe) == _layout_of(before.kit.recipe):
            kit = before
        else:
            self._previews.clear()
            self._finished.clear()
            kit = KitOrder(recipe=recipe, name=name).open_and_check()
        self._kit = _with(kit, recipe, patches)
        self._sheet = sheet
        return self._kit


def _with(product: Kit, recipe: Recipe, patches: Mapping[str, Master]) -> Kit:
    """The same layout with the ink of `recipe` and with what its owner drew on stamps."""
    kit = replace(product.kit, recipe=recipe, style=recipe.style, patches=patches)
    pieces = {
        name: replace(piece, kit=kit) if isinstance(piece, StampPiece) else piece
        for name, piece in product.pieces.items()
    }
    return replace(product, kit=kit, pieces=pieces, number=recipe.number)


def _with_own_hand(piece: StampPiece, preview: Preview) -> InkedDrawing:
    """The ink of a stamp with what its owner drew in place of marks; nothing else is drawn anew."""
    recipe = piece.kit.recipe
    own = preview.inked(piece.style, cut_style=piece.cut_style)
    return draw(
        piece.plan.drawing(),
        piece.style,
        recipe.number,
        again=recipe.again,
        kept={**{master.key: master for master in own.masters}, **piece.kit.patches},
        cut_style=piece.cut_style,
    )


def _places(boxes: Mapping[str, list[float]]) -> list[dict[str, Any]]:
    return [{"name": name, "box": box} for name, box in boxes.items()]


def _kit_px_per_mm(kit: Kit, style: Style) -> float:
    """Pixels of the stamps to a millimetre of the sheet."""
    return stamps_of(kit)[0].plan.sheet_px / style.drawn_at


def _turned(style: Style, changes: Mapping[str, Any]) -> Style:
    """`style` with values that are being turned.

    Raises:
        InputError: a faulty value.
    """
    return style_from_dict(changes, where="style", base=style) if changes else style


def _layout_of(recipe: Recipe) -> Recipe:
    """`recipe` but for what decides no layout."""
    return replace(recipe, style=EXACT, style_name="", number=0, again={}, title="", edition="")


def _whole(piece: StampPiece, scale: float) -> tuple[int, int]:
    width, height = piece.plan.canvas
    return round(width * scale), round(height * scale)

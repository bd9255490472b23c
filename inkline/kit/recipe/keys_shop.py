"""The keys of what is said to those who buy a kit, and of the pictures that sell it."""

from __future__ import annotations

from inkline.kit.recipe import kinds
from inkline.kit.recipe.key import Key
from inkline.kit.recipe.pictures import USUAL_PALETTE, USUAL_SIZES
from inkline.phrases.phrases import USUAL_LANGUAGE

SHOP_KEYS: tuple[Key, ...] = (
    Key(
        table="guide",
        name="language",
        kind=kinds.LANGUAGES,
        default=USUAL_LANGUAGE,
        high=1,
        sentence="The language of the guide and its charts, and of a shop's pictures and listing: "
        "en, de, fr, es, pt, it, nl, tr or vi, or another with sentences of your own.",
    ),
    Key(
        table="guide",
        name="sentences",
        kind=kinds.TEXT,
        default="",
        high=1024,
        sentence="A file with sentences of your own, its place given from this recipe's folder; "
        "shared/phrases/en.toml shows what one looks like.",
    ),
    Key(
        table="shop",
        name="palette",
        kind=kinds.PALETTE,
        default=list(USUAL_PALETTE),
        sentence="The five colours of the pictures that inkline shop makes: paper, ink, accent, "
        "tint for blocks, and a deep ground.",
    ),
    Key(
        table="shop",
        name="sizes",
        kind=kinds.PICTURE_SIZES,
        default=[f"{width} x {height}" for width, height in USUAL_SIZES],
        sentence="The sizes of those pictures in px: width and height.",
    ),
)

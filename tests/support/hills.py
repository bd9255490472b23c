"""A painting made by code: soft hills at dusk, in flat strokes as of gouache."""

from __future__ import annotations

import numpy as np
from PIL import Image

_SKY = ("#2b3a5e", "#4a4f78", "#7a628a", "#b07a8c", "#dd9a83", "#f2bd87", "#f8d9a0")
_HILLS = (
    ("#846c8c", "#9a7a8f"),
    ("#6a6084", "#7d6c8a"),
    ("#54587c", "#696584"),
    ("#384468", "#4a4f70"),
    ("#222f4c", "#303b57"),
)
_BANDS = 26


def colours(texts):
    return np.array([list(bytes.fromhex(text[1:])) for text in texts], float)


def noise(rng, shape, cells):
    """Smooth noise about 0, of so many cells down and across."""
    coarse = rng.normal(size=(cells[0] + 3, cells[1] + 3)).astype(np.float32)
    size = (shape[1], shape[0])
    return np.asarray(Image.fromarray(coarse).resize(size, Image.Resampling.BICUBIC))


def along(palette, share):
    """Colours along a palette, in bands as of a brush that is loaded now and then."""
    stepped = np.clip(np.floor(share * _BANDS) / _BANDS, 0.0, 1.0) * (len(palette) - 1)
    stops = np.arange(len(palette))
    return np.stack([np.interp(stepped, stops, palette[:, c]) for c in range(3)], axis=-1)


def hills_at_dusk(width, height, *, seed=3):
    """The painting, uint8 sRGB `(height, width, 3)`."""
    rng, shape = np.random.default_rng(seed), (height, width)
    y, x = np.mgrid[0:height, 0:width].astype(np.float32)
    across, down = x / width, y / height
    strokes = 0.035 * noise(rng, shape, (34, 5)) + 0.02 * noise(rng, shape, (70, 9))
    glow = 0.48 * np.exp(-(((across - 0.78) / 0.2) ** 2 + ((down - 0.5) / 0.28) ** 2))
    page = along(colours(_SKY), down * 0.95 + glow + strokes - 0.06)
    sun = ((across - 0.78) * width) ** 2 + ((down - 0.47) * height) ** 2 < (0.045 * width) ** 2
    page[sun] = colours(("#fff0c4",))[0]
    for place, pair in enumerate(_HILLS):
        line = 0.50 + 0.105 * place
        waves = sum(
            0.05 / (step + 1) * np.sin(2 * np.pi * (across[0] * (1.1 + step) + rng.random()))
            for step in range(4)
        )
        rough = 0.004 * noise(rng, (1, width), (1, 90))[0]
        depth = down - (line + waves + rough)[None, :]
        mist = np.clip(1.0 - depth / 0.17, 0.0, 1.0) + 2.6 * strokes
        painted = along(colours(pair), mist)
        page = np.where((depth > 0.0)[:, :, None], painted, page)
    return np.rint(page).astype(np.uint8)

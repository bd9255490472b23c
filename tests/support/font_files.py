"""Font files that tests make, and how an independent shaper sets text in them."""

import uharfbuzz

from inkline.output.font_file import FontAbout


def font_about(family, *, sample):
    """What a font file says of itself where nobody reads it."""
    return FontAbout(
        family=family,
        version=1.0,
        copyright="",
        description="",
        licence="",
        licence_address="",
        fs_type=0,
        sample=sample,
    )


def shaped(data, text, **features):
    """Glyph names and advances in units as HarfBuzz sets `text` in the font `data`."""
    font = uharfbuzz.Font(uharfbuzz.Face(uharfbuzz.Blob(data)))
    buffer = uharfbuzz.Buffer()
    buffer.add_str(text)
    buffer.guess_segment_properties()
    uharfbuzz.shape(font, buffer, {"rand": 0} | features)
    names = [font.glyph_to_string(info.codepoint) for info in buffer.glyph_infos]
    return names, [position.x_advance for position in buffer.glyph_positions]

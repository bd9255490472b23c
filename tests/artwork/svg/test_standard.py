"""Nothing of the standard is passed over in silence: each name in it is drawn or told."""

import numpy as np
import pytest

from inkline.artwork.model import TextRun
from inkline.artwork.size import PictureSize
from inkline.artwork.svg.file import artwork_from_svg
from svg_standard import (
    BELONG,
    DRAWN,
    ELEMENTS,
    NOTHING_SEEN,
    ON_WHAT_HAS_IT,
    PROPERTIES,
    SILENT,
    WITHIN_PAINTS,
)

SHAPE = '<rect width="9" height="9"/>'
SCENE = """<svg xmlns="http://www.w3.org/2000/svg" width="160" height="120">
<marker id="m" markerWidth="3" markerHeight="3"><path d="M0 0h2v2z"/></marker>
<clipPath id="c"><path clip-rule="nonzero" d="M0 0h30v30h-30zM5 5h20v20h-20z"/></clipPath>
<linearGradient id="l"><stop STOP/></linearGradient>
<svg SVG width="20" height="20"><circle r="30"/></svg>
<rect SHAPE x="5" y="5" width="60" height="40" fill="#0f0" stroke="currentColor"/>
<circle SHAPE cx="50" cy="50" r="20"/><path SHAPE d="M20 20L90 30 30 35 80 12M40 9h9v9z"
fill="#00f" stroke="#000" stroke-width="5" stroke-dasharray="9 4" transform="scale(1.5)"/>
<path CLIPPED d="M0 0h60v60z" clip-path="url(#c)"/><rect fill="url(#l)" width="7" height="7"/>
<text TEXT x="60" y="90" font-size="14">low  tide<tspan SPAN font-size="9">at  noon</tspan></text>
</svg>"""
PLACES = ("SVG", "SHAPE", "CLIPPED", "TEXT", "SPAN", "STOP")


@pytest.fixture
def read(tmp_path):
    def read_text(text):
        file = tmp_path / "a.svg"
        file.write_text(text, encoding="utf-8")
        return artwork_from_svg(file, PictureSize(ppi=96.0))

    return read_text


def scene(name="", value=""):
    """A file in which everything that may have a property has it."""
    text, said = SCENE, f"style='{name}:{value}'" if name else ""
    for place in PLACES:
        text = text.replace(f"{place} ", f"{said} ", 1 if place != "SHAPE" else 9)
    text = text.replace("STOP/", f"{said}/")
    return text.replace('clip-rule="nonzero"', said) if name == "clip-rule" else text


def shown(artwork):
    """All that an artwork shows, as numbers and words that can be compared."""
    for item in artwork.items:
        if isinstance(item, TextRun):
            yield tuple(getattr(item, name) for name in TextRun.__slots__ if name != "path")
        else:
            runs = tuple(tuple(np.round(run.points, 3).ravel()) for run in item.subpaths)
            clip = tuple(tuple(np.round(one, 3).ravel()) for one in item.clip or ())
            yield (runs, item.fill, item.fill_rule, item.stroke, item.pen, clip)


def file_with(body):
    return f'<svg xmlns="http://www.w3.org/2000/svg" width="60" height="40">\n{body}</svg>'


@pytest.mark.parametrize("name", sorted(DRAWN))
def test_elements_are_drawn(read, name):
    artwork = read(file_with(DRAWN[name].format(shape=SHAPE)))
    assert artwork.items
    assert not artwork.lacks


@pytest.mark.parametrize("name", sorted(BELONG))
def test_paints_are_told_by_what_has_them(read, name):
    artwork = read(file_with(f'{BELONG[name]}<rect width="9" height="9" fill="url(#x)"/>'))
    assert [(lack.line, lack.what) for lack in artwork.lacks] == [(2, "<rect> fill")]
    assert f"<{name}>" in artwork.lacks[0].sentence


@pytest.mark.parametrize("name", sorted(ON_WHAT_HAS_IT))
def test_what_changes_a_whole_is_told(read, name):
    artwork = read(file_with(ON_WHAT_HAS_IT[name]))
    assert [(lack.line, lack.what) for lack in artwork.lacks] == [(2, f"<rect> {name}")]


REST = (
    ELEMENTS
    - {"mpath"}
    - SILENT
    - WITHIN_PAINTS
    - DRAWN.keys()
    - BELONG.keys()
    - ON_WHAT_HAS_IT.keys()
)


@pytest.mark.parametrize("name", sorted(REST))
@pytest.mark.parametrize("around", ["{}", "<g>{}</g>", '<rect width="9" height="9">{}</rect>'])
def test_all_other_elements_are_told_wherever_they_stand(read, name, around):
    artwork = read(file_with(around.format(f"<{name}/>")))
    assert [(lack.line, lack.what) for lack in artwork.lacks] == [(2, f"<{name}>")]


@pytest.mark.parametrize("name", sorted(SILENT))
def test_elements_that_show_nothing_are_not_told(read, name):
    assert not read(file_with(f"<{name}/>{SHAPE}")).lacks


@pytest.fixture
def plain(read):
    return read(scene())


def test_the_scene_lacks_nothing(plain):
    assert not plain.lacks


@pytest.mark.parametrize("name", sorted(PROPERTIES))
def test_every_property_changes_what_is_drawn_or_is_told(read, plain, name):
    artwork = read(scene(name, PROPERTIES[name]))
    is_told = any(lack.what.endswith(f"> {name}") for lack in artwork.lacks)
    assert is_told or list(shown(artwork)) != list(shown(plain))


@pytest.mark.parametrize("name", sorted(NOTHING_SEEN))
def test_properties_without_effect_change_nothing(read, plain, name):
    artwork = read(scene(name, "3"))
    assert list(shown(artwork)) == list(shown(plain))
    assert not artwork.lacks


@pytest.mark.parametrize(
    ("body", "what", "sentence"),
    [
        ('<text font-family="serif">Tide</text>', "<text> font-family", "that you choose"),
        ('<g font-weight="700"><text>Tide</text></g>', "<g> font-weight", "that you choose"),
        ("<style>text{writing-mode:tb}</style><text>a</text>", "<text> writing-mode", "own line"),
        ('<text stroke="red">Tide</text>', "<text> stroke", "outlines of letters"),
        ('<text fill="none">Tide</text>', "<text>", "take no room"),
        ('<rect width="calc(1px + 2px)" height="9"/>', "<rect> width", "calc() is not computed"),
        ('<rect width="9vw" height="9"/>', "<rect> width", "vw is no unit of a page"),
        ('<path style="fill:var(--a)" d="M0 0h9v9z"/>', "<path> fill", "var() is not computed"),
        ("<style>@font-face{font-family:a}</style>", "@font-face", "letters of a file's own"),
        ('<style media="speech">a{}</style>', "<style>", "rules for 'speech' are left out"),
        ('<style type="text/x">a{}</style>', "<style>", "of the type 'text/x'"),
        ("<font><glyph/></font>", "<font>", "letters that a file brings"),
        ('<rect width="9" height="9"><g/></rect>', "<g>", "nothing within a shape"),
        ('<g requiredExtensions="a"/>', "<g>", "asks for an extension"),
        ('<g systemLanguage="de"/>', "<g>", "for another language"),
        ('<switch><g systemLanguage="de"/></switch>', "<switch>", "none of it is in English"),
        ('<symbol id="s" refX="3"/>', "<symbol> refX", "placed by its corner"),
        ('<g opacity=".5">' + '<path d="M0 0h9v9z"/>' * 81 + "</g>", "<g> opacity", "shows them"),
        ('<g opacity=".5"><text>a</text><text>b</text></g>', "<g> opacity", "text in it shows"),
        (
            '<g opacity=".5"><path d="M0 0h9v9z"/><path d="M0 0h9v9z" fill-opacity=".3"/></g>',
            "<g> opacity",
            "clearer in it",
        ),
    ],
)
def test_what_is_not_taken_is_told_by_its_name_and_line(read, body, what, sentence):
    lacks = read(file_with(body)).lacks
    assert [(one.line, one.what) for one in lacks if sentence in one.sentence] == [(2, what)]


def test_style_sheets_of_other_files_are_told(read):
    text = f'<?xml version="1.0"?><?xml-stylesheet href="a.css"?>{file_with(SHAPE)}'
    (lack,) = read(text).lacks
    assert (lack.line, lack.what) == (1, "<svg> xml-stylesheet")
    assert "nothing outside the file is read" in lack.sentence

"""Small SVG files that cover what the reader draws, each with what it is about as its name."""

HEAD = '<svg xmlns="http://www.w3.org/2000/svg" width="160" height="120" {more}>{body}</svg>'

ARROW = (
    '<marker id="a" viewBox="0 0 10 10" markerWidth="5" markerHeight="5" refX="4" refY="5" '
    'orient="auto-start-reverse"><path d="M0 0L10 5L0 10z"/></marker>'
)
BODIES = {
    "rect": '<rect x="20" y="15" width="90" height="70"/>',
    "rect with round corners": '<rect x="20" y="15" width="90" height="70" rx="14" ry="9"/>',
    "rect with one radius": '<rect x="20" y="15" width="90" height="30" ry="40"/>',
    "rect in percent": '<rect x="10%" y="20%" width="50%" height="40%"/>',
    "circle": '<circle cx="70" cy="55" r="33.5"/>',
    "circle in percent": '<circle cx="50%" cy="50%" r="25%"/>',
    "ellipse": '<ellipse cx="70" cy="55" rx="50" ry="22"/>',
    "ellipse with one radius": '<ellipse cx="70" cy="55" rx="30"/>',
    "line": '<line x1="10" y1="100" x2="150" y2="20" stroke="black" stroke-width="5"/>',
    "polyline": '<polyline points="10,100 40,20 70,100 100,20" fill="none" stroke="#000" '
    'stroke-width="4"/>',
    "polygon": '<polygon points="80 10, 150 60, 110 110, 50 110, 10 60"/>',
    "path with lines": '<path d="M10 10H150V110h-60v-40H10z"/>',
    "path with cubics": '<path d="M20 100C20 10 140 10 140 100S60 60 20 100"/>',
    "path with quadratics": '<path d="M10 60Q45 -20 80 60T150 60" fill="none" stroke="#000" '
    'stroke-width="6"/>',
    "path with arcs": '<path d="M20 60a40 30 20 1 1 80 20A25 25 0 0 1 60 100z"/>',
    "path with flags run together": '<path d="M20 60a40 30 0 1180 20 25 25 0 01-40 10z"/>',
    "path with numbers run together": '<path d="M10.5.5l100-.25.5.75v80.5-10l-100 20z"/>',
    "path with two runs": '<path d="M10 10h60v60h-60zM90 40h50v60h-50z"/>',
    "nonzero": '<path d="M80 10L120 110 20 45h120L40 110z"/>',
    "evenodd": '<path fill-rule="evenodd" d="M80 10L120 110 20 45h120L40 110z"/>',
    "hole": '<path d="M10 10h140v100h-140zM40 30v60h80v-60z"/>',
    "open path is filled": '<path d="M10 10L150 30 90 110"/>',
    "stroke butt": '<path d="M30 30H130" stroke="#000" stroke-width="18"/>',
    "stroke round": '<path d="M30 30H130" stroke="#000" stroke-width="18" stroke-linecap="round"/>',
    "stroke square": '<path d="M30 30H130" stroke="#000" stroke-width="18" '
    'stroke-linecap="square"/>',
    "dot": '<path d="M80 60h0" stroke="#000" stroke-width="30" stroke-linecap="round"/>',
    "closed stroke": '<path d="M30 20H130V100H30z" fill="none" stroke="#000" stroke-width="9"/>',
    "round joins": '<path d="M30 100L80 20L130 100" fill="none" stroke="#000" stroke-width="12" '
    'stroke-linejoin="round"/>',
    "circle line": '<circle cx="80" cy="60" r="40" fill="none" stroke="#000" stroke-width="7"/>',
    "fill and stroke": '<rect x="40" y="30" width="80" height="60" fill="#c30" stroke="#036" '
    'stroke-width="8"/>',
    "dashes": '<path d="M10 30H150" stroke="#000" stroke-width="8" stroke-dasharray="20 10"/>',
    "dashes with an odd list": '<path d="M10 30H150" stroke="#000" stroke-width="8" '
    'stroke-dasharray="25,8,3"/>',
    "dashes with an offset": '<path d="M10 30H150" stroke="#000" stroke-width="8" '
    'stroke-dasharray="20 10" stroke-dashoffset="13"/>',
    "dashes before the start": '<path d="M10 30H150" stroke="#000" stroke-width="8" '
    'stroke-dasharray="20 10" stroke-dashoffset="-7"/>',
    "dashes round a circle": '<circle cx="80" cy="60" r="40" fill="none" stroke="#000" '
    'stroke-width="7" stroke-dasharray="60 30"/>',
    "translate": '<rect width="40" height="30" transform="translate(60 40)"/>',
    "scale": '<circle cx="30" cy="20" r="10" transform="scale(2.5)"/>',
    "rotate about a point": '<rect x="50" y="40" width="60" height="30" '
    'transform="rotate(30 80 55)"/>',
    "skew": '<rect x="30" y="30" width="50" height="50" transform="skewX(25)"/>',
    "matrix": '<rect width="50" height="50" transform="matrix(1 .3 -.4 1.1 60 20)"/>',
    "transforms in a row": '<rect width="30" height="20" transform="translate(80,60) rotate(45), '
    'scale(1.5 2)"/>',
    "nested transforms": '<g transform="translate(20 10)"><g transform="scale(2)"><rect '
    'width="40" height="30"/></g></g>',
    "stretched stroke": '<circle cx="20" cy="30" r="15" fill="none" stroke="#000" '
    'stroke-width="5" transform="scale(4 2)"/>',
    "scaled stroke": '<path d="M5 5H40" stroke="#000" stroke-width="4" transform="scale(3)"/>',
    "mirrored": '<path d="M10 10h60v40z" transform="translate(150 0) scale(-1 1)"/>',
    "view of a symbol": '<defs><symbol id="s" viewBox="0 0 10 10"><circle cx="5" cy="5" '
    'r="5"/></symbol></defs><use href="#s" x="20" y="10" width="90" height="90"/>',
    "use of a group": '<defs><g id="g"><rect width="20" height="20"/><circle cx="40" cy="10" '
    'r="10"/></g></defs><use href="#g" x="10" y="10"/><use href="#g" x="70" y="60" '
    'fill="#06c"/>',
    "use by the old name": '<g xmlns:xlink="http://www.w3.org/1999/xlink"><defs><rect id="r" '
    'width="50" height="30"/></defs><use xlink:href="#r" transform="translate(40 40)"/></g>',
    "nested svg": '<svg x="30" y="20" width="100" height="80" viewBox="0 0 50 50"><circle cx="25" '
    'cy="25" r="25"/></svg>',
    "nested svg cuts off": '<svg x="30" y="20" width="60" height="60"><circle cx="50" cy="50" '
    'r="45"/></svg>',
    "nested svg stretched": '<svg x="10" y="10" width="140" height="50" viewBox="0 0 10 10" '
    'preserveAspectRatio="none"><circle cx="5" cy="5" r="5"/></svg>',
    "nested svg sliced": '<svg x="10" y="10" width="140" height="50" viewBox="0 0 10 10" '
    'preserveAspectRatio="xMidYMid slice"><circle cx="5" cy="5" r="5"/></svg>',
    "switch": '<switch><rect requiredExtensions="http://example.org/none" width="160" '
    'height="120"/><circle cx="80" cy="60" r="30"/><rect width="9" height="9"/></switch>',
    "inherited": '<g fill="#c60" stroke="#000" stroke-width="6"><rect x="20" y="20" width="50" '
    'height="50"/><circle cx="115" cy="75" r="25" fill="none"/></g>',
    "style attribute": '<rect width="90" height="60" fill="red" style="fill:#063;stroke:none"/>',
    "style sheet": "<style>.a{fill:#609} #b{fill:none;stroke:#000;stroke-width:5} rect.a "
    "+ rect{fill:#960}</style>"
    '<rect class="a" width="40" height="40"/><rect x="50" width="40" height="40"/><rect id="b" '
    'x="20" y="60" width="60" height="40"/>',
    "important": "<style>rect{fill:#090!important}</style>"
    '<rect width="60" height="60" style="fill:#900"/>',
    "current colour": '<g color="#a06"><rect width="60" height="60" fill="currentColor"/></g>',
    "colours": '<rect width="30" height="60" fill="rgb(200,30,60)"/><rect x="35" width="30" '
    'height="60" fill="rgb(10%,60%,20%)"/><rect x="70" width="30" height="60" '
    'fill="hsl(210,80%,40%)"/><rect x="105" width="30" height="60" fill="steelblue"/>',
    "opacity": '<rect width="60" height="60" fill-opacity=".5"/><rect x="70" width="60" '
    'height="60" opacity=".3"/>',
    "hidden": '<rect width="60" height="60" display="none"/><rect x="70" width="60" height="60" '
    'visibility="hidden"/><circle cx="80" cy="90" r="20"/>',
    "hidden group with one that shows": '<g visibility="hidden"><rect width="60" height="60"/>'
    '<circle cx="110" cy="60" r="30" visibility="visible"/></g>',
    "clip path": '<clipPath id="c"><circle cx="70" cy="60" r="40"/></clipPath><rect x="20" y="30" '
    'width="120" height="60" clip-path="url(#c)"/>',
    "clip path of two": '<clipPath id="c"><circle cx="40" cy="60" r="30"/><rect x="90" y="20" '
    'width="40" height="90"/></clipPath><g clip-path="url(#c)"><rect x="10" y="40" width="140" '
    'height="40"/></g>',
    "clip path in shares of a box": '<clipPath id="c" clipPathUnits="objectBoundingBox"><circle '
    'cx=".5" cy=".5" r=".5"/></clipPath><rect x="20" y="20" width="120" height="80" '
    'clip-path="url(#c)"/>',
    "clip path within a clip path": '<clipPath id="a"><rect x="40" y="0" width="60" '
    'height="120"/></clipPath><clipPath id="c" clip-path="url(#a)"><circle cx="80" cy="60" '
    'r="50"/></clipPath><rect width="160" height="120" clip-path="url(#c)"/>',
    "clipped line": '<clipPath id="c"><rect x="30" y="0" width="70" height="120"/></clipPath>'
    '<path d="M10 60H150" stroke="#000" stroke-width="10" clip-path="url(#c)"/>',
    "units": '<rect x="2mm" y=".5cm" width="1in" height="30pt"/>',
    "font units": '<g font-size="20"><rect x="1em" y="1ex" width="4em" height="2em"/></g>',
    "broken path is drawn up to there": '<path d="M10 10h100v80h-60 nonsense"/>',
    "arrow": f'{ARROW}<path d="M30 90L120 30" stroke="#000" stroke-width="5" '
    'marker-end="url(#a)"/>',
    "arrows both ways": f'{ARROW}<path d="M30 60H120" stroke="#000" stroke-width="5" '
    'marker-start="url(#a)" marker-end="url(#a)"/>',
    "dots along a line": '<marker id="d" markerWidth="4" markerHeight="4" refX="2" refY="2">'
    '<circle cx="2" cy="2" r="2" fill="#06c"/></marker>'
    '<polyline points="20,90 60,30 100,90 140,30" '
    'fill="none" stroke="#000" stroke-width="4" marker-mid="url(#d)" marker-start="url(#d)"/>',
    "marker of its own size": '<marker id="d" viewBox="0 0 10 10" markerWidth="50" '
    'markerHeight="50" refX="5" refY="5" markerUnits="userSpaceOnUse" orient="30"><rect width="10" '
    'height="10"/></marker><path d="M40 60H110" stroke="#000" stroke-width="4" '
    'marker-end="url(#d)"/>',
    "marker at a bend": f'{ARROW}<path d="M20 100C20 20 60 20 80 60S140 100 140 40" fill="none" '
    'stroke="#000" stroke-width="4" marker-mid="url(#a)" marker-end="url(#a)"/>',
    "marker that is cut off": '<marker id="d" markerWidth="3" markerHeight="3" refX="1.5" '
    'refY="1.5"><circle cx="1.5" cy="1.5" r="2.4"/></marker><path d="M40 60H110" stroke="#000" '
    'stroke-width="8" marker-end="url(#d)"/>',
    "no colour": '<rect width="60" height="60" fill="none"/><circle cx="110" cy="60" r="20"/>',
    "a colour that falls back": '<rect width="60" height="60" fill="url(#nothing) #06c"/>',
    "transform about a point of its own": '<rect x="50" y="30" width="50" height="40" '
    'transform="rotate(30)" transform-origin="75 50"/>',
    "line before fill": '<rect x="40" y="30" width="80" height="60" fill="#c30" stroke="#036" '
    'stroke-width="18" paint-order="stroke"/>',
    "markers before fill": '<marker id="d" markerWidth="4" markerHeight="4" refX="2" refY="2">'
    '<circle cx="2" cy="2" r="2" fill="#06c"/></marker><path d="M30 90L80 20L130 90z" '
    'fill="#eeb" stroke="#000" stroke-width="9" marker-mid="url(#d)" '
    'paint-order="markers stroke"/>',
    "markers in the colours of their line": '<marker id="d" markerWidth="4" markerHeight="4" '
    'refX="2" refY="2"><circle cx="2" cy="2" r="1.5" fill="context-fill" '
    'stroke="context-stroke"/></marker><path d="M30 90L80 20L130 90z" fill="#e90" stroke="#06c" '
    'stroke-width="9" marker-mid="url(#d)"/>',
    "markers by their shorthand": '<marker id="d" markerWidth="4" markerHeight="4" refX="2" '
    'refY="2"><circle cx="2" cy="2" r="2"/></marker><g style="marker:url(#d)"><path '
    'd="M20 90L80 20L140 90" fill="none" stroke="#06c" stroke-width="5"/></g>',
    "half clear group": '<g opacity=".5"><rect x="20" y="20" width="70" height="60" '
    'fill="#c00"/><rect x="60" y="40" width="70" height="60" fill="#06c"/></g>',
    "half clear shape with a line": '<rect x="40" y="30" width="80" height="60" fill="#c30" '
    'stroke="#036" stroke-width="18" opacity=".5"/>',
    "half clear line": '<rect x="40" y="30" width="80" height="60" fill="#c30" stroke="#036" '
    'stroke-width="18" stroke-opacity=".5"/>',
    "long pointed corner": '<path d="M30 100L80 30L90 100" fill="none" stroke="#000" '
    'stroke-width="8" stroke-miterlimit="20"/>',
    "corners that are cut off": '<path d="M30 100L80 20L130 100" fill="none" stroke="#000" '
    'stroke-width="16" stroke-linejoin="bevel"/>',
    "thick frame": '<rect x="40" y="30" width="80" height="60" fill="none" stroke="#000" '
    'stroke-width="18"/>',
    "stretched gaps": '<path d="M4 30H36" stroke="#000" stroke-width="9" '
    'stroke-dasharray="6 4" transform="scale(4 2)"/>',
    "clip path by the even-odd rule": '<clipPath id="c"><path clip-rule="evenodd" '
    'd="M80 10L120 110 20 45h120L40 110z"/></clipPath><rect width="160" height="120" '
    'clip-path="url(#c)"/>',
    "clip path that uses a shape": '<defs><circle id="k" cx="70" cy="60" r="40"/></defs>'
    '<clipPath id="c"><use href="#k" x="10"/></clipPath><rect width="160" height="120" '
    'clip-path="url(#c)"/>',
    "clip path that is turned": '<clipPath id="c" transform="rotate(20 80 60)"><rect x="40" '
    'y="30" width="80" height="50"/></clipPath><circle cx="80" cy="60" r="45" '
    'clip-path="url(#c)"/>',
    "switch by language": '<switch><rect systemLanguage="de" width="160" height="120"/><circle '
    'systemLanguage="fr, en-GB" cx="80" cy="60" r="30"/><rect width="9" height="9"/></switch>',
    "use of a viewport": '<defs><svg id="s" width="40" height="40" viewBox="0 0 10 10"><circle '
    'cx="5" cy="5" r="5"/></svg></defs><use href="#s" x="20" y="10"/>',
    "symbol in a corner": '<symbol id="s" viewBox="0 0 10 10" preserveAspectRatio="xMaxYMax '
    'meet"><rect width="10" height="10"/></symbol><use href="#s" width="150" height="60"/>',
    "symbol that isn't cut off": '<symbol id="s" viewBox="0 0 10 10" overflow="visible"><circle '
    'cx="10" cy="5" r="6"/></symbol><use href="#s" x="20" y="20" width="60" height="60"/>',
    "important over an id": "<style>.a{fill:#0a0 !important} #b{fill:#00a}</style>"
    '<rect id="b" class="a" width="60" height="60"/>',
    "smooth commands": '<path d="M20 60Q40 10 60 60T100 60t40 0" fill="none" stroke="#000" '
    'stroke-width="4"/><path d="M20 100c10-20 30-20 40 0s30 20 40 0" fill="none" '
    'stroke="#000" stroke-width="4"/>',
    "on after a closed run": '<path d="M20 20h40v40z m60 0h40v40z l-20 50" stroke="#000" '
    'stroke-width="3"/>',
    "arc whose radii are too small": '<path d="M20 60A5 5 0 0 1 140 60" fill="none" '
    'stroke="#000" stroke-width="5"/>',
    "arc that leans": '<path d="M30 80A50 25 40 1 0 120 50" fill="none" stroke="#000" '
    'stroke-width="5"/>',
    "arc without a radius": '<path d="M30 80A0 25 40 1 0 120 50" fill="none" stroke="#000" '
    'stroke-width="5"/>',
}
ALIKE = {
    "shape by a style sheet": (
        "<style>circle{r:30px;cx:80px;cy:60px}</style><circle/>",
        '<circle cx="80" cy="60" r="30"/>',
    ),
    "path by a style sheet": (
        '<style>path{d:path("M10 10H100V80z")}</style><path d="M0 0h9v9z"/>',
        '<path d="M10 10H100V80z"/>',
    ),
    "transform by a style sheet": (
        (
            '<rect x="50" y="30" width="50" height="40" style="transform:rotate(.1turn);'
            'transform-origin:center bottom"/>'
        ),
        '<rect x="50" y="30" width="50" height="40" transform="rotate(36 80 120)"/>',
    ),
    "line that keeps its width": (
        (
            '<circle cx="20" cy="30" r="15" fill="none" stroke="#000" stroke-width="5" '
            'vector-effect="non-scaling-stroke" transform="scale(4 2)"/>'
        ),
        '<ellipse cx="80" cy="60" rx="60" ry="30" fill="none" stroke="#000" stroke-width="5"/>',
    ),
    "gaps in parts of a path": (
        (
            '<path d="M10 60H150" stroke="#000" stroke-width="8" stroke-dasharray="1 1" '
            'pathLength="10"/>'
        ),
        '<path d="M10 60H150" stroke="#000" stroke-width="8" stroke-dasharray="14"/>',
    ),
    "size by the shorthand of fonts": (
        '<g style="font: bold 20px/1.2 serif"><rect x="1em" y="1em" width="3em" height="2em"/></g>',
        '<rect x="20" y="20" width="60" height="40"/>',
    ),
    "rules for a screen": (
        "<style>@media screen{rect{fill:#070}}</style><rect width='60' height='60'/>",
        '<rect width="60" height="60" fill="#070"/>',
    ),
    "selectors by place and value": (
        (
            "<style>g > rect:not(.a){fill:#080} rect:nth-child(2){stroke:#000;stroke-width:6} "
            '#z{fill:#00c}</style><g><rect class="a" x="10" y="10" width="30" height="30"/>'
            '<rect x="60" y="10" width="30" height="30"/>'
            '<rect id="z" x="110" y="10" width="30" height="30"/></g>'
        ),
        (
            '<rect x="10" y="10" width="30" height="30"/><rect x="60" y="10" width="30" '
            'height="30" fill="#080" stroke="#000" stroke-width="6"/><rect x="110" y="10" '
            'width="30" height="30" fill="#00c"/>'
        ),
    ),
}
"""What resvg doesn't read, and the same drawn by older means."""
TEXTS = {
    "middle": '<text x="80" y="60" text-anchor="middle">Tide tables</text>',
    "end": '<text x="120" y="60" text-anchor="end">Tide</text>',
    "spans about a middle": '<text x="80" y="60" text-anchor="middle">High <tspan fill="#c00">and'
    "</tspan> low</text>",
    "spans before an end": '<text x="140" y="60" text-anchor="end">High<tspan font-size="24">er'
    "</tspan></text>",
    "lines about a middle": '<text y="60" text-anchor="middle"><tspan x="80" y="40">one and</tspan>'
    '<tspan x="80" y="70">another <tspan fill="#06c">one</tspan></tspan></text>',
    "white between letters": '<text x="80" y="60" letter-spacing="4" text-anchor="middle">Tide'
    "</text>",
    "white between words": '<text x="80" y="60" word-spacing="12" text-anchor="middle">a b c'
    "</text>",
    "places of letters": '<text x="10 40 70" y="40 60" font-size="20">abcd</text>',
    "steps of letters": '<text x="30" y="60">a<tspan dx="8" dy="-9">b</tspan>c</text>',
    "raised by a length": '<text x="40" y="60">a<tspan baseline-shift="9">2</tspan>b</text>',
    "spaced to a length": '<text x="20" y="60" font-size="20" textLength="120">Tides</text>',
    "blanks that are kept": '<text x="20" y="60" xml:space="preserve">a   b</text>',
    "turned": '<text transform="rotate(30 80 60)" x="80" y="60" font-size="20" '
    'text-anchor="middle">Tides <tspan font-size="12">low</tspan></text>',
    "sizes in em": '<g font-size="10"><text x="1em" y="4em" font-size="2em">Ti<tspan '
    'font-size="50%">de</tspan></text></g>',
    "on a path": '<path id="p" d="M20 90A60 60 0 0 1 140 90" fill="none"/><text><textPath '
    'href="#p" startOffset="20">Along a path</textPath></text>',
    "spans about the middle of a path": '<path id="p" d="M20 90A60 60 0 0 1 140 90" '
    'fill="none"/><text text-anchor="middle"><textPath href="#p" startOffset="50%">Along <tspan '
    'fill="#c00">a</tspan> path</textPath></text>',
    "raised from a path": '<path id="p" d="M20 90A60 60 0 0 1 140 90" fill="none"/><text>'
    '<textPath href="#p" startOffset="30">Al<tspan dy="-6">ong</tspan></textPath></text>',
    "cut by a clip path": '<clipPath id="c"><rect x="0" y="0" width="160" height="54"/></clipPath>'
    '<g clip-path="url(#c)"><text x="20" y="60" font-size="30">Tides</text></g>',
}
"""Text, in whatever font."""


def case(name):
    """The whole file of a case."""
    return HEAD.format(more="", body=BODIES[name])

"""A proof as one page to look at, and as values for other programs.

The page is a single HTML file: no script, nothing from elsewhere, pictures within it.
"""

from __future__ import annotations

import base64
import html
import io
import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import asdict
from typing import Any

import numpy as np
from PIL import Image

from inkline.geometry.arrays import Grey
from inkline.geometry.boxes import Box
from inkline.proof.at_use import GOOD_ARC_MIN, LEAST_ARC_MIN, MOST_REGISTER_PX, UseFigures
from inkline.proof.finding import Finding, KitProof, ListedStamp
from inkline.proof.things import Sort, Thing, things_of

_MOST_PICTURES = 40
_MOST_SIDE_PX = 760
_MARGIN_SHARE, _LEAST_MARGIN_PX = 0.3, 24.0
_STYLE = (
    "body{font:16px/1.5 system-ui,sans-serif;max-width:60rem;margin:2rem auto;padding:0 1rem;"
    "color:#222;background:#fff}h1{font-size:1.6rem}h2{font-size:1.2rem;margin-top:2.2rem}"
    ".good{color:#1c6b33}.bad{color:#a3241b}figure{display:inline-block;margin:0 1.2rem 1.6rem 0;"
    "vertical-align:top;max-width:100%}figcaption{max-width:26rem;font-size:.9rem}"
    "svg{border:1px solid #ccc;max-width:100%;height:auto}table{border-collapse:collapse;"
    "font-size:.9rem}td,th{padding:.2rem .7rem .2rem 0;text-align:right;"
    "border-bottom:1px solid #ddd}td:first-child,th:first-child{text-align:left}"
    "pre{white-space:pre-wrap;font-size:.85rem;background:#f6f6f4;padding:1rem}"
)

Pictures = Callable[[str], Grey | None]
"""Gives the picture of a stamp by its name, None if it can't be shown."""


def proof_html(
    proof: KitProof,
    *,
    title: str,
    lines: Iterable[str],
    entries: Sequence[ListedStamp],
    pictures: Pictures,
    figures: Sequence[UseFigures],
) -> str:
    """The page: the verdict, what is wrong in pictures with the exact layout over them, figures.

    Args:
        proof: what was found.
        title: what was proved.
        lines: all of it in words.
        entries: the stamps as the manifest lists them.
        pictures: gives their pictures.
        figures: what they measure at the size of use.
    """
    shown = "".join(_shown_pictures(proof, entries, pictures))
    return (
        '<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8">'
        f"<title>{html.escape(title)}</title><style>{_STYLE}</style></head><body>\n"
        f"{_verdict(proof, title)}\n<h2>Seen from near</h2>\n"
        "<p>The drawn ink in black; in colour what it is held against: the exact layout.</p>\n"
        f"{shown}\n<h2>At the size of use</h2>\n{_figures_table(figures)}\n"
        f"<h2>All in words</h2>\n<pre>{html.escape(chr(10).join(lines))}</pre>\n</body></html>\n"
    )


def proof_values(proof: KitProof, figures: Sequence[UseFigures]) -> dict[str, Any]:
    """The proof as JSON values: what doesn't hold, what was retouched, what was not judged."""
    return {
        "holds": not proof.faults,
        "stamps": proof.n_stamps,
        "measured": proof.n_measured,
        "faults": [_finding_values(one) for one in proof.faults],
        "retouched": list(proof.retouched),
        "retouches": [asdict(one) for one in proof.retouches],
        "not_judged": [asdict(one) for one in proof.unjudged],
        "strangers": list(proof.strangers),
        "at_use": [asdict(one) for one in figures],
    }


def _finding_values(one: Finding) -> dict[str, Any]:
    return {
        "stamp": one.stamp,
        "check": one.check.value,
        "kind": one.kind,
        "marks": list(one.marks),
        "sentence": one.sentence,
        "share": one.share if math.isfinite(one.share) else None,
        "box": None if one.box is None else [float(side) for side in one.box],
    }


def _verdict(proof: KitProof, title: str) -> str:
    names = list(dict.fromkeys(fault.stamp for fault in proof.faults))
    if names:
        verdict = f'<p class="bad"><b>Out of bounds: {html.escape(", ".join(names))}.</b></p>'
    else:
        verdict = '<p class="good"><b>All that was measured is within its bounds.</b></p>'
    counts = f"{proof.n_stamps} stamps, {proof.n_measured} of them measured"
    if proof.retouched:
        counts += f"; retouched by hand: {', '.join(proof.retouched)}"
    return f"<h1>{html.escape(title)}</h1>{verdict}<p>{html.escape(counts)}.</p>"


def _shown_pictures(
    proof: KitProof, entries: Sequence[ListedStamp], pictures: Pictures
) -> Iterator[str]:
    """What is wrong; where nothing is, the middle of one stamp of each kind and format."""
    by_name = {str(entry["name"]): entry for entry in entries}
    wanted: list[tuple[str, Box | None, str]] = [
        (one.stamp, one.box, one.sentence) for one in proof.faults if one.stamp in by_name
    ]
    if not wanted:
        samples = {(entry["format"], entry["kind"]): str(entry["name"]) for entry in entries[::-1]}
        wanted = [
            (name, None, "as it was laid out and as it was drawn")
            for name in list(samples.values())[::-1]
        ]
    for name, box, sentence in wanted[:_MOST_PICTURES]:
        grey = pictures(name)
        if grey is not None:
            yield _figure(name, grey, by_name[name], box, sentence, is_sample=not proof.faults)
    if len(wanted) > _MOST_PICTURES:
        yield f"<p>And {len(wanted) - _MOST_PICTURES} more, in words below.</p>"


def _figure(
    name: str, grey: Grey, entry: ListedStamp, box: Box | None, sentence: str, *, is_sample: bool
) -> str:
    height, width = grey.shape
    x0, y0, x1, y1 = _cut_box(box, width, height, is_sample=is_sample)
    data = _picture_data(grey[y0:y1, x0:x1])
    scale = min(_MOST_SIDE_PX / max(x1 - x0, y1 - y0), 4.0)
    line = max((x1 - x0) / 500, 0.4)
    marks = "".join(_mark(thing, line) for thing in things_of(entry))
    return (
        f'<figure><svg width="{(x1 - x0) * scale:.0f}" height="{(y1 - y0) * scale:.0f}" '
        f'viewBox="{x0} {y0} {x1 - x0} {y1 - y0}" role="img" aria-label="{html.escape(name)}">'
        f'<image x="{x0}" y="{y0}" width="{x1 - x0}" height="{y1 - y0}" '
        f'href="data:image/png;base64,{data}"/>{marks}</svg>'
        f"<figcaption><b>{html.escape(name)}</b>: {html.escape(sentence)}</figcaption></figure>\n"
    )


def _cut_box(
    box: Box | None, width: int, height: int, *, is_sample: bool
) -> tuple[int, int, int, int]:
    """What is shown: the box and some room about it, or the whole, or a third of a sample."""
    if box is None and is_sample and max(width, height) > _MOST_SIDE_PX:
        box = (width / 3, height / 3, 2 * width / 3, 2 * height / 3)
    if box is None:
        return 0, 0, width, height
    margin = max(_MARGIN_SHARE * max(box[2] - box[0], box[3] - box[1]), _LEAST_MARGIN_PX)
    x0, y0 = max(math.floor(box[0] - margin), 0), max(math.floor(box[1] - margin), 0)
    x1, y1 = min(math.ceil(box[2] + margin), width), min(math.ceil(box[3] + margin), height)
    return (x0, y0, x1, y1) if x1 > x0 and y1 > y0 else (0, 0, width, height)


def _picture_data(grey: Grey) -> str:
    """Black ink on white as a PNG file in base64, made smaller if it is large."""
    picture = Image.fromarray(np.ascontiguousarray(255 - grey))
    picture.thumbnail((2 * _MOST_SIDE_PX, 2 * _MOST_SIDE_PX), Image.Resampling.BOX)
    buffer = io.BytesIO()
    picture.save(buffer, format="png", optimize=True)
    return base64.b64encode(buffer.getvalue()).decode()


def _mark(thing: Thing, line: float) -> str:
    x0, y0, x1, y1 = thing.exact
    colour = {Sort.RULE: "#d4380d", Sort.LETTERS: "#0b62c4", Sort.BLOCK: "#08979c"}[thing.sort]
    return (
        f'<rect x="{x0:.2f}" y="{y0:.2f}" width="{x1 - x0:.2f}" height="{y1 - y0:.2f}" '
        f'fill="none" stroke="{colour}" stroke-width="{line:.2f}"/>'
    )


def _figures_table(figures: Sequence[UseFigures]) -> str:
    if not figures:
        return "<p>None could be measured.</p>"
    head = (
        "stamp",
        "used at",
        "thinnest stroke that survives",
        "strokes lost",
        "weakest ink",
        "lowest numeral or word",
        "can be read from",
        "rules off at most",
    )
    rows = "".join(
        f"<tr>{''.join(f'<td>{cell}</td>' for cell in _cells(one))}</tr>\n" for one in figures
    )
    note = (
        f"Read from: where the numeral is {LEAST_ARC_MIN:g} minutes of arc high, the least for "
        f"the eye; {GOOD_ARC_MIN:g} are better (ISO 9241-3). Rules may lie {MOST_REGISTER_PX:g} "
        "px of the small picture off on the mean."
    )
    return (
        f"<table><tr>{''.join(f'<th>{cell}</th>' for cell in head)}</tr>\n{rows}</table>"
        f"<p>{note}</p>"
    )


def _cells(one: UseFigures) -> list[str]:
    return [
        html.escape(one.stamp),
        f"{one.used_at:g} %",
        _shown(one.thinnest_px, "{:.1f} px"),
        _shown(one.lost_share, "{:.1%}"),
        _shown(one.contrast, "{:.0%}"),
        _shown(one.digit_mm, "{:.1f} mm"),
        _shown(one.distance_mm, "{:.0f} mm"),
        _shown(one.register_px, "{:.2f} px"),
    ]


def _shown(value: float | None, form: str) -> str:
    return "" if value is None else form.format(value)

"""What `inkline prove` does: measures a folder's pictures and says what is out of bounds."""

from __future__ import annotations

import json
import math
import textwrap
import time
from collections.abc import Iterator, Sequence
from pathlib import Path

import click

from inkline.folder.new_files import refuse_existing, require_suffix, write_new
from inkline.kit.requests import refuse_unfinished
from inkline.press.redrawn import redrawn_stamp
from inkline.progress import names_in_words, number_of_things
from inkline.proof.finding import Bounds, Check, Finding, KitProof
from inkline.proof.kit_proof import kit_to_show, prove_kit
from inkline.proof.report import proof_html, proof_values

_SCREEN = "-"
_WIDTH = 100
_MOST_NAMES = 4
"""Names listed in a sentence before the rest are only counted."""
_DIFFERENCES = frozenset({Check.MASTERS, Check.RETOUCH})
"""Of these each says something else, and no one is the worst."""
_WORTH_SAYING = 0.01
"""A stamp that comes no nearer to its bound than this share of it is as good as exact."""
_OUT_OF_BOUNDS = 1


def run_prove(
    folder: Path, *, edge_px: float | None, report: Path | None = None, values: Path | None = None
) -> int:
    """Prove the kit in `folder` and report.

    Args:
        folder: a kit's folder.
        edge_px: how near ink may come to the canvas edge in px; as recipes have it unless they say
            otherwise, if None.
        report: where a page about it goes, if anywhere.
        values: where its values go as JSON, "-" for the screen; nowhere if None.

    Returns:
        0 if all that was judged holds, else 1.

    Raises:
        InputError: no kit, one whose manifest can't be read, or one that isn't finished.
    """
    start = time.monotonic()
    on_screen = values is not None and str(values) == _SCREEN
    if report is not None:
        require_suffix(report, ".html", what="a report", setting="report")
    refuse_existing(
        [file for file in (report, values) if file is not None and str(file) != _SCREEN]
    )
    refuse_unfinished(folder)
    proof = prove_kit(folder, edge_px=edge_px, drawer=redrawn_stamp)
    lines = list(proof_lines(proof, folder, seconds=time.monotonic() - start))
    if not on_screen:
        click.echo("\n".join(lines))
    if report is not None or values is not None:
        _write_pages(proof, folder, lines=lines, report=report, values=values)
    if report is not None and not on_screen:
        click.echo(f"{report} shows it.")
    return _OUT_OF_BOUNDS if proof.faults else 0


def _write_pages(
    proof: KitProof, folder: Path, *, lines: Sequence[str], report: Path | None, values: Path | None
) -> None:
    """Write the page and the JSON file, as far as they are asked for.

    Raises:
        WorkError: a file can't be written.
    """
    kit = kit_to_show(folder, drawer=redrawn_stamp)
    if report is not None:
        page = proof_html(
            proof,
            title=f"{kit.title}: proof",
            lines=lines[1:],
            entries=kit.entries,
            pictures=kit.picture_of,
            figures=kit.figures,
        )
        write_new(report, page.encode())
    if values is None:
        return
    text = json.dumps(proof_values(proof, kit.figures), ensure_ascii=False, indent=1)
    if str(values) == _SCREEN:
        click.echo(text)
    else:
        write_new(values, f"{text}\n".encode())


def proof_sentence(proof: KitProof, folder: Path) -> str:
    """One line on what a run has just drawn: whether it is within its bounds, and what isn't."""
    stamps = number_of_things(proof.n_measured, "stamp")
    if not proof.faults:
        lie = "lies where it" if proof.n_measured == 1 else "lie where they"
        return f"Proved: {stamps} drawn {lie} should."
    names = list(dict.fromkeys(fault.stamp for fault in proof.faults))
    return (
        f"Out of bounds: {names_in_words(names, most=_MOST_NAMES)}, of {stamps} drawn. Look with "
        f"inkline prove {folder}"
    )


def proof_lines(proof: KitProof, folder: Path, *, seconds: float) -> Iterator[str]:
    """The lines that say what holds, what doesn't, what was not judged, and what to make of it."""
    stamps = number_of_things(proof.n_stamps, "stamp")
    yield f"{folder}: {stamps}, {proof.n_measured} of them measured ({seconds:.1f} s)."
    by_check = {check: [one for one in proof.findings if one.check is check] for check in Check}
    clean = {
        check: found
        for check, found in by_check.items()
        if found and all(one.holds for one in found)
    }
    if clean:
        yield "Holds:"
    for check, found in clean.items():
        yield from _bullet_lines(
            f"{bound_sentence(check, proof.bounds)} {_nearest_to_bound(found)}"
        )
    yield "Does not hold:" if proof.faults else "Does not hold: nothing."
    for check in dict.fromkeys(fault.check for fault in proof.faults):
        yield from _lines_on_failure(check, by_check[check], bounds=proof.bounds)
    yield from _lines_on_unjudged(proof)
    names = list(dict.fromkeys(fault.stamp for fault in proof.faults))
    if names:
        yield (
            f"Out of bounds: {names_in_words(names, most=_MOST_NAMES)}. To have one drawn with "
            "other lines, write its name under [again] in the recipe; a picture that was changed "
            "is drawn anew by --redraw NAME."
        )
    else:
        yield "All that was measured is within its bounds."


def bound_sentence(check: Check, bounds: Bounds) -> str:
    """What is required, in plain words."""
    px, near = f"{bounds.offset_px:g} px", f"{_percent(bounds.near_share)}"
    least, most = f"{bounds.near_least_px:.3g} px", f"{bounds.near_most_px:.3g} px"
    sentences = {
        Check.KIT: "The kit has stamps, and they can be measured.",
        Check.MASTERS: "Every picture is what its masters draw, mark by mark.",
        Check.RETOUCH: "Retouched pictures stay in their place, in their values and complete.",
        Check.FILE: "Every picture is there and can be read.",
        Check.FORMAT: "Every picture is 8-bit grey, and nothing in its file bends the values.",
        Check.SIZE: "Every picture has the size of its canvas.",
        Check.RESOLUTION: "Every picture says how many pixels make an inch.",
        Check.VALUES: "In every picture black is 0 and full ink 255.",
        Check.EDGE: "Ink stays clear of the canvas edge.",
        Check.POSITION: f"Rules keep their exact lines: their mean place and their slope to {px} "
        f"and what rough edges add by chance.",
        Check.WIDTH: f"Rules keep their mean weight to {_percent(bounds.width_share)} and what "
        f"rough edges add by chance, less what dry "
        "paper leaves bare.",
        Check.AREA: f"Blocks have their exact area of ink to {_percent(bounds.area_share)}, less "
        f"what dry paper leaves bare.",
        Check.PLACE: f"Every numeral, word and block lies in its place: each side of its ink "
        f"within {near} of its size, between {least} and {most}.",
        Check.SHIFT: f"The numerals, words or blocks of a stamp lie in their places together to "
        f"{px} and what the hand adds by chance.",
        Check.OUTSIDE: "There is no ink outside the cells and blocks.",
        Check.REGISTER: "Cells, rules and blocks of a format lie exactly over each other, and no "
        "numeral or word runs into a rule.",
    }
    return sentences[check]


def _nearest_to_bound(found: Sequence[Finding]) -> str:
    """How many stamps hold, and which comes nearest to its bound, if that can be measured."""
    n_stamps = number_of_things(len({one.stamp for one in found}), "stamp")
    worst = max(found, key=lambda one: one.share)
    if worst.share < _WORTH_SAYING:
        return f"({n_stamps})"
    return f"({n_stamps}; nearest to its bound is {worst.stamp}: {worst.sentence})"


def _lines_on_failure(check: Check, found: Sequence[Finding], *, bounds: Bounds) -> Iterator[str]:
    """A bound that doesn't hold everywhere, and each stamp's worst."""
    faults = [one for one in found if not one.holds]
    worst: dict[str, list[Finding]] = {}
    for fault in faults:
        worst.setdefault(fault.stamp, []).append(fault)
    looked = len({one.stamp for one in found})
    of_all = f"{len(worst)} of {number_of_things(looked, 'stamp')}"
    yield from _bullet_lines(f"{bound_sentence(check, bounds)} Not so in {of_all}:")
    for name, own in sorted(worst.items(), key=lambda pair: -_largest_excess(pair[1])):
        shown = own[:_MOST_NAMES] if check in _DIFFERENCES else [max(own, key=_excess_of_fault)]
        more = f"; and {len(own) - len(shown)} more" if len(own) > len(shown) else ""
        text = f"{name}: {'; '.join(one.sentence for one in shown)}{more}"
        yield from textwrap.wrap(
            text, _WIDTH, initial_indent="  ", subsequent_indent="    ", break_on_hyphens=False
        )


def _largest_excess(faults: Sequence[Finding]) -> float:
    return max(map(_excess_of_fault, faults))


def _excess_of_fault(fault: Finding) -> float:
    """How far a fault is out of its bound; what could not be measured is as far as can be."""
    return math.inf if math.isnan(fault.share) else fault.share


def _lines_on_unjudged(proof: KitProof) -> Iterator[str]:
    """What was not judged, by reason."""
    reasons: dict[str, list[str]] = {}
    for one in proof.unjudged:
        reasons.setdefault(one.sentence, []).append(one.stamp)
    if proof.retouched:
        yield (
            "Retouched by hand since, and judged only by what no hand can mean: "
            f"{names_in_words(proof.retouched, most=_MOST_NAMES)}."
        )
    for stamp in dict.fromkeys(one.stamp for one in proof.retouches):
        said = [one.sentence for one in proof.retouches if one.stamp == stamp]
        more = f"; and {len(said) - _MOST_NAMES} more" if len(said) > _MOST_NAMES else ""
        yield from _bullet_lines(f"{stamp}: {'; '.join(said[:_MOST_NAMES])}{more}.")
    if proof.strangers:
        files = names_in_words(proof.strangers, most=_MOST_NAMES)
        yield from textwrap.wrap(f"No part of the kit, and not looked at: {files}.", _WIDTH)
    if reasons:
        yield "Not judged:"
    for sentence, names in reasons.items():
        yield from _bullet_lines(f"{names_in_words(names, most=_MOST_NAMES)}: {sentence}.")


def _bullet_lines(text: str) -> list[str]:
    return textwrap.wrap(
        text, _WIDTH, initial_indent="- ", subsequent_indent="  ", break_on_hyphens=False
    )


def _percent(share: float) -> str:
    return f"{100.0 * share:g} %"

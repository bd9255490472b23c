"""Does one order in a process of its own and tells of it, a line of JSON for each step.

Run as `python -m inkline.desk.making ORDER`, an order as JSON. What is made is what the command
line makes, to the byte; an interrupt stops it, and the next run goes on from there.
"""

from __future__ import annotations

import json
import signal
import sys
from collections.abc import Callable, Iterable, Mapping, Sequence
from pathlib import Path
from types import MappingProxyType
from typing import Any

from inkline.delivery.beside import files_beside
from inkline.errors import InklineError, Remedy
from inkline.folder.disk import write_whole
from inkline.folder.kept import Foreign
from inkline.kit.build import build_all, proof_of_drawn
from inkline.kit.requests import kit_requests, named_recipes, refuse_unfinished
from inkline.press.redrawn import redrawn_stamp
from inkline.press.report import Report
from inkline.progress import Note, Step


def _main() -> int:
    """Do the order; 0, or 1 where something could not be done."""
    signal.signal(signal.SIGTERM, signal.getsignal(signal.SIGINT))
    order = json.loads(sys.argv[1])
    try:
        _DOERS[order.pop("what")](order)
    except InklineError as error:
        _tell(kind="refused", sentence=str(error), remedies=_remedies(error.remedies))
        return 1
    except KeyboardInterrupt:
        _tell(kind="stopped")
        return 1
    _tell(kind="done")
    return 0


def _make_kits(order: Mapping[str, Any]) -> None:
    """The kits of a recipe, or new editions of them."""
    since = order.get("since")
    requests = kit_requests(
        named_recipes([Path(order["recipe"])], kit=None),
        Path(order["folder"]),
        since=None if since is None else Path(since),
    )
    foreign = Foreign.LEAVE if order.get("all_the_same") else Foreign.REFUSE
    wishes = {wish: order.get(wish, ()) for wish in ("redraw", "spread")}
    for report in build_all(requests, **wishes, foreign=foreign, listener=_tell_step):
        beside = files_beside(report, partial=False, listener=_tell_step)
        proof = proof_of_drawn(report) if report.drawn else None
        faults = [] if proof is None else sorted({fault.stamp for fault in proof.faults})
        _tell_report(report, _all_notes(report, beside), faults)


def _draw_artwork(order: Mapping[str, Any]) -> None:
    """The artwork that a recipe names."""
    from inkline.finishing.product import finish  # noqa: PLC0415 - slow to import
    from inkline.finishing.recipe import request_from_recipe  # noqa: PLC0415

    report, _ = finish(
        request_from_recipe(Path(order["recipe"]), kit=order["kit"]),
        Path(order["folder"]),
        redraw=order.get("redraw", ()),
        foreign=Foreign.LEAVE if order.get("all_the_same") else Foreign.REFUSE,
        listener=_tell_step,
    )
    beside = files_beside(report, partial=False, listener=_tell_step)
    _tell_report(report, _all_notes(report, beside), [])


def _all_notes(report: Report, beside: Report | None) -> tuple[Note, ...]:
    """The notes of what was made, and of files for others beside it."""
    return report.notes if beside is None else (*report.notes, *beside.notes)


def _tell_report(report: Report, notes: Sequence[Note], faults: Sequence[str]) -> None:
    _tell(
        kind="kit",
        folder=report.folder.name,
        drawn=len(report.drawn),
        unchanged=len(report.unchanged),
        kept=list(report.hers),
        moved=list(report.moved),
        notes=[{"sentence": note.sentence, "remedies": _remedies(note.remedies)} for note in notes],
        faults=list(faults),
        changes=[]
        if report.changes is None
        else [f"{count} {words}" for count, words in report.changes.counts()],
    )


def _prove(order: Mapping[str, Any]) -> None:
    """The proof of a kit, and a page that shows it."""
    from inkline.proof.kit_proof import kit_to_show, prove_kit  # noqa: PLC0415 - slow to import
    from inkline.proof.report import proof_html  # noqa: PLC0415

    folder = Path(order["kit"])
    refuse_unfinished(folder)
    proof = prove_kit(folder, drawer=redrawn_stamp)
    kit = kit_to_show(folder, drawer=redrawn_stamp)
    lines = [f"{one.stamp}: {one.sentence}" for one in proof.faults]
    lines += [f"{one.stamp}: {one.sentence}" for one in proof.retouches]
    page = proof_html(
        proof,
        title=f"{kit.title}: proof",
        lines=lines or ["All that was measured is within its bounds."],
        entries=kit.entries,
        pictures=kit.picture_of,
        figures=kit.figures,
    )
    write_whole(Path(order["page"]), page.encode())
    _tell(
        kind="proof",
        stamps=proof.n_stamps,
        measured=proof.n_measured,
        faults=sorted({fault.stamp for fault in proof.faults}),
        retouched=list(proof.retouched),
    )


def _make_shop(order: Mapping[str, Any]) -> None:
    """The pictures that sell a kit."""
    from inkline.shop.product import ShopRequest, make_shop  # noqa: PLC0415 - slow to import

    font = order.get("font")
    request = ShopRequest(kit=Path(order["kit"]), font=None if font is None else Path(font))
    report = make_shop(request, Path(order["folder"]), listener=_tell_step)
    files = (*report.files_made, *report.files_unchanged, *report.files_kept)
    _tell(kind="shop", folder=report.folder.name, files=sorted(files))


_DOERS: Mapping[str, Callable[[Mapping[str, Any]], None]] = MappingProxyType(
    {"kit": _make_kits, "artwork": _draw_artwork, "prove": _prove, "shop": _make_shop}
)


def _remedies(remedies: Iterable[Remedy]) -> list[dict[str, str]]:
    return [{"action": one.action.value, "subject": one.subject} for one in remedies]


def _tell_step(step: Step) -> None:
    _tell(kind="step", name=step.name, done=step.done, total=step.total)


def _tell(**news: Any) -> None:
    sys.stdout.write(f"{json.dumps(news)}\n")
    sys.stdout.flush()


if __name__ == "__main__":
    sys.exit(_main())

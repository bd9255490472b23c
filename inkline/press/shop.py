"""Drawing the stamps of one kit: what every process of a build has open, and what it does for one stamp.

A process opens its workshop from the recipe, a small value that can be sent to it: plans and faces
are made again where they are used and never travel.
"""

from __future__ import annotations

from dataclasses import asdict, dataclass, replace
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from inkline.drawing import Drawing
from inkline.errors import InputError
from inkline.folder.disk import sha256
from inkline.folder.kept import masters_file
from inkline.folder.manifest import FileSum, StampEntry, StyleSum, plain_values
from inkline.ink.engine import draw
from inkline.ink.master import Master, arrays_from_masters, masters_from_arrays
from inkline.ink.style import EXACT, Style
from inkline.kit.letters import face_of
from inkline.kit.product import catalogue
from inkline.kit.recipe.model import Recipe
from inkline.kit.stamps.file_names import plans_with_files
from inkline.kit.stamps.plan import StampPlan
from inkline.lettering.face import Face
from inkline.lettering.licence import origin_of
from inkline.output.png import png_bytes
from inkline.press.inputs import again_in, drawing_digest, style_digest
from inkline.press.masters import arrays_from_npz, npz_bytes
from inkline.raster.compose import render

_SHARING = frozenset({"dates", "blocks"})
"""Kinds of stamps that have drawings in common with others of their format; what was drawn for one
is at hand for the next."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """One stamp to draw; `masters` is the file of what was drawn before, or None to draw all of it anew."""

    name: str
    masters: Path | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """One drawn stamp, ready to be put in its place.

    Attributes:
        entry: for the manifest.
        picture: the PNG file.
        masters: the file of its masters, to be put at `entry.masters.file`.
        n_drawn: how many strokes and shapes were drawn, for this stamp or just before for another
            that has them too, the rest having been kept.
        note: what the user should know, or "".
    """

    entry: StampEntry
    picture: bytes
    masters: bytes
    n_drawn: int
    note: str


class Workshop:
    """The opened recipe: its letters, style and plans.

    Attributes:
        recipe: what it was opened for.
        face: the letters.
        style: the ink.
        plans: every stamp of the kit by name, in the order of the catalogue.
    """

    def __init__(self, recipe: Recipe) -> None:
        """Open what `recipe` names: its font if it names one, else its stroke family.

        Raises:
            InputError: a font, a family or the layout itself cannot be used.
        """
        self.recipe = recipe
        self.face: Face = face_of(recipe)
        self.style = recipe.style
        self._lent: dict[str, Master] = {}
        self.plans: dict[str, StampPlan] = {
            plan.name: plan for plan in plans_with_files(recipe, catalogue(recipe, self.face))
        }

    def inputs(self, name: str) -> str:
        """The digest of what the picture of the stamp `name` depends on."""
        return self._digest(self.plans[name].drawing())

    def style_for(self, name: str) -> Style:
        """The style that the stamp `name` is drawn in: the kit's, calmed at the edge where its numerals are cut for small use, or none."""
        plan = self.plans[name]
        return (
            replace(EXACT, drawn_at=self.style.drawn_at)
            if plan.crisp
            else self._calmed(plan.raggedness)
        )

    def cut_style_for(self, name: str) -> Style | None:
        """The style that what is cut out of the stamp `name` is drawn in: that of its own stamp, whatever the edge of what it is cut from."""
        cut = self.plans[name].cut
        return None if cut is None else self._calmed(cut.raggedness)

    def _calmed(self, share: float) -> Style:
        """The kit's style with a share of its raggedness."""
        if share == 1.0:
            return self.style
        return replace(
            self.style, edge=replace(self.style.edge, raggedness=self.style.edge.raggedness * share)
        )

    def _digest(self, drawing: Drawing) -> str:
        recipe, style, cut_style = (
            self.recipe,
            self.style_for(drawing.name).to_dict(),
            self.cut_style_for(drawing.name),
        )
        if cut_style is not None:
            style["cut"] = cut_style.to_dict()
        return drawing_digest(
            drawing, number=recipe.number, again=recipe.again, style=style, ppi=recipe.ppi
        )

    def asked_again(self, name: str) -> bool:
        """Whether the recipe asks for another drawing of the stamp `name` or of something on it."""
        again = self.recipe.again
        return bool(again) and bool(again_in(self.plans[name].drawing(), again))

    def layout_entry(self, name: str) -> StampEntry:
        """The entry of the stamp `name` without checksums: its kind, canvas and exact geometry, and this kit's number and style."""
        plan = self.plans[name]
        return StampEntry(
            name=name,
            file=plan.file,
            sha256="",
            kind=str(plan.kind),
            format=plan.format,
            canvas=plan.canvas,
            number=self.recipe.number,
            style=StyleSum(name=self.style.name, digest=style_digest(self.style.to_dict())),
            inputs="",
            masters=None,
            geometry=plain_values(plan.geometry()),
        )

    def drawn(self, job: Job) -> Drawn:
        """The stamp `job.name`, drawn; strokes whose masters are kept are not drawn again."""
        recipe = self.recipe
        kept, note = _kept_masters(job.masters)
        drawing, shared = self.plans[job.name].drawing(), self.plans[job.name].kind in _SHARING
        inked = draw(
            drawing,
            self.style_for(job.name),
            recipe.number,
            again=recipe.again,
            kept=self._lent | kept if shared else kept,
            cut_style=self.cut_style_for(job.name),
        )
        new = {master.key: master for master in inked.masters if master.key not in kept}
        if shared:
            self._lent |= new
        picture = png_bytes(render(inked), ppi=recipe.ppi)
        masters = npz_bytes(arrays_from_masters(inked.masters))
        entry = replace(
            self.layout_entry(job.name),
            sha256=sha256(picture),
            inputs=self._digest(drawing),
            masters=FileSum(file=masters_file(job.name), sha256=sha256(masters)),
        )
        return Drawn(entry=entry, picture=picture, masters=masters, n_drawn=len(new), note=note)

    def cost(self, name: str) -> float:
        """A guess at how long the stamp `name` takes, for drawing the long ones first: its area."""
        width, height = self.plans[name].canvas
        return float(width * height)


def _kept_masters(path: Path | None) -> tuple[dict[str, Master], str]:
    """The masters in the file at `path`, none where there are none, and a note if they could not be used."""
    if path is None or not path.exists():
        return {}, ""
    try:
        arrays: dict[str, NDArray[np.generic]] = arrays_from_npz(path.read_bytes(), where=path.name)
        return dict(masters_from_arrays(arrays)), ""
    except (InputError, OSError, KeyError, IndexError, TypeError, ValueError):
        return (
            {},
            (
                f"The masters in {path} could not be used, since the file is damaged; they were "
                f"drawn again."
            ),
        )


def about_kit(shop: Workshop, versions: dict[str, str]) -> dict[str, Any]:
    """What stands at the top of the manifest."""
    recipe = shop.recipe
    style = shop.style.to_dict()
    return {
        "title": recipe.title,
        "ppi": recipe.ppi,
        "safe_px": recipe.px(recipe.safe),
        "number": recipe.number,
        "style": {"name": shop.style.name, "digest": style_digest(style), "values": style},
        "lettering": shop.face.name,
        "letters": {key: value for key, value in asdict(origin_of(shop.face)).items() if value},
        "versions": versions,
    }

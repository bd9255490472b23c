"""The smallest of products: lines, each in two files, and a list of them.

In a module of its own, so that other processes find it.
"""

from dataclasses import dataclass

import numpy as np

from inkline.drawing import Cap, Drawing, Layer, Role, Stroke
from inkline.folder.manifest import SectionForm
from inkline.folder.strangers import Kind
from inkline.ink.engine import draw
from inkline.ink.inked import united_contours
from inkline.ink.style import EXACT
from inkline.output.png import png_bytes
from inkline.press.inputs import sheet_digest
from inkline.press.product import Made, Piece, Product, by_name
from inkline.raster.compose import render


@dataclass(frozen=True, eq=False, kw_only=True)
class Line(Piece):
    slope: float

    def inputs(self, form, _folder, _there):
        return sheet_digest(1, form, self.slope)

    def make(self, forms, bench):
        inked = draw(drawing(self.name, self.slope), EXACT, 7, kept=bench.kept)
        picture, points = png_bytes(render(inked), ppi=72.0), united_contours(inked)
        files = {"png": picture, "txt": repr([one.tolist() for one in points]).encode()}
        return Made(files={form: files[form] for form in forms}, masters=tuple(inked.masters))


def drawing(name, slope):
    points = np.array([[5.0, 20.0], [35.0, 20.0 + 10.0 * slope]])
    stroke = Stroke(
        name=name,
        group=name,
        role=Role.RULE,
        points=points,
        width_px=4.0,
        cap=Cap.ROUND,
        origin=(5.0, 20.0),
    )
    layers = (Layer(name="lines", marks=(stroke,)),)
    return Drawing(name=name, canvas=(40, 40), sheet_px=40.0, layers=layers)


@dataclass(frozen=True, eq=False, kw_only=True)
class List(Piece):
    pictures: dict[str, str]

    def inputs(self, _form, folder, there):
        return sheet_digest(1, [(name, folder.sum_of(self.pictures[name])) for name in there])

    def make(self, forms, bench):
        sizes = [len((bench.folder / self.pictures[name]).read_bytes()) for name in bench.there]
        return Made(files={form: repr(sizes).encode() for form in forms})


@dataclass(frozen=True, eq=False, kw_only=True)
class Lines(Product):
    def head(self):
        return {"title": "Lines", "number": 7}

    def changes_text(self, changes):
        return f"redrawn: {', '.join(changes.redrawn)}"


@dataclass(frozen=True, kw_only=True)
class LinesOrder:
    slopes: tuple[float, ...] = (0.0, 0.5, 1.0)
    forms: tuple[str, ...] = ("png", "txt")
    pattern: str = "{}"

    def open(self):
        names = [f"line-{index + 1}" for index in range(len(self.slopes))]
        lines = [
            Line(
                name=name,
                files={form: f"{self.pattern.format(name)}.{form}" for form in self.forms},
                canvas=(40, 40),
                slope=slope,
            )
            for name, slope in zip(names, self.slopes, strict=True)
        ]
        pictures = {line.name: line.files["png"] for line in lines}
        files = {"txt": "list.txt"}
        listed = List(name="list", files=files, needs=tuple(names), pictures=pictures)
        return Lines(
            pieces=by_name([*lines, listed]),
            kind=Kind(form=SectionForm(format="lines", noun="set of lines")),
            number=7,
            changes_file="changes.txt",
        )

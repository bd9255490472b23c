"""The paper: its tooth takes ink only where enough of it is pressed in. Lengths in mm.

The tooth is a height field of two feature sizes, made once as a periodic tile and looked up
wherever ink lies. A stroke keeps a `Tooth`: where in the field it lies, its threshold, and how much
ink lay along it; the raster turns that into a mask.
"""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from inkline.geometry.arrays import Floats, Points
from inkline.geometry.polygon import bounds, total_area
from inkline.geometry.polyline import arc_lengths, tangents
from inkline.ink.media.field import SAMPLE_MM, MediumField
from inkline.ink.media.fields import field_over
from inkline.ink.media.fills import Passes
from inkline.ink.media.grain import Grain, PaperPlace
from inkline.ink.media.kept import keep_field
from inkline.ink.media.lattice import inside_contours
from inkline.ink.media.law import level_that_leaves
from inkline.ink.media.medium import NO_RIM_MM, Medium
from inkline.ink.media.nearest import nearest_indices
from inkline.ink.media.paper_values import Paper

# The tile has this many samples a side and six of them to each of its smaller features.
_TILE_SAMPLES = 512
_SAMPLES_PER_FEATURE = 6.0
# Relative width of the band of wave lengths about each feature size.
_BAND = 0.45
# The threshold of a stroke is found on about this many places of it.
_N_PROBES = 4500
# The threshold is sought this far either side of the tooth's mean, in its standard deviations, to
# 2^-30 of that.
_LARGEST_FIELD, _BISECTIONS = 12.0, 30
# The longest streaks are this many times as long again as the tooth's features.
_LONGEST_STREAK = 9.0
# A medium's level is found on a place every so many mm, but on no fewer and no more than these.
_PROBE_MM, _FEWEST_PROBES, _MOST_PROBES = 0.02, 1500, 9000
# By so much of a square are the probes of a row and a column shifted against the next.
_ROW_SHIFT, _COLUMN_SHIFT = 0.7549, 0.5698
# A mark's own slow noise is read anywhere within this.
_OWN_REACH_MM = 5000.0


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Tooth:
    """What the raster needs to know of the paper under one mark, in mm about the mark's origin.

    Attributes:
        sizes: the two feature sizes, larger first.
        fine_share: weight of the smaller one, 0 to 1.
        place: where in the field the mark's origin lies, and by what angle it is turned: `(x, y,
            angle)`.
        threshold: the tooth is bare where its height less the ink's level exceeds this.
        softness: how far about the threshold ink gives way gradually.
        spine: points along the mark, `(k, 2)`.
        levels: level of ink at each of them, `(k,)`, 0 for a middling one.
        halves: half width at each of them, `(k,)`; of no effect where the spine is a single point.
        streaks: how far bare places stretch along the spine, 0 to 1.
        rim: how much the level falls from the spine to the rim.
    """

    sizes: tuple[float, float]
    fine_share: float
    place: tuple[float, float, float]
    threshold: float
    softness: float
    spine: Points
    levels: Floats
    halves: Floats
    streaks: float
    rim: float


def tooth_mask(tooth: Tooth, places: Points) -> Floats:
    """Share of ink that stays at `places`: 0 bare to 1 full, `(n,)`.

    They are `(n, 2)` in mm about the mark's origin.
    """
    return _kept_share(_excess(tooth, places), tooth.threshold, tooth.softness)


def _excess(tooth: Tooth, places: Points) -> Floats:
    """Height of the tooth above the ink's level at `places`."""
    if len(tooth.spine) == 1:
        return np.asarray(_tooth_heights(tooth, places) - tooth.levels[0])
    nearest = nearest_indices(tooth.spine, places)
    ahead = tangents(tooth.spine)[nearest]
    apart = places - tooth.spine[nearest]
    lengths = arc_lengths(tooth.spine)
    along = lengths[nearest] + (apart * ahead).sum(axis=1)
    levels = np.interp(along, lengths, tooth.levels)
    if tooth.streaks == 0.0 and tooth.rim == 0.0:
        return np.asarray(_tooth_heights(tooth, places) - levels)
    aside = ahead[:, 0] * apart[:, 1] - ahead[:, 1] * apart[:, 0]
    halves = np.interp(along, lengths, np.minimum(tooth.halves, NO_RIM_MM))
    levels = levels - tooth.rim * np.minimum((aside / np.maximum(halves, 1e-9)) ** 2, 1.5)
    if tooth.streaks > 0.0:
        places = np.column_stack((along / (1.0 + _LONGEST_STREAK * tooth.streaks), aside))
    return np.asarray(_tooth_heights(tooth, places) - levels)


def _tooth_heights(tooth: Tooth, places: Points) -> Floats:
    """Height of the paper's tooth at `places`, unit variance.

    By bilinear look-up in the periodic tile.
    """
    tile, step = _tile(tooth.sizes, tooth.fine_share)
    x0, y0, angle = tooth.place
    cos, sin = np.cos(angle), np.sin(angle)
    u = (places[:, 0] * cos - places[:, 1] * sin) / step + x0
    v = (places[:, 0] * sin + places[:, 1] * cos) / step + y0
    column, row = np.floor(u).astype(np.intp), np.floor(v).astype(np.intp)
    fu, fv = u - column, v - row
    c0, c1 = column % _TILE_SAMPLES, (column + 1) % _TILE_SAMPLES
    r0, r1 = row % _TILE_SAMPLES, (row + 1) % _TILE_SAMPLES
    upper = tile[r0, c0] * (1.0 - fu) + tile[r0, c1] * fu
    lower = tile[r1, c0] * (1.0 - fu) + tile[r1, c1] * fu
    return np.asarray(upper * (1.0 - fv) + lower * fv)


def drawn_tooth_place(generator: np.random.Generator) -> tuple[float, float, float]:
    """Three even numbers from 0 to 1, by which a mark's tooth is placed.

    To be drawn before all else from the stream of the mark's paper.
    """
    x, y, turn = generator.random(3)
    return float(x), float(y), float(turn)


def pressed_tooth(
    paper: Paper,
    draws: tuple[float, float, float],
    sheet: PaperPlace,
    *,
    contours: tuple[Points, ...],
    spine: Points,
    levels: Floats,
    halves: Floats,
    fills: bool = False,
) -> Tooth | Medium | None:
    """What the paper or the medium does under one mark, of which `paper.dryness` stays bare.

    A threshold sees to that; `None` where nothing stays bare.

    Args:
        paper: the paper.
        draws: from `drawn_tooth_place`.
        sheet: where on its sheet of paper the mark lies.
        contours: the mark's outlines as its master keeps them.
        spine: points along the mark, mm.
        levels: level of ink at each, from `flow`.
        halves: half width at each.
        fills: whether the mark is a shape that the hand fills.
    """
    if paper.dryness == 0.0:
        return None
    if paper.medium != "patches":
        return _medium(paper, sheet, draws, contours, spine, levels, halves, fills=fills)
    place = (draws[0] * _TILE_SAMPLES, draws[1] * _TILE_SAMPLES, draws[2] * 2.0 * np.pi)
    open_tooth = Tooth(
        sizes=(paper.tooth, paper.fine_tooth),
        fine_share=paper.fine_share,
        place=place,
        threshold=0.0,
        softness=max(paper.softness, 1e-6),
        spine=spine,
        levels=levels,
        halves=halves,
        streaks=paper.streaks,
        rim=paper.rim,
    )
    threshold = _threshold(
        _excess(open_tooth, _area_probes(contours)), paper.dryness, open_tooth.softness
    )
    return dataclasses.replace(open_tooth, threshold=threshold)


def _medium(
    paper: Paper,
    sheet: PaperPlace,
    draws: tuple[float, float, float],
    contours: tuple[Points, ...],
    spine: Points,
    levels: Floats,
    halves: Floats,
    *,
    fills: bool,
) -> Medium:
    """The medium of one mark at its level; `draws` place its own slow noise."""
    own = PaperPlace(
        x=draws[0] * _OWN_REACH_MM, y=draws[1] * _OWN_REACH_MM, angle=draws[2] * 2.0 * np.pi
    )
    passes = Passes(
        width=paper.fill_width, angle=np.deg2rad(paper.fill_angle), strength=paper.fill_play
    )
    medium = Medium(
        kind=paper.medium,
        grain=Grain(finest=paper.grain, coarsest=paper.coarsest, fall=paper.grain_fall),
        paper=sheet,
        own=own,
        level=0.0,
        softness=max(paper.softness, 1e-3),
        body=paper.body,
        falloff=paper.falloff,
        play=paper.play,
        play_length=paper.play_length,
        rim=paper.rim,
        granulation=paper.granulation,
        bloom=paper.bloom,
        overlap=paper.overlap,
        passes=passes if fills and paper.fill == "passes" else None,
        smear=paper.smear,
        build_up=paper.build_up,
        merging=paper.merging,
        firm_ends=paper.firm_ends,
        is_crisp=True,
        by_deviates=True,
        in_arms=True,
        spine=spine,
        levels=levels,
        halves=np.minimum(halves, NO_RIM_MM),
    )
    return _levelled(medium, contours, dryness=paper.dryness)


def _area_probes(contours: tuple[Points, ...]) -> Points:
    """Places on an even lattice inside `contours` (even-odd), `(m, 2)`.

    About `_N_PROBES` and at least one.

    A lattice on the drawn contours and not lanes along the stroke: tips, rims and the two sides of
    a bowl each count for their area.
    """
    x0, y0, x1, y1 = bounds(contours)
    side = float(np.sqrt(max(abs(total_area(contours)), 1e-9) / _N_PROBES))
    xs, ys = np.arange(x0 + side / 2, x1, side), np.arange(y0 + side / 2, y1, side)
    rows, columns = np.nonzero(inside_contours(contours, xs, ys))
    places = np.column_stack((xs[columns], ys[rows]))
    return places if len(places) else np.array([[0.5 * (x0 + x1), 0.5 * (y0 + y1)]])


def _kept_share(heights: Floats, threshold: float, softness: float) -> Floats:
    """Share of ink that stays where the tooth stands `heights` above the ink's level."""
    return np.clip(0.5 - (heights - threshold) / softness, 0.0, 1.0)


def _threshold(heights: Floats, dryness: float, softness: float) -> float:
    """The threshold at which `dryness` of the places are bare, by bisection."""
    return level_that_leaves(
        dryness,
        lambda threshold: _kept_share(heights, threshold, softness),
        between=(-_LARGEST_FIELD, _LARGEST_FIELD),
        n_halvings=_BISECTIONS,
    )


@lru_cache(maxsize=8)
def _tile(sizes: tuple[float, float], fine_share: float) -> tuple[Floats, float]:
    """The periodic tile of heights, unit variance, and its step in mm."""
    step = min(sizes) / _SAMPLES_PER_FEATURE
    frequency = np.hypot(*np.meshgrid(*(np.fft.fftfreq(_TILE_SAMPLES, d=step),) * 2))
    generator = np.random.Generator(np.random.PCG64(1))
    tile = np.zeros((_TILE_SAMPLES, _TILE_SAMPLES))
    for size, weight in zip(sizes, (1.0 - fine_share, fine_share), strict=True):
        white = generator.standard_normal(tile.shape)
        centre = 0.5 / size
        band = np.exp(-0.5 * ((frequency - centre) / (_BAND * centre)) ** 2)
        layer = np.fft.ifft2(np.fft.fft2(white) * band).real
        tile += weight * layer / layer.std()
    tile = (tile - tile.mean()) / tile.std()
    tile.setflags(write=False)
    return tile, step


def _levelled(medium: Medium, contours: tuple[Points, ...], *, dryness: float) -> Medium:
    """`medium` at the level at which `dryness` of the ink inside `contours` is missing.

    Its field is kept, since most marks are filled as soon as they are drawn.
    """
    area = abs(total_area(contours))
    n_probes = int(np.clip(area / _PROBE_MM**2, _FEWEST_PROBES, _MOST_PROBES))
    field = field_over(medium, contours)
    side = float(np.sqrt(max(area, 1e-9) / n_probes))
    level = field.level_for(dryness, _probes(field, side), pixel_mm=SAMPLE_MM)
    levelled = dataclasses.replace(medium, level=level)
    keep_field(field, levelled)
    return levelled


def _probes(field: MediumField, side: float) -> Points:
    """Places inside the mark, one in each square of `side`, and at least one.

    Those of each row and column are shifted against their neighbours', so that no stroke and no
    bristle runs along them.
    """
    lattice = field.lattice
    width, height = ((n - 3) * lattice.step for n in (lattice.shape[1], lattice.shape[0]))
    columns, rows = np.arange(int(width / side) + 2.0), np.arange(int(height / side) + 2.0)
    beside = np.add.outer((_ROW_SHIFT * rows) % 1.0, columns).reshape(-1)
    below = np.add.outer(rows, (_COLUMN_SHIFT * columns) % 1.0).reshape(-1)
    x, y = (
        steps * side + (corner + (lattice.step - side))
        for steps, corner in zip((beside, below), lattice.corner, strict=True)
    )
    reading = lattice.reading_between(x, y)
    near = np.flatnonzero(lattice.cells_above(field.depths, 0.0).take(reading.first))
    inside = near[reading.part(near).read(field.depths) > 0.0]
    if not len(inside):
        inside = np.array([int(np.argmax(reading.read(field.depths)))])
    return np.column_stack((x.take(inside), y.take(inside)))

"""A block made of a drawing: closed outlines become panels of few cubics with named edges."""

from __future__ import annotations

import itertools
import re
from collections.abc import Sequence
from pathlib import Path
from typing import NoReturn

import numpy as np
import shapely

from studio import numbers
from studio.block.imported import drawn_edge, outline_of, turned_panel
from studio.curves import Cubic, Point, Vector, tolerance, turn_between
from studio.curves.fit import CORNER_DEGREES, corners, fitted
from studio.design.block import DrawnPanel, ImportedBlock
from studio.errors import BadInput, GeometryRefused
from studio.exchange.drawing_in import grain_lines, grain_turn, strokes_from
from studio.exchange.drawn_darts import with_drawn_darts
from studio.exchange.dxf_entities import Stroke
from studio.exchange.left_out import LeftOut, told
from studio.exchange.loose_ends import closed_loops

LEAST_AREA_MM2 = 1000.0
"""A closed outline smaller than this is a hole or a mark, not a panel."""

LEAST_SIZE_MM, MOST_SIZE_MM = 200.0, 2000.0
"""Between these lies the longer side of the largest panel of a garment (practice)."""

LEAST_TURN = 0.05
"""A grain line that is upright within this many degrees needs no turning: over the length of a leg
that is less than a millimetre.
"""

_LEVEL_MM = 0.5
"""Corners whose heights agree to this are equally low, whatever the noise says."""

_ROUNDED_MM = 0.005
"""Points of a straight line that a file keeps to two decimals lie this near to it."""

_DIGITISED_FROM = 8
_DIGITISED_STEP_MM = 15.0
"""That many straight steps in a row, each shorter than this, are points of a digitised curve."""


def read_drawing(path: Path | str, unit: str | None = None) -> ImportedBlock:
    """The closed outlines of a DXF or SVG file as panels; the rest listed with its reason.

    Lines and arcs are taken exactly (arcs within 1e-7 mm), digitised points fitted within 0.05 mm.
    A panel with a grain line is turned until that stands upright; darts drawn as two lines become
    darts. `unit` (mm, cm, m, inch, foot) goes before the file's own.

    Raises:
        BadInput: the file cannot be read, has no unit and none was given, or no closed outline.
    """
    strokes, left_out = strokes_from(Path(path), unit)
    loops, loose, notes = closed_loops(strokes)
    refused: list[LeftOut] = []
    kept = _outermost(loops, refused)
    grains = [grain_lines(loop, strokes) for loop in kept]
    drawn = _made(kept, grains, refused)
    if not drawn:
        _refuse(path, loops, [*refused, *loose, *left_out])
    panels, used = with_drawn_darts([panel for panel, _ in drawn], strokes)
    used |= {id(grain) for within in grains for grain in within}
    if used:
        loose = closed_loops([one for one in strokes if id(one) not in used])[1]
    upright = [_upright(panel, turn, notes) for panel, (_, turn) in zip(panels, drawn, strict=True)]
    notes += strange_size(upright)
    return ImportedBlock(
        tuple(upright), Path(path).name, told([*refused, *loose, *left_out]), tuple(notes)
    )


def strange_size(panels: Sequence[DrawnPanel]) -> list[str]:
    """What is told, as a list of one, when the panels are far smaller or larger than a garment's:
    their unit is likely another.
    """
    width, height = max((_size(panel) for panel in panels), key=max)
    if LEAST_SIZE_MM <= max(width, height) <= MOST_SIZE_MM:
        return []
    size = f"{numbers.length(width)} by {numbers.length(height)}"
    return [f"the largest outline measures {size}; if that is not so, name the drawing's unit"]


def _size(panel: DrawnPanel) -> tuple[float, float]:
    places = [point for edge in panel.edges for cubic in edge.cubics for point in cubic]
    x, y = [place.x for place in places], [place.y for place in places]
    return max(x) - min(x), max(y) - min(y)


def _made(
    loops: list[Stroke], grains: list[list[Stroke]], refused: list[LeftOut]
) -> list[tuple[DrawnPanel, float]]:
    """Panels with the degrees by which each is to be turned."""
    made = []
    for loop, name, within in zip(loops, _panel_names(loops), grains, strict=True):
        try:
            made.append((_panel(loop, name), grain_turn(within)))
        except GeometryRefused as refusal:
            refused.append(LeftOut(loop.what, refusal.message))
    return made


def _upright(panel: DrawnPanel, turn: float, notes: list[str]) -> DrawnPanel:
    if abs(turn) < LEAST_TURN:
        return panel
    way = "left" if turn > 0.0 else "right"
    by = numbers.angle(abs(turn))
    notes.append(f"{panel.name}: turned by {by} to the {way}, its grain line upright")
    return turned_panel(panel, turn)


def _refuse(path: Path | str, loops: list[Stroke], left_out: list[LeftOut]) -> NoReturn:
    why = "; ".join(told(left_out)[:3])
    message = "holds no closed outline that could be a panel" + (f" ({why})." if why else ".")
    if loops:
        box = max((loop.chain.box for loop in loops), key=lambda one: one.width * one.height)
        size = f"{numbers.length(box.width)} by {numbers.length(box.height)}"
        message += f" Its largest measures {size}: is the unit the right one? Else name it."
    raise BadInput(message, path=str(path))


def _outermost(loops: list[Stroke], left_out: list[LeftOut]) -> list[Stroke]:
    """Loops large enough, not crossing themselves and not inside another; the rest is told."""
    sound: list[tuple[Stroke, shapely.Polygon]] = []
    for loop in loops:
        shape = shapely.Polygon(loop.chain.polyline(tolerance.FLAT_MM))
        if not shape.is_valid:
            left_out.append(LeftOut(loop.what, "its outline crosses itself"))
        elif shape.area < LEAST_AREA_MM2:
            left_out.append(LeftOut(loop.what, "too small for a panel"))
        else:
            sound.append((loop, shape))
    sound = _without_cut_lines(sound, left_out)
    kept: list[tuple[Stroke, shapely.Polygon]] = []
    for loop, shape in sound:
        inside = any(
            other is not shape and other.area > shape.area and other.contains(shape)
            for _, other in sound
        )
        twin = any(shape.equals_exact(other, 1e-6) for _, other in kept)
        if inside:
            left_out.append(LeftOut(loop.what, "it lies inside another outline"))
        elif twin:
            left_out.append(LeftOut(loop.what, "it is drawn twice"))
        else:
            kept.append((loop, shape))
    kept.sort(key=lambda pair: (round(pair[1].bounds[0], 3), round(pair[1].bounds[1], 3)))
    return [loop for loop, _ in kept]


def _without_cut_lines(
    sound: list[tuple[Stroke, shapely.Polygon]], left_out: list[LeftOut]
) -> list[tuple[Stroke, shapely.Polygon]]:
    """Without the boundaries that have a sew line within, by the layers of ASTM D6673-10: a block
    is drawn without allowances.
    """
    kept = []
    for loop, shape in sound:
        if loop.layer == "1" and any(
            other.layer == "14" and other.block == loop.block and shape.contains(area)
            for other, area in sound
        ):
            left_out.append(LeftOut(loop.what, "it is a cut line; the sew line in it was taken"))
        else:
            kept.append((loop, shape))
    return kept


def _panel_names(loops: list[Stroke]) -> list[str]:
    """After the block or a telling layer, else panel-1, panel-2...; each once."""
    names: list[str] = []
    for number, loop in enumerate(loops, start=1):
        layer = "" if re.fullmatch(r"[0-9]*|defpoints", loop.layer.lower()) else loop.layer
        wanted = _slug(loop.block or layer) or f"panel-{number}"
        name, again = wanted, 2
        while name in names:
            name, again = f"{wanted}-{again}", again + 1
        names.append(name)
    return names


def _slug(text: str) -> str:
    return re.sub(r"[^a-z0-9]+", "-", text.lower()).strip("-")


def _panel(loop: Stroke, name: str) -> DrawnPanel:
    chain = loop.chain if loop.chain.swept_area() > 0.0 else loop.chain.reversed()
    stretches = _smooth_stretches(_lead_with_corner(list(chain.cubics)))
    start = min(
        range(len(stretches)),
        key=lambda k: (round(stretches[k][0].p0.y / _LEVEL_MM), stretches[k][0].p0.x),
    )
    ordered = stretches[start:] + stretches[:start]
    edges = tuple(
        drawn_edge(f"{name}.edge-{number}", stretch)
        for number, stretch in enumerate(ordered, start=1)
    )
    outline_of(edges)
    return DrawnPanel(name, edges)


def _lead_with_corner(cubics: list[Cubic]) -> list[Cubic]:
    """The closed run started at a place where nothing digitised is cut in two: a corner, or the
    lowest joint when there is none.
    """
    sharp = [k for k in range(len(cubics)) if _sharpness(cubics, k) > CORNER_DEGREES]
    places = sharp or range(len(cubics))
    digitised = _digitised(cubics)
    sound = [k for k in places if not (digitised[k] and digitised[k - 1])] or list(places)
    lowest = min(sound, key=lambda k: (cubics[k].p0.y, cubics[k].p0.x))
    return cubics[lowest:] + cubics[:lowest]


def _sharpness(cubics: list[Cubic], k: int) -> float:
    return abs(turn_between(cubics[k - 1].tangent(1.0), cubics[k].tangent(0.0)))


def _digitised(cubics: list[Cubic]) -> list[bool]:
    """For each cubic, whether it is a step of a digitised curve: many short straight steps."""
    short = [cubic.is_straight and cubic.length < _DIGITISED_STEP_MM for cubic in cubics]
    marks = [False] * len(cubics)
    k = 0
    while k < len(cubics):
        end = k
        while end < len(cubics) and short[end]:
            end += 1
        if end - k >= _DIGITISED_FROM:
            marks[k:end] = [True] * (end - k)
        k = max(end, k + 1)
    return marks


def _smooth_stretches(cubics: list[Cubic]) -> list[list[Cubic]]:
    """The run cut at its corners, digitised parts fitted, straight neighbours in line merged."""
    digitised = _digitised(cubics)
    stretches: list[list[Cubic]] = [[]]
    k = 0
    while k < len(cubics):
        end = k + 1
        while end < len(cubics) and digitised[end] == digitised[k] and digitised[k]:
            end += 1
        parts = _fitted_parts(cubics[k:end], len(cubics)) if digitised[k] else [[cubics[k]]]
        for number, part in enumerate(parts):
            if stretches[-1] and (number > 0 or _turns(stretches[-1][-1], part[0])):
                stretches.append([])
            stretches[-1].extend(part)
        k = end
    if len(stretches) > 1 and not _turns(stretches[-1][-1], stretches[0][0]):
        stretches[0] = stretches.pop() + stretches[0]
    return _welded([_merged(stretch) for stretch in stretches])


def _welded(stretches: list[list[Cubic]]) -> list[list[Cubic]]:
    """Neighbours share one point: fitted ends may lie a line's width apart."""
    ring = [cubic for stretch in stretches for cubic in stretch]
    joints = [
        two.p0 if one.p3 == two.p0 else one.p3.toward(two.p0, 0.5)
        for one, two in zip(ring, (*ring[1:], ring[0]), strict=True)
    ]
    welded = iter(cubic.with_ends(joints[k - 1], joints[k]) for k, cubic in enumerate(ring))
    return [[next(welded) for _ in stretch] for stretch in stretches]


def _turns(one: Cubic, two: Cubic) -> bool:
    return abs(turn_between(one.tangent(1.0), two.tangent(0.0))) > CORNER_DEGREES


def _fitted_parts(steps: list[Cubic], whole: int) -> list[list[Cubic]]:
    """A digitised run as smooth parts between its corners."""
    points = np.array([(c.p0.x, c.p0.y) for c in steps] + [(steps[-1].p3.x, steps[-1].p3.y)])
    closed = len(steps) == whole and bool(np.hypot(*(points[0] - points[-1])) < 1e-9)
    ring = points[:-1] if closed else points
    found = corners(ring, closed=closed)
    if closed and found:
        ring = np.roll(ring, -found[0], axis=0)
        places = [k - found[0] for k in found] + [len(ring)]
        ring = np.vstack([ring, ring[:1]])
    else:
        ring = points
        places = [0, *[k for k in found if 0 < k < len(points) - 1], len(points) - 1]
    return [
        list(fitted(ring[one : two + 1])) for one, two in itertools.pairwise(places) if two > one
    ]


def _merged(stretch: list[Cubic]) -> list[Cubic]:
    """Straight neighbours that lie in line as one straight stretch; so is the whole when it is
    straight but for what a file rounds.
    """
    first, last = stretch[0].p0, stretch[-1].p3
    if len(stretch) > 1 and _is_all_straight(stretch, last - first):
        return [Cubic.straight(first, last)]
    merged: list[Cubic] = []
    run: list[Point] = []
    for cubic in stretch:
        if not cubic.is_straight:
            merged += _straights(run)
            run = []
            merged.append(cubic)
        else:
            run = [*run, cubic.p3] if run else [cubic.p0, cubic.p3]
    return merged + _straights(run)


def _is_all_straight(stretch: list[Cubic], chord: Vector) -> bool:
    """Whether every point of a stretch lies on its chord, one after the other."""
    size = chord.length
    if size <= tolerance.NOTHING_MM:
        return False
    ways = [point - stretch[0].p0 for c in stretch for point in (c.p0, c.p1, c.p2, c.p3)]
    along = [way.dot(chord) / size for way in ways]
    return max(abs(chord.cross(way)) / size for way in ways) <= _ROUNDED_MM and all(
        two >= one - _ROUNDED_MM for one, two in itertools.pairwise(along)
    )


def _straights(points: list[Point]) -> list[Cubic]:
    """As few straight stretches as keep within 1e-6 mm of all the points."""
    if len(points) < 2:
        return []
    kept = [points[0]]
    for k in range(1, len(points) - 1):
        chord = points[k + 1] - kept[-1]
        off = abs(chord.cross(points[k] - kept[-1])) / max(chord.length, 1e-12)
        if off > tolerance.CLOSE_MM:
            kept.append(points[k])
    kept.append(points[-1])
    return [Cubic.straight(one, two) for one, two in itertools.pairwise(kept)]

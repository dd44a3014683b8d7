"""The yoke: what lies above its line, with the darts closed and the long edges redrawn fair;
and what of the darts is left below it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from msgspec.structs import replace

from studio.alter.closing import closing_moves
from studio.alter.opening import rejoined
from studio.block.panel import Dart, Panel
from studio.curves import Affine, Chain, Cubic, Edge, Outline, Point, meetings, tolerance
from studio.curves.fair import faired
from studio.cut.drawn import DrawnLine
from studio.errors import GeometryRefused
from studio.memo import remembered

_TRUED = 3
"""How often the mouths of a yoke's darts are made to fit the band above: each leaves a tenth."""


def darts_closed(face: Outline, panel: Panel, waist: str) -> Outline:
    """A face that holds the waist, its darts turned shut, waist and lower edge redrawn fair.

    A dart that ends inside the face is first drawn on to the face's lower edge. Turning is rigid;
    only the two redrawn edges change in length, by what fairing takes.

    Raises:
        GeometryRefused: the lower edge is not one edge, a dart's legs miss it, or a dart opens on
            another edge of the face.
    """
    for edge in face:
        for dart in darts_within(edge, panel):
            if edge.name != waist:
                raise GeometryRefused(
                    f"{dart.name} opens on {edge.name}, beside the yoke's other darts: move it "
                    "to the waist, or below the yoke.",
                    where=dart.name,
                )
    outline = face.starting_with(waist)
    top = outline.edges[0]
    darts = darts_within(top, panel)
    if not darts:
        return face
    if len(outline.edges) != 4:
        raise GeometryRefused(
            "A yoke runs from rise to side: it has a waist, two ends and one lower edge."
        )
    _, far_end, low, near_end = outline.edges
    reaching = [_reaching(dart, low.chain) for dart in darts]
    darts = tuple([dart for dart, _, _ in reaching])
    moves = closing_moves(darts)
    # The lower edge runs the other way.
    gaps = [(last, first) for _, first, last in reversed(reaching)]
    low_chain = _turned_and_faired(_stretches(low.chain, gaps), moves[::-1])
    edges = [
        top.redrawn(upper(top.chain, darts)),
        far_end.transformed(moves[-1]),
        low.redrawn(low_chain),
        near_end,
    ]
    return Outline.of(rejoined(edges))


def even_band(
    face: Outline, line: DrawnLine, waist: str, above: DrawnLine | None = None
) -> Outline | None:
    """A face between the waist, or the line `above` along which another band was cut off, and a
    line that keeps its distance from the waist, its darts shut, its long edges exactly as far apart
    as asked; None when the lines keep none, or the face is not all of that.
    """
    shut = line.shut
    if shut is None or len(face.edges) != 4:
        return None
    upper_edge, upper_name = shut.top, waist
    if above is not None:
        if above.shut is None or above.shut.darts != shut.darts:
            return None
        upper_edge, upper_name = above.shut.low, above.name
    if not face.has(upper_name):
        return None
    top, far_end, low, near_end = face.starting_with(upper_name).edges
    if low.name != line.edges[0].name:
        return None
    edges = [
        top.redrawn(upper_edge),
        far_end.transformed(shut.moves[-1]),
        low.redrawn(shut.low.reversed()),
        near_end,
    ]
    return Outline.of(rejoined(edges))


def darts_within(edge: Edge, panel: Panel) -> tuple[Dart, ...]:
    """The panel's darts whose mouth begins on this stretch of an edge, in its order."""
    found = []
    for dart in panel.darts:
        if dart.edge == edge.name:
            along = edge.chain.passes(dart.first)
            if along is not None:
                found.append((along, dart))
    return tuple(dart for _, dart in sorted(found, key=lambda pair: pair[0]))


def closed_below(face: Outline, panel: Panel, waist: str, line: DrawnLine) -> Outline:
    """The face of a yoke below a band that was cut off along a line, its darts closed. Below a band
    of one width their mouths are made wider or narrower by a hair, so that once redrawn fair the
    seam is as long on both sides, within 0.01 mm.

    Raises:
        GeometryRefused: as `darts_closed`.
    """
    more = line.more
    made = darts_closed(face, _darts_below(panel, waist, line, more), line.name)
    edge = face.edge(line.name)
    if line.shut is None or abs(edge.length - line.chain.length) > tolerance.CORNER_MM:
        return made
    for _ in range(_TRUED):
        over = made.edge(line.name).length - line.shut.low.length
        if abs(over) < tolerance.CORNER_MM:
            break
        more += over
        made = darts_closed(face, _darts_below(panel, waist, line, more), line.name)
    return made


def _darts_below(panel: Panel, waist: str, line: DrawnLine, more: float) -> Panel:
    """The panel with its waist's darts as they open on the line of a band cut off above; those that
    end in the band are gone. Below a band of one width their mouths are `more` mm wide in all.
    """
    chain, top = line.chain, line.name
    darts = [dart for dart in panel.darts if dart.edge != waist]
    mouths: list[tuple[Dart, float, float]] = []
    for dart in panel.darts:
        mouth = _mouth_on(chain, dart) if dart.edge == waist else None
        if mouth is not None:
            mouths.append((dart, *mouth))
    whole = sum(last - first for _, first, last in mouths)
    wider = 0.0
    if line.shut is not None and abs(whole) > tolerance.CORNER_MM:
        wider = (more / abs(whole) - 1.0) / 2.0
    for dart, first, last in mouths:
        aside = (last - first) * wider
        ends = (chain.at(first - aside), chain.at(last + aside))
        darts.append(Dart(dart.name, top, *ends, dart.point, dart.pleat))
    return replace(panel, darts=tuple(darts))


def rest_below(line: Chain, darts: tuple[Dart, ...]) -> float:
    """Width of the darts where the yoke's line crosses them, in all: what is left below, mm."""
    rest = 0.0
    for dart in darts:
        mouth = _mouth_on(line, dart)
        if mouth is not None:
            rest += line.at(mouth[0]).distance_to(line.at(mouth[1]))
    return rest


def pleat_on(edge: Edge, dart: Dart) -> Dart | None:
    """A pleat as it goes on below a line that cuts off its mouth, on the edge along that line; None
    where it does not reach it. What it is sewn down above the line is left out.
    """
    pleat, mouth = dart.pleat, _mouth_on(edge.chain, dart)
    if pleat is None or mouth is None:
        return None
    first, last = (edge.chain.at(along) for along in sorted(mouth))
    above = dart.first.distance_to(edge.chain.at(mouth[0]))
    left = replace(pleat, down=max(0.0, pleat.down - above))
    return Dart(dart.name, edge.name, first, last, dart.point, left)


def pleats_width(line: Chain, darts: Iterable[Dart]) -> float:
    """Width along a line of the pleats that go on below it, mm."""
    found = 0.0
    for dart in darts:
        mouth = None if dart.pleat is None else _mouth_on(line, dart)
        if mouth is not None:
            found += abs(mouth[1] - mouth[0])
    return found


def _upper_of(chain: Chain, darts: tuple[Dart, ...]) -> Chain:
    """The waist with its darts closed; the same while the yoke's line is moved below them."""
    return _turned_and_faired(_upper_stretches(chain, darts), closing_moves(darts))


def _turned_and_faired(parts: list[Chain], moves: Sequence[Affine]) -> Chain:
    """Stretches moved with their sections and drawn as one curve."""
    turned = [part.transformed(move) for part, move in zip(parts, moves, strict=True)]
    return Chain((faired(turned),))


def _mouth_on(line: Chain, dart: Dart) -> tuple[float, float] | None:
    """Where the first and the last leg of a dart cross a line, mm along it; None where either does
    not.
    """
    first, last = (_leg_hit(line, dart.point, end) for end in (dart.first, dart.last))
    return None if first is None or last is None else (first, last)


def _leg_hit(line: Chain, point: Point, end: Point) -> float | None:
    hits = meetings(line, Chain((Cubic.straight(point, end),)))
    return hits[0].first if hits else None


def _reaching(dart: Dart, line: Chain) -> tuple[Dart, float, float]:
    """The dart itself when its legs cross the line, else drawn on along its axis to the line; and
    where its first and its last leg cross it, mm along.
    """
    first = _leg_hit(line, dart.point, dart.first)
    if first is not None:
        last = _leg_hit(line, dart.point, dart.last)
        return dart, first, line.nearest(dart.point)[0] if last is None else last
    middle = dart.first.toward(dart.last, 0.5)
    axis = dart.point - middle
    far = middle.distance_to(line.start) + line.length
    ray = Chain((Cubic.straight(middle, middle + axis.unit() * far),))
    hits = meetings(line, ray)
    if not hits:
        raise GeometryRefused(
            f"The line passes beside {dart.name}: bring it under the dart, or across it."
        )
    met = hits[0]
    return replace(dart, point=met.point), met.first, met.first


def _upper_stretches(chain: Chain, darts: tuple[Dart, ...]) -> list[Chain]:
    """Stretches of the waist between the darts' mouths."""
    return _stretches(
        chain, [(chain.distance_of(dart.first), chain.distance_of(dart.last)) for dart in darts]
    )


def _stretches(chain: Chain, gaps: list[tuple[float, float]]) -> list[Chain]:
    """What is left of a chain without its gaps (mm along it, in order)."""
    starts = [0.0, *(end for _, end in gaps)]
    ends = [*(start for start, _ in gaps), chain.length]
    return [chain.between(start, end) for start, end in zip(starts, ends, strict=True)]


upper = remembered(_upper_of, 16)
"""The waist with its darts closed, one fair curve, in the frame of its first section."""

"""A piece made of two scraps: divided along a straight line, square to its grain or along it, with
a join between its parts and every seam that spoke of the whole taught to speak of both.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal, TypeAlias

import msgspec
from msgspec.structs import replace
from shapely import Polygon, box

from studio import numbers
from studio.block.panel import Dart, Panel
from studio.cloth.parted import Parting, taught
from studio.cloth.pieced_strip import strip_pieced
from studio.curves import Chain, Outline, Point, meetings
from studio.cut.drawn import DrawnLine
from studio.cut.facing import refuse_faced
from studio.cut.panel_piece import cut_from_panel
from studio.cut.piece import Piece
from studio.cut.split import Side
from studio.design.design import Design
from studio.design.holds import Hold, Level, LinePoint, Slides, Upright
from studio.design.joins import EdgeRef, Join, JoinSide
from studio.design.lines import AnchoredPath, OnEdge, StyleLine
from studio.design.pieces import (
    Bound,
    FacingPiece,
    PanelPiece,
    PieceRecipe,
    StripPiece,
    WaistbandPiece,
)
from studio.errors import GeometryRefused

Lies: TypeAlias = Literal["across", "along"]

CLEAR_OF_CORNER = 5.0
"""A join ends no nearer to a corner of its piece, or to the end of another line, mm: its allowance
would be caught in two seams at once (practice)."""

CLEAR_OF_DART = 10.0
"""Nor does it pass nearer to the point of a dart, mm (practice)."""

_BEYOND = 1000.0

_LEAST_SLANT = 0.26
"""Sine of the least angle (15 degrees) at which a join crosses a line drawn on the piece."""


class Piecing(msgspec.Struct, frozen=True):
    """A join of scraps as asked for: `piece` is divided "across" its grain or "along" it, at the
    height (mm up) or the place (mm to the right) `at` in the coordinates of its panel; a strip at
    `at` mm from its start, a waistband at `at` mm from the centre back towards its overlap. The
    smaller part is the new piece, called `name`, or after the whole.
    """

    piece: str
    lies: Lies
    at: float
    construction: Literal["plain", "felled"] = "plain"
    name: str = ""


def pieced(
    design: Design,
    asked: Piecing,
    panels: Iterable[Panel],
    lines: Iterable[DrawnLine],
    pieces: Iterable[Piece],
) -> Design:
    """The design in which a piece is made of two; `panels`, `lines` and `pieces` are those of its
    pattern. The join is a straight style line that stays square to the grain, or along it, when
    the panel changes. Both legs are joined alike, as both are cut from one piece.

    Raises:
        GeometryRefused: there is no such piece, it cannot be divided there (a corner, a dart, a
            drawn line in the way), or a name is taken; the sentence says which.
    """
    recipe = next((one for one in design.pieces if one.name == asked.piece), None)
    known = {piece.name: piece for piece in pieces}
    piece = known.get(asked.piece)
    refuse_faced(design, asked.piece)
    if recipe is None or piece is None:
        raise GeometryRefused(f"There is no piece {asked.piece}.", where=asked.piece)
    if isinstance(recipe, StripPiece | WaistbandPiece):
        if asked.lies != "across":
            raise GeometryRefused(
                f"{asked.piece} is a strip: it is joined across its length.", where=asked.piece
            )
        return strip_pieced(
            design, recipe, piece, asked.at, asked.construction, new_name(design, asked, "2")
        )
    if isinstance(recipe, FacingPiece):
        raise GeometryRefused(
            f"{asked.piece} has the shape of {recipe.of}, which it faces: cut it from one piece of "
            "cloth.",
            where=asked.piece,
        )
    if not isinstance(recipe, PanelPiece):
        raise GeometryRefused(
            f"{asked.piece} is a shape of its own and is not cut from a panel: make it of one "
            "scrap.",
            where=asked.piece,
        )
    panel = next((one for one in panels if one.name == recipe.panel), None)
    if panel is None:
        raise GeometryRefused(f"There is no panel {recipe.panel}.", where=asked.piece)
    by_name = {line.name: line for line in lines}
    return _panel_pieced(design, asked, recipe, panel, by_name, piece)


def new_name(design: Design, asked: Piecing, suffix: str) -> str:
    """The name of the new part: as asked for, else after the whole, free of others.

    Raises:
        GeometryRefused: the name asked for is taken.
    """
    taken = {line.name for line in design.lines} | {piece.name for piece in design.pieces}
    taken |= {join.name.removesuffix(" seam") for join in design.joins}
    if asked.name:
        if asked.name in taken:
            raise GeometryRefused(f"There is a line or piece called {asked.name} already.")
        return asked.name
    name = f"{asked.piece}-{suffix}"
    count = 2
    while name in taken:
        name, count = f"{asked.piece}-{suffix}-{count}", count + 1
    return name


def _panel_pieced(
    design: Design,
    asked: Piecing,
    recipe: PanelPiece,
    panel: Panel,
    lines: dict[str, DrawnLine],
    piece: Piece,
) -> Design:
    if recipe.ends is not None or recipe.over:
        raise GeometryRefused(
            f"{recipe.name} is part of a band with a button, or turned over: it is cut from one "
            "piece of cloth.",
            where=recipe.name,
        )
    if recipe.close_darts:
        # Where the line runs is told on the panel, whose darts are open.
        bounds = tuple(lines[bound.line] for bound in recipe.bounds)
        opened = replace(recipe, close_darts=False, rest_at="none", marks=())
        piece = cut_from_panel(opened, panel, bounds, ())
    low, high = _chord(piece.outline, asked)
    _refuse_darts(piece.darts, low, high, asked)
    on_left, on_right = _suffixes(panel, asked)
    is_left_new = _area(piece.outline, asked, "left") <= _area(piece.outline, asked, "right")
    name = new_name(design, asked, on_left if is_left_new else on_right)
    left, right = (name, recipe.name) if is_left_new else (recipe.name, name)
    away = (high - low).unit() * _BEYOND
    parting = Parting(piece, low + away * -1.0, high + away, left, right)
    _refuse_marks(piece, parting, (low, high), asked)
    line = _line(name, panel, asked, low.toward(high, 0.5))
    parts = {
        part: _part(recipe, part, bound, parting, panel, asked)
        for part, bound in ((left, Bound(name, "left")), (right, Bound(name, "right")))
    }
    made = taught(design, parting)
    pieces: list[PieceRecipe] = []
    for one in design.pieces:
        pieces += [parts[recipe.name], parts[name]] if one is recipe else [one]
    seam = Join(
        f"{name} seam",
        JoinSide((EdgeRef(left, name),)),
        JoinSide((EdgeRef(right, name),)),
        construction=asked.construction,
    )
    return replace(
        made,
        lines=(*made.lines, line),
        holds=(*made.holds, *_holds(line, asked)),
        pieces=tuple(pieces),
        joins=(*made.joins, seam),
    )


def _part(
    recipe: PanelPiece, name: str, bound: Bound, parting: Parting, panel: Panel, asked: Piecing
) -> PanelPiece:
    """One part's recipe: the lines marked on it, and the darts' rest where it has that corner."""
    marked = {
        mark.name.partition(".")[0]
        for mark in parting.piece.marks
        if any(part == name for part, _, _ in parting.shares(mark.chain))
    }
    part = replace(
        recipe,
        name=name,
        bounds=(*recipe.bounds, bound),
        marks=tuple(mark for mark in recipe.marks if mark in marked),
    )
    if recipe.below:
        # The rest is taken out before the part is cut, so both parts have what falls to them.
        return part
    if recipe.rest_at != "none" and not _has_rest(recipe, name, parting, panel, asked):
        part = replace(part, rest_at="none")
    return part


def _has_rest(
    recipe: PanelPiece, name: str, parting: Parting, panel: Panel, asked: Piecing
) -> bool:
    """True for the part with the corner at which the darts' rest is taken out.

    Raises:
        GeometryRefused: the join crosses the edge where it still tapers.
    """
    side = f"{panel.name}.{recipe.rest_at}"
    bounds = {bound.line for bound in recipe.bounds}
    edges = parting.piece.outline.edges
    for before, after in zip(edges, (*edges[1:], edges[0]), strict=True):
        names = {before.name, after.name}
        if side in names and names & bounds:
            corner = after.chain.start
            level = panel.levels.get(recipe.rest_level, corner.y)
            if asked.lies == "across" and level - CLEAR_OF_CORNER < asked.at < corner.y:
                raise GeometryRefused(
                    f"What is left of the darts is taken out above the {recipe.rest_level} line "
                    f"of {recipe.name}: join it below.",
                    where=recipe.name,
                )
            return parting.part_at(corner) == name
    return False


def _chord(outline: Outline, asked: Piecing) -> tuple[Point, Point]:
    """Where the line runs through a piece, from its lower or left end.

    Raises:
        GeometryRefused: it misses the piece, crosses it more than once, or ends at a corner.
    """
    crossings = _crossings(outline, asked)
    if len(crossings) != 2:
        how = "misses" if len(crossings) < 2 else "leaves and enters"
        raise GeometryRefused(f"A join there {how} {asked.piece}.", where=asked.piece)
    if crossings[0][1] == crossings[1][1]:
        raise GeometryRefused(
            f"A join there meets {crossings[0][1]} twice: it must run from one edge to another.",
            where=asked.piece,
        )
    way = (crossings[1][0] - crossings[0][0]).unit()
    for place, name in crossings:
        near = min(edge.chain.start.distance_to(place) for edge in outline)
        chain = outline.edge(name).chain
        slant = abs(chain.tangent(chain.distance_of(place)).cross(way))
        if near < CLEAR_OF_CORNER or slant < _LEAST_SLANT:
            raise GeometryRefused(
                f"A join there ends at a corner of {name}, or runs along it: move it a little.",
                where=asked.piece,
            )
    return crossings[0][0], crossings[1][0]


def _crossings(outline: Outline, asked: Piecing) -> list[tuple[Point, str]]:
    """Where the straight line meets an outline, from left or from below, with the edges."""
    frame = outline.box
    ends = (
        (Point(frame.left - 1.0, asked.at), Point(frame.right + 1.0, asked.at))
        if asked.lies == "across"
        else (Point(asked.at, frame.bottom - 1.0), Point(asked.at, frame.top + 1.0))
    )
    line = Chain.straight(*ends)
    found = [
        (meeting.second, meeting.point, edge.name)
        for edge in outline
        for meeting in meetings(edge.chain, line)
    ]
    return [(place, name) for _, place, name in sorted(found, key=lambda one: one[0])]


def _refuse_darts(darts: Iterable[Dart], low: Point, high: Point, asked: Piecing) -> None:
    way = (high - low).unit()
    for dart in darts:
        off = [way.cross(place - low) for place in (dart.first, dart.last, dart.point)]
        near = min(off) < CLEAR_OF_DART and max(off) > -CLEAR_OF_DART
        if near:
            raise GeometryRefused(
                f"A join there crosses {dart.name}: lead it past its point, at least "
                f"{numbers.length(CLEAR_OF_DART, decimals=0)} away.",
                where=asked.piece,
                exact=(CLEAR_OF_DART,),
            )


def _refuse_marks(
    piece: Piece, parting: Parting, ends: tuple[Point, Point], asked: Piecing
) -> None:
    """Refuse a line that runs along a mark, meets it twice or in a corner, or ends where another
    line ends.
    """
    line = parting.line
    way = line.start_tangent
    for mark in piece.marks:
        met = meetings(mark.chain, line)
        flat = any(abs(mark.chain.tangent(one.first).cross(way)) < _LEAST_SLANT for one in met)
        at_end = any(min(one.first, mark.chain.length - one.first) < CLEAR_OF_CORNER for one in met)
        if len(met) > 1 or flat or at_end:
            raise GeometryRefused(
                f"A join there runs along {mark.name} or through its corner: move it a little.",
                where=asked.piece,
            )
    for index, along, name in piece.splits:
        place = piece.outline.edges[index].chain.at(along)
        if min(place.distance_to(end) for end in ends) < CLEAR_OF_CORNER:
            raise GeometryRefused(
                f"A join there ends where {name} does: move it a little.", where=asked.piece
            )


def _line(name: str, panel: Panel, asked: Piecing, middle: Point) -> StyleLine:
    """The join as a style line from edge to edge of the whole panel, past the piece's middle."""
    crossings = _crossings(panel.outline, asked)

    def along(place: Point) -> float:
        return place.x if asked.lies == "across" else place.y

    here = along(middle)
    before = [one for one in crossings if along(one[0]) <= here]
    after = [one for one in crossings if along(one[0]) >= here]
    if not before or not after or before[-1][1] == after[0][1]:
        raise GeometryRefused(
            f"A join there does not run from one edge of the {panel.name} to another.",
            where=asked.piece,
        )
    start, end = (_on_edge(panel, *one) for one in (before[-1], after[0]))
    return StyleLine(name, panel.name, "seam", AnchoredPath(start, end))


def _on_edge(panel: Panel, place: Point, name: str) -> OnEdge:
    """A place on an edge, told from the nearer of its corners."""
    edges = panel.outline.edges
    index = next(k for k, edge in enumerate(edges) if edge.name == name)
    along, length = edges[index].chain.distance_of(place), edges[index].length
    if along <= length / 2.0:
        return OnEdge(name, edges[index - 1].name, mm=along)
    return OnEdge(name, edges[(index + 1) % len(edges)].name, mm=length - along)


def _holds(line: StyleLine, asked: Piecing) -> tuple[Hold, Hold]:
    """The line keeps square to the grain, or along it; its far end slides on its edge."""
    path = line.path
    assert isinstance(path, AnchoredPath)
    one, two = LinePoint(line.name, 0), LinePoint(line.name, 1)
    straight = Level(a=one, b=two) if asked.lies == "across" else Upright(a=one, b=two)
    return Slides(point=two, edge=path.end.edge), straight


def _suffixes(panel: Panel, asked: Piecing) -> tuple[str, str]:
    """What the parts left and right of the line are called after the whole."""
    if asked.lies == "across":
        return "upper", "lower"
    side, rise = f"{panel.name}.side", f"{panel.name}.rise"
    if not (panel.outline.has(side) and panel.outline.has(rise)):
        return "left", "right"
    outer_is_left = (
        panel.outline.edge(side).chain.box.centre.x < panel.outline.edge(rise).chain.box.centre.x
    )
    return ("outer", "inner") if outer_is_left else ("inner", "outer")


def _area(outline: Outline, asked: Piecing, keep: Side) -> float:
    """Area of what lies on a side of the line, mm2, within what chords of 0.5 mm leave out."""
    frame, at = outline.box, asked.at
    if asked.lies == "across":
        half = box(frame.left, at, frame.right, frame.top)
    else:
        half = box(frame.left, frame.bottom, at, frame.top)
    whole = Polygon(outline.polyline(0.5)).buffer(0.0)
    left = float(whole.intersection(half).area)
    return left if keep == "left" else float(whole.area) - left

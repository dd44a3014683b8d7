"""Places of a join: how a maker tells them, how well they are hidden, what they are near to."""

from __future__ import annotations

import math

import msgspec
from shapely import LineString, Polygon, unary_union
from shapely import Point as Spot

from studio import numbers
from studio.block.panel import Panel
from studio.cloth.pieced import Lies, Piecing, pieced
from studio.cloth.scrap_masks import Line, part_of
from studio.cloth.stance import Stance
from studio.curves import Affine, Point
from studio.cut.drawn import DrawnLine
from studio.cut.piece import Piece
from studio.design.design import Design
from studio.design.pieces import PanelPiece, PieceRecipe, StripPiece, WaistbandPiece
from studio.sew import SewnPiece

CLEAR_OF_NOTCH = 15.0
"""A join nearer to a notch is offered last: the notch would be lost in its allowances, mm."""

HIDDEN_FROM = 0.6
"""A join is hidden when so much of it lies under a patch."""

_ON_IT_MM = 0.05
"""A join this near to a level or crease line runs on it, as told to a tenth of a millimetre."""

_EVERY = 5.0
"""Joins are offered at whole multiples of this from where the maker measures, mm."""

_FAR = 1e4


class SewnDesign(msgspec.Struct, frozen=True):
    """A design with what its pattern makes of it: all that joins are sought in."""

    design: Design
    panels: tuple[Panel, ...]
    lines: tuple[DrawnLine, ...]
    pieces: tuple[SewnPiece, ...]

    def piece(self, name: str) -> SewnPiece:
        """The piece of that name; raises KeyError."""
        for sewn in self.pieces:
            if sewn.piece.name == name:
                return sewn
        raise KeyError(name)

    def pieced(self, asked: Piecing) -> Design:
        """The design with a join; raises GeometryRefused as `pieced` does."""
        drawn = [sewn.piece for sewn in self.pieces]
        return pieced(self.design, asked, self.panels, self.lines, drawn)


class Place(msgspec.Struct, frozen=True):
    """A place of a join that would do, before it is tried: its line in the stance, how it is asked
    for, the share of it that is hidden, whether a notch is near or it is where such pieces are
    usually joined, and the area of the smaller part, mm2.
    """

    line: Line
    asked: Piecing
    hidden: float
    near_notch: bool
    usual: bool
    smaller: float


class Measure(msgspec.Struct, frozen=True):
    """From where a place is told: `base` in the piece's own coordinates (mm up, or to the right
    when it is `across_x`), called `words`; a `Piecing` of a strip counts from there as well.
    """

    base: float
    words: str
    across_x: bool
    counts: bool


def recipe_of(within: SewnDesign, piece: str) -> PieceRecipe:
    """The recipe of a piece; raises KeyError."""
    for recipe in within.design.pieces:
        if recipe.name == piece:
            return recipe
    raise KeyError(piece)


def is_of_panel(within: SewnDesign, piece: str) -> bool:
    """Whether a piece is cut from a panel."""
    return isinstance(recipe_of(within, piece), PanelPiece)


def measure_of(within: SewnDesign, piece: Piece, lies: Lies, near: float) -> Measure:
    """From where a maker tells a place of a join near to a coordinate of the piece: the nearest
    level line, the crease line, the start of a strip, the centre back of a band.
    """
    recipe = recipe_of(within, piece.name)
    frame = piece.outline.box
    if isinstance(recipe, WaistbandPiece):
        if recipe.before is not None:
            return Measure(frame.right - recipe.before, "centre back", True, True)
        if recipe.after is not None:
            return Measure(frame.left - recipe.after, "centre back", True, True)
        half = piece.outline.edge(f"{piece.name}.half-1")
        return Measure(half.chain.end.x, "centre back", True, True)
    if isinstance(recipe, StripPiece):
        return Measure(frame.left, "start", True, True)
    if lies == "along":
        return Measure(0.0, "crease line", True, False)
    levels = piece.levels or {"zero": 0.0}
    name = min(levels, key=lambda one: abs(levels[one] - near))
    return Measure(levels[name], f"{name} line", False, False)


def round_places(
    within: SewnDesign, piece: Piece, stance: Stance, lies: Lies, between: tuple[float, float]
) -> list[float]:
    """Places of a line between two in the stance, at round distances from where the maker
    measures; the middle where there is no round one.
    """
    first, last = sorted(_own(stance, lies, at, piece) for at in between)
    across_x = measure_of(within, piece, lies, first).across_x
    rounded: list[float] = []
    value = first
    while value <= last + 1e-6:
        # Places are told from another level line further on.
        base = measure_of(within, piece, lies, value).base
        value = base + _EVERY * math.ceil((value - base) / _EVERY - 1e-6)
        if value <= last + 1e-6:
            rounded.append(value)
        value += _EVERY / 2.0
    rounded = rounded or [(first + last) / 2.0]
    found = []
    for value in rounded:
        there = stance.move(Point(value, 0.0) if across_x else Point(0.0, value))
        found.append(there.y if lies == "across" else there.x)
    return found


def judged_place(within: SewnDesign, sewn: SewnPiece, line: Line, stance: Stance) -> Place:
    """A line of a stance with all that ranks it."""
    value = _own(stance, line.lies, line.at, sewn.piece)
    measure = measure_of(within, sewn.piece, line.lies, value)
    chord = _chord(sewn.piece, stance.move.inverse(), line)
    at = round(value - measure.base if measure.counts else value, 6)
    near = any(
        chord.distance(Spot(notch.at.x, notch.at.y)) < CLEAR_OF_NOTCH for notch in sewn.notches
    )
    return Place(
        line,
        Piecing(sewn.piece.name, line.lies, at),
        hidden_share(within, sewn.piece, chord),
        near,
        measure.words == "centre back" and abs(at) < 1.0,
        min(part_of(stance.cut, line, half).area for half in ("low", "high")),
    )


def order_of(place: Place) -> tuple[bool, bool, bool, float]:
    """What ranks a place: usual ones first, hidden, away from notches, the smaller part small."""
    return not place.usual, place.hidden < HIDDEN_FROM, place.near_notch, place.smaller


def where_words(within: SewnDesign, piece: Piece, asked: Piecing) -> str:
    """Where a join runs, such as "135.0 mm below the knee line"."""
    recipe = recipe_of(within, piece.name)
    measure = measure_of(within, piece, asked.lies, asked.at)
    off = asked.at if measure.counts else asked.at - measure.base
    far = numbers.length(abs(off))
    if isinstance(recipe, StripPiece):
        return f"{far} from its start"
    if isinstance(recipe, WaistbandPiece):
        towards = "overlap" if off > 0.0 else "buttonhole"
        return "at the centre back" if abs(off) < 1.0 else f"{far} from it towards the {towards}"
    if abs(off) < _ON_IT_MM:
        return f"on the {measure.words}"
    if measure.across_x:
        return f"{far} to the {'right' if off > 0.0 else 'left'} of the {measure.words}"
    return f"{far} {'above' if off >= 0.0 else 'below'} the {measure.words}"


def hidden_share(within: SewnDesign, piece: Piece, chord: LineString) -> float:
    """The share of a join that lies under patches sewn on the piece; all of it for a piece that
    hangs inside.
    """
    kinds = {line.name: line.kind for line in within.design.lines}
    recipe = recipe_of(within, piece.name)
    if isinstance(recipe, PanelPiece) and any(
        kinds.get(bound.line) == "mark" for bound in recipe.bounds
    ):
        return 1.0
    over = [
        Polygon(within.piece(name).piece.outline.polyline(0.5)).buffer(0.0)
        for name in patches_on(within, piece.name)
    ]
    if not over or chord.length == 0.0:
        return 0.0
    return float(chord.intersection(unary_union(over)).length / chord.length)


def patches_on(within: SewnDesign, piece: str) -> set[str]:
    """The pieces that are lapped on to a piece."""
    known = {sewn.piece.name for sewn in within.pieces}
    return {
        ref.piece
        for join in within.design.joins
        if join.construction == "lapped" and any(ref.piece == piece for ref in join.b.edges)
        for ref in join.a.edges
        if ref.piece in known and ref.piece != piece
    }


def _own(stance: Stance, lies: Lies, at: float, piece: Piece) -> float:
    """A place of a line of a stance in the piece's own coordinates: mm up or to the right."""
    here = stance.move.inverse()(Point(0.0, at) if lies == "across" else Point(at, 0.0))
    return here.x if piece.warp == 0.0 or lies == "along" else here.y


def _chord(piece: Piece, back: Affine, line: Line) -> LineString:
    """The line where it runs through the piece, in the piece's own coordinates."""
    far = 1e4
    ends = (
        (Point(-far, line.at), Point(far, line.at))
        if line.lies == "across"
        else (Point(line.at, -far), Point(line.at, far))
    )
    there = [back(end) for end in ends]
    whole = LineString([(end.x, end.y) for end in there])
    return whole.intersection(Polygon(piece.outline.polyline(0.5)).buffer(0.0))

"""Take in, let out: an edge moves by an amount that tapers to nothing at named levels."""

from __future__ import annotations

from msgspec.structs import replace

from studio import numbers
from studio.alter.closing import edge_of, level_of
from studio.alter.corner import corner_moved_in, corner_moved_level
from studio.alter.kind import Axis, Drafting, Field, Kind, Say
from studio.block.panel import Panel
from studio.curves import Chain, Edge, Outline, Point, Vector, level_meetings
from studio.curves.bend import bent, falling, rising
from studio.design.alterations import TakeIn
from studio.errors import GeometryRefused

_NEAR_AN_END_MM = 30.0
"""A level line this near to an edge's end means the end: a waist that was lowered stands below
its own line, and a hem beside an opened dart leans."""

_AT_AN_END_MM = 1e-6
"""A line met this near to an edge's end is met there: a computed place is never quite exact."""


class TakeInKind(Kind[TakeIn]):
    """In the middle of an edge the whole amount is taken level, across the grain, and the edge is
    bent smooth to both sides. At an end the neighbouring edge is shortened by the amount, and the
    edge keeps its length. At the fork (an edge that ends at the crotch line) the corner moves
    level, and the rise is bent with it up to the line above which nothing changes.
    """

    title = "Take in or let out"
    fields = (
        Field("edge", "Edge", "edge"),
        Field("amount", "Taken in by", least=-200.0),
        Field("at", "Most at", "level"),
        Field("upper", "Nothing above", "level", optional=True),
        Field("lower", "Nothing below", "level", optional=True),
    )

    def do(self, panel: Panel, step: TakeIn) -> Panel:
        """Raises GeometryRefused when a level is missing, or the edge does not reach it."""
        corner = _corner_edge(panel, step)
        if corner is not None:
            neighbour, at_top = corner
            taper = step.lower if at_top else step.upper
            if not taper:
                raise GeometryRefused(
                    f"Say at which level {step.edge} runs back to where it was.", where=step.edge
                )
            level = level_of(panel, taper)
            if step.at == "crotch":
                _, inward = _pull(panel, step)
                upper = level_of(panel, step.upper) if step.upper else None
                push = inward * step.amount
                return corner_moved_level(panel, neighbour, step.edge, push, upper, level)
            return corner_moved_in(panel, neighbour, step.edge, step.amount, level)
        return _middle_taken_in(panel, step)

    def sentence(self, step: TakeIn, say: Say = numbers.length) -> str:
        """What moves where by how much."""
        verb = "Take in" if step.amount >= 0.0 else "Let out"
        tapers = " and ".join(f"the {level} line" for level in (step.upper, step.lower) if level)
        end = f", to nothing at {tapers}" if tapers else ""
        return f"{verb} {step.edge} by {say(abs(step.amount))} at the {step.at} line{end}."

    def axes(self, panel: Panel, step: TakeIn) -> dict[str, Axis]:
        """Pulled inward, across the grain or along the neighbouring edge."""
        place, inward = _pull(panel, step)
        return {"amount": Axis(place, inward)}

    def drafting(self, panel: Panel, step: TakeIn, say: Say = numbers.length) -> Drafting:
        """The measure and the new edge."""
        self.do(panel, step)
        place, inward = _pull(panel, step)
        way = "in" if step.amount >= 0.0 else "out"
        tapers = [level for level in (step.upper, step.lower) if level]
        ends = " and ".join(f"the {level} line" for level in tapers)
        corner = _corner_edge(panel, step)
        how, edges = "level, across the grain", step.edge
        if corner is not None:
            edges = f"{step.edge} and {corner[0]}"
            if step.at != "crotch":
                how = f"along {corner[0]}"
        return Drafting(
            (place, place + inward * step.amount),
            (
                f"{{0}} is where {step.edge} meets the {step.at} line: measure "
                f"{say(abs(step.amount))} {way} from it, {how}, and mark {{1}}.",
                f"Redraw {edges} through {{1}}, running smooth into the old edge at {ends}.",
            ),
        )

    def fresh(self, panel: Panel) -> TakeIn:
        """The side seam at the waist, to the hip."""
        level_of(panel, "hip")
        edge = edge_of(panel, f"{panel.name}.side").name
        return TakeIn(panel.name, edge, 5.0, at="waist", lower="hip")


def _corner_edge(panel: Panel, step: TakeIn) -> tuple[str, bool] | None:
    """The neighbour at the end of the edge that the level means, and whether that is its top."""
    edges = panel.outline.edges
    chain = edge_of(panel, step.edge).chain
    index = next(k for k, edge in enumerate(edges) if edge.name == step.edge)
    height = level_of(panel, step.at)
    top = max(chain.start.y, chain.end.y)
    bottom = min(chain.start.y, chain.end.y)
    at_top = height > top - 1.0 or (step.at == "waist" and height > top - _NEAR_AN_END_MM)
    at_bottom = height < bottom + (_NEAR_AN_END_MM if step.at == "hem" else 1.0)
    if not at_top and not at_bottom:
        return None
    far = (height - top) if at_top else (bottom - height)
    if far > _NEAR_AN_END_MM and step.at not in ("waist", "hem"):
        raise GeometryRefused(f"{step.edge} does not reach the {step.at} line.", where=step.edge)
    starts_there = (chain.start.y > chain.end.y) == at_top
    neighbour = edges[index - 1] if starts_there else edges[(index + 1) % len(edges)]
    return neighbour.name, at_top


def _middle_taken_in(panel: Panel, step: TakeIn) -> Panel:
    chain = edge_of(panel, step.edge).chain
    down = chain if chain.start.y >= chain.end.y else chain.reversed()
    at = _crossing(panel, down, step.at, step)
    upper = _crossing(panel, down, step.upper, step) if step.upper else 0.0
    lower = _crossing(panel, down, step.lower, step) if step.lower else down.length
    if not upper < at < lower:
        raise GeometryRefused(
            f"The levels of {step.edge} are out of order: nothing above {step.upper or 'its end'}, "
            f"most at {step.at}, nothing below {step.lower or 'its end'}.",
            where=step.edge,
        )
    _, inward = _pull(panel, step)
    push = inward * step.amount
    parts = [down.between(0.0, upper)] if upper > 0.0 else []
    parts.append(bent(down.between(upper, at), push, rising))
    parts.append(bent(down.between(at, lower), push, falling))
    if lower < down.length:
        parts.append(down.between(lower, down.length))
    redrawn = parts[0]
    for part in parts[1:]:
        redrawn = redrawn.then(part.with_ends(redrawn.end, part.end))
    if down is not chain:
        redrawn = redrawn.reversed()
    edges = [
        Edge.whole(edge.name, redrawn.with_ends(chain.start, chain.end))
        if edge.name == step.edge
        else edge
        for edge in panel.outline
    ]
    return replace(panel, outline=Outline.of(edges))


def _crossing(panel: Panel, down: Chain, level: str, step: TakeIn) -> float:
    """Distance from the top at which the edge meets a level; waist and hem mean its ends, also
    where the waist was lowered from its line.
    """
    height = level_of(panel, level)
    hits = level_meetings(down, height)
    if hits:
        along = hits[0].first
        return along if along < down.length - _AT_AN_END_MM else down.length
    if level in ("waist", "hem"):
        return 0.0 if level == "waist" else down.length
    near_top, near_end = abs(down.start.y - height), abs(down.end.y - height)
    if min(near_top, near_end) > _NEAR_AN_END_MM:
        raise GeometryRefused(f"{step.edge} does not reach the {level} line.", where=step.edge)
    return 0.0 if near_top < near_end else down.length


def _pull(panel: Panel, step: TakeIn) -> tuple[Point, Vector]:
    """Where the whole amount is taken, and the unit direction inward."""
    chain = edge_of(panel, step.edge).chain
    corner = _corner_edge(panel, step)
    if corner is None:
        hits = level_meetings(chain, level_of(panel, step.at))
        if not hits:
            raise GeometryRefused(
                f"{step.edge} does not reach the {step.at} line.", where=step.edge
            )
        at = hits[0].first
        inward = chain.tangent(at).left()
        return chain.at(at), Vector(1.0 if inward.x > 0.0 else -1.0, 0.0)
    if step.at == "crotch":
        top = chain.start if corner[1] == (chain.start.y > chain.end.y) else chain.end
        inward = panel.outline.box.centre - top
        return top, Vector(1.0 if inward.x > 0.0 else -1.0, 0.0)
    neighbour = panel.outline.edge(corner[0]).chain
    if neighbour.end in (chain.start, chain.end):
        return neighbour.end, -neighbour.end_tangent
    return neighbour.start, neighbour.start_tangent

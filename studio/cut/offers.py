"""What of a line could be held as it lies now: offers for a menu, each with its present measure."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from studio import numbers
from studio.block.panel import Panel
from studio.block.places import place_at
from studio.curves import Point, turn_between
from studio.cut.drawn import DrawnLine
from studio.cut.edit import Grip
from studio.design import holds
from studio.design.design import Design
from studio.design.holds import EndName, Hold, LinePoint
from studio.design.lines import AnchoredPath, OnEdge


class Offer(msgspec.Struct, frozen=True):
    """A hold in a few words; its number is what the line measures now."""

    words: str
    hold: Hold


def offers(
    design: Design,
    drawn: DrawnLine,
    grip: Grip | None,
    lines: Sequence[DrawnLine],
    panels: Sequence[Panel],
) -> list[Offer]:
    """Holds of a line, and of its node in hand; none for a closed shape."""
    path = design.line(drawn.name).path
    if not isinstance(path, AnchoredPath):
        return []
    name = drawn.name
    length = round(drawn.chain.length, 1)
    found = [
        Offer(f"Length {numbers.length(length)}", holds.Length(name, length)),
        Offer(f"Start square to {path.start.edge}", holds.Square(name, "start")),
        Offer(f"End square to {path.end.edge}", holds.Square(name, "end")),
    ]
    found += _of_others(drawn, lines, panels)
    found += _of_ends(drawn, path, panels)
    found += _beside_others(design, drawn, lines)
    if grip is not None and grip.line == name:
        found += _of_node(drawn, grip)
        found += _mirrored(drawn, grip, lines)
    return [offer for offer in found if not _is_held(design, offer.hold)]


def _is_held(design: Design, hold: Hold) -> bool:
    """True when the same is held already, whatever its number."""
    return any(
        type(known) is type(hold) and holds.title_of(known) == holds.title_of(hold)
        for known in design.holds
        if not isinstance(hold, _SEVERAL)
    )


_SEVERAL = (
    holds.Level,
    holds.Upright,
    holds.Distance,
    holds.Angle,
    holds.Parallel,
    holds.Mirrored,
    holds.CornersAdd,
    holds.FromCorner,
)
"""Holds of which a line may bear several that are called alike."""


def _of_others(
    drawn: DrawnLine, lines: Sequence[DrawnLine], panels: Sequence[Panel]
) -> list[Offer]:
    found = []
    for other in lines:
        if other.name != drawn.name and other.ends:
            ease = round(drawn.chain.length - other.chain.length, 1)
            more = f" and {numbers.length(ease, signed=True)}" if ease else ""
            found.append(
                Offer(
                    f"As long as {other.name}{more}",
                    holds.SameLength(drawn.name, other.name, ease),
                )
            )
    for panel in panels:
        if panel.name != drawn.panel:
            continue
        for edge in panel.outline:
            ease = round(drawn.chain.length - edge.length, 1)
            if abs(ease) < 60.0:
                found.append(
                    Offer(
                        f"As long as {edge.name} and {numbers.length(ease, signed=True)}",
                        holds.SameLength(drawn.name, edge.name, ease),
                    )
                )
    return found


def _of_ends(drawn: DrawnLine, path: AnchoredPath, panels: Sequence[Panel]) -> list[Offer]:
    last = len(drawn.nodes) - 1
    panel = next(panel for panel in panels if panel.name == drawn.panel)
    found = []
    for place, end, words, node in (
        (path.start, drawn.ends[0], "Start", 0),
        (path.end, drawn.ends[1], "End", last),
    ):
        as_share = place_at(panel, OnEdge(place.edge, place.corner, share=0.0), end.distance)
        share = round(as_share.share or 0.0, 3)
        found.append(
            Offer(
                f"{words} at {numbers.percent(share, 1)} of {place.edge} from {place.corner}",
                holds.FromCorner(
                    LinePoint(drawn.name, node), place.edge, place.corner, share=share
                ),
            )
        )
    return [
        *found,
        Offer(
            f"Start slides on {path.start.edge}",
            holds.Slides(LinePoint(drawn.name, 0), path.start.edge),
        ),
        Offer(
            f"End slides on {path.end.edge}",
            holds.Slides(LinePoint(drawn.name, last), path.end.edge),
        ),
    ]


def _of_node(drawn: DrawnLine, grip: Grip) -> list[Offer]:
    """What the node in hand could be held to: its place and its neighbours."""
    if grip.kind not in ("start", "end", "node"):
        return []
    index = grip.index
    here = LinePoint(drawn.name, index)
    at = drawn.nodes[index].at
    found = [Offer("This node fixed where it is", holds.Fixed(here, at))]
    if grip.kind == "node" and not drawn.nodes[index].smooth:
        found.append(Offer("This node smooth", holds.Smooth(drawn.name, index)))
    for other, words in ((index - 1, "the node before"), (index + 1, "the node after")):
        if not 0 <= other < len(drawn.nodes):
            continue
        there = LinePoint(drawn.name, other)
        step = drawn.nodes[other].at - at
        far, lean = round(step.length, 1), round(step.angle, 1)
        found += [
            Offer(f"Level with {words}", holds.Level(here, there)),
            Offer(f"Upright under or over {words}", holds.Upright(here, there)),
            Offer(f"{numbers.length(far)} from {words}", holds.Distance(here, there, far)),
            Offer(
                f"{numbers.angle(lean)} to {words}, from across the grain",
                holds.Angle(here, there, lean),
            ),
        ]
    return found


def _beside_others(design: Design, drawn: DrawnLine, lines: Sequence[DrawnLine]) -> list[Offer]:
    """Parallel to a line that runs about the same way; a seam that runs on where another line
    ends on the same edge, or on the edge it is sewn to.
    """
    found = []
    name, last = drawn.name, len(drawn.nodes) - 1
    run = drawn.nodes[-1].at - drawn.nodes[0].at
    for other in lines:
        if other.name == name or not other.ends:
            continue
        along = other.nodes[-1].at - other.nodes[0].at
        if other.panel == drawn.panel and abs(turn_between(along, run)) < _ABOUT_PARALLEL:
            mm = round(along.unit().cross(drawn.nodes[0].at - other.nodes[0].at), 1)
            found.append(
                Offer(
                    f"Ends {numbers.length(abs(mm))} beside those of {other.name}",
                    holds.Parallel(
                        LinePoint(name, 0),
                        LinePoint(name, last),
                        LinePoint(other.name, 0),
                        LinePoint(other.name, len(other.nodes) - 1),
                        mm,
                    ),
                )
            )
        for at, end in zip(_ENDS, drawn.ends, strict=True):
            for other_at, other_end in zip(_ENDS, other.ends, strict=True):
                if _are_sewn(design, end.edge, other_end.edge):
                    found.append(
                        Offer(
                            f"Runs on from {other.name} across {end.edge}",
                            holds.CornersAdd(name, at, other.name, other_at),
                        )
                    )
    return found


_ENDS: tuple[EndName, EndName] = ("start", "end")

_ABOUT_PARALLEL = 20.0
"""Degrees within which two lines run about the same way."""


def _are_sewn(design: Design, edge: str, other: str) -> bool:
    """True for one edge, and for two that stand on the two sides of a join."""
    if edge == other:
        return True
    for join in design.joins:
        a, b = ({ref.edge for ref in side.edges} for side in (join.a, join.b))
        if a == b and {ref.piece for ref in join.a.edges}.isdisjoint(
            ref.piece for ref in join.b.edges
        ):
            # A piece and its facing, whose edges bear the same names.
            continue
        if (edge in a and other in b) or (edge in b and other in a):
            return True
    return False


def _mirrored(drawn: DrawnLine, grip: Grip, lines: Sequence[DrawnLine]) -> list[Offer]:
    """The node in hand mirrored in the crease to the node that lies nearest to its reflection."""
    if grip.kind not in ("start", "end", "node"):
        return []
    at = drawn.nodes[grip.index].at
    reflected = Point(-at.x, at.y)
    others = [
        (reflected.distance_to(node.at), line.name, index)
        for line in lines
        if line.panel == drawn.panel and line.ends
        for index, node in enumerate(line.nodes)
        if (line.name, index) != (drawn.name, grip.index)
    ]
    if not others:
        return []
    _, name, index = min(others)
    words = f"node {index + 1}" if name == drawn.name else f"node {index + 1} of {name}"
    return [
        Offer(
            f"Mirrored in the crease to {words}",
            holds.Mirrored(LinePoint(drawn.name, grip.index), LinePoint(name, index)),
        )
    ]

"""What of a line could be held as it lies now: offers for a menu, each with its present measure."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from studio import numbers
from studio.block.panel import Panel
from studio.cut.drawn import DrawnLine
from studio.cut.edit import Grip
from studio.design import holds
from studio.design.design import Design
from studio.design.holds import Hold, LinePoint
from studio.design.lines import AnchoredPath


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
    found += _of_ends(drawn, path)
    if grip is not None and grip.line == name:
        found += _of_node(drawn, grip)
    return [offer for offer in found if not _is_held(design, offer.hold)]


def _is_held(design: Design, hold: Hold) -> bool:
    """True when the same is held already, whatever its number."""
    return any(
        type(known) is type(hold) and holds.title_of(known) == holds.title_of(hold)
        for known in design.holds
        if not isinstance(hold, holds.Level | holds.Upright | holds.Distance | holds.Angle)
    )


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


def _of_ends(drawn: DrawnLine, path: AnchoredPath) -> list[Offer]:
    last = len(drawn.nodes) - 1
    return [
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

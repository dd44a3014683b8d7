"""A slanted hand pocket: mouth, bag and bearer."""

from __future__ import annotations

from collections.abc import Mapping
from typing import ClassVar, NamedTuple

from msgspec.structs import replace

from studio.block.panel import Panel
from studio.curves import Vector
from studio.cut.parts.part import (
    Number,
    Part,
    body_of,
    edge_called,
    is_right_of,
    join_with,
    panel_called,
    refuse_taken,
    shared_out,
    with_added,
    with_marks,
)
from studio.cut.piece import Piece
from studio.cut.split import Side
from studio.design.design import Design
from studio.design.joins import EdgeRef, Finish, Join
from studio.design.lines import AnchoredPath, Node, OnEdge, StyleLine
from studio.design.pieces import Bound, PanelPiece
from studio.design.plain import side

_BAG = (Vector(0.42, 0.19), Vector(0.73, 0.275), Vector(0.945, 0.215))
"""The bag's line between its ends, in shares of their distance: a round bottom (practice)."""


class HandPocket(Part, frozen=True, kw_only=True):
    """The mouth runs from the waist, so far from the side seam, to the side seam, so far below the
    waist, and bows in by `bow`; the bag is `width` wide at the waist and reaches `depth` below the
    mouth's lower end. A `facing` wider than nothing is laid on the bag along the mouth.
    """

    title: ClassVar[str] = "Hand pocket"
    words: ClassVar[str] = (
        "A mouth is cut away from the leg; the bearer behind it shows, the bag hangs inside."
    )
    numbers: ClassVar[tuple[Number, ...]] = (
        Number("at_waist", "Mouth, along the waist"),
        Number("at_side", "Mouth, down the side"),
        Number("bow", "Mouth bows in by", least=-200.0),
        Number("width", "Bag, along the waist"),
        Number("depth", "Bag, below the mouth"),
        Number("facing", "Width of the facing inside"),
    )

    name: str = "hand-pocket"
    panel: str = "front"
    cloth: str = "pocketing"
    at_waist: float = 58.0
    at_side: float = 162.0
    bow: float = 12.0
    width: float = 128.0
    depth: float = 138.0
    facing: float = 0.0

    def added(
        self, design: Design, panels: Mapping[str, Panel], pieces: Mapping[str, Piece]
    ) -> Design:
        """Lines for mouth and bag, the bag, the bearer, their joins, the side seam and the waist
        taught of the bearer.
        """
        mouth, bag = self.name, f"{self.name}-bag"
        bearer = f"{self.name}-bearer"
        refuse_taken(design, mouth, bag, bearer)
        panel = panel_called(panels, self.panel)
        waist, seam = edge_called(panel, "waist"), edge_called(panel, "side")
        rise = edge_called(panel, "rise")
        body = body_of(design, pieces, self.panel, waist, seam, rise)
        start = OnEdge(waist, seam, mm=self.at_waist)
        end = OnEdge(seam, waist, mm=self.at_side)
        path = AnchoredPath(start, end)
        right = is_right_of(panel, path, rise)
        into = -1.0 if right else 1.0
        keep: Side = "right" if right else "left"
        away: Side = "left" if right else "right"
        chord = (self.at_waist**2 + self.at_side**2) ** 0.5
        bowed = replace(path, nodes=(Node(Vector(0.52, into * self.bow / chord)),))
        hung = AnchoredPath(
            OnEdge(waist, seam, mm=self.width),
            OnEdge(seam, waist, mm=self.at_side + self.depth),
            tuple(Node(Vector(node.x, into * node.y)) for node in _BAG),
        )
        lines = (
            StyleLine(mouth, self.panel, "mouth", bowed),
            StyleLine(bag, self.panel, "mark", hung),
        )
        cut_body = replace(body, bounds=(*body.bounds, Bound(mouth, keep)))
        made = replace(
            design,
            pieces=tuple(cut_body if piece is body else piece for piece in design.pieces),
        )
        made = shared_out(made, body.name, bearer, panel, mouth, (start, end))
        made = with_added(
            made,
            lines=lines,
            pieces=(
                PanelPiece(bearer, self.panel, (Bound(bag, away),)),
                PanelPiece(
                    bag, self.panel, (Bound(bag, away), Bound(mouth, keep)), cloth=self.cloth
                ),
            ),
            finishes=tuple(
                Finish(EdgeRef(bag, edge), "caught", into=join_with(design, edge, body.name))
                for edge in (waist, seam)
            ),
        )
        joins = (
            Join(
                f"{mouth} mouth",
                side((body.name, mouth)),
                side((bag, mouth), mirrored=True),
                construction="faced",
            ),
            Join(f"{mouth} bag", side((bag, bag)), side((bearer, bag), mirrored=True)),
        )
        made = replace(made, joins=(*made.joins, *joins))
        return self._faced(made, panel, bowed, away, keep) if self.facing > 0.0 else made

    def _faced(
        self, design: Design, panel: Panel, mouth: AnchoredPath, away: Side, keep: Side
    ) -> Design:
        """A strip of the outer cloth along the mouth, laid on the bag and caught with it."""
        name, bag = f"{self.name}-facing", f"{self.name}-bag"
        refuse_taken(design, name)
        start, end = mouth.start, mouth.end
        along = replace(
            mouth,
            start=replace(start, mm=self.at_waist + self.facing),
            end=replace(end, mm=self.at_side + 1.5 * self.facing),
        )
        seams = {ref.edge: ref.into for ref in _caught_of(design, bag)}
        made = with_marks(design, bag, name)
        made = with_added(
            made,
            lines=(StyleLine(name, panel.name, "mark", along),),
            pieces=(PanelPiece(name, panel.name, (Bound(name, away), Bound(self.name, keep))),),
            finishes=(
                *(
                    Finish(EdgeRef(name, edge), "caught", into=seams.get(edge, ""))
                    for edge in (start.edge, end.edge)
                ),
                Finish(EdgeRef(name, self.name), "caught", into=f"{self.name} mouth"),
            ),
        )
        laid = Join(
            f"{name} on {bag}", side((name, name)), side((bag, name)), construction="lapped"
        )
        return replace(made, joins=(*made.joins, laid))


class _Caught(NamedTuple):
    edge: str
    into: str


def _caught_of(design: Design, piece: str) -> list[_Caught]:
    """Which edges of a piece are caught in which seams."""
    return [_Caught(one.edge.edge, one.into) for one in design.finishes if one.edge.piece == piece]

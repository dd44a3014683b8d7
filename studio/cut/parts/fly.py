"""A fly: a facing that follows the front, and a shield behind the zip."""

from __future__ import annotations

from collections.abc import Mapping
from typing import ClassVar

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
    starts_at,
    with_added,
    with_marks,
)
from studio.cut.piece import Piece
from studio.cut.split import Side
from studio.design.design import Design
from studio.design.joins import EdgeRef, Finish, Join, JoinSide
from studio.design.lines import AnchoredPath, Node, OnEdge, StyleLine
from studio.design.pieces import Bound, PanelPiece, StripPiece

BELOW_ZIP = 20.0
"""The facing reaches so far below the zip, mm (practice)."""


class Fly(Part, frozen=True, kw_only=True):
    """For a zip `zip_length` long; facing and shield `wide` wide. The shield is as long as the
    facing's edge, also below a band that is cut off later, or a waist that is lowered.
    """

    title: ClassVar[str] = "Fly"
    words: ClassVar[str] = (
        "The facing has the shape of the front's edge; the shield lies behind the zip. The crotch "
        "seam begins below."
    )
    numbers: ClassVar[tuple[Number, ...]] = (
        Number("zip_length", "Zip length"),
        Number("wide", "Facing width"),
    )

    name: str = "fly"
    panel: str = "front"
    zip_length: float = 140.0
    wide: float = 42.0

    def added(
        self, design: Design, panels: Mapping[str, Panel], pieces: Mapping[str, Piece]
    ) -> Design:
        """The facing's line on the front, facing and shield, and the crotch seam from below it."""
        facing, shield = f"{self.name}-facing", f"{self.name}-shield"
        refuse_taken(design, self.name, facing, shield)
        panel = panel_called(panels, self.panel)
        waist, rise = edge_called(panel, "waist"), edge_called(panel, "rise")
        side = edge_called(panel, "side")
        body = body_of(design, pieces, self.panel, waist, rise).name
        above_shield = _of_other_leg(design, waist)
        line, keep = self._line(panel, waist, rise, side)
        strip = StripPiece(
            shield,
            length=0.0,
            width=2.0 * self.wide,
            folded=2,
            cloth=self.cloth,
            fits=f"{self.name} edge",
        )
        made = with_added(
            with_marks(design, body, self.name),
            lines=(line,),
            pieces=(PanelPiece(facing, self.panel, (Bound(self.name, keep),), cut="single"), strip),
            finishes=(
                Finish(EdgeRef(facing, self.name), "bound"),
                Finish(EdgeRef(facing, waist), "caught", into=join_with(design, waist)),
                Finish(EdgeRef(shield, f"{shield}.two"), "caught", into=f"{self.name} shield"),
                Finish(EdgeRef(shield, f"{shield}.start"), "caught", into=above_shield),
                Finish(EdgeRef(shield, f"{shield}.end"), "turned"),
            ),
        )
        return self._sewn(made, EdgeRef(body, rise), starts_at(panel, rise, waist))

    def _line(self, panel: Panel, waist: str, rise: str, side: str) -> tuple[StyleLine, Side]:
        """The facing's line, bowed below, and the side of it on which the facing lies."""
        down = self.zip_length + BELOW_ZIP
        path = AnchoredPath(OnEdge(waist, rise, mm=self.wide), OnEdge(rise, waist, mm=down))
        right = is_right_of(panel, path, side)
        bow = (1.0 if right else -1.0) * self.wide * 0.62 / down
        nodes = Node(Vector(0.55, -bow)), Node(Vector(0.86, -0.8 * bow))
        line = StyleLine(self.name, self.panel, "mark", replace(path, nodes=nodes))
        return line, "left" if right else "right"

    def _sewn(self, design: Design, whole: EdgeRef, from_waist: bool) -> Design:
        """The upper part of the front's rise sewn to the facing, and on the other leg to the
        shield, which lies behind the zip; what was sewn to the whole of it is to the lower part.
        """
        facing, shield = f"{self.name}-facing", f"{self.name}-shield"
        upper, lower = replace(whole, before=self.name), replace(whole, after=self.name)
        if not from_waist:
            upper, lower = lower, upper

        def below(side: JoinSide) -> JoinSide:
            return replace(side, edges=tuple(lower if ref == whole else ref for ref in side.edges))

        edge = Join(
            f"{self.name} edge",
            JoinSide((upper,)),
            JoinSide((EdgeRef(facing, whole.edge),), mirrored=True),
            construction="faced",
        )
        behind = Join(
            f"{self.name} shield",
            JoinSide((upper,), mirrored=True),
            JoinSide((EdgeRef(shield, f"{shield}.one"),)),
        )
        joins = (replace(join, a=below(join.a), b=below(join.b)) for join in design.joins)
        return replace(design, joins=(*joins, edge, behind))


def _of_other_leg(design: Design, waist: str) -> str:
    """The join that sews the waist of the other leg, which the shield belongs to; that of both legs
    where there is but one.
    """
    for join in design.joins:
        if join.a.mirrored and any(ref.edge == waist for ref in join.a.edges):
            return join.name
    return join_with(design, waist)

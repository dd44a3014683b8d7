"""A straight waistband, as long as the waist it is sewn to."""

from __future__ import annotations

from collections.abc import Mapping
from typing import ClassVar

from msgspec.structs import replace

from studio.block.panel import Panel
from studio.cut.parts.part import Number, Part, panel_called, refuse_taken, with_added
from studio.cut.parts.top_edges import in_own_leg, top_edges, waits_for_the_waist
from studio.cut.piece import Piece
from studio.design.design import Design
from studio.design.joins import EdgeRef, Finish, Join, JoinSide
from studio.design.pieces import StripPiece, WaistbandPiece
from studio.errors import GeometryRefused

_TURNED = 12.0


class Waistband(Part, frozen=True, kw_only=True):
    """Folded along its length, `width` wide when worn; `overlap` lies under the buttonhole."""

    title: ClassVar[str] = "Waistband"
    words: ClassVar[str] = (
        "A straight band, folded: as long as the top edge all round, and the overlap for the "
        "button. It follows the waist from then on."
    )
    numbers: ClassVar[tuple[Number, ...]] = (
        Number("width", "Width, folded"),
        Number("overlap", "Overlap"),
        Number("button", "Button, across"),
    )
    on_panel: ClassVar[bool] = False

    name: str = "waistband"
    width: float = 40.0
    overlap: float = 45.0
    button: float = 17.0

    def added(
        self, design: Design, panels: Mapping[str, Panel], pieces: Mapping[str, Piece]
    ) -> Design:
        """The band and a join for either leg, in place of how the waist was finished."""
        refuse_taken(design, self.name)
        joins = ("waist", "waist, other leg")
        for join in design.joins:
            if join.name in joins:
                raise GeometryRefused(f"There is a join {join.name} already.", where=join.name)
        chain = (
            *top_edges(design, panel_called(panels, "back"), pieces, begins="rise"),
            *top_edges(design, panel_called(panels, "front"), pieces, begins="side"),
        )
        halves = [JoinSide((EdgeRef(self.name, f"{self.name}.half-{k}"),)) for k in (1, 2)]
        sewn = (
            Join(joins[0], JoinSide(chain), halves[0]),
            Join(joins[1], JoinSide(chain[::-1], mirrored=True), halves[1]),
        )
        ends = ("overlap", "end", "top", "start") if self.overlap > 0.0 else ("end", "top", "start")
        strips = {recipe.name for recipe in design.pieces if isinstance(recipe, StripPiece)}
        kept = tuple(
            replace(finish, into=joins[0]) if waits_for_the_waist(finish, strips) else finish
            for finish in design.finishes
            if finish.edge not in chain
        )
        made = replace(design, finishes=kept, joins=(*design.joins, *sewn))
        return with_added(
            in_own_leg(made, joins),
            pieces=(
                WaistbandPiece(
                    self.name, joins[0], self.width, self.overlap, self.cloth, self.button
                ),
            ),
            finishes=tuple(
                Finish(EdgeRef(self.name, f"{self.name}.{end}"), "turned", _TURNED, rows=())
                for end in ends
            ),
        )

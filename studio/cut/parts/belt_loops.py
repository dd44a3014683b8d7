"""Belt loops: short strips folded in three and stitched."""

from __future__ import annotations

from collections.abc import Mapping
from typing import ClassVar

from studio.block.panel import Panel
from studio.cut.parts.part import Number, Part, join_with, refuse_taken, with_added
from studio.cut.piece import Piece
from studio.design.design import Design
from studio.design.joins import EdgeRef, Finish
from studio.design.pieces import PanelPiece, StripPiece
from studio.errors import GeometryRefused


class BeltLoops(Part, frozen=True, kw_only=True):
    """Each `wide` when folded and `long` between the places where it is caught."""

    title: ClassVar[str] = "Belt loops"
    words: ClassVar[str] = (
        "Strips folded in three, their raw edges inside, stitched down twice; "
        "their places are notched round the waist."
    )
    numbers: ClassVar[tuple[Number, ...]] = (
        Number("wide", "Width, folded"),
        Number("long", "Length, for the belt"),
        Number("ends", "Caught at each end"),
        Number("count", "How many", is_count=True, least=1, most=20),
    )
    on_panel: ClassVar[bool] = False

    name: str = "belt-loop"
    wide: float = 12.0
    long: float = 50.0
    ends: float = 12.0
    count: int = 5

    def added(
        self, design: Design, _panels: Mapping[str, Panel], _pieces: Mapping[str, Piece]
    ) -> Design:
        """Strips three times as wide; the long edges stay raw inside the fold."""
        refuse_taken(design, self.name)
        if self.wide < 4.0 or self.long < 10.0 or self.count < 1:
            raise GeometryRefused("Loops need a width, a length and a count.", where=self.name)
        strip = StripPiece(
            self.name,
            length=self.long,
            width=3.0 * self.wide,
            folded=3,
            count=self.count,
            cloth=self.cloth,
        )
        seam = _seam_of_band(design)
        raw = (Finish(EdgeRef(self.name, f"{self.name}.{e}"), "raw") for e in ("one", "two"))
        caught = (
            Finish(
                EdgeRef(self.name, f"{self.name}.{end}"),
                "caught",
                self.ends,
                into=seam,
                spread=self.count if end == "start" else 0,
            )
            for end in ("start", "end")
        )
        return with_added(design, pieces=(strip,), finishes=(*raw, *caught))


def _seam_of_band(design: Design) -> str:
    """The seam by which a band is sewn on: below one cut off the top, else at the waist itself."""
    lines = [one.below for one in design.pieces if isinstance(one, PanelPiece) and one.below]
    edges = (*lines, "front.waist", "back.waist")
    return next((name for edge in edges if (name := join_with(design, edge))), "")

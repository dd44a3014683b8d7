"""A loop for a tool: a strap caught in a seam or under a patch."""

from __future__ import annotations

from collections.abc import Mapping
from typing import ClassVar

from msgspec.structs import replace

from studio.block.panel import Panel
from studio.cut.parts.part import Number, Part, join_with, refuse_taken, with_added
from studio.cut.piece import Piece
from studio.design.design import Design
from studio.design.joins import EdgeRef, Finish, Join
from studio.design.pieces import StripPiece
from studio.design.plain import side
from studio.errors import GeometryRefused


class ToolLoop(Part, frozen=True, kw_only=True):
    """A strap `strap` wide that hangs `drop` down and is caught by `ends` at each end, `up` along
    the side seam; sewn to a tube and turned.
    """

    title: ClassVar[str] = "Tool loop"
    words: ClassVar[str] = (
        "A strap for a hammer or a rule. Its drop is longer than the tool's head is wide."
    )
    numbers: ClassVar[tuple[Number, ...]] = (
        Number("strap", "Strap width"),
        Number("drop", "Hangs down"),
        Number("ends", "Caught at each end"),
        Number("up", "Caught at, up from the hem"),
        Number("count", "How many", is_count=True, least=1, most=20),
    )
    on_panel: ClassVar[bool] = False

    name: str = "tool-loop"
    strap: float = 30.0
    drop: float = 90.0
    ends: float = 20.0
    up: float = 640.0
    count: int = 1

    def added(
        self, design: Design, _panels: Mapping[str, Panel], _pieces: Mapping[str, Piece]
    ) -> Design:
        """A strip twice as wide and twice as long as it hangs, its long edges joined."""
        refuse_taken(design, self.name)
        if self.strap < 5.0 or self.drop < 10.0 or self.count < 1:
            raise GeometryRefused("A loop needs a strap, a drop and a count.", where=self.name)
        seam = join_with(design, "front.side") or join_with(design, "back.side")
        strip = StripPiece(
            self.name,
            length=2.0 * self.drop,
            width=2.0 * self.strap,
            folded=2,
            count=self.count,
            cloth=self.cloth,
        )
        made = with_added(
            design,
            pieces=(strip,),
            finishes=tuple(
                Finish(
                    EdgeRef(self.name, f"{self.name}.{end}"),
                    "caught",
                    self.ends,
                    into=seam,
                    at=self.up if seam else None,
                )
                for end in ("start", "end")
            ),
        )
        tube = Join(
            f"{self.name} tube",
            side((self.name, f"{self.name}.one")),
            side((self.name, f"{self.name}.two")),
        )
        return replace(made, joins=(*made.joins, tube))

"""A patch pocket: a free shape laid on a panel and topstitched."""

from __future__ import annotations

from collections.abc import Mapping
from typing import ClassVar

from msgspec.structs import replace

from studio.block.panel import Panel
from studio.block.places import point_at
from studio.curves import Vector
from studio.cut.parts.part import (
    Number,
    Part,
    body_of,
    edge_called,
    panel_called,
    refuse_taken,
    with_added,
    with_marks,
)
from studio.cut.piece import Piece
from studio.design.design import Design
from studio.design.joins import EdgeRef, Finish, Join
from studio.design.lines import Node, OnEdge, PlacedPath, StyleLine
from studio.design.pieces import ShapePiece
from studio.design.plain import side
from studio.errors import GeometryRefused

TOP = 25.0
"""What is turned in at the top, mm (practice)."""


class PatchPocket(Part, frozen=True, kw_only=True):
    """`width` by `height` with a point of `point` at its foot, or its lower corners cut off by
    `corner`; its upper corner `inward` from an edge (the rise; the side seam with `from_side`),
    `down` along it from the waist, leaning by `lean` degrees. With `on` it is laid on that piece,
    such as a larger pocket, instead of on the leg.
    """

    title: ClassVar[str] = "Patch pocket"
    words: ClassVar[str] = (
        "A pocket, or a narrow one for a tool, laid on the leg; its top is turned in first."
    )
    numbers: ClassVar[tuple[Number, ...]] = (
        Number("width", "Width"),
        Number("height", "Height"),
        Number("point", "Point at its foot"),
        Number("corner", "Corners cut off by"),
        Number("down", "Down from the waist"),
        Number("inward", "In from the edge"),
        Number("lean", "Leans by", is_angle=True, least=-90.0, most=90.0),
        Number("pair", "How many: 1 or 2", is_count=True, least=1, most=2),
    )

    name: str = "patch-pocket"
    panel: str = "back"
    width: float = 150.0
    height: float = 140.0
    point: float = 28.0
    corner: float = 0.0
    down: float = 112.0
    inward: float = 58.0
    lean: float = -4.0
    pair: int = 2
    from_side: bool = False
    on: str = ""

    def added(
        self, design: Design, panels: Mapping[str, Panel], pieces: Mapping[str, Piece]
    ) -> Design:
        """The shape as a closed line, the piece, its top turned, its join on the leg."""
        refuse_taken(design, self.name)
        panel = panel_called(panels, self.panel)
        waist = edge_called(panel, "waist")
        edge = edge_called(panel, "side" if self.from_side else "rise")
        if self.width < 20.0 or self.height < 20.0:
            raise GeometryRefused("A pocket needs a width and a height.", where=self.name)
        place = OnEdge(edge, waist, mm=self.down)
        inwards = panel.outline.box.centre.x - point_at(panel, place).x
        across = 1.0 if inwards > 0.0 else -1.0
        names, corners = self._shape(across)
        path = PlacedPath(
            place, self.inward, self.lean, tuple(Node(at, smooth=False) for at in corners)
        )
        line = StyleLine(self.name, self.panel, "patch", path, names)
        body = self.on or body_of(design, pieces, self.panel, edge_called(panel, "hem")).name
        if body not in pieces:
            raise GeometryRefused(f"There is no piece {body} to lay it on.", where=self.name)
        piece = ShapePiece(
            self.name, self.name, cut="pair" if self.pair != 1 else "single", cloth=self.cloth
        )
        made = with_marks(design, body, self.name)
        made = with_added(
            made,
            lines=(line,),
            pieces=(piece,),
            finishes=(Finish(EdgeRef(self.name, f"{self.name}.top"), "turned", TOP),),
        )
        stretches = tuple(f"{self.name}.{part}" for part in names[1:])
        join = Join(
            f"{self.name} on {body}",
            side(*((self.name, part) for part in stretches)),
            side(*((body, part) for part in stretches)),
            construction="lapped",
        )
        return replace(made, joins=(*made.joins, join))

    def _shape(self, across: float) -> tuple[tuple[str, ...], tuple[Vector, ...]]:
        """Names of its stretches and its corners, counter-clockwise from the start of the top."""
        wide, high, cut = across * self.width, self.height, self.corner
        inner: tuple[str, ...]
        low: tuple[Vector, ...]
        far, near = Vector(wide, 0.0), Vector(0.0, 0.0)
        if cut > 0.0:
            inner = ("outer", "lower-outer", "foot", "lower-inner", "inner")
            low = (
                Vector(wide, cut - high),
                Vector(wide - across * cut, -high),
                Vector(across * cut, -high),
                Vector(0.0, cut - high),
            )
        elif self.point > 0.0:
            inner = ("outer", "lower-outer", "lower-inner", "inner")
            low = (
                Vector(wide, -high),
                Vector(wide / 2.0, -high - self.point),
                Vector(0.0, -high),
            )
        else:
            inner = ("outer", "foot", "inner")
            low = (Vector(wide, -high), Vector(0.0, -high))
        if across > 0.0:
            # Counter-clockwise: from the other upper corner, down the near side last.
            return ("top", *inner), (far, near, *low[::-1])
        return ("top", *inner), (near, far, *low)

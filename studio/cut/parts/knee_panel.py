"""A second layer over the knee, from the side seam and clear of the inseam."""

from __future__ import annotations

from collections.abc import Mapping
from typing import ClassVar

from msgspec.structs import replace

from studio.block.panel import Panel
from studio.curves import Vector, level_meetings
from studio.cut.parts.part import (
    Number,
    Part,
    body_of,
    edge_called,
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
from studio.design.joins import EdgeRef, Finish, Join
from studio.design.lines import AnchoredPath, Node, OnEdge, StyleLine
from studio.design.pieces import Bound, PanelPiece
from studio.design.plain import side
from studio.errors import GeometryRefused

_PARTS = ("top", "inner", "bottom")

_STEP = 5.0
"""Numbers that are offered are whole so many mm."""

_USUAL_KNEE = 445.0
"""So far up the side seam is the knee line where the usual heights are meant for, mm."""

_LEAST_UP = 45.0
"""A panel that is offered stays clear of a hem, mm."""

_CLEAR = 30.0
"""And so far from the inseam, which stays free of bulk, mm (common practice, no source)."""


class KneePanel(Part, frozen=True, kw_only=True):
    """Between two heights up the side seam from the hem, `reach` wide from the side seam."""

    title: ClassVar[str] = "Knee panel"
    words: ClassVar[str] = (
        "A second layer for kneeling. It ends short of the inseam, which stays free of bulk."
    )
    numbers: ClassVar[tuple[Number, ...]] = (
        Number("top", "Upper edge, up from the hem"),
        Number("bottom", "Lower edge, up from the hem"),
        Number("reach", "Width, from the side seam"),
    )

    name: str = "knee-panel"
    panel: str = "front"
    top: float = 575.0
    bottom: float = 235.0
    reach: float = 185.0

    def fitting(self, panels: Mapping[str, Panel]) -> KneePanel:
        """As far above and below the knee line as on a leg of usual length, and clear of the inseam
        on a narrow one; the same on a panel that lacks these edges or the line.
        """
        panel = panels.get(self.panel)
        if panel is None or "knee" not in panel.levels:
            return self
        if not all(panel.outline.has(f"{panel.name}.{edge}") for edge in ("side", "inseam")):
            return self
        seam = panel.outline.edge(f"{panel.name}.side").chain
        inseam = panel.outline.edge(f"{panel.name}.inseam").chain
        up = seam if seam.start.y < seam.end.y else seam.reversed()
        met = level_meetings(up, panel.levels["knee"])
        if not met:
            return self
        shift = max(_STEP * round((met[0].first - _USUAL_KNEE) / _STEP), _LEAST_UP - self.bottom)
        top, bottom = min(self.top + shift, up.length), self.bottom + shift
        narrow = min(inseam.nearest(up.at(at))[1] for at in (bottom, top))
        reach = min(self.reach, _STEP * ((narrow - _CLEAR) // _STEP))
        return replace(self, top=top, bottom=bottom, reach=max(reach, _STEP))

    def added(
        self, design: Design, panels: Mapping[str, Panel], pieces: Mapping[str, Piece]
    ) -> Design:
        """Its outline as a line with two corners, the piece, its join; its side edge is caught."""
        refuse_taken(design, self.name)
        panel = panel_called(panels, self.panel)
        seam, hem = edge_called(panel, "side"), edge_called(panel, "hem")
        high = self.top - self.bottom
        if high < 40.0:
            raise GeometryRefused("The knee panel needs some height.", where=self.name)
        body = body_of(design, pieces, self.panel, seam, hem).name
        starts_at_hem = starts_at(panel, seam, hem)
        # Walked from the top down with the leg's middle at its right on a front.
        into = -1.0 if starts_at_hem else 1.0
        path = AnchoredPath(
            OnEdge(seam, hem, mm=self.top),
            OnEdge(seam, hem, mm=self.bottom),
            (
                Node(Vector(0.0, into * self.reach / high), smooth=False),
                Node(Vector(1.0, into * self.reach / high), smooth=False),
            ),
        )
        keep: Side = "left" if starts_at_hem else "right"
        made = with_marks(design, body, self.name)
        made = with_added(
            made,
            lines=(StyleLine(self.name, self.panel, "patch", path, _PARTS),),
            pieces=(
                PanelPiece(self.name, self.panel, (Bound(self.name, keep),), cloth=self.cloth),
            ),
            finishes=(
                Finish(EdgeRef(self.name, seam), "caught", into=join_with(design, seam, body)),
            ),
        )
        stretches = tuple(f"{self.name}.{part}" for part in _PARTS)
        join = Join(
            f"{self.name} on {body}",
            side(*((self.name, part) for part in stretches)),
            side(*((body, part) for part in stretches)),
            construction="lapped",
        )
        if not starts_at_hem:
            join = replace(
                join,
                a=replace(join.a, edges=join.a.edges[::-1]),
                b=replace(join.b, edges=join.b.edges[::-1]),
            )
        return replace(made, joins=(*made.joins, join))

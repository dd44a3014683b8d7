"""A waistband cut from the pattern itself: it has the wearer's shape, its darts closed."""

from __future__ import annotations

from collections.abc import Mapping
from typing import ClassVar

from msgspec.structs import replace

from studio.block.panel import Panel
from studio.cut.divide import Yoke, with_yoke
from studio.cut.parts.part import Number, Part, panel_called, refuse_taken
from studio.cut.piece import Piece
from studio.design.design import Design


class ShapedWaistband(Part, frozen=True, kw_only=True):
    """As wide as `width` all along, on front and back; cut before pockets are."""

    title: ClassVar[str] = "Shaped waistband"
    words: ClassVar[str] = (
        "Cut off the top of front and back, its darts closed; what is left of them below is taken "
        "off at the side. For pairs without pockets that begin at the waist."
    )
    numbers: ClassVar[tuple[Number, ...]] = (Number("width", "Width"),)
    on_panel: ClassVar[bool] = False

    name: str = "band"
    width: float = 45.0

    def added(
        self, design: Design, panels: Mapping[str, Panel], _pieces: Mapping[str, Piece]
    ) -> Design:
        """A band piece of each panel, joined plainly below; side and crotch seam run through it."""
        names = [f"{self.name}-{panel}" for panel in ("front", "back")]
        refuse_taken(design, self.name, *names)
        made = design
        for name, panel in zip(names, ("front", "back"), strict=True):
            asked = Yoke(name, panel, self.width, self.width, bow=0.0, rest_at="side")
            made = with_yoke(made, panel_called(panels, panel), asked)
        joins = tuple(
            replace(join, construction="plain") if join.name in _seams(names) else join
            for join in made.joins
        )
        return replace(made, joins=joins)


def _seams(names: list[str]) -> set[str]:
    return {f"{name} seam" for name in names}

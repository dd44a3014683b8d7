"""A panel of the block: one closed outline of named edges, its darts and its level lines."""

from __future__ import annotations

from typing import Literal

from msgspec import field

from studio.curves import Chain, Outline, Point
from studio.memo import Made


class Pleat(Made, frozen=True):
    """How a dart is folded instead of sewn: what is inside is pressed towards the rise or the side,
    and it is sewn only `down` mm from its edge (0: not at all).
    """

    towards: Literal["rise", "side"]
    down: float = 0.0


class Dart(Made, frozen=True):
    """A wedge to be taken out. `first` and `last` are its ends on `edge`, met in that order when
    the outline is walked counter-clockwise; between them the edge runs straight. One with a `pleat`
    is folded at its edge, and opens below.
    """

    name: str
    edge: str
    first: Point
    last: Point
    point: Point
    pleat: Pleat | None = None

    @property
    def intake(self) -> float:
        """Width taken out at the edge, mm."""
        return self.first.distance_to(self.last)

    def mouth_on(self, chain: Chain) -> tuple[float, float] | None:
        """Where its first and its last end lie on a chain, mm along; None where not both do."""
        first, last = chain.passes(self.first), chain.passes(self.last)
        return None if first is None or last is None else (first, last)


class Panel(Made, frozen=True):
    """A front or back panel, one leg, without allowances; the grain runs up the page.

    Edges are called `<panel>.<edge>`: waist, side, hem, inseam, rise. `levels` are heights (mm)
    of level lines by name: waist, hip, crotch, knee, hem. The crease line is x = 0.
    """

    name: str
    outline: Outline
    darts: tuple[Dart, ...] = ()
    levels: dict[str, float] = field(default_factory=dict)

    def sewn_length(self, edge: str) -> float:
        """Length of an edge with its darts closed, mm; raises KeyError."""
        return self.outline.edge(edge).length - sum(
            dart.intake for dart in self.darts if dart.edge == edge
        )


class Block(Made, frozen=True):
    """The panels, by name, and sentences about what the draft could not give as asked."""

    panels: tuple[Panel, ...]
    remarks: tuple[str, ...] = ()

    def panel(self, name: str) -> Panel:
        """The panel of that name; raises KeyError."""
        for panel in self.panels:
            if panel.name == name:
                return panel
        raise KeyError(name)

"""A style line as it lies on its panel."""

from __future__ import annotations

from msgspec.structs import force_setattr

from studio.block.panel import Dart
from studio.block.places import EdgePlace
from studio.curves import Affine, Chain, Edge
from studio.curves.path import PathNode
from studio.memo import Made


class Shut(Made, frozen=True):
    """What lies between a line and the edge that it runs beside, when the darts that open there are
    shut: the edge redrawn fair, the line exactly as far off it as asked, both in the edge's order,
    and the move of each section between the darts, the first of which stays.
    """

    top: Chain
    low: Chain
    moves: tuple[Affine, ...]
    darts: tuple[Dart, ...]


class DrawnLine(Made, frozen=True, eq=False):
    """A style line as it lies on its panel: its stretches as edges in panel coordinates, its
    nodes' places and handles (mm, panel coordinates), and `frame`, which takes the units its
    nodes are kept in to panel mm. Canvas handles are made from this.
    """

    name: str
    panel: str
    edges: tuple[Edge, ...]
    nodes: tuple[PathNode, ...]
    frame: Affine
    ends: tuple[EdgePlace, ...] = ()
    """Where an anchored line starts and ends on the panel; none for a closed one."""
    shut: Shut | None = None
    """Of a line that keeps its distance from an edge."""
    _chain: Chain | None = None

    def __eq__(self, other: object) -> bool:
        return isinstance(other, DrawnLine) and self._told() == other._told()

    __hash__ = Made.__hash__  # Lost where equality is one's own.

    def _told(self) -> tuple[object, ...]:
        """All but what is only remembered."""
        return (self.name, self.panel, self.edges, self.nodes, self.frame, self.ends, self.shut)

    @property
    def chain(self) -> Chain:
        """The whole line as one chain."""
        known = self._chain
        if known is None:
            known = Chain(tuple([cubic for edge in self.edges for cubic in edge.chain.cubics]))
            force_setattr(self, "_chain", known)
        return known

    @property
    def more(self) -> float:
        """By how much it is longer, mm, than what lies above it with the darts shut; 0 of a line
        that keeps its distance from no edge.
        """
        return 0.0 if self.shut is None else self.chain.length - self.shut.low.length

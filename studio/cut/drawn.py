"""A style line as it lies on its panel."""

from __future__ import annotations

import msgspec

from studio.curves import Affine, Chain, Edge, Point


class EdgePlace(msgspec.Struct, frozen=True):
    """A place on a panel's edge: mm along it, counter-clockwise."""

    edge: str
    distance: float


class DrawnLine(msgspec.Struct, frozen=True):
    """A style line as it lies on its panel: its stretches as edges in panel coordinates, its
    nodes' places and handles (mm, panel coordinates), and `frame`, which takes the units its
    nodes are kept in to panel mm. Canvas handles are made from this.
    """

    name: str
    panel: str
    edges: tuple[Edge, ...]
    nodes: tuple[DrawnNode, ...]
    frame: Affine
    ends: tuple[EdgePlace, ...] = ()
    """Where an anchored line starts and ends on the panel; none for a closed one."""

    @property
    def chain(self) -> Chain:
        """The whole line as one chain."""
        return Chain(tuple(cubic for edge in self.edges for cubic in edge.chain.cubics))


class DrawnNode(msgspec.Struct, frozen=True):
    """A node as drawn. For an anchored line the first and last are its ends on the outline."""

    at: Point
    smooth: bool
    handle_in: Point | None
    handle_out: Point | None

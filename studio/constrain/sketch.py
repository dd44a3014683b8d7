"""What a solver is given: nodes with handles, runs of cubics through them, and what was asked.

Node and handle coordinates are in mm; a slide is a parameter along a run, whole numbers at joints.
"""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING, ClassVar, Literal, Self

import msgspec

from studio import numbers
from studio.curves import Chain, Cubic, Point, Vector
from studio.errors import BadInput

if TYPE_CHECKING:
    from studio.constrain.rows import Rows

NodePart = Literal["node", "in", "out"]


class SketchNode(msgspec.Struct, frozen=True):
    """A point with up to two handles, given as steps from it; `held` keeps all three in place."""

    at: Point
    handle_in: Vector | None = None
    handle_out: Vector | None = None
    held: bool = False


class Run(msgspec.Struct, frozen=True):
    """Cubics joined end to end through two or more nodes; a missing handle lies at the third."""

    name: str
    nodes: tuple[int, ...]


class PointRef(msgspec.Struct, frozen=True):
    """A node of the sketch, or the tip of one of its handles."""

    node: int
    part: NodePart = "node"


class Asked(msgspec.Struct, frozen=True, kw_only=True):
    """What a maker asked for. A kind turns itself into rows that must hold."""

    name: str
    active: bool = True

    slides: ClassVar[bool] = False
    """True for a kind that owns one of the sketch's slides."""

    @property
    def value(self) -> float | None:
        """The number asked for, in mm, degrees or a share; None when there is none."""
        return None

    def with_value(self, value: float) -> Self:
        """The same request with another number; raises BadInput when it has none."""
        raise BadInput(f"This has no number to set to {numbers.short(value)}.", where=self.name)

    def write(self, rows: Rows) -> None:
        """Adds the rows that must hold; raises BadInput when it names what is not there."""
        raise NotImplementedError


class Sketch(msgspec.Struct, frozen=True):
    """Nodes, runs and requests; `slides` holds one parameter per request that slides, in order."""

    nodes: tuple[SketchNode, ...]
    runs: tuple[Run, ...] = ()
    constraints: tuple[Asked, ...] = ()
    slides: tuple[float, ...] = ()

    def run(self, name: str) -> Run:
        """The run of that name; raises BadInput."""
        for run in self.runs:
            if run.name == name:
                return run
        raise BadInput(f"There is no run called {name!r}.", where="sketch")

    def constraint(self, name: str) -> Asked:
        """The request of that name; raises BadInput."""
        for asked in self.constraints:
            if asked.name == name:
                return asked
        raise BadInput(f"Nothing called {name!r} was asked.", where="sketch")

    def point(self, ref: PointRef) -> Point:
        """Where a node or the tip of a handle is; raises BadInput when there is none."""
        if not 0 <= ref.node < len(self.nodes):
            raise BadInput(f"There is no node {ref.node}.", where="sketch")
        node = self.nodes[ref.node]
        if ref.part == "node":
            return node.at
        handle = node.handle_in if ref.part == "in" else node.handle_out
        if handle is None:
            raise BadInput(f"Node {ref.node} has no {ref.part} handle.", where="sketch")
        return node.at + handle

    def chain(self, name: str) -> Chain:
        """The cubics of a run as one chain, exact; raises BadInput."""
        return Chain(
            tuple(
                self._cubic(self.nodes[one], self.nodes[two])
                for one, two in itertools.pairwise(self.run(name).nodes)
            )
        )

    def with_constraint(self, asked: Asked) -> Sketch:
        """The sketch with the request of the same name replaced by this one of the same kind."""
        self.constraint(asked.name)
        return msgspec.structs.replace(
            self,
            constraints=tuple(asked if old.name == asked.name else old for old in self.constraints),
        )

    @staticmethod
    def _cubic(one: SketchNode, two: SketchNode) -> Cubic:
        first = (
            one.at.toward(two.at, 1.0 / 3.0) if one.handle_out is None else one.at + one.handle_out
        )
        second = (
            one.at.toward(two.at, 2.0 / 3.0) if two.handle_in is None else two.at + two.handle_in
        )
        return Cubic(one.at, first, second, two.at)


def with_slides(sketch: Sketch) -> Sketch:
    """The sketch with every slide set to the nearest place on its run, within 1e-9 mm."""
    slides = []
    for asked in sketch.constraints:
        if asked.slides:
            ref, name = asked.point, asked.run  # type: ignore[attr-defined]
            slides.append(nearest_slide(sketch.chain(name), sketch.point(ref)))
    return msgspec.structs.replace(sketch, slides=tuple(slides))


def nearest_slide(chain: Chain, point: Point) -> float:
    """Parameter along a chain, 0 to its count of cubics, of the place nearest to a point."""
    found = [(*cubic.nearest(point), index) for index, cubic in enumerate(chain.cubics)]
    t, _, index = min(found, key=lambda near: (near[1], near[2]))
    return index + t

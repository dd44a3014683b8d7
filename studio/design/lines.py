"""Style lines: what the maker draws on a panel.

A line is kept as the maker thinks of it. Its ends are so far from a corner along an edge; what
lies between is kept in the frame of its chord, so that it follows when the block changes. A
closed shape (a patch) is kept in mm, since what it must hold does not grow with the wearer.
"""

from __future__ import annotations

from typing import Literal, TypeAlias

from studio.curves.point import Vector
from studio.design.kept import Kept

LineKind: TypeAlias = Literal["seam", "mouth", "patch", "mark"]


class OnEdge(Kept, frozen=True):
    """A place on an edge, measured along it from the corner it shares with `corner`.

    Exactly one of `mm` (along the edge) and `share` (0 to 1 of its length) is given.
    """

    edge: str
    corner: str
    mm: float | None = None
    share: float | None = None

    def __post_init__(self) -> None:
        if (self.mm is None) == (self.share is None):
            raise ValueError(f"give either mm or share for the place on {self.edge}")


class Node(Kept, frozen=True):
    """A point a line passes through, smooth or a corner, with its two handles.

    In an anchored line `at` and the handles are shares of the chord: x along it from start to
    end, y to its left. In a placed line they are mm. A handle is a step from the node; left out,
    it is found so that the curve runs smooth.
    """

    at: Vector
    smooth: bool = True
    handle_in: Vector | None = None
    handle_out: Vector | None = None


class AnchoredPath(Kept, frozen=True, tag="anchored", tag_field="path"):
    """From one place on the panel's outline to another; handles in the frame of the chord.

    A line `beside` an edge that both of its ends are measured from keeps that far off it all along,
    once the darts that open there are closed: the lower edge of a band of one width. Where the ends
    are not equally far, it comes nearer evenly. It has no nodes and handles of its own.
    """

    start: OnEdge
    end: OnEdge
    nodes: tuple[Node, ...] = ()
    start_handle: Vector | None = None
    end_handle: Vector | None = None
    beside: str = ""


class PlacedPath(Kept, frozen=True, tag="placed", tag_field="path"):
    """A closed shape laid on the panel: its origin is `inward` mm from a place on an edge,
    square to the edge; turned by `turn` degrees from the grain. Nodes run counter-clockwise.
    """

    at: OnEdge
    inward: float
    turn: float
    nodes: tuple[Node, ...]


class StyleLine(Kept, frozen=True):
    """A line on a panel. `stretches` names its parts between corners, in order; the edges it
    makes are called `<line>.<stretch>`, or just `<line>` when it has one part. The open corners
    of a pocket along a line that is `riveted` are held by rivets.
    """

    name: str
    panel: str
    kind: LineKind
    path: AnchoredPath | PlacedPath
    stretches: tuple[str, ...] = ()
    riveted: bool = False

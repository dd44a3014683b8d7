"""Joins: which runs of edges are sewn together and how; and how free edges are finished."""

from __future__ import annotations

from typing import Literal, TypeAlias

from studio.design.kept import Kept
from studio.memo import remembered

NotchShape: TypeAlias = Literal["slit", "T", "castle", "check", "U"]
CornerName: TypeAlias = Literal["mitred", "squared-to-before", "squared-to-after"]
ConstructionName: TypeAlias = Literal[
    "plain", "felled", "lapped", "faced", "bagged", "bound", "laid-over", "bound-over"
]
FinishName: TypeAlias = Literal[
    "hem",
    "double-hem",
    "turn-up",
    "casing",
    "turned",
    "faced",
    "bound",
    "caught",
    "raw",
]


class EdgeRef(Kept, frozen=True):
    """An edge (or a mark) of a piece; with `before` or `after` only its stretch up to or from
    the end of that line, counter-clockwise round the panel.
    """

    piece: str
    edge: str
    before: str | None = None
    after: str | None = None

    @property
    def text(self) -> str:
        """The way it is written in tables: piece:edge."""
        suffix = f" before {self.before}" if self.before else ""
        suffix += f" after {self.after}" if self.after else ""
        return f"{self.piece}:{self.edge}{suffix}"


class JoinSide(Kept, frozen=True):
    """Edges in the order they are sewn; `mirrored` when they belong to the other leg's pieces."""

    edges: tuple[EdgeRef, ...]
    mirrored: bool = False


class Join(Kept, frozen=True):
    """Two sides sewn together, both listed from the same end of the seam.

    Side `a` is walked counter-clockwise round its pieces and side `b` clockwise, as two pieces
    laid face to face meet. `ease` is how much longer side b is on purpose, in mm; `wraps` says
    which allowance of a felled seam folds round the other; `allowed` replaces the usual 1 mm.
    `notches` are distances in mm along side a, from its start (negative: from its end), on top of
    those that chains and lines give. `rows` are distances of topstitching inside the edge, in mm,
    instead of those the construction brings; none with (). `eased` is the stretch of side a, from
    and to in mm, over which the ease is taken up; left out, all of it.
    """

    name: str
    a: JoinSide
    b: JoinSide
    construction: ConstructionName = "plain"
    wraps: Literal["a", "b"] = "a"
    ease: float = 0.0
    allowed: float = 1.0
    notches: tuple[float, ...] = ()
    rows: tuple[float, ...] | None = None
    eased: tuple[float, float] | None = None

    @property
    def refs(self) -> tuple[EdgeRef, ...]:
        """The edges of side a, then those of side b."""
        return (*self.a.edges, *self.b.edges)

    @property
    def pieces(self) -> frozenset[str]:
        """The pieces it sews."""
        return _pieces_of(self)

    def sews(self, piece: str) -> bool:
        """True when a piece takes part in the join."""
        return piece in self.pieces


class Finish(Kept, frozen=True):
    """How an edge without a join is finished, and its allowance in mm (None: what is usual for
    it); `rows` as in `Join`. An edge that is caught in a seam of other pieces names it in `into`,
    and `at` so far from the start of its first side, in mm, when it matters where. With `spread`,
    so many of it are spread round the waist, in that seam and in the same seam of the other leg.
    `turn_up` is how high a turn-up stands, in mm (None: what is usual).
    """

    edge: EdgeRef
    how: FinishName
    allowance: float | None = None
    rows: tuple[float, ...] | None = None
    into: str = ""
    at: float | None = None
    spread: int = 0
    turn_up: float | None = None

    @property
    def step(self) -> str:
        """What it is called as a step of the order of sewing."""
        return f"{self.edge.text}, {self.how}"


class Corner(Kept, frozen=True):
    """How the allowances meet at the corner of a piece between two edges, met counter-clockwise:
    run on to a mitre, or with the allowance of one edge cut off square to it.
    """

    piece: str
    before: str
    after: str
    how: CornerName


_pieces_of = remembered(lambda join: frozenset(ref.piece for ref in join.refs), 400)

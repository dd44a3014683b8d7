"""A piece before allowances: its sewing line, what is marked on it, and how it is cut."""

from __future__ import annotations

from msgspec import field

from studio.block.panel import Dart
from studio.curves import Chain, Outline
from studio.design.pieces import Cut
from studio.memo import Made


class Mark(Made, frozen=True):
    """A line drawn on a piece, such as where a patch's edge is laid; `start` is how far along the
    line first drawn it begins, mm, where a bound has cut off what lies before.
    """

    name: str
    chain: Chain
    start: float = 0.0


class Piece(Made, frozen=True):
    """One pattern piece by its sewing line.

    `warp` is the direction of the warp in degrees from +x. `splits` are places on the outline
    where a line's end divides an edge: (edge index, mm along that edge, line name). `cut` says
    whether a mirrored twin is cut with it, `count` how many (pairs or singles).
    """

    name: str
    outline: Outline
    marks: tuple[Mark, ...] = ()
    darts: tuple[Dart, ...] = ()
    splits: tuple[tuple[int, float, str], ...] = ()
    levels: dict[str, float] = field(default_factory=dict)
    warp: float = 90.0
    cut: Cut = "pair"
    count: int = 1
    cloth: str = "main"
    panel: str = ""

    @property
    def quantity(self) -> int:
        """How many pieces of cloth in all."""
        return self.count * (2 if self.cut == "pair" else 1)

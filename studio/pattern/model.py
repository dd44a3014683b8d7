"""What follows from a design, and what it was made by."""

from __future__ import annotations

import operator

import msgspec

from studio.block import Panel
from studio.check import Finding, GirthRow, LedgerRow, Pocket
from studio.cut import DrawnLine, LinesHeld, Piece
from studio.design import Alteration, Design, StyleLine
from studio.design.holds import Hold
from studio.memo import Made
from studio.sew import (
    AllowanceRules,
    Given,
    Lined,
    MeasuredJoin,
    Parts,
    Seam,
    SewingOrder,
    SewnPiece,
)


class StepMade(msgspec.Struct, frozen=True):
    """A step of the design with its panel before and after it; `after` is None when the step
    could not be done, both when its panel is not there.
    """

    step: Alteration
    before: Panel | None
    after: Panel | None


class Joined(msgspec.Struct, frozen=True):
    """A join that could be made: measured, in the ledger, what it brings to its pieces, and what
    is told of that.
    """

    measured: MeasuredJoin
    pieces: tuple[str, ...]
    row: LedgerRow
    seam: Seam
    findings: tuple[Finding, ...]


class ReadyPiece(Made, frozen=True):
    """A piece ready for the shears, the lines it was given, and what of it could not be made."""

    sewn: SewnPiece
    edges: tuple[str, ...]
    lined: Lined
    refused: tuple[Finding, ...]


class HeldGroup(msgspec.Struct, frozen=True):
    """Lines tied to one another by what holds on them, and what was found of them."""

    lines: tuple[StyleLine, ...]
    panels: tuple[Panel, ...]
    asked: tuple[Hold, ...]
    found: LinesHeld

    def is_of(
        self, lines: tuple[StyleLine, ...], panels: tuple[Panel, ...], asked: tuple[Hold, ...]
    ) -> bool:
        """Whether it was found of these very lines, panels and holds."""
        return all(
            len(mine) == len(others) and all(map(operator.is_, mine, others))
            for mine, others in (
                (self.lines, lines),
                (self.panels, panels),
                (self.asked, asked),
            )
        )


class Judging(Made, frozen=True):
    """What pieces are judged by: the allowance rules, and the lines that cut a panel in two."""

    rules: AllowanceRules
    cuts: tuple[str, ...]


class Work(msgspec.Struct, frozen=True):
    """What a pattern was put together from, by name: the next one of a drag makes anew only what
    has changed.
    """

    pieces: dict[str, Piece] = {}
    joins: dict[str, Joined] = {}
    parts: dict[str, Parts] = {}
    ready: dict[str, ReadyPiece] = {}
    given: Given | None = None
    held: dict[str, HeldGroup] = {}
    by: Judging | None = None
    put_off: frozenset[str] = frozenset()


class Pattern(msgspec.Struct, frozen=True):
    """All that follows from a design. Pieces lie in the coordinates of their panel.

    `judged` are the findings of each piece, by name. A `draft` is a pattern under the hand: all of
    it is drawn, but pieces that changed are not judged yet, and keep what was found of them before.
    """

    design: Design
    panels: tuple[Panel, ...]
    lines: tuple[DrawnLine, ...]
    pieces: tuple[SewnPiece, ...]
    ledger: tuple[LedgerRow, ...]
    girths: tuple[GirthRow, ...]
    findings: tuple[Finding, ...]
    steps: tuple[StepMade, ...] = ()
    measured: tuple[MeasuredJoin, ...] = ()
    order: SewingOrder = SewingOrder((), ())
    pockets: tuple[Pocket, ...] = ()
    judged: dict[str, tuple[Finding, ...]] = {}
    draft: bool = False
    work: Work = Work()

    def piece(self, name: str) -> SewnPiece:
        """The piece of that name; raises KeyError."""
        for sewn in self.pieces:
            if sewn.piece.name == name:
                return sewn
        raise KeyError(name)

    def pieces_by_name(self) -> dict[str, SewnPiece]:
        """All pieces that could be made, in their order, each by its name."""
        return {sewn.piece.name: sewn for sewn in self.pieces}

    def measured_by_name(self) -> dict[str, MeasuredJoin]:
        """All joins that could be measured, in their order, each by its name."""
        return {one.join.name: one for one in self.measured}

    def panel(self, name: str) -> Panel | None:
        """The panel of that name; None where the block has none."""
        return next((panel for panel in self.panels if panel.name == name), None)

    def panel_of(self, drawn: DrawnLine) -> Panel:
        """The panel that a line of this pattern lies on; raises KeyError for a line of another."""
        for panel in self.panels:
            if panel.name == drawn.panel:
                return panel
        raise KeyError(drawn.panel)

    def drawn(self, name: str) -> DrawnLine | None:
        """The line of that name as it lies on its panel; None for one that could not be drawn."""
        return next((line for line in self.lines if line.name == name), None)

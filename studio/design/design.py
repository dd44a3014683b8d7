"""The design: everything the maker decided, as one immutable value."""

from __future__ import annotations

import msgspec

from studio.design.accepted import Accepted
from studio.design.alterations import Alteration
from studio.design.block import Block, DraftedBlock
from studio.design.body import Body
from studio.design.carried import Carried
from studio.design.cloth import Cloth, CuttingRule, Lay, Shortage, Stock
from studio.design.holds import Hold
from studio.design.joins import Corner, Finish, Join, NotchShape
from studio.design.kept import Kept
from studio.design.lines import StyleLine
from studio.design.pieces import PieceRecipe
from studio.design.toile import ToileNote
from studio.design.topstitch import Topstitch


class Design(Kept, frozen=True, kw_only=True):
    """A pair of trousers as decided. `standard_allowance` is the maker's single allowance, mm;
    `sewing` the order of joins and finishes the maker wishes for, `notch_shape` how all notches
    are cut. `stash` is what lies there to cut from, `cutting` how pieces may lie on it.
    """

    name: str
    notes: str = ""
    body: Body | None = None
    block: Block = DraftedBlock()
    alterations: tuple[Alteration, ...] = ()
    lines: tuple[StyleLine, ...] = ()
    holds: tuple[Hold, ...] = ()
    pieces: tuple[PieceRecipe, ...] = ()
    joins: tuple[Join, ...] = ()
    finishes: tuple[Finish, ...] = ()
    corners: tuple[Corner, ...] = ()
    sewing: tuple[str, ...] = ()
    notch_shape: NotchShape = "slit"
    standard_allowance: float = 12.0
    cloths: tuple[Cloth, ...] = ()
    toile: tuple[ToileNote, ...] = ()
    topstitching: tuple[Topstitch, ...] = ()
    accepted: tuple[Accepted, ...] = ()
    carried: tuple[Carried, ...] = ()
    stash: tuple[Stock, ...] = ()
    cutting: tuple[CuttingRule, ...] = ()
    lay: Lay = Lay()
    shortages: tuple[Shortage, ...] = ()

    def line(self, name: str) -> StyleLine:
        """The style line of that name; raises KeyError."""
        for line in self.lines:
            if line.name == name:
                return line
        raise KeyError(name)

    def with_line(self, changed: StyleLine) -> Design:
        """A design in which the line of the same name is replaced; raises KeyError."""
        self.line(changed.name)
        return msgspec.structs.replace(
            self,
            lines=tuple(changed if line.name == changed.name else line for line in self.lines),
        )

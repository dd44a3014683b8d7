"""What lies on the table: the beds, the pieces to be laid on them, and the lay."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache

import msgspec
from msgspec.structs import replace
from shapely import Polygon

from studio.cloth.bed import Bed, bed_of
from studio.cloth.items import Item, items_of
from studio.cloth.stance import Stance
from studio.design.cloth import Cloth, CuttingRule, Lay, Place, Placement, Shortage, Stock
from studio.design.design import Design
from studio.memo import remembered
from studio.sew import SewnPiece


class Table(msgspec.Struct, frozen=True):
    """All that lies there: the beds by name, what is to be laid by piece and copy, the lay, and
    the names of pieces that are left out for now.
    """

    beds: Mapping[str, Bed]
    items: Mapping[tuple[str, int], Item]
    lay: Lay
    left_out: frozenset[str] = frozenset()

    def item(self, placement: Placement) -> Item | None:
        """What a placement lays; None when the design has no such piece or copy."""
        return self.items.get((placement.piece, placement.copy))

    def with_lay(self, lay: Lay) -> Table:
        """The same cloths and pieces under another lay."""
        return replace(self, lay=lay)

    @property
    def laid(self) -> tuple[Placement, ...]:
        """The placements of the lay whose piece and stock are there, and cloth for the piece."""
        known = ((one, self.item(one)) for one in self.lay.placements if one.stock in self.beds)
        return tuple(one for one, item in known if item is not None and item.ways)

    @property
    def not_laid(self) -> tuple[Item, ...]:
        """What lies nowhere and is not left out, in the order of the pieces."""
        there = {(one.piece, one.copy) for one in self.laid}
        return tuple(
            item
            for key, item in self.items.items()
            if key not in there and item.piece not in self.left_out
        )


def table_of(
    pieces: Iterable[SewnPiece],
    cloths: Sequence[Cloth],
    rules: Iterable[CuttingRule],
    stash: Sequence[Stock],
    lay: Lay,
    left_out: frozenset[str] = frozenset(),
    shortages: Iterable[Shortage] = (),
) -> Table:
    """The table of a pattern, without the pieces in `left_out`; copies that do without some
    allowance lie there with their narrower cut line.

    Raises:
        BadInput: a stock that cannot be used, by its name.
    """
    beds = {stock.name: _bed(stock) for stock in stash}
    items = items_of(pieces, cloths, rules, stash, shortages)
    return Table(beds, {(one.piece, one.copy): one for one in items}, lay, left_out)


def table_in(
    design: Design,
    pieces: Iterable[SewnPiece],
    lay: Lay | None = None,
    left_out: frozenset[str] = frozenset(),
) -> Table:
    """The table of a design, with its own lay or another; raises as `table_of`."""
    return table_of(
        pieces,
        design.cloths,
        design.cutting,
        design.stash,
        design.lay if lay is None else lay,
        left_out,
        design.shortages,
    )


def stance_there(table: Table, placement: Placement) -> Stance:
    """The stance of a laid piece on its stock. One that lies where it may not is as on another."""
    item = table.items[placement.piece, placement.copy]
    return (item.way(placement) or item.ways[0]).stance


def shares_used(table: Table) -> dict[str, float]:
    """For each stock the share of its usable area that the cut lines of pieces on it enclose."""
    covered = dict.fromkeys(table.beds, 0.0)
    for one in table.laid:
        covered[one.stock] += _area_of(stance_there(table, one).cut)
    return {
        name: covered[name] / bed.usable.area if bed.usable.area else 0.0
        for name, bed in table.beds.items()
    }


@lru_cache(maxsize=256)
def _area_of(cut: tuple[Place, ...]) -> float:
    return float(Polygon(cut).area)


_bed = remembered(bed_of, 64)

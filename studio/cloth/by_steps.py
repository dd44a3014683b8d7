"""A search in this process, ended by its number of steps: it finds the same on every machine."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from studio.cloth.bed import Bed
from studio.cloth.groups import groups_of
from studio.cloth.items import Item
from studio.cloth.layout import Layout, layout_of, together
from studio.cloth.raster import CELL_MM
from studio.cloth.search import search
from studio.cloth.task import NOTHING
from studio.design.cloth import Lay


def laid_by_steps(
    items: Iterable[Item],
    beds: Sequence[Bed],
    lay: Lay,
    steps: int,
    *,
    cell: float = CELL_MM,
    until_whole: bool = False,
) -> Layout:
    """The best layout that so many steps of a search find for each group of items that share cloth;
    `until_whole` ends it as soon as all of a group is laid. Locked placements stay.
    """
    layouts = []
    for group in groups_of(items, beds, lay):
        best = layout_of(group, NOTHING)
        for found in search(group.task, cell=cell, steps=steps) if group.beds else ():
            best = best if found is None else layout_of(group, found)
            if until_whole and not best.left_out:
                break
        layouts.append(best)
    return together(layouts)

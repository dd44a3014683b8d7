"""How much cloth is needed: so much of a roll by its width; or whether an old pair would do.

Both are estimates by a short search: the cloth that is bought or opened is never quite as told.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence

import msgspec
from msgspec.structs import replace
from shapely import Polygon

from studio import numbers
from studio.cloth.bed import bed_of
from studio.cloth.by_steps import laid_by_steps
from studio.cloth.first_fit import LengthOf, first_fit
from studio.cloth.items import Item, items_of
from studio.cloth.layout import Layout
from studio.cloth.old_pair import OldSize, old_pair
from studio.cloth.raster import turned
from studio.cloth.searching import lay_out
from studio.cloth.task import NOTHING
from studio.design.body import Body, Fit
from studio.design.cloth import Cloth, CuttingRule, Lay, Placement, Roll, Stock
from studio.errors import Told
from studio.sew import SewnPiece

USUAL_WIDTHS = (900.0, 1120.0, 1400.0, 1500.0)
"""Widths in which cloth is usually sold, mm (common practice, no source)."""

STEP_MM = 50.0
"""Cloth is cut from the roll by such lengths, so lengths are rounded up to it (practice), mm."""

SEARCH_STEPS = 600
"""So long is searched for a lay on an old pair: some seconds, and no promise of the best."""

_CELL_MM = 4.0
_LONGER = 1.6
"""A roll to try on is longer than its area asks for by so much, and by the longest piece."""


class Need(msgspec.Struct, frozen=True):
    """The length of a roll of one width that a cloth's pieces take, mm, rounded up; `used` is the
    share of it that is cut. No length when a piece is wider than the roll.
    """

    cloth: str
    width: float
    length: float | None
    used: float
    sentence: str


class Enough(msgspec.Struct, frozen=True):
    """Whether an old pair of a size would have been enough: what of the pieces did not fit, and
    the lay of those that did on its opened panels.
    """

    size: OldSize
    stock: tuple[Stock, ...]
    placements: tuple[Placement, ...]
    left_out: tuple[tuple[str, int], ...]
    used: float
    sentence: str


def roll_needs(
    pieces: Iterable[SewnPiece],
    cloths: Sequence[Cloth],
    rules: Sequence[CuttingRule],
    cloth: str,
    widths: Iterable[float] = USUAL_WIDTHS,
    *,
    gap: float = 2.0,
    selvedge: float = 10.0,
    length_of: LengthOf = first_fit,
    stop: Callable[[], bool] = bool,
) -> tuple[Need, ...]:
    """For each width how long a roll of a cloth must be for all pieces of it, also by their cutting
    rules (grain, one way; the stock they name aside). An estimate, rounded up to the next 50 mm:
    `length_of` says how much of a roll items take, by first fit unless told otherwise. It ends
    early, with the widths done so far, when `stop` says so.
    """
    wanted = [sewn for sewn in pieces if sewn.piece.cloth == cloth]
    free = [replace(rule, stock=()) for rule in rules]
    found = []
    for width in widths:
        if stop():
            break
        probe = Roll("roll", cloth, width, 1000.0, selvedge)
        items = items_of(wanted, cloths, free, (probe,))
        area = sum(item.area for item in items)
        longest = max((_longest(item) for item in items), default=0.0)
        roll = replace(probe, length=area / (width - 2.0 * selvedge) * _LONGER + longest + 100.0)
        found.append(_need(items, roll, area, gap, length_of))
    return tuple(found)


def searched_for(seconds: float) -> LengthOf:
    """How much of a roll items take by a search of so many seconds in processes beside this one:
    some per cent less than by first fit, which is told when the search lays less than all.
    """

    def length_of(items: Sequence[Item], roll: Roll, gap: float) -> float | None:
        layout, _ = lay_out(items, (bed_of(roll),), Lay((), gap), seconds=seconds)
        if layout is None or layout.left_out or roll.name not in layout.lengths:
            return first_fit(items, roll, gap)
        return layout.lengths[roll.name]

    return length_of


def old_pair_enough(
    pieces: Iterable[SewnPiece],
    cloths: Sequence[Cloth],
    rules: Sequence[CuttingRule],
    cloth: str,
    size: OldSize,
    body: Body,
    *,
    fit: Fit | None = None,
    gap: float = 2.0,
    seconds: float = 0.0,
) -> Enough:
    """Whether the pieces of a cloth would have come out of an old pair of a size, opened at its
    seams. The pair is drafted for a body like `body` scaled to the size, so it is an estimate. It
    is searched for so many `seconds` in processes beside this one, or, when 0, for `SEARCH_STEPS`
    here; not at all where the pieces' area is larger than the cloth.

    Raises:
        BodyRefused: no block can be drafted for that size.
    """
    stock = old_pair(size, body, fit or Fit(), cloth)
    wanted = [sewn for sewn in pieces if sewn.piece.cloth == cloth]
    free = [replace(rule, stock=()) for rule in rules]
    items = items_of(wanted, cloths, free, stock)
    area = sum(item.area for item in items)
    beds = [bed_of(one) for one in stock]
    usable = sum(bed.usable.area for bed in beds)
    if area > usable:
        layout = _nothing(items)
    elif seconds > 0.0:
        found, _ = lay_out(items, beds, Lay((), gap), seconds=seconds)
        layout = found or _nothing(items)
    else:
        layout = laid_by_steps(items, beds, Lay((), gap), SEARCH_STEPS, cell=_CELL_MM)
    return Enough(
        size,
        stock,
        layout.placements,
        layout.left_out,
        area / usable,
        _enough_words(size, layout, area / usable),
    )


def _need(items: Sequence[Item], roll: Roll, area: float, gap: float, length_of: LengthOf) -> Need:
    across = numbers.length(roll.width, decimals=0)
    wide = [item.piece for item in items if not _is_narrow(item, roll)]
    top = None if wide else length_of(items, roll, gap)
    if top is None:
        names = f" for {', '.join(sorted(set(wide)))}" if wide else ""
        said = Told(f"{roll.cloth}, {across} wide: too narrow{names}.", (roll.width,))
        return Need(roll.cloth, roll.width, None, 0.0, said)
    length = math.ceil(top / STEP_MM) * STEP_MM
    used = area / (length * roll.width) if length else 0.0
    said = Told(
        f"{roll.cloth}, {across} wide: about {numbers.length(length, decimals=0)}, of which "
        f"{numbers.plain(used * 100.0)} per cent are cut. An estimate: buy a little more, and wash "
        "it first.",
        (roll.width, length),
    )
    return Need(roll.cloth, roll.width, length, used, said)


def _is_narrow(item: Item, roll: Roll) -> bool:
    """Whether a piece lies across a roll in some turn that it may have."""
    room = roll.width - 2.0 * roll.selvedge
    return any(
        box[2] - box[0] <= room
        for way in item.ways_on(roll.name)
        for turn in way.turns
        for box in (turned(way.stance.cut, turn).bounds,)
    )


def _nothing(items: Iterable[Item]) -> Layout:
    copies = tuple((item.piece, item.copy) for item in items)
    return Layout((), copies, copies, {}, NOTHING.merit)


def _enough_words(size: OldSize, layout: Layout, used: float) -> Told:
    share = f"{numbers.plain(used * 100.0)} per cent of its cloth"
    if not layout.left_out:
        return Told(
            f"An old pair of {size.words} would about do: all pieces were laid, on {share}. An "
            "estimate: measure the opened panels before you rely on it.",
            size.words.exact,
        )
    names = ", ".join(sorted({name for name, _ in layout.left_out}))
    why = (
        f"the pieces take {share}"
        if used > 1.0
        else f"{names} found no place (the pieces take {share})"
    )
    return Told(
        f"An old pair of {size.words} would not do as it is: {why}. An estimate: a larger size, "
        "other cloth for small pieces, or joins may help.",
        size.words.exact,
    )


def _longest(item: Item) -> float:
    boxes = [Polygon(way.stance.cut).bounds for way in item.ways]
    return max((max(box[2] - box[0], box[3] - box[1]) for box in boxes), default=0.0)

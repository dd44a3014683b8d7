"""What can be done about a piece that is wanting: where it would lie, what it lacks, with offers.

Nothing here knows the screen; it is worked out beside the window from values that never change.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from functools import partial

import msgspec
from msgspec.structs import replace

from studio.check.shortages import shortage_taken
from studio.cloth.lay_edit import with_placement
from studio.cloth.missing import (
    Lying,
    Missing,
    hole_words,
    missing_at,
    sentences,
    shortages_of,
)
from studio.cloth.referee import faults
from studio.cloth.room import Free, at_best, free_beds
from studio.cloth.scrap_places import SewnDesign
from studio.cloth.scraps import Offer, joins_offered, offer_taken
from studio.cloth.settle import all_settled, settled
from studio.cloth.table import Table, table_in
from studio.design import Design
from studio.design.cloth import CuttingRule, Placement, Shortage
from studio.errors import GeometryRefused, Told
from studio.pattern import Pattern, evaluate
from studio.sew import SewnPiece

Key = tuple[str, int]

MOST_ADVISED = 8
"""For so many pieces at the most advice is sought: each costs a tenth of a second."""

MOST_JOINS = 3
"""So many joins are offered for a piece."""

MOST_TOLD = 4
"""So many stretches are told of one piece, the worst first."""

_NEAR_MM = 5.0
"""A stretch taken before and one found now may begin and end so far apart: a station."""

_DEEP_MM = 0.06
"""And may be so much deeper, rounding."""

_HAIR_MM = 1.0
"""A piece laid with less allowance may be so much nearer to another than the gap."""

_SHORT = "The cloth gives no more there."


class Deal(msgspec.Struct, frozen=True):
    """Something to be done with one click: what the button says, more about it, the label of the
    step, and what it makes of a design, which may raise YokewrightError. `words` stand above the
    button. A `last` one stands below all others.
    """

    label: str
    tip: str
    step: str
    made: Callable[[Design], Design]
    words: str = ""
    last: bool = False


class Advice(msgspec.Struct, frozen=True):
    """What there is to say of a piece that is wanting, and what can be done. Not `whole` is one
    for which there is cloth, but nowhere enough of it in one place.
    """

    key: Key
    sentences: tuple[str, ...]
    deals: tuple[Deal, ...] = ()
    whole: bool = True


class Joins(msgspec.Struct, frozen=True):
    """Joins of scraps found for a piece, for all its copies."""

    piece: str
    deals: tuple[Deal, ...]


def all_advice(
    pattern: Pattern, table: Table, waiting: Iterable[Key], troubled: Iterable[Placement]
) -> tuple[Advice, ...]:
    """Advice for pieces that are not laid, the first `MOST_ADVISED` of them, 0.1 s each; and for
    those laid beyond their cloth.
    """
    wanted = [key for key in waiting if key in table.items][:MOST_ADVISED]
    free = _free(table, table.laid)
    found = [_advice(pattern, table, key, free) for key in wanted]
    told = (laid_advice(pattern, table, one) for one in troubled)
    return (*found, *(one for one in told if one is not None))


def short_as_taken(pattern: Pattern, table: Table, placement: Placement) -> bool:
    """Whether what a laid piece lacks has been taken by the maker, so that it may be cut there."""
    found = lying_there(pattern, table, placement)
    if found is None or found.crosses:
        return False
    taken = [
        one
        for one in pattern.design.shortages
        if (one.piece, one.copy) == (placement.piece, placement.copy)
    ]
    return all(any(_covers(one, lack) for one in taken) for lack in found.missing)


def lying_there(pattern: Pattern, table: Table, placement: Placement) -> Lying | None:
    """What of a laid piece is not on its cloth; None where it may not lie at all."""
    item = table.item(placement)
    way = item.way(placement) if item is not None else None
    if way is None:
        return None
    return missing_at(pattern.piece(placement.piece), way, placement, table.beds[placement.stock])


def laid_advice(pattern: Pattern, table: Table, placement: Placement) -> Advice | None:
    """Advice for a piece that lies partly beyond its cloth; None when it does not."""
    found = lying_there(pattern, table, placement)
    if found is None or found.fits:
        return None
    key = placement.piece, placement.copy
    sewn = pattern.piece(placement.piece)
    return Advice(key, _told(found, sewn), _taking(pattern, found))


def joins_of(pattern: Pattern, table: Table, piece: str) -> Joins:
    """Joins of scraps for a piece, 0.3 s or more; all of its copies are laid anew, as all are
    joined alike. Where the parts find no place beside what lies there, one is made for them: what
    lies loose on that cloth goes back to the tray.
    """
    others = [one for one in table.laid if one.piece != piece]
    items = [item for item in table.items.values() if item.piece == piece]
    if not items or not items[0].ways:
        return Joins(piece, ())
    within, makes_room = _joins_within(pattern, pattern.design), False
    free = _free(table, others)
    offers = joins_offered(within, items, free.beside, MOST_JOINS)
    if not any(offer.placements for offer in offers):
        makes_room = True
        offers = joins_offered(within, items, free.room, MOST_JOINS)
    return Joins(
        piece,
        tuple(
            Deal(
                "Make it of two scraps",
                "Pattern, ledger and order of sewing get both parts and the seam between them.",
                f"Join {piece} of two scraps",
                partial(_joined, pattern, offer, makes_room),
                offer.sentence,
            )
            for offer in offers
        ),
    )


def with_joins(advice: Mapping[Key, Advice], found: Joins) -> dict[Key, Advice]:
    """Advice with joins offered for the first copy of their piece that is wanting."""
    joined = dict(advice)
    first = next((key for key in advice if key[0] == found.piece), None)
    if first is not None:
        deals = sorted((*advice[first].deals, *found.deals), key=lambda deal: deal.last)
        joined[first] = replace(advice[first], deals=tuple(deals))
    return joined


def _free(table: Table, placements: Iterable[Placement]) -> Free:
    return free_beds(tuple(table.beds.values()), table.items.values(), placements, table.lay.gap)


def _advice(pattern: Pattern, table: Table, key: Key, free: Free) -> Advice:
    item, sewn = table.items[key], pattern.piece(key[0])
    if not item.ways:
        words = f"No {sewn.piece.cloth} lies in the stash."
        return Advice(key, (words,), _other_cloths(pattern, table, sewn))
    found = at_best(item, sewn, free)
    if found.with_room is not None and not found.with_room.fits:
        deals = _taking(pattern, found.with_room, makes_room=True)
        told = _told(found.with_room, sewn, makes_room=True)
        return Advice(key, told, deals, False)
    if found.with_room is not None:
        return _room_made(pattern, found.with_room, _other_cloths(pattern, table, sewn))
    best = found.beside
    if best is None:
        deals = _other_cloths(pattern, table, sewn)
        return Advice(key, ("Nothing is left of its cloth.",), deals, False)
    stock = best.placement.stock
    if best.fits:
        deal = Deal(
            f"Lay it on {stock}",
            "There is room for all of it.",
            f"Lay {key[0]} on {stock}",
            partial(_laid, pattern, best.placement),
        )
        return Advice(key, (f"There is room for it on {stock}.",), (deal,))
    deals = (*_taking(pattern, best), *_other_cloths(pattern, table, sewn))
    return Advice(key, _told(best, sewn), deals, False)


def _room_made(pattern: Pattern, found: Lying, others: tuple[Deal, ...]) -> Advice:
    """Advice for a piece for which there is room where only loose ones lie."""
    key, stock = (found.placement.piece, found.placement.copy), found.placement.stock
    first = Deal(
        "Lay it there first",
        "The piece is locked in that place; what lies loose on the cloth goes back to the tray.",
        f"Lay {key[0]} on {stock} first",
        partial(_laid_first, pattern, found.placement),
    )
    said = f"On {stock} there is room for it, were nothing loose there."
    return Advice(key, (said,), (first, *others), False)


def _joined(pattern: Pattern, offer: Offer, makes_room: bool, design: Design) -> Design:
    piece = offer.asked.piece
    if makes_room:
        design = _roomy(design, (one.stock for one in offer.placements))
    kept = tuple(one for one in design.lay.placements if one.piece != piece)
    cleared_of_it = replace(design, lay=replace(design.lay, placements=kept))
    made = offer_taken(_joins_within(pattern, cleared_of_it), offer)
    if not offer.placements:
        return made
    # They were laid on cells.
    table = table_in(made, evaluate(made).pieces)
    return replace(made, lay=all_settled(table, offer.placements))


def _joins_within(pattern: Pattern, design: Design) -> SewnDesign:
    return SewnDesign(design, pattern.panels, pattern.lines, pattern.pieces)


def _told(found: Lying, sewn: SewnPiece, *, makes_room: bool = False) -> tuple[str, ...]:
    stock = found.placement.stock
    if makes_room:
        head = f"On {stock}, were nothing loose there, it lacks:"
    elif found.crosses:
        head = f"On {stock} not even its sewing lines fit:"
    else:
        head = f"On {stock} it lacks:"
    told = (*hole_words(found), *sentences(_worth_telling(found.missing), sewn.piece.outline))
    most = MOST_TOLD // 2 if found.crosses else MOST_TOLD
    rest = len(told) - most
    more = (f"And {rest} more.",) if rest > 0 else ()
    return (head, *(Told(f"{one}.", one.exact) for one in told[:most]), *more)


def _worth_telling(missing: Iterable[Missing]) -> list[Missing]:
    """Stretches before corners; where there are stretches, corners go without saying."""
    known = list(missing)
    runs = [one for one in known if not one.is_corner]
    return runs or known


def _taking(pattern: Pattern, found: Lying, *, makes_room: bool = False) -> tuple[Deal, ...]:
    """The reduced allowance as one step; none where the sewing line is reached. The piece is
    locked where it lies; where that `makes_room`, what lies loose there goes back to the tray.
    """
    shortages = shortages_of(found, pattern.piece(found.placement.piece).piece.outline)
    if not shortages:
        return ()
    piece = found.placement.piece
    return (
        Deal(
            "Lay it there with less allowance",
            "The allowance is narrower there; pattern, ledger and sheets say so. The piece is "
            "locked in that place"
            + ("; what lies loose on the cloth goes back to the tray." if makes_room else "."),
            f"Do without some allowance of {piece}",
            partial(_taken, pattern, found.placement, shortages, makes_room),
        ),
    )


def _taken(
    pattern: Pattern,
    placement: Placement,
    shortages: Iterable[Shortage],
    makes_room: bool,
    design: Design,
) -> Design:
    if makes_room:
        design = _roomy(design, (placement.stock,))
    for short in shortages:
        design = shortage_taken(design, short, _SHORT, pattern.pieces, pattern.panels)
    table = table_in(design, pattern.pieces)
    # With the narrower cut line it lies a hair off where the whole one lost least; what it does
    # without is of that place, so it stays there.
    there = settled(table, placement) or placement
    return _laid(pattern, replace(there, locked=True), design)


def _laid_first(pattern: Pattern, placement: Placement, design: Design) -> Design:
    design = _roomy(design, (placement.stock,))
    there = settled(table_in(design, pattern.pieces), placement) or placement
    return _laid(pattern, replace(there, locked=True), design)


def _roomy(design: Design, stocks: Iterable[str]) -> Design:
    """What lies loose on stocks put back in the tray."""
    where = frozenset(stocks)
    kept = tuple(one for one in design.lay.placements if one.locked or one.stock not in where)
    return replace(design, lay=replace(design.lay, placements=kept))


def _laid(pattern: Pattern, placement: Placement, design: Design) -> Design:
    """A piece laid where it was told to; raises GeometryRefused where another lies by now."""
    made = replace(design, lay=with_placement(design.lay, placement))
    table = table_in(made, pattern.pieces)
    wrong = faults(table.items.values(), table.beds.values(), table.laid, table.lay.gap)
    if any(
        fault.kind == "too near" and fault.by > _HAIR_MM and placement in fault.placements
        for fault in wrong
    ):
        raise GeometryRefused(
            "Another piece lies there by now: take what is offered next.", where=placement.piece
        )
    return made


def _other_cloths(pattern: Pattern, table: Table, sewn: SewnPiece) -> tuple[Deal, ...]:
    """Cloths that lie there and that the piece may not be cut from yet."""
    piece = sewn.piece.name
    rule = next((one for one in pattern.design.cutting if one.piece == piece), CuttingRule(piece))
    known = {sewn.piece.cloth, *rule.cloths}
    others = dict.fromkeys(bed.cloth for bed in table.beds.values() if bed.cloth not in known)
    return tuple(
        Deal(
            f"Let it be cut from {cloth}",
            f"Every copy of {piece} may then lie on {cloth} too.",
            f"Cut {piece} from {cloth} too",
            partial(_allowed, replace(rule, cloths=(*rule.cloths, cloth))),
            last=True,
        )
        for cloth in others
    )


def _allowed(rule: CuttingRule, design: Design) -> Design:
    kept = tuple(one for one in design.cutting if one.piece != rule.piece)
    return replace(design, cutting=(*kept, rule))


def _covers(taken: Shortage, lack: Missing) -> bool:
    return (
        taken.edge == lack.edge
        and taken.start <= lack.start + _NEAR_MM
        and taken.end >= lack.end - _NEAR_MM
        and taken.missing >= lack.depth - _DEEP_MM
    )

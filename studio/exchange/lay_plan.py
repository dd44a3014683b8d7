"""A lay as it is drawn and told: every cloth with the pieces on it, and what lies nowhere."""

from __future__ import annotations

import msgspec
from shapely import Polygon

from studio import numbers
from studio.cloth.bed import Bed, bed_of
from studio.cloth.laid_pieces import LaidPiece, laid_pieces
from studio.cut.copies import copy_name, drawn_legs
from studio.design.cloth import Lay, Stock
from studio.numbers import LengthUnit
from studio.pattern import Pattern
from studio.sew.cut_line import cut_outline_points

CAUTIONS = (
    "Look through the list and measure the cloth before the first cut: what is cut stays cut.",
    "Lay the cloth flat and unstretched, its right side up, its warp along the arrow.",
    "Take metal parts out of old garments first; pins, rivets and zips break blades. Do not cut "
    "across an old seam that the plan does not show.",
    "Shears, rotary cutters and pins injure: cut away from the hand that holds.",
)
"""Shown with every lay (common practice)."""

_AREA_ACCURACY = 0.05


class ClothPlan(msgspec.Struct, frozen=True):
    """A cloth with what is laid on it; `used` is the share of its usable area under cut lines."""

    stock: Stock
    bed: Bed
    laid: tuple[LaidPiece, ...]
    used: float

    @property
    def width(self) -> float:
        """From the cloth's left to its right, mm."""
        left, _, right, _ = self.bed.outline.bounds
        return float(right - left)

    @property
    def height(self) -> float:
        """From the cloth's lower to its upper end, mm."""
        _, low, _, high = self.bed.outline.bounds
        return float(high - low)


def cloth_plans(pattern: Pattern, lay: Lay | None = None) -> tuple[ClothPlan, ...]:
    """Every stock of the design's stash in its order, with the design's lay or another.

    Raises:
        BadInput: a stock cannot be used; names it.
    """
    design = pattern.design
    placements = (lay or design.lay).placements
    beds = tuple(bed_of(stock) for stock in design.stash)
    legs = drawn_legs(pattern.panels)
    laid = laid_pieces(
        pattern.pieces,
        placements,
        beds,
        design.cloths,
        legs,
        design.shortages,
        rules=design.cutting,
    )
    plans = []
    for stock, bed in zip(design.stash, beds, strict=True):
        here = tuple(one for one in laid if one.placement.stock == stock.name)
        covered = sum(
            Polygon(cut_outline_points(one.sewn.cut_line, _AREA_ACCURACY)).area for one in here
        )
        plans.append(ClothPlan(stock, bed, here, covered / bed.usable.area if here else 0.0))
    return tuple(plans)


def not_laid(pattern: Pattern, lay: Lay | None = None) -> tuple[str, ...]:
    """The copies that lie on no cloth, in the order of the pieces; several of one piece together:
    "belt-loop (5)".
    """
    placements = (lay or pattern.design.lay).placements
    stocks = {stock.name for stock in pattern.design.stash}
    there = {(one.piece, one.copy) for one in placements if one.stock in stocks}
    legs = drawn_legs(pattern.panels)
    told = []
    for sewn in pattern.pieces:
        name = sewn.piece.name
        missing = [copy for copy in range(sewn.piece.quantity) if (name, copy) not in there]
        if len(missing) == 1:
            told.append(copy_name(sewn.piece, missing[0], legs))
        elif missing:
            told.append(f"{name} ({len(missing)})")
    return tuple(told)


def lay_words(pattern: Pattern, lay: Lay | None = None) -> str:
    """What came of it, in a sentence."""
    missing = not_laid(pattern, lay)
    count = sum(sewn.piece.quantity for sewn in pattern.pieces)
    if not missing:
        short = {(one.piece, one.copy) for one in pattern.design.shortages}
        less = f", {len(short)} of them with less allowance" if short else ""
        return f"All {count} pieces lie on the cloth{less}."
    return f"On no cloth: {'; '.join(missing)}; of {count} pieces in all."


def size_words(plan: ClothPlan, unit: LengthUnit = "mm") -> str:
    """How large a cloth is and how much of it is used."""
    wide, high = (numbers.length(mm, unit, numbers.ROUGH[unit]) for mm in (plan.width, plan.height))
    return f"{wide} by {high}, {numbers.plain(plan.used * 100.0)} per cent of it under pieces"


def place_words(plan: ClothPlan, one: LaidPiece, unit: LengthUnit = "mm") -> str:
    """Where the box of a laid piece begins, from the cloth's left and lower end; which way and how
    far its upper end is turned off the warp, whether it lies face down.
    """
    points = cut_outline_points(one.sewn.cut_line, _AREA_ACCURACY)
    cloth_left, cloth_low, _, _ = plan.bed.outline.bounds
    left, low = min(x for x, _ in points) - cloth_left, min(y for _, y in points) - cloth_low
    turned = _turn_words(one.placement.turn)
    face = ", face down" if one.placement.flipped else ""
    less = "; less allowance, cut along the narrower line" if one.is_short else ""
    across, up = (numbers.length(mm, unit, numbers.ROUGH[unit]) for mm in (left, low))
    return f"{across} from the left, {up} up{turned}{face}{less}"


def _turn_words(degrees: float) -> str:
    """Such as ", turned 2.5° to the left", counter-clockwise, the short way round; nothing where it
    is less than is told.
    """
    turn = round((degrees + 180.0) % 360.0 - 180.0, 1)
    if turn == 0.0:
        return ""
    told = numbers.angle(abs(turn), 0 if turn.is_integer() else 1)
    side = "" if abs(turn) == 180.0 else " to the left" if turn > 0.0 else " to the right"
    return f", turned {told}{side}"

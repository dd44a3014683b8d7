"""What came of a lay, for people (text) and for programs (JSON): what lies where, what fell short
and by how much, and joins that would help.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

import msgspec

from studio import numbers
from studio.check import names_in
from studio.cloth.bed import Bed
from studio.cloth.items import Item
from studio.cloth.missing import Lying, hole_words, sentences
from studio.cloth.room import at_best, free_beds
from studio.cloth.scrap_places import SewnDesign
from studio.cloth.scraps import Offer, joins_offered
from studio.cut.copies import copy_name, drawn_legs
from studio.errors import Told, exact_of
from studio.exchange.lay_plan import ClothPlan, cloth_plans, lay_words, place_words, size_words
from studio.numbers import LengthUnit
from studio.pattern import Pattern

_MOST_JOINS = 2


class Wanting(msgspec.Struct, frozen=True):
    """A copy that lies nowhere: where it would lose least (None when there is no cloth for it), and
    joins of scraps that would make its piece. `makes_room`: it would lie there only were nothing
    loose on that cloth.
    """

    piece: str
    copy: int
    name: str
    shortfall: Lying | None
    joins: tuple[Offer, ...]
    makes_room: bool = False


def wanting(pattern: Pattern, items: Sequence[Item], beds: Sequence[Bed]) -> tuple[Wanting, ...]:
    """Every copy that the design's lay leaves out, 0.1 to 0.5 s each.

    Shortfall is that beside all that is laid, or, where the sewing line would be crossed there, on
    cloth cleared of all that is not locked. Joins are told with the first copy of a piece.
    """
    lay = pattern.design.lay
    there = {(one.piece, one.copy) for one in lay.placements}
    left = [item for item in items if (item.piece, item.copy) not in there]
    legs = drawn_legs(pattern.panels)
    free = free_beds(beds, items, lay.placements, lay.gap)
    found: list[Wanting] = []
    for item in left:
        sewn = pattern.piece(item.piece)
        best = at_best(item, sewn, free)
        first = all(one.piece != item.piece for one in found)
        found.append(
            Wanting(
                item.piece,
                item.copy,
                copy_name(sewn.piece, item.copy, legs),
                best.with_room or best.beside,
                _joins(pattern, item.piece, items, beds) if first and item.ways else (),
                best.with_room is not None,
            )
        )
    return tuple(found)


def _joins(
    pattern: Pattern, piece: str, items: Sequence[Item], beds: Sequence[Bed]
) -> tuple[Offer, ...]:
    """Joins beside what else is laid, else with room made for them."""
    within = SewnDesign(pattern.design, pattern.panels, pattern.lines, pattern.pieces)
    lay = pattern.design.lay
    alike = [one for one in items if one.piece == piece]
    others = [one for one in lay.placements if one.piece != piece]
    free = free_beds(beds, items, others, lay.gap)
    return joins_offered(within, alike, free.beside, _MOST_JOINS) or joins_offered(
        within, alike, free.room, _MOST_JOINS
    )


def lay_tree(pattern: Pattern, left: Sequence[Wanting]) -> dict[str, Any]:
    """The lay as plain data; lengths in mm, angles in degrees, rounded to 0.001."""
    return {
        "all_laid": not left,
        "verdict": lay_words(pattern),
        "cloths": [_cloth_tree(plan) for plan in cloth_plans(pattern)],
        "not_laid": [_wanting_tree(one) for one in left],
    }


def lay_text(pattern: Pattern, left: Sequence[Wanting], unit: LengthUnit = "mm") -> str:
    """The lay for a terminal, lengths in `unit`."""
    called = tuple(names_in(pattern.design))
    lines = [pattern.design.name, "", lay_words(pattern)]
    for plan in cloth_plans(pattern):
        lines += ["", f"{plan.stock.name} ({plan.stock.cloth}): {size_words(plan, unit)}"]
        names = [one.sewn.piece.name for one in plan.laid]
        width = max(map(len, names), default=0)
        lines += [
            f"  {name:<{width}}  {place_words(plan, one, unit)}"
            for name, one in zip(names, plan.laid, strict=True)
        ]
    for one in left:
        told = _wanting_words(pattern, one)
        lines += ["", *(numbers.retold(said, unit, names=called) for said in told)]
    return "\n".join(lines) + "\n"


def _wanting_words(pattern: Pattern, one: Wanting) -> Iterator[str]:
    outline = pattern.piece(one.piece).piece.outline
    room = ", were nothing loose there" if one.makes_room else ""
    if one.shortfall is None:
        cloth = pattern.piece(one.piece).piece.cloth
        yield f"{one.name}: nothing is left to lay it on; no {cloth} in the stash is free for it."
    elif one.shortfall.fits:
        yield f"{one.name}: there is room for it on {one.shortfall.placement.stock}{room}."
    else:
        yield f"{one.name}, at best on {one.shortfall.placement.stock}{room}:"
        found = one.shortfall
        for sentence in (*hole_words(found), *sentences(found.missing, outline)):
            yield Told(f"  {sentence}.", sentence.exact)
    for offer in one.joins:
        yield Told(f"  {offer.sentence}", exact_of(offer.sentence))


def _cloth_tree(plan: ClothPlan) -> dict[str, Any]:
    return {
        "name": plan.stock.name,
        "cloth": plan.stock.cloth,
        "used": round(plan.used, 4),
        "placements": [
            {
                "piece": one.placement.piece,
                "copy": one.placement.copy,
                "name": one.sewn.piece.name,
                "at_mm": [round(number, 3) for number in one.placement.at],
                "turn": round(one.placement.turn, 3),
                "flipped": one.placement.flipped,
            }
            for one in plan.laid
        ],
    }


def _wanting_tree(one: Wanting) -> dict[str, Any]:
    short = one.shortfall
    return {
        "piece": one.piece,
        "copy": one.copy,
        "name": one.name,
        "shortfall": None
        if short is None
        else {
            "cloth": short.placement.stock,
            "sewing_line_crossed": short.crosses,
            "makes_room": one.makes_room,
            "missing": [
                {
                    "edge": lack.edge,
                    "from_mm": round(lack.start, 3),
                    "to_mm": round(lack.end, 3),
                    "missing_mm": round(lack.depth, 3),
                    "of_mm": round(lack.of, 3),
                }
                for lack in short.missing
            ],
        },
        "joins": [
            {
                "lies": offer.asked.lies,
                "at_mm": round(offer.asked.at, 3),
                "hidden": round(offer.hidden, 3),
                "sentence": offer.sentence,
            }
            for offer in one.joins
        ],
    }

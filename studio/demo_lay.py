"""The demonstration led on: from cloth that does not suffice to a cut that comes out of it.

Each step is one that the laying table offers: the back legs do with less allowance at the crotch,
the front legs are joined under the knee panel, the waistband at the centre back.
"""

from __future__ import annotations

from functools import cache

from msgspec.structs import replace

from studio.check import shortage_taken
from studio.cloth.bed import Bed, bed_of
from studio.cloth.by_steps import laid_by_steps
from studio.cloth.items import Item, items_in
from studio.cloth.missing import shortages_of
from studio.cloth.scrap_places import SewnDesign
from studio.cloth.scraps import joins_offered, offer_taken
from studio.cloth.settle import settled
from studio.cloth.shortfall import cleared, least_loss
from studio.cloth.table import table_in
from studio.demo import demo_design
from studio.design import Design
from studio.errors import GeometryRefused
from studio.pattern import evaluate

REASON = "The overalls give no more there."

_FIRST_STEPS, _STEPS = 5_000, 60_000
"""Of a search, so that it finds the same on every machine; the second is ended once all is laid."""


@cache
def first_lay() -> Design:
    """The demonstration as first drawn, with the best lay of a short search: not all of it lies."""
    return _laid(demo_design(), _FIRST_STEPS)


@cache
def short_backs() -> Design:
    """Both back legs locked on a panel of the overalls each, with less allowance."""
    design = demo_design()
    for copy in (0, 1):
        design = _with_less(design, "back-leg", copy)
    return design


@cache
def second_lay() -> Design:
    """The same, with what else a short search lays: now the front legs find no place."""
    return _laid(short_backs(), _FIRST_STEPS)


@cache
def led_on() -> Design:
    """The design to which the cloth suffices, with nothing laid but the back legs."""
    design = short_backs()
    for piece in ("front-leg", "waistband"):
        design = _joined(design, piece)
    return design


@cache
def whole_lay() -> Design:
    """The same with everything laid."""
    return _laid(led_on(), _STEPS)


def _laid(design: Design, steps: int) -> Design:
    found = laid_by_steps(_items(design), _beds(design), design.lay, steps, until_whole=True)
    return replace(design, lay=replace(design.lay, placements=found.placements))


def _with_less(design: Design, piece: str, copy: int) -> Design:
    pattern = evaluate(design)
    sewn = pattern.piece(piece)
    item = next(one for one in _items(design) if (one.piece, one.copy) == (piece, copy))
    lying = least_loss(item, sewn, _beds(design))
    if lying is None:
        raise GeometryRefused("There is no cloth for it.", where=piece)
    for short in shortages_of(lying, sewn.piece.outline):
        design = shortage_taken(design, short, REASON, pattern.pieces, pattern.panels)
    table = table_in(design, evaluate(design).pieces)
    there = replace(settled(table, lying.placement) or lying.placement, locked=True)
    return replace(design, lay=replace(design.lay, placements=(*design.lay.placements, there)))


def _joined(design: Design, piece: str) -> Design:
    pattern = evaluate(design)
    items = _items(design)
    within = SewnDesign(design, pattern.panels, pattern.lines, pattern.pieces)
    free = cleared(_beds(design), items, design.lay.placements, design.lay.gap)
    offers = joins_offered(within, [one for one in items if one.piece == piece], free)
    made = offer_taken(within, offers[0])
    kept = tuple(one for one in made.lay.placements if one.locked)
    return replace(made, lay=replace(made.lay, placements=kept))


def _items(design: Design) -> tuple[Item, ...]:
    return items_in(design, evaluate(design).pieces)


def _beds(design: Design) -> tuple[Bed, ...]:
    return tuple(bed_of(stock) for stock in design.stash)

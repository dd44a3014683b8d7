"""Joins offered: where a piece that fits nowhere whole can be made of two scraps.

"Fits" is monotone in the place of the join: the further the line moves, the smaller is the part
beyond it. So the places at which either part fits on some bed are found by halving, and every
place between them will do. Of those the better hidden ones come first.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Iterator, Sequence

import msgspec
import numpy as np
from msgspec.structs import replace

from studio import numbers
from studio.cloth.bed import Bed, areas_of
from studio.cloth.items import Item
from studio.cloth.pieced import Lies, Piecing
from studio.cloth.raster import CELL_MM, Grid, grid_of
from studio.cloth.scrap_lay import Scrap, scraps_laid
from studio.cloth.scrap_masks import STEPS, Facing, Half, Line, PartMasks, fits, part_of
from studio.cloth.scrap_places import (
    HIDDEN_FROM,
    Place,
    SewnDesign,
    is_of_panel,
    judged_place,
    order_of,
    patches_on,
    round_places,
    where_words,
)
from studio.cloth.stance import is_mirrored, stance_of
from studio.cut.piece import Piece
from studio.design.cloth import Placement
from studio.design.design import Design
from studio.design.pieces import FacingPiece, PanelPiece, ShapePiece
from studio.errors import GeometryRefused
from studio.sew import SewnPiece

LEAST_PART = 60.0
"""No scrap with less between its allowances is worth joining, mm (practice)."""

_TRIES = 12


class Offer(msgspec.Struct, frozen=True):
    """A join that makes a piece of two scraps on the cloth there is. `placements` lay the parts of
    all copies beside what lies there already, true to about a cell (a referee or a search makes
    sure); empty when each part fits but all together were not laid at once. `hidden` is the share
    of the join that lies under a patch or inside, `smaller` the area of the smaller part, mm2.
    """

    asked: Piecing
    sentence: str
    hidden: float
    smaller: float
    placements: tuple[Placement, ...] = ()


def joins_offered(
    within: SewnDesign, items: Sequence[Item], beds: Sequence[Bed], most: int = 4
) -> tuple[Offer, ...]:
    """Up to `most` joins for a piece, the best first: those that were laid, hidden ones, square to
    the grain before along it, away from notches, with the smaller part as small as may be.

    `items` are all copies of the piece (both legs are joined alike), `beds` the cloth that is
    free for them: give `cleared` beds when other pieces lie there. None for a piece that may not
    be joined (its cutting rule, a shape of its own, a yoke whose darts are shut).

    Raises:
        KeyError: there is no such piece in the pattern.
    """
    if not items or not _may_join(within, items[0].piece):
        return ()
    sewn = within.piece(items[0].piece)
    items = [_whole(within, sewn, item) for item in items]
    ways = [way for bed in beds for way in items[0].ways_on(bed.name)]
    if not ways:
        return ()
    # Parts are told in one stance: cloth that shrinks otherwise, or lies otherwise, is left out.
    cut = ways[0].stance.cut
    items = [
        replace(item, ways=tuple(way for way in item.ways if way.stance.cut == cut))
        for item in items
    ]
    alike = {way.stock for way in items[0].ways}
    grids = {bed.name: grid_of(bed) for bed in beds if bed.name in alike}
    safe = {bed.name: grid_of(_safe(bed)) for bed in beds if bed.name in alike}
    masks = PartMasks(cut, CELL_MM)
    found: list[Offer] = []
    for lies in ("across", "along") if is_of_panel(within, items[0].piece) else ("across",):
        places = _places(within, sewn, items, grids, masks, lies)
        offers = _offers(within, sewn, items, safe, masks, places)
        found += itertools.islice(offers, most // 2)
    found.sort(key=lambda one: (not one.placements, one.hidden < HIDDEN_FROM))
    return tuple(found[:most])


def offer_taken(within: SewnDesign, offer: Offer) -> Design:
    """The design with an offered join, its parts laid where the offer laid them.

    Raises:
        GeometryRefused: the design has changed so that it cannot be joined there.
    """
    made = within.pieced(offer.asked)
    lay = replace(made.lay, placements=(*made.lay.placements, *offer.placements))
    return replace(made, lay=lay)


def _whole(within: SewnDesign, sewn: SewnPiece, item: Item) -> Item:
    """A copy with all its allowances: those it does without are forgotten when it is joined."""
    cloths = {cloth.name: cloth for cloth in within.design.cloths}
    stash = {stock.name: cloths.get(stock.cloth) for stock in within.design.stash}
    ways = tuple(
        replace(way, stance=stance_of(sewn, stash[way.stock], (), way.stance.off_warp))
        if way.stock in stash
        else way
        for way in item.ways
    )
    return replace(item, ways=ways)


def _safe(bed: Bed) -> Bed:
    """The bed less half a cell all round, so that what is laid on its cells lies on its cloth."""
    return replace(bed, usable=areas_of(bed.usable.buffer(-CELL_MM / 2.0, join_style="mitre")))


def _may_join(within: SewnDesign, name: str) -> bool:
    rules = {rule.piece: rule for rule in within.design.cutting}
    if name in rules and not rules[name].may_join:
        return False
    recipe = next((one for one in within.design.pieces if one.name == name), None)
    if recipe is None or isinstance(recipe, FacingPiece | ShapePiece):
        return False
    return not (isinstance(recipe, PanelPiece) and recipe.close_darts)


def _places(
    within: SewnDesign,
    sewn: SewnPiece,
    items: Sequence[Item],
    grids: dict[str, Grid],
    masks: PartMasks,
    lies: Lies,
) -> list[Place]:
    """Every place of a join at which either part fits somewhere, the better ones first."""
    stance = next(way.stance for way in items[0].ways if way.stock in grids)
    axis = 1 if lies == "across" else 0
    seam = np.asarray(stance.sewing)[:, axis]
    move = stance.move
    scale = math.hypot(move.yx, move.yy) if lies == "across" else math.hypot(move.xx, move.xy)
    allowance = within.design.standard_allowance * scale
    least, most = float(seam.min()) + LEAST_PART, float(seam.max()) - LEAST_PART
    if most <= least:
        return []
    steps = np.linspace(least, most, STEPS + 1)
    lines = [Line(lies, float(at), allowance) for at in steps]
    low, high = 0, STEPS
    for copy in items[:2] if stance.paired else items[:1]:
        faces = [
            Facing(way, turn, flipped, is_mirrored(way.stance, copy.copy, flipped))
            for way in copy.ways
            if way.stock in grids
            for turn in way.turns
            for flipped in way.faces
        ]
        # The part beyond the line shrinks as the line moves on, the part before it grows.
        low = max(low, _least_fit(masks, lines, "high", faces, grids))
        high = min(high, STEPS - _least_fit(masks, lines[::-1], "low", faces, grids))
        if low > high:
            return []
    first, last = float(steps[low]), float(steps[high])
    judged = [
        judged_place(within, sewn, Line(lies, at, allowance), stance)
        for at in round_places(within, sewn.piece, stance, lies, (first, last))
    ]
    return sorted(judged, key=order_of)


def _least_fit(
    masks: PartMasks,
    lines: Sequence[Line],
    half: Half,
    faces: Sequence[Facing],
    grids: dict[str, Grid],
) -> int:
    """Index of the first line whose part fits on some bed; their number when none does."""
    best = len(lines)
    for facing in faces:
        grid = grids[facing.way.stock]
        low, high = 0, best - 1
        if high < 0 or not fits(grid, masks.part(lines[high], half, facing)):
            continue
        while low < high:
            middle = (low + high) // 2
            if fits(grid, masks.part(lines[middle], half, facing)):
                high = middle
            else:
                low = middle + 1
        best = high
    return best


def _offers(
    within: SewnDesign,
    sewn: SewnPiece,
    items: Sequence[Item],
    grids: dict[str, Grid],
    masks: PartMasks,
    places: Iterable[Place],
) -> Iterator[Offer]:
    """Places that the pattern can be joined at, laid."""
    cut = next(way.stance.cut for way in items[0].ways if way.stock in grids)
    taken: list[float] = []
    tries = 0
    for place in places:
        if tries >= _TRIES or any(abs(place.line.at - at) < LEAST_PART for at in taken):
            continue
        tries += 1
        try:
            made = within.pieced(place.asked)
        except GeometryRefused:
            continue
        taken.append(place.line.at)
        low, high = _names(within, made, place.line)
        scraps = [
            Scrap(name, half, item, part_of(cut, place.line, half))
            for item in items
            for name, half in _halves(low, high)
        ]
        placements = scraps_laid(scraps, place.line, grids, masks, within.design.lay.gap)
        yield Offer(
            place.asked,
            _sentence(within, sewn.piece, place, placements),
            place.hidden,
            place.smaller,
            placements,
        )


def _halves(low: str, high: str) -> tuple[tuple[str, Half], tuple[str, Half]]:
    return (low, "low"), (high, "high")


def _names(within: SewnDesign, made: Design, line: Line) -> tuple[str, str]:
    """The names of the parts low and high in the stance. Side a of the join lies left of its line:
    above it across a panel, left of it along one, and before it on a strip.
    """
    seam = made.joins[-1]
    left, right = seam.a.edges[0].piece, seam.b.edges[0].piece
    if line.lies == "across" and is_of_panel(within, _old(within, left, right)):
        return right, left
    return left, right


def _old(within: SewnDesign, *names: str) -> str:
    known = {one.name for one in within.design.pieces}
    return next(name for name in names if name in known)


def _sentence(
    within: SewnDesign, piece: Piece, place: Place, placements: Sequence[Placement]
) -> str:
    way = "square to the grain" if place.line.lies == "across" else "along the grain"
    alike = ", both legs alike" if piece.cut == "pair" else ""
    hidden = ""
    patches = sorted(patches_on(within, piece.name))
    if place.hidden >= HIDDEN_FROM:
        hidden = f", {'under ' + ' and '.join(patches) if patches else 'inside'}"
    where = where_words(within, piece, place.asked)
    area = numbers.area(place.smaller)
    on = sorted({one.stock for one in placements})
    laid = f"It lies on {'; '.join(on)}." if on else "Each part fits; lay them anew together."
    return f"Join {piece.name} {way}, {where}{hidden}{alike}: the smaller part takes {area}. {laid}"

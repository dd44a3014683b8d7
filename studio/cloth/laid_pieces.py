"""Pieces where they lie on the stash, each copy by itself, to be drawn and written."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

import msgspec
from msgspec.structs import replace

from studio.cloth.bed import Bed
from studio.cloth.items import stance_as_laid
from studio.cloth.reduced import reduced_outline
from studio.cloth.stance import lying
from studio.curves import Chain, Point
from studio.cut.copies import Leg, copy_name
from studio.design.cloth import Cloth, CuttingRule, Placement, Shortage
from studio.sew import CutEdge, SewnPiece
from studio.sew.moved import moved
from studio.sew.short import short_line, short_words


class LaidPiece(msgspec.Struct, frozen=True):
    """A copy of a piece on a bed: in the bed's coordinates, grown by what its cloth shrinks. One
    that does without some allowance (`is_short`) has the narrower cut line, of straight chords,
    and no second lines for what other copies do without.
    """

    placement: Placement
    sewn: SewnPiece
    is_short: bool = False


def laid_pieces(
    pieces: Iterable[SewnPiece],
    placements: Iterable[Placement],
    beds: Iterable[Bed],
    cloths: Iterable[Cloth],
    legs: Mapping[str, Leg],
    shortages: Iterable[Shortage] = (),
    *,
    rules: Iterable[CuttingRule] = (),
) -> tuple[LaidPiece, ...]:
    """Every placement whose piece and bed are there, in the order of the placements. `legs`
    tells what each panel is drawn as (`drawn_legs`), `rules` how pieces may lie.
    """
    by_piece = {sewn.piece.name: sewn for sewn in pieces}
    by_bed = {bed.name: bed for bed in beds}
    by_cloth = {cloth.name: cloth for cloth in cloths}
    short = tuple(shortages)
    by_rule = {rule.piece: rule for rule in rules}
    found = []
    for placement in placements:
        sewn, bed = by_piece.get(placement.piece), by_bed.get(placement.stock)
        if sewn is None or bed is None or placement.copy >= sewn.piece.quantity:
            continue
        rule = by_rule.get(placement.piece, CuttingRule(placement.piece))
        stance = stance_as_laid(sewn, by_cloth.get(bed.cloth), rule, placement)
        own = tuple(one for one in short if one.piece == placement.piece)
        cut = _as_cut(sewn, own, placement.copy, legs) if own else sewn
        there = moved(cut, stance.move.then(lying(stance, placement, bed.warp)))
        name = copy_name(sewn.piece, placement.copy, legs)
        piece = replace(there.piece, name=name, cut="single", count=1, cloth=bed.cloth)
        is_short = any(one.copy == placement.copy for one in own)
        found.append(LaidPiece(placement, replace(there, piece=piece), is_short))
    return tuple(found)


def _as_cut(
    sewn: SewnPiece, shortages: tuple[Shortage, ...], copy: int, legs: Mapping[str, Leg]
) -> SewnPiece:
    """The piece as one of its copies is cut, with the words for what that does without."""
    lines = [short_line(sewn, one) for one in shortages]
    second = tuple(line for line in sewn.second if line not in lines)
    own = [one for one in shortages if one.copy == copy]
    leg = legs.get(sewn.piece.panel, "")
    sewn = replace(
        sewn,
        second=second,
        short=tuple(short_words(sewn, one, leg) for one in own),
    )
    if not own:
        return sewn
    points = [Point(x, y) for x, y in reduced_outline(sewn, own)]
    outline = CutEdge("cut", Chain.straight(*points, points[0]))
    return replace(sewn, cut_line=(outline,))

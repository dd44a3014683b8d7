"""Pieces where they lie on the stash, each copy by itself, to be drawn and written."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

import msgspec
from msgspec.structs import replace

from studio.cloth.bed import Bed
from studio.cloth.stance import lying, stance_of
from studio.cut.copies import Leg, copy_name
from studio.design.cloth import Cloth, Placement
from studio.sew import SewnPiece
from studio.sew.moved import moved


class LaidPiece(msgspec.Struct, frozen=True):
    """A copy of a piece on a bed: in the bed's coordinates, grown by what its cloth shrinks."""

    placement: Placement
    sewn: SewnPiece


def laid_pieces(
    pieces: Iterable[SewnPiece],
    placements: Iterable[Placement],
    beds: Iterable[Bed],
    cloths: Iterable[Cloth],
    legs: Mapping[str, Leg],
) -> tuple[LaidPiece, ...]:
    """Every placement whose piece and bed are there, in the order of the placements. `legs`
    tells what each panel is drawn as (`drawn_legs`).
    """
    by_piece = {sewn.piece.name: sewn for sewn in pieces}
    by_bed = {bed.name: bed for bed in beds}
    by_cloth = {cloth.name: cloth for cloth in cloths}
    found = []
    for placement in placements:
        sewn, bed = by_piece.get(placement.piece), by_bed.get(placement.stock)
        if sewn is None or bed is None or placement.copy >= sewn.piece.quantity:
            continue
        stance = stance_of(sewn, by_cloth.get(bed.cloth))
        there = moved(sewn, stance.move.then(lying(stance, placement, bed.warp)))
        name = copy_name(sewn.piece, placement.copy, legs)
        piece = replace(there.piece, name=name, cut="single", count=1, cloth=bed.cloth)
        found.append(LaidPiece(placement, replace(there, piece=piece)))
    return tuple(found)

"""How a seam is sewn, in words: as its construction has it, or as what it is sewn to asks."""

from __future__ import annotations

from collections.abc import Mapping, Set

from studio.cut.facing import facings
from studio.design.design import Design
from studio.design.joins import Join, JoinSide
from studio.design.pieces import WaistbandPiece
from studio.exchange.work_sheet_loops import is_tube
from studio.sew import SewnPiece
from studio.sew.constructions import CONSTRUCTIONS
from studio.sew.legs import is_centre

_TUBE = (
    "Fold the strip along its length, right sides together, and sew the long edges; turn it right "
    "side out and press. Its ends are left raw and laid on each other where they are caught."
)
_INTO_BAND = (
    "Right sides together, notches on each other. Press both allowances up into the band; they "
    "need no neatening, since the band covers them. The first half of the band begins at its end "
    "with the buttonhole; it is notched at the centre back and where its overlap begins."
)
_UNDER_FACING = (
    "Right sides together, notches on each other. Press both allowances up into the band; they "
    "need no neatening, since its facing covers them."
)
_INSIDE_BAND = (
    "Right sides together, notches on each other. Press the seam open; it needs no neatening, "
    "since it lies inside the band."
)
_MOUTH = "It is basted on the piece behind it once the bag is sewn."
_BASTE_MOUTH = (
    "Then lay the finished mouth on the piece behind it, as the pattern has it, and baste the two "
    "together at both ends of the mouth."
)
_ONE_INTO_OTHER = (
    "Turn one leg right side out and slip it into the other, which is wrong side out, so that the "
    "right sides meet; begin at the inseams. The figure shows one leg, front and back opened out."
)
_ONE_ON_OTHER = (
    "Lay left and right on each other; begin at the inseams. The figure shows one side, front and "
    "back opened out."
)
"""How zips, bands, loops and mouths are sewn is common practice, no source."""


def how_words(join: Join, design: Design, pieces: Mapping[str, SewnPiece], done: Set[str]) -> str:
    """How a join is sewn: as its construction has it, or as what it is sewn to asks."""
    kind = CONSTRUCTIONS[join.construction]
    if is_centre(join):
        if len({ref.edge.partition(".")[0] for ref in join.a.edges}) == 1:
            return kind.words
        lays = _ONE_INTO_OTHER if _are_tubes(join, design, pieces, done) else _ONE_ON_OTHER
        return f"{lays} {kind.words}"
    if is_tube(join):
        return _TUBE
    if join.construction == "plain":
        inside = _band_words(join, design)
        if inside:
            return inside
    mouths = {line.name for line in design.lines if line.kind == "mouth"}
    if join.construction in ("plain", "faced") and {ref.edge for ref in join.refs} <= mouths:
        return f"{CONSTRUCTIONS['faced'].words} {_MOUTH}"
    if _closes_bag(join, design, mouths):
        return f"{kind.words} {_BASTE_MOUTH}"
    return kind.words


def _are_tubes(join: Join, design: Design, pieces: Mapping[str, SewnPiece], done: Set[str]) -> bool:
    """True when every seam between front and back of a leg is sewn by then."""
    panels = {ref.edge.partition(".")[0] for ref in join.a.edges}
    return all(
        one.name in done
        for one in design.joins
        if not is_centre(one)
        and {pieces[r.piece].piece.panel for r in one.a.edges if r.piece in pieces} & panels
        and {pieces[r.piece].piece.panel for r in one.b.edges if r.piece in pieces} & panels
        and {ref.edge.partition(".")[0] for ref in one.refs} == panels
    )


def _band_words(join: Join, design: Design) -> str:
    """How a plain seam of a band is pressed; nothing for other seams."""
    folded = {one.name for one in design.pieces if isinstance(one, WaistbandPiece)}
    if any(ref.piece in folded for ref in join.refs):
        return _INTO_BAND
    if is_covered(join, design):
        return _UNDER_FACING
    faced = facings(design.pieces)
    layers = {*faced, *faced.values()}
    return _INSIDE_BAND if all(ref.piece in layers for ref in join.refs) else ""


def _closes_bag(join: Join, design: Design, mouths: set[str]) -> bool:
    """True for the seam of a bag whose piece is sewn to a mouth by another join; not for what is
    laid on the bag.
    """
    if not CONSTRUCTIONS[join.construction].is_notched:
        return False
    bags = {
        ref.piece
        for one in design.joins
        for ref in one.b.edges
        if {ref.edge for ref in one.refs} <= mouths
    }
    panels = {ref.edge.partition(".")[0] for ref in join.refs if "." in ref.edge}
    return not panels and any(ref.piece in bags for ref in join.refs)


def is_covered(seam: Join, design: Design) -> bool:
    """True for a seam over which a facing is laid later."""
    return any(
        CONSTRUCTIONS[join.construction].lies_over and not set(join.b.edges).isdisjoint(seam.refs)
        for join in design.joins
        if join != seam
    )


def is_faced_by(inner: JoinSide, outer: JoinSide, faced: Mapping[str, str]) -> bool:
    """True when a side is the facings' of another, edge by edge."""
    lies_on = [(faced.get(ref.piece), ref.edge) for ref in inner.edges]
    return lies_on == [(ref.piece, ref.edge) for ref in outer.edges]

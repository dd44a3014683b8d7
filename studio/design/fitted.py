"""The fit of a drafted block changed, and with it what a seam is stretched on purpose."""

from __future__ import annotations

from msgspec.structs import replace

from studio.design.block import DraftedBlock
from studio.design.body import Fit
from studio.design.design import Design
from studio.design.joins import Join

_FRONT, _BACK = {"front.inseam"}, {"back.inseam"}


def with_fit(design: Design, fit: Fit) -> Design:
    """The design with its block drafted to another fit. A back inseam that is shorter by more, to
    be stretched in, is what the inseam is meant to be: its ease follows by as much, whatever else
    the maker eases there. A design whose block is from a drawing stays as it is.
    """
    block = design.block
    if not isinstance(block, DraftedBlock):
        return design
    more = fit.inseam_stretch - block.fit.inseam_stretch
    return replace(
        design,
        block=replace(block, fit=fit),
        joins=tuple(_stretched(join, more) for join in design.joins) if more else design.joins,
    )


def _stretched(join: Join, more: float) -> Join:
    """A join of front and back inseam, its back `more` mm shorter on purpose."""
    sides = {ref.edge for ref in join.a.edges}, {ref.edge for ref in join.b.edges}
    if sides == (_FRONT, _BACK):
        return replace(join, ease=join.ease - more)
    if sides == (_BACK, _FRONT):
        return replace(join, ease=join.ease + more)
    return join

"""A shaped waistband taken off again: the tops of front and back, which it was cut from, are those
of the pieces below it again.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import msgspec
from msgspec.structs import replace

from studio.cut.sharing import with_shares
from studio.design.design import Design
from studio.design.joins import EdgeRef, Finish, Join
from studio.design.pieces import FacingPiece, PanelPiece, PieceRecipe
from studio.errors import BadInput


class CutOff(msgspec.Struct, frozen=True):
    """What goes with a band: the lines along which it was cut off, each with the edge of the panel
    that is the top again; its pieces in both layers; and the lines that divided these alone.
    """

    tops: dict[str, str]
    pieces: frozenset[str]
    within: frozenset[str]

    @property
    def lines(self) -> frozenset[str]:
        """All lines that go."""
        return self.within | self.tops.keys()


def band_cut_off_along(design: Design, line: str) -> CutOff | None:
    """The whole shaped waistband that was cut off along a line; None when none was.

    Raises:
        BadInput: another band was cut off its top.
    """
    return _band(design, line) if is_band_line(design, line) else None


def band_with_piece(design: Design, piece: str) -> CutOff | None:
    """The whole shaped waistband that has a piece in its outer layer; None when none has.

    Raises:
        BadInput: another band was cut off its top.
    """
    for line in sorted(_lines_below(design)):
        if any(one.name == piece for one in _above(design, line)):
            return _band(design, line)
    return None


def is_band_line(design: Design, line: str) -> bool:
    """Whether a shaped waistband was cut off along a line."""
    return line in _lines_below(design)


def is_of_band(design: Design, piece: PieceRecipe) -> bool:
    """Whether a piece is one of the outer layer of a shaped waistband, cut off the top."""
    lines = _lines_below(design)
    return isinstance(piece, PanelPiece) and any(
        bound.line in lines and bound.line != piece.below for bound in piece.bounds
    )


def with_tops_again(design: Design, band: CutOff) -> Design:
    """The design in which nothing was cut off along the lines of a band: what spoke of the edges
    they made speaks of the waist, and what the band was sewn to is finished as the band's own top
    is, or else faced. The band itself is still there, sewn to nothing below.
    """
    freed = tuple(_freed(design, band))

    def share(ref: EdgeRef, _forwards: bool) -> tuple[EdgeRef, ...]:
        return (ref if ref.piece in band.pieces else _at_top(ref, band.tops),)

    def edge(piece: str, known: str) -> str:
        return known if piece in band.pieces else band.tops.get(known, known)

    made = with_shares(design, share)
    return replace(
        made,
        pieces=tuple(_whole(one, band) for one in made.pieces),
        finishes=(*made.finishes, *freed),
        corners=tuple(
            replace(one, before=edge(one.piece, one.before), after=edge(one.piece, one.after))
            for one in made.corners
        ),
        topstitching=tuple(
            replace(one, along=edge(one.piece, one.along)) for one in made.topstitching
        ),
    )


def _band(design: Design, its_line: str) -> CutOff:
    """The band that was cut off along a line, front and back of it together."""
    above = {line: tuple(_above(design, line)) for line in _lines_below(design)}
    for piece in above[its_line]:
        if piece.below:
            raise BadInput(f"{piece.below} is cut off it: take that away first.", where=its_line)
    # Of two bands, one cut off the top of the other, only that on top has no other above it.
    top = {line: pieces for line, pieces in above.items() if not any(p.below for p in pieces)}
    outer = {piece.name for pieces in top.values() for piece in pieces}
    inner = {one.name for one in design.pieces if isinstance(one, FacingPiece) and one.of in outer}
    panels = {line.name: line.panel for line in design.lines}
    return CutOff(
        {line: f"{panels[line]}.waist" for line in top if line in panels},
        frozenset(outer | inner),
        frozenset(_dividing(design, outer) - above.keys()),
    )


def _lines_below(design: Design) -> frozenset[str]:
    """The lines along which bands are cut off."""
    return frozenset(p.below for p in design.pieces if isinstance(p, PanelPiece) and p.below)


def _above(design: Design, line: str) -> Iterator[PanelPiece]:
    """The pieces of a band that was cut off along a line."""
    for piece in design.pieces:
        if not isinstance(piece, PanelPiece) or piece.below == line:
            continue
        if any(bound.line == line for bound in piece.bounds):
            yield piece


def _dividing(design: Design, pieces: set[str]) -> set[str]:
    """The lines that bound some of the pieces and no other, such as those of joins of scraps."""
    inside: set[str] = set()
    outside: set[str] = set()
    for piece in design.pieces:
        if isinstance(piece, PanelPiece):
            known = inside if piece.name in pieces else outside
            known.update(bound.line for bound in piece.bounds)
    return inside - outside


def _at_top(ref: EdgeRef, tops: Mapping[str, str]) -> EdgeRef:
    return replace(ref, edge=tops[ref.edge]) if ref.edge in tops else ref


def _whole(piece: PieceRecipe, band: CutOff) -> PieceRecipe:
    """A piece below the band with the top of its panel, its darts as they were."""
    if isinstance(piece, PanelPiece) and piece.below in band.tops:
        bounds = tuple(bound for bound in piece.bounds if bound.line != piece.below)
        return replace(
            piece,
            bounds=bounds,
            below="",
            # A yoke's darts are shut, and nothing of them was taken out elsewhere.
            rest_at=piece.rest_at if piece.close_darts else "none",
        )
    if isinstance(piece, FacingPiece) and piece.of not in band.pieces:
        return replace(piece, along=tuple(band.tops.get(edge, edge) for edge in piece.along))
    return piece


def _freed(design: Design, band: CutOff) -> Iterator[Finish]:
    """How the waist is finished where nothing but the band was sewn to it, each stretch once."""
    finished = {
        one.edge.edge: one
        for one in reversed(design.finishes)
        if one.edge.piece in band.pieces and one.how != "caught"
    }
    said = {one.edge for one in design.finishes}
    for join in design.joins:
        if not _sews_on(join, band):
            said.update(join.refs)
    for join in design.joins:
        if not _sews_on(join, band):
            continue
        for ref in join.refs:
            if ref.edge in band.tops and ref.piece not in band.pieces and ref not in said:
                said.add(ref)
                waist = _at_top(ref, band.tops)
                known = finished.get(waist.edge, Finish(waist, "faced"))
                yield replace(known, edge=waist, into="")


def _sews_on(join: Join, band: CutOff) -> bool:
    """Whether one side of a join is of the band alone, so that it goes with it."""
    return any(
        side.edges and all(ref.piece in band.pieces for ref in side.edges)
        for side in (join.a, join.b)
    )

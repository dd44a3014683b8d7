"""A style line or a piece taken away, with all that was made of it and spoke of it; two pieces that
a seam line cut are one again, and so is what a shaped waistband was cut off.
"""

from __future__ import annotations

from typing import TypeVar

import msgspec
from msgspec.structs import replace

from studio.cut.band_off import (
    CutOff,
    band_cut_off_along,
    band_with_piece,
    is_of_band,
    with_tops_again,
)
from studio.cut.merged import merged, once
from studio.cut.parts.band_facing import band_with, facings_of
from studio.design.design import Design
from studio.design.holds import lines_in
from studio.design.joins import EdgeRef, Finish, Join, JoinSide
from studio.design.pieces import (
    FacingPiece,
    PanelPiece,
    PieceRecipe,
    ShapePiece,
    StripPiece,
    WaistbandPiece,
)
from studio.design.step_names import steps_of_piece
from studio.errors import BadInput

_Some = TypeVar("_Some")


class _Gone(msgspec.Struct, frozen=True):
    """What goes: lines, pieces and joins, by name."""

    lines: frozenset[str]
    pieces: frozenset[str]
    joins: frozenset[str] = frozenset()

    def has_edge(self, edge: str) -> bool:
        """Whether an edge or mark is a stretch of a line that goes."""
        return edge in self.lines or edge.partition(".")[0] in self.lines

    def has(self, ref: EdgeRef) -> bool:
        """Whether what a seam speaks of is no longer there."""
        return ref.piece in self.pieces or self.has_edge(ref.edge)

    def cleared(self, ref: EdgeRef) -> EdgeRef:
        """The same edge, no longer divided by a line that goes."""
        before = None if ref.before in self.lines else ref.before
        after = None if ref.after in self.lines else ref.after
        return replace(ref, before=before, after=after)


def without_line(design: Design, name: str) -> Design:
    """The design without a style line. With a patch or a pocket go its pieces and their seams; what
    a mouth cut away is the leg's again; the two pieces of a seam line are one; with a line along
    which a shaped waistband was cut off goes the whole band. An edge that is left without a seam is
    faced.

    Raises:
        BadInput: there is no such line, another patch is laid on what would go, it belongs to a
            pocket whose mouth has to go with it, another band is cut off it, or it bounds more than
            two pieces.
    """
    line = next((one for one in design.lines if one.name == name), None)
    if line is None:
        raise BadInput("There is no such line.", where=name)
    if band := band_cut_off_along(design, name):
        return _without_band(design, band)
    bounded = _bounded(design, name)
    if line.kind == "seam" and bounded:
        return _cleaned(merged(design, name), _Gone(frozenset((name,)), frozenset()))
    lines, pieces = {name}, {one.name for one in bounded}
    if line.kind == "mouth":
        lines |= _lines_behind(design, name)
        pieces = {one.name for other in lines - {name} for one in _bounded(design, other)}
    elif mouth := _mouth_of(design, name):
        raise BadInput(f"It belongs to {mouth}: take that line away.", where=name)
    pieces |= {
        one.name for one in design.pieces if isinstance(one, ShapePiece) and one.line in lines
    }
    _refuse_laid_on(design, lines, pieces)
    return _cleaned(design, _Gone(frozenset(lines), frozenset(pieces)))


def without_piece(design: Design, name: str) -> Design:
    """The design without a piece that is cut along no line of a panel: a band, a strip, a facing;
    a patch of a shape of its own goes with its line. With a piece of a shaped waistband goes the
    whole band, with one of its facing that whole layer. An edge left without a seam is faced.

    Raises:
        BadInput: there is no such piece, it is cut from a panel, or as `without_line`.
    """
    piece = next((one for one in design.pieces if one.name == name), None)
    if piece is None:
        raise BadInput("There is no such piece.", where=name)
    if isinstance(piece, ShapePiece):
        return without_line(design, piece.line)
    if band := band_with_piece(design, name):
        return _without_band(design, band)
    if isinstance(piece, FacingPiece) and (layers := band_with(design, name)):
        return _cleaned(design, _Gone(frozenset(), frozenset(facings_of(design, layers))))
    if isinstance(piece, PanelPiece):
        along = f": take {piece.bounds[-1].line} away" if piece.bounds else ""
        raise BadInput(f"It is cut from a panel{along}.", where=name)
    return _cleaned(design, _Gone(frozenset(), frozenset((name,))))


def may_go_alone(design: Design, piece: PieceRecipe) -> bool:
    """Whether `without_piece` may be asked of a piece."""
    return not isinstance(piece, PanelPiece) or is_of_band(design, piece)


def gone_between(before: Design, after: Design) -> tuple[str, ...]:
    """The names of pieces and seams that one design has and the other lacks."""
    kept = {one.name for one in (*after.pieces, *after.joins)}
    return tuple(one.name for one in (*before.pieces, *before.joins) if one.name not in kept)


def _without_band(design: Design, band: CutOff) -> Design:
    return _cleaned(with_tops_again(design, band), _Gone(band.lines, band.pieces))


def _bounded(design: Design, line: str) -> list[PanelPiece]:
    return [
        piece
        for piece in design.pieces
        if isinstance(piece, PanelPiece) and any(bound.line == line for bound in piece.bounds)
    ]


def _lines_behind(design: Design, mouth: str) -> set[str]:
    """The marks that bound pieces behind a mouth, such as the bag's: those of pieces it bounds."""
    marks = {line.name for line in design.lines if line.kind == "mark"}
    return {
        bound.line
        for piece in _bounded(design, mouth)
        for bound in piece.bounds
        if bound.line in marks
    }


def _mouth_of(design: Design, mark: str) -> str:
    """The mouth of the pocket that would be left open without a line: one behind which a piece has
    taken over edges of the leg; "" when there is none.
    """
    for line in design.lines:
        if line.kind != "mouth" or mark not in _lines_behind(design, line.name):
            continue
        for piece in _bounded(design, mark):
            if all(bound.line != line.name for bound in piece.bounds):
                return line.name
    return ""


def _refuse_laid_on(design: Design, lines: set[str], pieces: set[str]) -> None:
    """A smaller pocket on a patch would be laid on nothing."""
    own = {
        bound.line
        for piece in design.pieces
        if isinstance(piece, PanelPiece)
        for bound in piece.bounds
    } | {piece.line for piece in design.pieces if isinstance(piece, ShapePiece)}
    for piece in design.pieces:
        if not isinstance(piece, PanelPiece | ShapePiece) or piece.name not in pieces:
            continue
        laid = [mark for mark in piece.marks if mark in own - lines]
        if laid:
            raise BadInput(f"{laid[0]} is laid on it: take that away first.", where=piece.name)


def _cleaned(design: Design, gone: _Gone) -> Design:
    """The design without what goes and without all that spoke only of it."""
    gone = _with_what_hangs_on_it(design, gone)
    pieces = tuple(_piece(one, gone) for one in design.pieces if one.name not in gone.pieces)
    joins = tuple(_join(one, gone) for one in design.joins if one.name not in gone.joins)
    stay = [one for one in design.finishes if not gone.has(one.edge)]
    finishes = once(_finish(one, gone) for one in stay)
    steps = {one.step: _finish(one, gone).step for one in stay}
    names = {one.name for one in joins} | set(steps)
    dropped = {one.name for one in design.joins} | {one.step for one in design.finishes}
    dropped |= {step for piece in gone.pieces for step in steps_of_piece(piece)}
    spoken = gone.lines | gone.pieces | gone.joins
    return replace(
        design,
        lines=tuple(one for one in design.lines if one.name not in gone.lines),
        holds=tuple(one for one in design.holds if gone.lines.isdisjoint(lines_in(one))),
        pieces=pieces,
        joins=joins,
        finishes=(*finishes, *_faced_now(design, gone, joins, finishes)),
        corners=tuple(
            one
            for one in design.corners
            if one.piece not in gone.pieces
            and not gone.has_edge(one.before)
            and not gone.has_edge(one.after)
        ),
        sewing=tuple(
            steps.get(wish, wish) for wish in design.sewing if wish in names or wish not in dropped
        ),
        topstitching=tuple(
            one
            for one in design.topstitching
            if one.piece not in gone.pieces and not gone.has_edge(one.along)
        ),
        cutting=tuple(one for one in design.cutting if one.piece not in gone.pieces),
        shortages=tuple(
            one
            for one in design.shortages
            if one.piece not in gone.pieces and not gone.has_edge(one.edge)
        ),
        lay=replace(
            design.lay,
            placements=tuple(p for p in design.lay.placements if p.piece not in gone.pieces),
        ),
        carried=tuple(one for one in design.carried if one.pocket not in spoken),
        accepted=tuple(one for one in design.accepted if one.where not in spoken),
    )


def _with_what_hangs_on_it(design: Design, gone: _Gone) -> _Gone:
    """Seams that lose a side go, strips and bands as long as such a seam, and inner layers."""
    while True:
        joins = frozenset(
            join.name
            for join in design.joins
            for side in (join.a, join.b)
            if side.edges and all(gone.has(ref) for ref in side.edges)
        )
        hanging = frozenset(
            piece.name
            for piece in design.pieces
            if (isinstance(piece, StripPiece | WaistbandPiece) and piece.fits in joins)
            or (isinstance(piece, FacingPiece) and piece.of in gone.pieces)
        )
        if joins == gone.joins and hanging <= gone.pieces:
            return gone
        gone = replace(gone, pieces=gone.pieces | hanging, joins=joins)


def _piece(piece: PieceRecipe, gone: _Gone) -> PieceRecipe:
    if isinstance(piece, PanelPiece):
        return replace(
            piece,
            bounds=tuple(bound for bound in piece.bounds if bound.line not in gone.lines),
            marks=tuple(mark for mark in piece.marks if mark not in gone.lines),
        )
    if isinstance(piece, ShapePiece):
        return replace(piece, marks=tuple(mark for mark in piece.marks if mark not in gone.lines))
    if isinstance(piece, FacingPiece):
        return replace(piece, along=tuple(edge for edge in piece.along if not gone.has_edge(edge)))
    return piece


def _join(join: Join, gone: _Gone) -> Join:
    def side(old: JoinSide) -> JoinSide:
        kept = once(gone.cleared(ref) for ref in old.edges if not gone.has(ref))
        return old if kept == old.edges else replace(old, edges=kept)

    return replace(join, a=side(join.a), b=side(join.b))


def _finish(finish: Finish, gone: _Gone) -> Finish:
    into = "" if finish.into in gone.joins else finish.into
    return replace(finish, edge=gone.cleared(finish.edge), into=into)


def _faced_now(
    design: Design, gone: _Gone, joins: tuple[Join, ...], finishes: tuple[Finish, ...]
) -> tuple[Finish, ...]:
    """Edges that a seam which goes leaves with nothing: faced, as those of a plain pair are."""
    said = {ref for join in joins for ref in join.refs} | {one.edge for one in finishes}
    marks = {
        (piece.name, mark)
        for piece in design.pieces
        if isinstance(piece, PanelPiece | ShapePiece)
        for mark in piece.marks
    }
    left = once(
        gone.cleared(ref)
        for join in design.joins
        if join.name in gone.joins
        for ref in join.refs
        if not gone.has(ref) and (ref.piece, ref.edge.partition(".")[0]) not in marks
    )
    return tuple(
        Finish(ref, "faced") for ref in left if said.isdisjoint((ref, EdgeRef(ref.piece, ref.edge)))
    )

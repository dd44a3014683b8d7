"""What becomes of the pieces of a panel when a band is cut off its top."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping

import msgspec
from msgspec.structs import replace

from studio.block.panel import Panel
from studio.block.places import place_on_edge
from studio.curves import meetings
from studio.cut.draw import draw_line
from studio.cut.panel_piece import cut_from_panel
from studio.cut.parts.part import edge_called, starts_at
from studio.cut.parts.top_edges import waits_for_the_waist
from studio.cut.piece import Piece
from studio.cut.sharing import with_shares
from studio.design.design import Design
from studio.design.joins import EdgeRef, Finish, Join
from studio.design.lines import AnchoredPath, OnEdge, StyleLine
from studio.design.pieces import Bound, PanelPiece, StripPiece
from studio.errors import GeometryRefused


class BandLine(msgspec.Struct, frozen=True):
    """The lower edge of a band, `width` mm below the waist at rise and side of a panel, and the
    join by which the band is sewn on.
    """

    name: str
    panel: Panel
    width: float
    seam: str

    @property
    def waist(self) -> str:
        """The edge above it."""
        return edge_called(self.panel, "waist")

    @property
    def line(self) -> StyleLine:
        """From rise to side on a back, from side to rise on a front, so that the band lies right
        of it, walked from its start; it keeps the band's width off the waist all along.
        """
        rise, side = edge_called(self.panel, "rise"), edge_called(self.panel, "side")
        start, end = (OnEdge(edge, self.waist, mm=self.width) for edge in (rise, side))
        if not starts_at(self.panel, self.waist, rise):
            start, end = end, start
        return StyleLine(
            self.name, self.panel.name, "seam", AnchoredPath(start, end, beside=self.waist)
        )


def below_band(design: Design, band: BandLine, pieces: Mapping[str, Piece]) -> Design:
    """The design with the band's line, every piece of the panel that has its waist cut off along
    it, darts' rest taken out at the side; what was caught in the waist is caught in the band's
    seam, other finishes of the waist are gone. The shield of a fly becomes shorter with its edge.

    Raises:
        GeometryRefused: the band is wider than rise or side, another seam would cross it, or a
            piece cannot be cut there.
    """
    line = band.line
    path = line.path
    assert isinstance(path, AnchoredPath)
    for end in (path.start, path.end):
        place_on_edge(band.panel, end)
    cut = {
        recipe.name: _cut(recipe, band)
        for recipe in design.pieces
        if isinstance(recipe, PanelPiece)
        and recipe.panel == band.panel.name
        and recipe.name in pieces
        and pieces[recipe.name].outline.has(band.waist)
    }
    shields = _shields(design, band, pieces)
    made = replace(design, lines=(*design.lines, line))
    _try(made, band, cut)
    return replace(
        made,
        pieces=tuple(
            cut.get(recipe.name) or shields.get(recipe.name, recipe) for recipe in design.pieces
        ),
        finishes=tuple(_finishes(design, band, cut)),
        corners=tuple(
            replace(
                corner,
                before=_renamed(corner.before, band),
                after=_renamed(corner.after, band),
            )
            if corner.piece in cut
            else corner
            for corner in design.corners
        ),
        topstitching=tuple(
            replace(one, along=_renamed(one.along, band)) if one.piece in cut else one
            for one in design.topstitching
        ),
    )


def _finishes(design: Design, band: BandLine, cut: Collection[str]) -> Iterator[Finish]:
    """The finishes of a design whose pieces `cut` are cut off along a band: their waist is now the
    band's seam, in which is caught what was caught in the waist or, of a strip, waited for it.
    """
    strips = {one.name for one in design.pieces if isinstance(one, StripPiece)}
    is_front = band.panel.name == "front"
    for finish in design.finishes:
        at_waist = finish.edge.piece in cut and finish.edge.edge == band.waist
        if at_waist:
            if finish.how == "caught":
                edge = replace(finish.edge, edge=band.name)
                yield replace(finish, edge=edge, into=band.seam)
        elif is_front and finish.edge.piece in strips and waits_for_the_waist(finish, strips):
            yield replace(finish, into=band.seam)
        else:
            yield finish


def with_run_through(
    made: Design, bands: tuple[BandLine, ...], pieces: Mapping[str, Piece]
) -> Design:
    """The design in which seams of the pieces sewn to the band that ran up to the waist on both of
    their sides run on through it; one that did on one side only, such as that between a front and
    the facing of its fly, ends below it. `pieces` are those as they were before.
    """
    sewn = {
        ref.piece
        for join in made.joins
        if join.name in {band.seam for band in bands}
        for ref in join.refs
    }
    reaching = {
        EdgeRef(name, edge): (band, first)
        for band in bands
        for edge, first in _ends(band)
        for name, piece in pieces.items()
        if name in sewn and piece.panel == band.panel.name and _meet(piece, edge, band.waist)
    }

    def share(ref: EdgeRef, forwards: bool) -> tuple[EdgeRef, ...]:
        whole = EdgeRef(ref.piece, ref.edge)
        if whole not in reaching:
            return (ref,)
        band, first = reaching[whole]
        if ref.after if first else ref.before:
            return (ref,)
        above = EdgeRef(band.name, ref.edge)
        return (above, ref) if first == forwards else (ref, above)

    def through(join: Join) -> Join:
        shared = with_shares(replace(made, joins=(join,), finishes=()), share).joins[0]
        longer = [len(shared.a.edges) > len(join.a.edges), len(shared.b.edges) > len(join.b.edges)]
        return shared if all(longer) else join

    return replace(made, joins=tuple(through(join) for join in made.joins))


def _cut(recipe: PanelPiece, band: BandLine) -> PanelPiece:
    rest = recipe.rest_at
    if not recipe.close_darts and rest == "none":
        rest = "side"
    return replace(
        recipe,
        bounds=(Bound(band.name, "left"), *recipe.bounds),
        rest_at=rest,
        below=band.name,
    )


def _shields(design: Design, band: BandLine, pieces: Mapping[str, Piece]) -> dict[str, StripPiece]:
    """Strips caught along an edge of the rise that is faced, or sewn to the strip, each as much
    longer than that edge as it was, and so shorter as soon as the edge is.
    """
    strips = {one.name: one for one in design.pieces if isinstance(one, StripPiece)}
    edges = {join.name: join.a.edges for join in design.joins if join.a.edges != join.b.edges}
    rise = edge_called(band.panel, "rise")
    found = {}
    for finish in design.finishes:
        strip, refs = strips.get(finish.edge.piece), edges.get(finish.into, ())
        if strip is None or strip.fits or not refs or any(ref.edge != rise for ref in refs):
            continue
        if all(ref.piece in pieces for ref in refs):
            long = sum(_length(ref, pieces[ref.piece]) for ref in refs)
            found[strip.name] = replace(strip, fits=finish.into, length=strip.length - long)
    return found


def _length(ref: EdgeRef, piece: Piece) -> float:
    """Length of the stretch of an edge that is spoken of, mm."""
    low, high = 0.0, piece.outline.edge(ref.edge).length
    for at, along, line in piece.splits:
        if piece.outline.edges[at].name == ref.edge:
            low = along if line == ref.after else low
            high = along if line == ref.before else high
    return high - low


def _try(design: Design, band: BandLine, cut: Mapping[str, PanelPiece]) -> None:
    """Cut every piece once, so that what cannot be cut is refused here.

    Raises:
        GeometryRefused: a piece cannot be cut, or a seam crosses the band.
    """
    drawn = {
        line.name: draw_line(line, band.panel)
        for line in design.lines
        if line.panel == band.panel.name
    }
    seams = {line.name for line in design.lines if line.kind == "seam"} - {band.name}
    for recipe in cut.values():
        bounds = tuple(drawn[bound.line] for bound in recipe.bounds)
        for line in bounds[1:]:
            if line.name in seams and meetings(line.chain, bounds[0].chain):
                raise GeometryRefused(
                    f"A band so wide would cross {line.name}: make it narrower, or move "
                    f"{line.name} down first.",
                    where=line.name,
                )
        cut_from_panel(recipe, band.panel, bounds, ())


def _ends(band: BandLine) -> tuple[tuple[str, bool], ...]:
    """Rise and side of a panel, each with whether it begins at the waist."""
    edges = (edge_called(band.panel, name) for name in ("rise", "side"))
    return tuple((edge, starts_at(band.panel, edge, band.waist)) for edge in edges)


def _meet(piece: Piece, one: str, two: str) -> bool:
    edges = piece.outline.edges
    return any({edge.name, edges[index - 1].name} == {one, two} for index, edge in enumerate(edges))


def _renamed(edge: str, band: BandLine) -> str:
    return band.name if edge == band.waist else edge

"""A shaped waistband that is there, and its inner layer: added, changed and taken away again."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

import msgspec
from msgspec.structs import replace

from studio.cut.sharing import with_shares
from studio.design.design import Design
from studio.design.joins import EdgeRef, Finish, Join, JoinSide
from studio.design.pieces import FacingPiece, PanelPiece, PieceRecipe
from studio.design.plain import side
from studio.errors import GeometryRefused

TURN_OF_CLOTH = 1.5
"""A facing is so much narrower than what it faces, mm, that the seam between them rolls inwards:
1 to 2 for cloth of middling weight, more for thick cloth (common practice, no source)."""

_FROM_THE_WAIST = ("back.side", "front.rise")
"""Edges that begin at the waist, counter-clockwise, as a band is only cut where they do."""


class Band(msgspec.Struct, frozen=True):
    """A band cut off the top of back and front: the names of its pieces, and the lines along which
    they were cut off. One that is closed by a button has two more, for the other leg.
    """

    back: str
    front: str
    back_line: str
    front_line: str
    back_under: str = ""
    front_under: str = ""

    @property
    def pieces(self) -> tuple[str, ...]:
        """All of its pieces, in the order in which they are cut."""
        every = (self.back, self.front, self.back_under, self.front_under)
        return tuple(name for name in every if name)

    @property
    def name(self) -> str:
        """What its seams are called after."""
        return self.front.removesuffix("-front")

    def lower(self, piece: str) -> tuple[str, ...]:
        """The edges along the lower side of one of its pieces."""
        line = self.back_line if piece in (self.back, self.back_under) else self.front_line
        return (line, f"{piece}.overlap") if piece == self.front_under else (line,)

    def tops(self) -> dict[str, tuple[tuple[str, str], ...]]:
        """The edges (piece, edge) along which it is turned, counter-clockwise, by the name of the
        seam: round the end under, along the top, down the end on top; or along either top.
        """
        if not self.front_under:
            return {
                f"{self.back} top": ((self.back, "back.waist"),),
                f"{self.front} top": ((self.front, "front.waist"), (self.front, "front.rise")),
            }
        under = tuple((self.front_under, f"{self.front_under}.{e}") for e in _END_UNDER)
        front, back = (self.front, "front.waist"), (self.back, "back.waist")
        under = (*under, (self.front_under, "front.waist"), (self.back_under, "back.waist"))
        return {f"{self.name} top": (*under, back, front, (self.front, "front.rise"))}

    def lows(self) -> dict[str, tuple[tuple[str, str], ...]]:
        """The edges (piece, edge) by which it is sewn on, clockwise, by the name of the seam that
        lays the facing over them.
        """
        back, front = (self.back, self.back_line), (self.front, self.front_line)
        if not self.front_under:
            return {
                f"{self.back} facing edge": (back,),
                f"{self.front} facing edge": (front,),
            }
        under = ((self.front_under, self.front_line), (self.back_under, self.back_line))
        return {f"{self.name} facing edge": (*under, back, front)}


_END_UNDER = ("overlap", "end", "top")


def faces(band: str) -> str:
    """The name of the piece that faces a piece of a band."""
    return f"{band}-facing"


def band_with(design: Design, piece: str) -> Band | None:
    """The shaped waistband that has a piece, in either layer; None when none has, or when a piece
    of it is joined of parts.
    """
    lines = {one.below for one in design.pieces if isinstance(one, PanelPiece) and one.below}
    found = [
        one
        for one in design.pieces
        if isinstance(one, PanelPiece)
        and one.close_darts
        and not one.below
        and [bound.line for bound in one.bounds][:1] in [[line] for line in lines]
    ]
    by_place = {(one.panel, one.over): one for one in found}
    if len(by_place) != len(found) or any(len(one.bounds) > 1 for one in found):
        return None
    back, front = by_place.get(("back", False)), by_place.get(("front", False))
    if back is None or front is None:
        return None
    under = [by_place.get((panel, True)) for panel in ("back", "front")]
    names = [one.name if one is not None else "" for one in under]
    lines_of = (back.bounds[0].line, front.bounds[0].line)
    band = Band(back.name, front.name, *lines_of, *names)
    is_its = piece in band.pieces or piece in facings_of(design, band)
    return band if is_its and all(names) == any(names) else None


def facings_of(design: Design, band: Band) -> dict[str, FacingPiece]:
    """The facings of a band by name; empty when it has none."""
    return {
        one.name: one
        for one in design.pieces
        if isinstance(one, FacingPiece) and one.of in band.pieces
    }


def facings_beside(design: Design, piece: str) -> tuple[FacingPiece, ...]:
    """The facings of the shaped waistband that has a piece; none when none has."""
    band = band_with(design, piece)
    return () if band is None else tuple(facings_of(design, band).values())


def layer_of(design: Design, piece: str) -> tuple[str, ...]:
    """The pieces that are one layer of a shaped waistband with a piece, itself among them; it alone
    when it is no piece of one.
    """
    band = band_with(design, piece)
    if band is None:
        return (piece,)
    return band.pieces if piece in band.pieces else tuple(facings_of(design, band))


def with_band_facing(design: Design, band: Band, cloth: str, less: float) -> Design:
    """The design in which a band is faced with a second layer from a cloth, narrower by `less` mm:
    sewn to it along top and ends and turned, its lower edge laid over the seam of the band; seams
    that run through the band run on through it. How the band's free edges were finished is gone.

    Raises:
        GeometryRefused: it is faced already, a name is taken, or an edge to be faced is sewn to
            something else.
    """
    if facings_of(design, band):
        raise GeometryRefused(f"{band.name} is faced already.", where=band.name)
    _refuse_taken(design, band)
    sewn = {(ref.piece, ref.edge): join.name for join in design.joins for ref in join.refs}
    tops = {name: _free(edges, sewn) for name, edges in band.tops().items()}
    faced = {edge for edges in tops.values() for edge in edges}
    made = replace(
        _run_through(design, band),
        pieces=tuple(_layers(design.pieces, band, cloth, less)),
        finishes=tuple(
            one for one in design.finishes if (one.edge.piece, one.edge.edge) not in faced
        ),
    )
    layers = tuple(_between(band, join) for join in design.joins if _is_within(band, join))
    turned = tuple(_along(name, edges, band, less) for name, edges in tops.items())
    laid = tuple(_over(name, edges) for name, edges in band.lows().items())
    at = _place_of(made.joins, band)
    return replace(made, joins=(*made.joins[:at], *layers, *turned, *made.joins[at:], *laid))


def with_facing_cut(design: Design, band: Band, *, cloth: str | None, less: float | None) -> Design:
    """The design in which all facings of a band are cut from a cloth, or so much narrower (mm);
    None leaves that as it is. The seams along which they are turned take up what they are shorter
    by at the band's ends.

    Raises:
        GeometryRefused: `less` is negative.
    """
    if less is not None and less < 0.0:
        raise GeometryRefused("A facing cannot be wider than the band.", where=band.name)
    known = facings_of(design, band)

    def cut(one: PieceRecipe) -> PieceRecipe:
        if not isinstance(one, FacingPiece) or one.name not in known:
            return one
        narrower = one.less if less is None else less
        along = one.along or band.lower(one.of)
        return replace(one, cloth=cloth or one.cloth, less=narrower, along=along)

    made = replace(design, pieces=tuple(cut(one) for one in design.pieces))
    if less is None:
        return made
    tops = band.tops()
    return replace(
        made,
        joins=tuple(
            replace(join, ease=_ease(((r.piece, r.edge) for r in join.a.edges), band, less))
            if join.name in tops
            else join
            for join in made.joins
        ),
    )


def without_band_facing(design: Design, band: Band) -> Design:
    """The design in which a band has no facing of its own cloth: the edges it was turned along are
    finished as faced, and all that spoke of it, its place on the cloth too, is gone.
    """
    gone = facings_of(design, band)

    def outer(one: JoinSide) -> JoinSide:
        return replace(one, edges=tuple(ref for ref in one.edges if ref.piece not in gone))

    joins: list[Join] = []
    freed: list[EdgeRef] = []
    for join in design.joins:
        a, b = outer(join.a), outer(join.b)
        if a.edges and b.edges:
            joins.append(replace(join, a=a, b=b))
        elif join.name in band.tops():
            freed.extend(a.edges)
    return replace(
        design,
        pieces=tuple(one for one in design.pieces if one.name not in gone),
        joins=tuple(joins),
        finishes=(
            *(one for one in design.finishes if one.edge.piece not in gone),
            *(Finish(ref, "faced") for ref in freed),
        ),
        corners=tuple(one for one in design.corners if one.piece not in gone),
        topstitching=tuple(one for one in design.topstitching if one.piece not in gone),
        cutting=tuple(one for one in design.cutting if one.piece not in gone),
        shortages=tuple(one for one in design.shortages if one.piece not in gone),
        lay=replace(
            design.lay,
            placements=tuple(one for one in design.lay.placements if one.piece not in gone),
        ),
    )


def _refuse_taken(design: Design, band: Band) -> None:
    taken = {one.name for one in (*design.pieces, *design.joins, *design.lines)}
    wanted = (*map(faces, band.pieces), *band.tops(), *band.lows())
    for name in wanted:
        if name in taken:
            raise GeometryRefused(
                f"The facing needs the name {name}, which something bears already.", where=name
            )


def _free(
    edges: tuple[tuple[str, str], ...], sewn: Mapping[tuple[str, str], str]
) -> tuple[tuple[str, str], ...]:
    """The edges along which a facing is turned; the centre front of a closed band is only where no
    seam takes it.
    """
    free = tuple(edge for edge in edges if edge not in sewn)
    for edge in edges:
        if edge in sewn and edge[1] != "front.rise":
            raise GeometryRefused(
                f"{edge[0]} is sewn along {edge[1]} by {sewn[edge]}: undo that seam before it is "
                "faced.",
                where=sewn[edge],
            )
    return free


def _layers(
    pieces: Iterable[PieceRecipe], band: Band, cloth: str, less: float
) -> Iterable[PieceRecipe]:
    """All pieces, those of the band followed by the one that faces it."""
    for one in pieces:
        yield one
        if one.name in band.pieces:
            yield FacingPiece(faces(one.name), one.name, cloth, less, band.lower(one.name))


def _run_through(design: Design, band: Band) -> Design:
    """The design in which seams of the trousers that run through the band run on through its
    facing, which is folded up for them.
    """

    def share(ref: EdgeRef, forwards: bool) -> tuple[EdgeRef, ...]:
        if ref.piece not in band.pieces or not ref.edge.endswith((".side", ".rise")):
            return (ref,)
        above = replace(ref, piece=faces(ref.piece))
        return (above, ref) if (ref.edge in _FROM_THE_WAIST) == forwards else (ref, above)

    def through(join: Join) -> Join:
        if _is_within(band, join):
            return join
        return with_shares(replace(design, joins=(join,), finishes=()), share).joins[0]

    return replace(design, joins=tuple(through(join) for join in design.joins))


def _is_within(band: Band, join: Join) -> bool:
    """True for a seam between pieces of the band alone."""
    return all(ref.piece in band.pieces for ref in join.refs)


def _place_of(joins: tuple[Join, ...], band: Band) -> int:
    """Where among the joins those of the facing stand: a band that is closed by a button is turned
    before it is set on, else last of all.
    """
    lines = {(name, line) for name in band.pieces for line in band.lower(name)}
    for at, join in enumerate(joins):
        if band.front_under and any((ref.piece, ref.edge) in lines for ref in join.refs):
            return at
    return len(joins)


def _between(band: Band, join: Join) -> Join:
    """The facings of two pieces of a band sewn together as the pieces are: mirrored, the second
    side comes first.
    """
    words = join.name.removeprefix(f"{band.name} ")
    pairs = [tuple((ref.piece, ref.edge) for ref in one.edges) for one in (join.b, join.a)]
    return Join(f"{band.name} facing {words}", _faced(pairs[0]), _faced(pairs[1]))


def _along(name: str, edges: tuple[tuple[str, str], ...], band: Band, less: float) -> Join:
    """Band and facing sewn face to face along edges of the band and turned: the facing has the same
    edges, met the other way round.
    """
    ease = _ease(edges, band, less)
    return Join(name, side(*edges), _faced(edges), construction="bagged", ease=ease)


def _ease(edges: Iterable[tuple[str, str]], band: Band, less: float) -> float:
    """What a facing is longer by, mm: less by as much as it is narrower at each end of the band
    that is turned with it.
    """
    ends = ("front.rise", f"{band.front_under}.end")
    return -less * sum(edge in ends for _, edge in edges)


def _over(name: str, edges: tuple[tuple[str, str], ...]) -> Join:
    """The facing's lower edge laid over the seam by which the band is sewn on."""
    return Join(name, _faced(edges), side(*edges), construction="laid-over")


def _faced(band: Iterable[tuple[str, str]]) -> JoinSide:
    return side(*((faces(piece), edge) for piece, edge in band))

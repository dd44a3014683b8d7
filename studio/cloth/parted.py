"""A piece parted along a straight line: which part each edge and mark of it goes to, and all that
spoke of the piece taught to speak of its parts.
"""

from __future__ import annotations

import itertools

import msgspec
from msgspec.structs import replace

from studio.curves import Chain, Point, meetings, tolerance
from studio.cut.piece import Piece
from studio.cut.sharing import with_shares
from studio.design.design import Design
from studio.design.joins import Corner, EdgeRef, Finish, JoinSide
from studio.design.topstitch import Topstitch
from studio.errors import GeometryRefused
from studio.sew.measure import stretch

Share = tuple[str, float, float]
"""The part a stretch of a chain lies on, and from where to where, mm along the chain."""


class Parting(msgspec.Struct, frozen=True):
    """A piece and the straight line, walked from `start` to `end`, that parts it into the pieces
    called `left` and `right`. The edges of a strip are called after it (`renames`).
    """

    piece: Piece
    start: Point
    end: Point
    left: str
    right: str
    renames: bool = False

    @property
    def line(self) -> Chain:
        """The line itself."""
        return Chain.straight(self.start, self.end)

    def part_at(self, place: Point) -> str:
        """The part a place lies on."""
        return self.left if (self.end - self.start).cross(place - self.start) > 0.0 else self.right

    def shares(self, chain: Chain) -> tuple[Share, ...]:
        """What of a chain lies on which part, in its order; slivers are left out."""
        cuts = sorted(meeting.first for meeting in meetings(chain, self.line))
        places = [0.0, *cuts, chain.length]
        found: list[Share] = []
        for low, high in itertools.pairwise(places):
            if high - low <= tolerance.CORNER_MM:
                continue
            part = self.part_at(chain.at((low + high) / 2.0))
            if found and found[-1][0] == part:
                found[-1] = (part, found[-1][1], high)
            else:
                found.append((part, low, high))
        return tuple(found)

    def named(self, part: str, edge: str) -> str:
        """What an edge is called on a part."""
        own = f"{self.piece.name}."
        return f"{part}.{edge.removeprefix(own)}" if self.renames and own in edge else edge

    def refs(self, ref: EdgeRef, forwards: bool) -> tuple[EdgeRef, ...]:
        """What a reference to the whole becomes, in the order met; as it is when it is lost."""
        if ref.piece != self.piece.name:
            return (ref,)
        try:
            shares = self.shares(stretch(self.piece, ref).chain)
        except GeometryRefused:
            return (ref,)
        last = len(shares) - 1
        found = tuple(
            EdgeRef(
                part,
                self.named(part, ref.edge),
                before=ref.before if k == last else None,
                after=ref.after if k == 0 else None,
            )
            for k, (part, _, _) in enumerate(shares)
        )
        return found if forwards else found[::-1]


def taught(design: Design, parting: Parting) -> Design:
    """The design in which joins, finishes, corners, topstitching, cutting rules and wishes that
    spoke of the whole speak of its parts. Where it was laid, and what fell short there, is
    forgotten: the parts are laid anew.

    Raises:
        GeometryRefused: something is caught at a place on an edge that is parted.
    """
    whole = parting.piece.name
    for finish in design.finishes:
        if finish.at is not None and len(parting.refs(finish.edge, True)) > 1:
            raise GeometryRefused(
                f"{finish.edge.text} is caught at a place of {finish.into} and cannot be parted: "
                "say anew where it is caught.",
                where=finish.edge.text,
            )
    shared = _with_caught(design, with_shares(design, parting.refs), parting)
    return replace(
        shared,
        joins=tuple(
            replace(join, a=_in_order(join.a, parting), b=_in_order(join.b, parting))
            for join in shared.joins
        ),
        corners=tuple(_corner(corner, parting) for corner in design.corners),
        topstitching=tuple(new for one in design.topstitching for new in _rows(one, parting)),
        cutting=tuple(
            replace(rule, piece=part)
            for rule in design.cutting
            for part in ((parting.left, parting.right) if rule.piece == whole else (rule.piece,))
        ),
        lay=replace(
            design.lay,
            placements=tuple(one for one in design.lay.placements if one.piece != whole),
        ),
        shortages=tuple(one for one in design.shortages if one.piece != whole),
    )


def _with_caught(design: Design, shared: Design, parting: Parting) -> Design:
    """The shared design in which an edge of a part is caught where only another stretch of the
    whole's edge was spoken of: it lies in the same seam.
    """
    whole = parting.piece.name
    said = {(ref.piece, ref.edge) for join in shared.joins for ref in join.refs}
    said |= {(finish.edge.piece, finish.edge.edge) for finish in shared.finishes}
    seams = {
        ref.edge: join.name for join in design.joins for ref in join.refs if ref.piece == whole
    }
    caught = [
        Finish(ref, "caught", into=seams[edge.name])
        for edge in parting.piece.outline
        if edge.name in seams
        for ref in parting.refs(EdgeRef(whole, edge.name), True)
        if (ref.piece, ref.edge) not in said
    ]
    return replace(shared, finishes=(*shared.finishes, *caught))


def _in_order(side: JoinSide, parting: Parting) -> JoinSide:
    """A side on which a line drawn on both parts goes on where the edge beside it lies; such a
    line has a direction of its own, whichever way the seam is walked.
    """
    marks = {mark.name for mark in parting.piece.marks}
    edges = list(side.edges)
    for k, (one, two) in enumerate(itertools.pairwise(side.edges)):
        if one.edge != two.edge or one.edge not in marks or one.piece == two.piece:
            continue
        before = edges[k - 1].piece if k > 0 else ""
        after = edges[k + 2].piece if k + 2 < len(edges) else ""
        if before == two.piece or (before != one.piece and after == one.piece):
            edges[k], edges[k + 1] = two, one
    return replace(side, edges=tuple(edges))


def _corner(corner: Corner, parting: Parting) -> Corner:
    piece = parting.piece
    if corner.piece != piece.name:
        return corner
    edges = piece.outline.edges
    for before, after in zip(edges, (*edges[1:], edges[0]), strict=True):
        if (before.name, after.name) == (corner.before, corner.after):
            part = parting.part_at(after.chain.start)
            return replace(
                corner,
                piece=part,
                before=parting.named(part, before.name),
                after=parting.named(part, after.name),
            )
    return corner


def _rows(one: Topstitch, parting: Parting) -> tuple[Topstitch, ...]:
    """Rows along an edge or mark on the parts it lies on, each from where to where they run."""
    if one.piece != parting.piece.name:
        return (one,)
    try:
        chain = stretch(parting.piece, EdgeRef(one.piece, one.along)).chain
    except GeometryRefused:
        return (one,)
    found = []
    for part, low, high in parting.shares(chain):
        if one.start >= high or (one.end is not None and one.end <= low):
            continue
        found.append(
            replace(
                one,
                piece=part,
                along=parting.named(part, one.along),
                start=max(one.start - low, 0.0),
                end=None if one.end is None or one.end >= high else one.end - low,
            )
        )
    return tuple(found)

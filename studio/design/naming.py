"""Other names for an edge of an imported block or for a style line, wherever they are spoken of."""

from __future__ import annotations

import msgspec

from studio.design.block import ImportedBlock
from studio.design.design import Design
from studio.design.holds import Hold, LinePoint
from studio.design.joins import EdgeRef, Join, JoinSide
from studio.design.lines import AnchoredPath, OnEdge, StyleLine
from studio.design.pieces import FacingPiece, PanelPiece, PieceRecipe, ShapePiece
from studio.errors import BadInput


def renamed_edge(design: Design, old: str, new: str) -> Design:
    """The design with an edge of its drawn panels called otherwise, in lines, joins, finishes too.

    Raises:
        BadInput: another edge bears the new name, or the block is not from a drawing.
    """
    block = design.block
    if not isinstance(block, ImportedBlock):
        raise BadInput("Only the edges of a drawn block can be named.", where=old)
    if any(edge.name == new for panel in block.panels for edge in panel.edges):
        raise BadInput("Another edge bears that name.", where=new)
    replace = msgspec.structs.replace

    def name(known: str) -> str:
        return new if known == old else known

    def place(at: OnEdge) -> OnEdge:
        return replace(at, edge=name(at.edge), corner=name(at.corner))

    def line(known: StyleLine) -> StyleLine:
        path = known.path
        if isinstance(path, AnchoredPath):
            return replace(known, path=replace(path, start=place(path.start), end=place(path.end)))
        return replace(known, path=replace(path, at=place(path.at)))

    def ref(known: EdgeRef) -> EdgeRef:
        return replace(known, edge=name(known.edge))

    def side(known: JoinSide) -> JoinSide:
        return replace(known, edges=tuple(ref(edge) for edge in known.edges))

    def join(known: Join) -> Join:
        return replace(known, a=side(known.a), b=side(known.b))

    panels = tuple(
        replace(
            panel,
            edges=tuple(replace(edge, name=name(edge.name)) for edge in panel.edges),
            darts=tuple(replace(dart, edge=name(dart.edge)) for dart in panel.darts),
        )
        for panel in block.panels
    )
    return replace(
        design,
        block=replace(block, panels=panels),
        lines=tuple(line(known) for known in design.lines),
        joins=tuple(join(known) for known in design.joins),
        finishes=tuple(replace(one, edge=ref(one.edge)) for one in design.finishes),
    )


def renamed_line(design: Design, old: str, new: str) -> Design:
    """The design with a style line called otherwise, in pieces, joins, finishes and holds too; the
    edges it makes are called after it.

    Raises:
        BadInput: there is no such line, or another line or edge bears the new name.
    """
    if all(line.name != old for line in design.lines):
        raise BadInput("There is no such line.", where=old)
    if any(line.name == new for line in design.lines) or "." in new:
        raise BadInput("A line needs a name of its own, without a full stop.", where=new)
    replace = msgspec.structs.replace

    def name(known: str) -> str:
        return new if known == old else known

    def edge_name(known: str) -> str:
        head, stop, tail = known.partition(".")
        return f"{name(head)}{stop}{tail}"

    def ref(known: EdgeRef) -> EdgeRef:
        return replace(
            known,
            edge=edge_name(known.edge),
            before=name(known.before) if known.before else None,
            after=name(known.after) if known.after else None,
        )

    def side(known: JoinSide) -> JoinSide:
        return replace(known, edges=tuple(ref(edge) for edge in known.edges))

    return replace(
        design,
        lines=tuple(replace(line, name=name(line.name)) for line in design.lines),
        holds=tuple(_hold_renamed(hold, old, new) for hold in design.holds),
        pieces=tuple(_piece_renamed(piece, old, new) for piece in design.pieces),
        joins=tuple(replace(one, a=side(one.a), b=side(one.b)) for one in design.joins),
        finishes=tuple(replace(one, edge=ref(one.edge)) for one in design.finishes),
    )


def _hold_renamed(hold: Hold, old: str, new: str) -> Hold:
    changes: dict[str, object] = {}
    for field in msgspec.structs.fields(hold):
        value = getattr(hold, field.name)
        if isinstance(value, LinePoint) and value.line == old:
            changes[field.name] = msgspec.structs.replace(value, line=new)
        elif field.name in ("line", "other") and value == old:
            changes[field.name] = new
    return msgspec.structs.replace(hold, **changes)


def _piece_renamed(piece: PieceRecipe, old: str, new: str) -> PieceRecipe:
    def name(known: str) -> str:
        return new if known == old else known

    if isinstance(piece, ShapePiece):
        return msgspec.structs.replace(piece, line=name(piece.line))
    if isinstance(piece, PanelPiece):
        return msgspec.structs.replace(
            piece,
            bounds=tuple(
                msgspec.structs.replace(bound, line=name(bound.line)) for bound in piece.bounds
            ),
            marks=tuple(name(mark) for mark in piece.marks),
            below=name(piece.below) if piece.below else "",
        )
    if isinstance(piece, FacingPiece):
        return msgspec.structs.replace(piece, along=tuple(name(edge) for edge in piece.along))
    return piece

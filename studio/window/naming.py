"""Naming an edge of an imported block, wherever the design speaks of it. No Qt."""

from __future__ import annotations

import msgspec

from studio.design import (
    AnchoredPath,
    Design,
    EdgeRef,
    ImportedBlock,
    Join,
    JoinSide,
    OnEdge,
    StyleLine,
)
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

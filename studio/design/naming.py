"""Other names for a panel or an edge of a drawn block, or for a style line, wherever a design
speaks of them.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

import msgspec
from msgspec.structs import replace

from studio.design.accepted import Accepted
from studio.design.block import DrawnPanel, ImportedBlock
from studio.design.design import Design
from studio.design.pieces import ShapePiece
from studio.design.step_names import renamed_step
from studio.errors import BadInput

Name = Callable[[str], str]

_EDGES = ("edge", "corner", "onto", "other", "along", "before", "after", "where")
"""Fields that name an edge; `before` and `after` do so of a corner, and name lines elsewhere."""

_PIECES = ("piece", "of", "where")
"""Fields that name a piece; `of` that of a facing."""

_LINES_OF_PIECES = ("line", "marks", "below", "along")
"""Fields of a piece that name a line; `along` that of a facing also edges."""

_TOLD_OF_LINES = ("line", "hold", "pocket")
"""Rules whose findings are told of a line also where a piece or a seam bears its name."""


def renamed_edge(design: Design, old: str, new: str) -> Design:
    """The design with an edge of its drawn panels called otherwise, in everything that speaks of
    it: lines, holds, steps, joins, finishes, corners, topstitching, shortages, what is let stand.

    Raises:
        BadInput: it has no new name, another edge or a line bears that, or the block is not from a
            drawing.
    """
    block = _drawn(design, old, "edges")
    if not new or new in _drawn_edges(design):
        raise BadInput("An edge needs a name of its own: another edge bears that.", where=new)
    if any(line.name == new for line in design.lines):
        raise BadInput("A line bears that name.", where=new)
    return _edges_renamed(design, block, {old: new})


def renamed_panel(design: Design, old: str, new: str) -> Design:
    """The design with a drawn panel called otherwise, and with it the edges that are called after
    it and the piece that bears its name.

    Raises:
        BadInput: there is no such panel, another panel or piece bears the new name, it has a full
            stop in it, an edge elsewhere is called as one of its own would be, or the block is not
            from a drawing.
    """
    block = _drawn(design, old, "panels")
    if all(panel.name != old for panel in block.panels):
        raise BadInput("There is no such panel.", where=old)
    pieces = [piece.name for piece in design.pieces]
    if any(panel.name == new for panel in block.panels) or (old in pieces and new in pieces):
        raise BadInput("Another panel or piece bears that name.", where=new)
    if not new or "." in new:
        raise BadInput("A panel needs a name of its own, without a full stop.", where=new)

    def name(known: str) -> str:
        return new if known == old else known

    head = f"{old}."
    edges = {
        edge.name: f"{new}.{edge.name.removeprefix(head)}"
        for panel in block.panels
        for edge in panel.edges
        if panel.name == old and edge.name.startswith(head)
    }
    for edge in edges.values():
        if edge in _drawn_edges(design):
            raise BadInput("Another panel has an edge of that name.", where=edge)
    named = _pieces_renamed(_edges_renamed(design, block, edges), name)
    block = _drawn(named, old, "panels")
    return replace(
        named,
        block=replace(
            block, panels=tuple(replace(panel, name=name(panel.name)) for panel in block.panels)
        ),
        alterations=_called(named.alterations, {"panel": name}),
        lines=_called(named.lines, {"panel": name}),
        pieces=_called(named.pieces, {"panel": name}),
    )


def renamed_line(design: Design, old: str, new: str) -> Design:
    """The design with a style line called otherwise, in everything that speaks of it; the edges it
    makes are called after it.

    Raises:
        BadInput: there is no such line, it has no new name, or another line or edge bears that.
    """
    known = next((line for line in design.lines if line.name == old), None)
    if known is None:
        raise BadInput("There is no such line.", where=old)
    if not new or "." in new or any(line.name == new for line in design.lines):
        raise BadInput("A line needs a name of its own, without a full stop.", where=new)
    if new in _drawn_edges(design):
        raise BadInput("An edge bears that name.", where=new)

    def name(known: str) -> str:
        return new if known == old else known

    def edge_name(known: str) -> str:
        head, stop, tail = known.partition(".")
        return f"{name(head)}{stop}{tail}"

    refs = {"edge": edge_name, "before": name, "after": name}
    # A pocket is told by its mouth, or by the outline of its patch; a loop by its piece.
    is_patch = any(isinstance(piece, ShapePiece) and piece.line == old for piece in design.pieces)
    pocket = name if known.kind == "mouth" or is_patch else str
    others = {one.name for one in (*design.pieces, *design.joins)}

    def stood(one: Accepted) -> Accepted:
        is_told_of_it = one.rule in _TOLD_OF_LINES or old not in others
        return replace(one, where=name(one.where)) if is_told_of_it else one

    named = replace(
        design,
        lines=tuple(replace(line, name=name(line.name)) for line in design.lines),
        holds=_called(design.holds, {"line": name, "other": name}),
        pieces=_called(design.pieces, dict.fromkeys(_LINES_OF_PIECES, name)),
        joins=_called(design.joins, refs),
        finishes=_called(design.finishes, refs),
        corners=_called(design.corners, {"before": edge_name, "after": edge_name}),
        topstitching=_called(design.topstitching, {"along": edge_name}),
        shortages=_called(design.shortages, {"edge": edge_name}),
        carried=_called(design.carried, {"pocket": pocket}),
        accepted=tuple(stood(one) for one in design.accepted),
    )
    return _sewn_as_before(design, named)


def _drawn_edges(design: Design) -> list[str]:
    """The names of all edges of a drawn block; none of a drafted one."""
    panels = design.block.panels if isinstance(design.block, ImportedBlock) else ()
    return [edge.name for panel in panels for edge in panel.edges]


def _drawn(design: Design, where: str, what: str) -> ImportedBlock:
    if not isinstance(design.block, ImportedBlock):
        raise BadInput(f"Only the {what} of a drawn block can be named.", where=where)
    return design.block


def _edges_renamed(design: Design, block: ImportedBlock, names: Mapping[str, str]) -> Design:
    """The design with edges called otherwise, all at once."""

    def name(known: str) -> str:
        return names.get(known, known)

    def panel(known: DrawnPanel) -> DrawnPanel:
        edges = tuple(replace(edge, name=name(edge.name)) for edge in known.edges)
        return replace(known, edges=edges, darts=_called(known.darts, {"edge": name}))

    fields = dict.fromkeys(_EDGES, name)
    named = replace(
        design,
        block=replace(block, panels=tuple(panel(known) for known in block.panels)),
        **{
            part: _called(getattr(design, part), fields)
            for part in (
                "alterations",
                "lines",
                "holds",
                "pieces",
                "joins",
                "finishes",
                "corners",
                "topstitching",
                "shortages",
                "accepted",
            )
        },
    )
    return _sewn_as_before(design, named)


def _pieces_renamed(design: Design, name: Name) -> Design:
    """The design with pieces called otherwise; joins keep their own names."""
    fields = dict.fromkeys(_PIECES, name)
    named = replace(
        design,
        pieces=tuple(
            replace(_called(piece, {"of": name}), name=name(piece.name)) for piece in design.pieces
        ),
        sewing=tuple(renamed_step(step, name) for step in design.sewing),
        **{
            part: _called(getattr(design, part), fields)
            for part in (
                "joins",
                "finishes",
                "corners",
                "topstitching",
                "cutting",
                "shortages",
                "accepted",
            )
        },
        lay=_called(design.lay, fields),
        carried=_called(design.carried, {"pocket": name}),
    )
    return _sewn_as_before(design, named)


def _sewn_as_before(design: Design, named: Design) -> Design:
    """The order of sewing speaks of finishes by their edges: brought along."""
    steps = {
        before.step: after.step
        for before, after in zip(design.finishes, named.finishes, strict=True)
    }
    return replace(named, sewing=tuple(steps.get(step, step) for step in named.sewing))


def _called(value: Any, fields: Mapping[str, Name]) -> Any:
    """A value in which the words in fields of these names, at any depth, are called otherwise;
    the very same value when there are none.
    """
    if isinstance(value, tuple):
        made = tuple(_called(one, fields) for one in value)
        return value if all(one is two for one, two in zip(made, value, strict=True)) else made
    if not isinstance(value, msgspec.Struct):
        return value
    changes: dict[str, Any] = {}
    for field in value.__struct_fields__:
        known = getattr(value, field)
        called = _called(known, fields)
        if field in fields and isinstance(known, str):
            called = fields[field](known)
        elif field in fields and isinstance(known, tuple):
            called = tuple(fields[field](one) if isinstance(one, str) else one for one in called)
        if called is not known and called != known:
            changes[field] = called
    return replace(value, **changes) if changes else value

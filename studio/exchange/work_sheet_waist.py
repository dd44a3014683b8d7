"""Edges that are faced or left without a band: what is cut for them, and what is caught there."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from studio.alter.kind import Say
from studio.cut.parts.top_edges import waits_for_the_waist
from studio.design.design import Design
from studio.design.joins import Finish
from studio.exchange.work_sheet_needs import buttonholes
from studio.sew import SewnPiece
from studio.sew.constructions import finished
from studio.sew.edge_words import edge_of_piece, ref_words
from studio.sew.fly import Opening, openings

FACING_WIDE = 50.0
"""A facing that is traced along an edge, mm (common practice, no source)."""

_ROUND = (".waist", ".hem")


def goes_round(finish: Finish) -> bool:
    """True for an edge that is finished all round, across the seams that end there: a hem, a
    casing, and a waist or a hem however it is finished.
    """
    return finished(finish).folds_up or finish.edge.edge.endswith(_ROUND)


def facings_to_cut(design: Design, pieces: Mapping[str, SewnPiece], say: Say) -> Iterator[str]:
    """What faces edges that no piece of the pattern faces, as the cutting list has it."""
    faced: dict[str, list[str]] = {}
    for one in design.finishes:
        if one.how == "faced" and one.edge.piece in pieces:
            named = edge_of_piece(one.edge.edge)
            faced.setdefault(named, []).append(one.edge.piece)
    for named, on in faced.items():
        yield (
            f"Facing for the {named} of {', '.join(dict.fromkeys(on))}: lay their patterns "
            "together at the seams, darts shut, trace that edge "
            f"{say(FACING_WIDE)} wide, and give it the allowance of the edge. It is not on the "
            "pattern sheets."
        )


def fastening(design: Design, pieces: Mapping[str, SewnPiece]) -> Iterator[str]:
    """What closes an opening above its zip where no band with a buttonhole does."""
    if not any(buttonholes(pieces)):
        for fly in openings(design.joins):
            if _ends_at_edge(fly, design):
                yield f"A hook and bar to close the waist above the zip of {fly.faced.name}."


def waist_words(
    finishes: Sequence[Finish], design: Design, pieces: Mapping[str, SewnPiece]
) -> Iterator[str]:
    """What is caught in a waist that is sewn to nothing, and how it ends at an opening."""
    edges = {one.edge.edge for one in finishes if one.edge.edge.endswith(".waist")}
    flies = [fly for fly in openings(design.joins) if _waist_of(fly) in edges]
    shields = {fly.shield for fly in flies}
    caught = [
        ref_words(one.edge)
        for one in design.finishes
        if waits_for_the_waist(one, shields)
        and one.edge.piece in pieces
        and (one.edge.edge in edges or one.edge.piece in shields)
    ]
    if caught:
        yield f"Catch in it: {'; '.join(caught)}."
    for fly in flies:
        yield (
            f"At {fly.faced.name} it ends: turn its ends in beside the zip, clear of the teeth, "
            "and sew hook and bar there."
        )


def _ends_at_edge(fly: Opening, design: Design) -> bool:
    """True where the waist above an opening is finished for itself."""
    return any(
        one.edge.edge == _waist_of(fly) and one.how not in ("caught", "raw")
        for one in design.finishes
    )


def _waist_of(fly: Opening) -> str:
    return f"{fly.faced.a.edges[0].edge.partition('.')[0]}.waist"

"""Edges and steps in the maker's words, for whatever is read: sheets, the order of sewing."""

from __future__ import annotations

from studio.curves import Outline
from studio.design.joins import EdgeRef, Finish
from studio.sew.constructions import FINISHES

_EDGES = {
    "waist": "the waist",
    "side": "the side seam",
    "rise": "the rise",
    "inseam": "the inseam",
    "hem": "the hem",
}

_OF_STRIPS = {
    "one": "one long edge",
    "two": "other long edge",
    "start": "first end",
    "end": "second end",
    "half-1": "first half",
    "half-2": "second half",
    "overlap": "overlap",
}
"""Edges of strips and bands, which no panel has."""


def edge_words(edge: str, panel: str) -> str:
    """An edge as it is said at the drawing table: "the rise", the other panel's with its name:
    "the front side seam". Edges of other names are given back as they are.
    """
    of, _, name = edge.partition(".")
    known = _EDGES.get(name)
    if known is None:
        return edge
    return known if of == panel else known.replace("the ", f"the {of} ", 1)


def edge_of_piece(edge: str) -> str:
    """An edge as it is said of a piece that has been named: "side seam", "one long edge"; one that
    a line has made bears the line's name: "yoke line".
    """
    _, stop, name = edge.rpartition(".")
    if not stop:
        return f"{edge} line"
    known = _EDGES.get(name)
    if known is not None:
        return known.removeprefix("the ")
    return _OF_STRIPS.get(name, name.replace("-", " "))


def start_words(outline: Outline, along: str) -> str:
    """Whence places along an edge are measured, or along a line drawn on its piece: "its end at the
    waist".
    """
    edges = outline.edges
    first = next((edges[k - 1].name for k, edge in enumerate(edges) if edge.name == along), "")
    return f"its end at the {edge_of_piece(first)}" if first else "where that line begins"


def ref_words(ref: EdgeRef) -> str:
    """An edge with its piece: "the waist of front-leg", "the yoke line of back-leg"."""
    return f"the {edge_of_piece(ref.edge)} of {ref.piece}"


def ref_in_list(ref: EdgeRef, panel: str) -> str:
    """An edge as a list has it, with its piece of a panel and what of it is sewn: "front-leg, side
    seam from hand-pocket".
    """
    words = edge_words(ref.edge, panel).removeprefix("the ")
    if words == ref.edge:
        of, stop, _ = ref.edge.rpartition(".")
        # That of a patch on what it is laid on bears the name of the patch.
        words = edge_of_piece(ref.edge) if of == ref.piece or not stop else words
    return f"{ref.piece}, {words}{part_words(ref)}"


def part_words(ref: EdgeRef) -> str:
    """What of an edge is sewn where it is not all of it: " up to fly", " from hand-pocket"."""
    if not (ref.before or ref.after):
        return ""
    return f" {'up to' if ref.before else 'from'} {ref.before or ref.after}"


def finish_words(finish: Finish) -> str:
    """The step that finishes an edge, in the maker's words: "the hem of front-leg (hem, turned
    once)".
    """
    return f"{ref_words(finish.edge)} ({FINISHES[finish.how].title.lower()})"

"""A piece cut from a panel by its bounds."""

from __future__ import annotations

import itertools
from collections.abc import Callable

import msgspec

from studio.alter.corner import taken_out
from studio.block.panel import Dart, Panel
from studio.curves import Chain, Outline, Point, meetings, tolerance
from studio.cut.drawn import DrawnLine
from studio.cut.piece import Mark, Piece
from studio.cut.split import Side, kept_side, place_of
from studio.cut.yoke import darts_closed, darts_within, rest_below
from studio.design.pieces import PanelPiece
from studio.errors import GeometryRefused
from studio.memo import Remembered


def cut_from_panel(
    recipe: PanelPiece,
    panel: Panel,
    bounds: tuple[DrawnLine, ...],
    marks: tuple[DrawnLine, ...],
    keep: Callable[[Outline, DrawnLine, Side], Outline] = kept_side,
) -> Piece:
    """The piece, in the panel's coordinates; `bounds` and `marks` are the recipe's lines, drawn.

    `keep` does the cutting: `kept_side`, or a version of it that remembers.

    Raises:
        GeometryRefused: a bound does not cut the panel in two; the sentence names the line.
    """
    face = panel.outline
    for bound, line in zip(recipe.bounds, bounds, strict=True):
        face = keep(face, line, bound.keep)
    darts: tuple[Dart, ...] = ()
    waist = f"{panel.name}.waist"
    if panel.darts and recipe.close_darts:
        face = darts_closed(face, panel, waist)
    elif panel.darts:
        darts = tuple(dart for edge in face for dart in darts_within(edge, panel))
    if recipe.rest_at != "none" and panel.darts:
        face = _without_rest(recipe, panel, face, bounds)
    return Piece(
        recipe.name,
        face,
        _marked(recipe, bounds, marks),
        darts,
        (),
        panel.levels,
        90.0,
        recipe.cut,
        recipe.count,
        recipe.cloth,
        panel.name,
    )


def _marked(
    recipe: PanelPiece, bounds: tuple[DrawnLine, ...], lines: tuple[DrawnLine, ...]
) -> tuple[Mark, ...]:
    """The lines drawn on a piece; what lies beyond its bounds is left out."""
    keeps = tuple([bound.keep for bound in recipe.bounds])
    return tuple([mark for line in lines for mark in _marks(line, bounds, keeps)])


def _marks_of(
    line: DrawnLine, bounds: tuple[DrawnLine, ...], keeps: tuple[Side, ...]
) -> tuple[Mark, ...]:
    cuts = [(bound.chain, keep) for bound, keep in zip(bounds, keeps, strict=True)]
    met = [
        {meeting.first for cut, _ in cuts for meeting in meetings(edge.chain, cut)}
        for edge in line.edges
    ]
    if not any(met):
        # All of it lies on one side of every bound, and one place of it tells which.
        if all(_is_kept(line.edges[0].chain.at(line.edges[0].length / 2.0), *cut) for cut in cuts):
            return tuple([Mark(edge.name, edge.chain) for edge in line.edges])
        return ()
    found = []
    for edge, places_met in zip(line.edges, met, strict=True):
        places = [0.0, *sorted(places_met), edge.length]
        runs = [
            (low, high)
            for low, high in itertools.pairwise(places)
            if high - low > tolerance.CORNER_MM
            and all(_is_kept(edge.chain.at((low + high) / 2.0), *cut) for cut in cuts)
        ]
        if runs == [(0.0, edge.length)]:
            found.append(Mark(edge.name, edge.chain))
        elif runs:
            found.append(Mark(edge.name, edge.chain.between(runs[0][0], runs[-1][1])))
    return tuple(found)


def _is_kept(place: Point, line: Chain, keep: Side) -> bool:
    """Whether a place lies on the side of a line that is kept, judged where it is nearest."""
    along, off = line.nearest(place)
    if off <= tolerance.CORNER_MM:
        return True
    return (line.tangent(along).cross(place - line.at(along)) > 0.0) == (keep == "left")


def splits_of(outline: Outline, lines: tuple[DrawnLine, ...]) -> tuple[tuple[int, float, str], ...]:
    """The places where lines of an outline's panel end along its edges, as a piece keeps them."""
    splits = []
    for line in lines:
        for end in line.ends:
            place = place_of(outline, end)
            if place is None:
                continue
            index, along = place
            if tolerance.CORNER_MM < along < outline.edges[index].length - tolerance.CORNER_MM:
                splits.append((index, along, line.name))
    return tuple(splits)


def with_splits(piece: Piece, splits: tuple[tuple[int, float, str], ...]) -> Piece:
    """The piece with the places where lines end along its edges."""
    return piece if splits == piece.splits else msgspec.structs.replace(piece, splits=splits)


def _without_rest(
    recipe: PanelPiece, panel: Panel, face: Outline, bounds: tuple[DrawnLine, ...]
) -> Outline:
    """Take the darts' rest below the bounding line out at side or rise."""
    level = panel.levels.get(recipe.rest_level)
    if level is None:
        raise GeometryRefused(f"{panel.name} has no {recipe.rest_level} line.", where=recipe.name)
    at_waist = tuple(dart for dart in panel.darts if dart.edge == f"{panel.name}.waist")
    for line in bounds:
        rest = rest_below(line.chain, at_waist)
        if rest > tolerance.CORNER_MM and len(line.edges) == 1:
            face = taken_out(
                face, line.edges[0].name, f"{panel.name}.{recipe.rest_at}", rest, level
            )
    return face


_marks = Remembered(_marks_of, 400)

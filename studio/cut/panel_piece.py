"""A piece cut from a panel by its bounds."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator, Set

import msgspec

from studio.alter.corner import taken_out
from studio.block.panel import Dart, Panel
from studio.curves import Chain, Outline, Point, meetings, tolerance
from studio.cut.band_end import turned_over, with_band_end
from studio.cut.drawn import DrawnLine
from studio.cut.piece import Mark, Piece
from studio.cut.split import Place, Side, end_of, kept_side, place_of
from studio.cut.yoke import (
    closed_below,
    darts_closed,
    darts_within,
    even_band,
    pleat_on,
    pleats_width,
    rest_below,
)
from studio.design.pieces import PanelPiece
from studio.errors import GeometryRefused
from studio.memo import remembered


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
    face = _face(recipe, panel, bounds, keep)
    darts: tuple[Dart, ...] = ()
    if recipe.close_darts:
        face = _closed(recipe, panel, face, bounds)
    elif panel.darts:
        darts = tuple(dart for edge in face for dart in darts_within(edge, panel))
        darts += tuple(_pleats_below(panel, face, bounds, {dart.name for dart in darts}))
    piece = Piece(
        recipe.name,
        face,
        _marked(recipe, face, bounds, marks),
        darts,
        (),
        panel.levels,
        90.0,
        recipe.cut,
        recipe.count,
        recipe.cloth,
        panel.name,
    )
    if recipe.ends is not None:
        piece = with_band_end(piece, recipe.ends, under=recipe.over)
    return turned_over(piece) if recipe.over else piece


def _face(
    recipe: PanelPiece,
    panel: Panel,
    bounds: tuple[DrawnLine, ...],
    keep: Callable[[Outline, DrawnLine, Side], Outline],
) -> Outline:
    """What the bounds leave of the panel, the darts' rest taken out: last of all, but below a band
    first, for what is cut there afterwards ends on the edge that tapers.
    """
    has_rest = recipe.rest_at != "none" and bool(panel.darts)
    face = panel.outline
    for bound, line in zip(recipe.bounds, bounds, strict=True):
        face = keep(face, line, bound.keep)
        if has_rest and bound.line == recipe.below:
            face = _without_rest(recipe, panel, face, (line,))
    if has_rest and not recipe.below:
        face = _without_rest(recipe, panel, face, bounds)
    return face


def _closed(
    recipe: PanelPiece, panel: Panel, face: Outline, bounds: tuple[DrawnLine, ...]
) -> Outline:
    """A yoke's or a band's face with its darts closed: a band of one width where nothing bounds it
    but lines that keep their distance.
    """
    top = f"{panel.name}.waist"
    above = _below(recipe, bounds) if recipe.below else None
    others = [line for line in bounds if line is not above]
    if len(others) == 1:
        even = even_band(face, others[0], top, above)
        if even is not None:
            return even
    if not panel.darts:
        return face
    return (
        darts_closed(face, panel, top) if above is None else closed_below(face, panel, top, above)
    )


def _below(recipe: PanelPiece, bounds: tuple[DrawnLine, ...]) -> DrawnLine:
    """The line of the band that was cut off a piece's top.

    Raises:
        GeometryRefused: it is not among the bounds.
    """
    for line in bounds:
        if line.name == recipe.below:
            return line
    raise GeometryRefused(f"{recipe.below} does not bound {recipe.name}.", where=recipe.name)


def _marked(
    recipe: PanelPiece,
    face: Outline,
    bounds: tuple[DrawnLine, ...],
    lines: tuple[DrawnLine, ...],
) -> tuple[Mark, ...]:
    """The lines drawn on a piece; what lies beyond its bounds is left out. Below a band, they end
    on the edges as these lie with the darts' rest taken out.
    """
    cuts = [
        (line, bound.keep)
        for bound, line in zip(recipe.bounds, bounds, strict=True)
        if bound.line != recipe.below
    ]
    kept, keeps = tuple([line for line, _ in cuts]), tuple([keep for _, keep in cuts])
    found = tuple([mark for line in lines for mark in _marks(line, kept, keeps)])
    if not recipe.below:
        return found
    return _within(face, found, (recipe.below, f"{recipe.panel}.{recipe.rest_at}"))


def _within(face: Outline, marks: tuple[Mark, ...], edges: tuple[str, ...]) -> tuple[Mark, ...]:
    """The parts of marks that lie inside a piece, ended where they meet some of its edges, as
    these lie now.
    """
    found = []
    for mark in marks:
        chain = mark.chain
        met = [
            one.first for edge in face if edge.name in edges for one in meetings(chain, edge.chain)
        ]
        runs = [
            (low, high)
            for low, high in itertools.pairwise((0.0, *sorted(met), chain.length))
            if high - low > tolerance.CORNER_MM and face.contains(chain.at((low + high) / 2.0))
        ]
        if runs:
            low, high = runs[0][0], runs[-1][1]
            whole = high - low > chain.length - tolerance.CORNER_MM
            part = Mark(mark.name, chain.between(low, high), mark.start + low)
            found.append(mark if whole else part)
    return tuple(found)


def _marks_of(
    line: DrawnLine, bounds: tuple[DrawnLine, ...], keeps: tuple[Side, ...]
) -> tuple[Mark, ...]:
    cuts = [(bound.chain, keep) for bound, keep in zip(bounds, keeps, strict=True)]
    box = line.chain.box
    near = [cut for cut, _ in cuts if cut.box.meets(box)]
    met = [
        {meeting.first for cut in near for meeting in meetings(edge.chain, cut)}
        for edge in line.edges
        if near
    ]
    if not any(met):
        # All of it lies on one side of every bound, and one place of it tells which.
        place = line.edges[0].chain.cubics[0].at(0.5)
        is_kept = all(_is_kept(place, *cut) for cut in cuts)
        return _drawn_whole(line) if is_kept else ()
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
            low, high = runs[0][0], runs[-1][1]
            found.append(Mark(edge.name, edge.chain.between(low, high), low))
    return tuple(found)


def _is_kept(place: Point, line: Chain, keep: Side) -> bool:
    """Whether a place lies on the side of a line that is kept, judged where it is nearest."""
    is_left = line.surely_left(place)
    if is_left is not None:
        return is_left == (keep == "left")
    off = line.side_of(place)
    return abs(off) <= tolerance.CORNER_MM or (off > 0.0) == (keep == "left")


def _drawn_whole_of(line: DrawnLine) -> tuple[Mark, ...]:
    return tuple([Mark(edge.name, edge.chain) for edge in line.edges])


def _pleats_below(
    panel: Panel, face: Outline, bounds: tuple[DrawnLine, ...], there: Set[str]
) -> Iterator[Dart]:
    """Pleats whose mouths a yoke's or a band's line has cut off: they go on below it."""
    lines = {line.edges[0].name for line in bounds if len(line.edges) == 1}
    waist = f"{panel.name}.waist"
    for dart in panel.darts:
        if dart.pleat is None or dart.edge != waist or dart.name in there:
            continue
        for edge in face:
            found = pleat_on(edge, dart) if edge.name in lines else None
            if found is not None and face.contains(dart.point):
                yield found


def splits_of(
    outline: Outline, lines: tuple[DrawnLine, ...], below: str = ""
) -> tuple[tuple[int, float, str], ...]:
    """The places where lines of an outline's panel end along its edges, as a piece keeps them; of
    a piece `below` a band, where they cross the edge along which the band was cut off, or one that
    tapers from there.
    """
    return tuple([split for line in lines for split in _splits(outline, line, below)])


def _splits_by(outline: Outline, line: DrawnLine, below: str) -> tuple[tuple[int, float, str], ...]:
    """The places where one line ends."""
    splits = []
    for end in range(len(line.ends)):
        place = _crossing(outline, line, end, below) if below else place_of(outline, line.ends[end])
        if place is None:
            continue
        index, along = place
        if tolerance.CORNER_MM < along < outline.edges[index].length - tolerance.CORNER_MM:
            splits.append((index, along, line.name))
    return tuple(splits)


def _crossing(outline: Outline, line: DrawnLine, end: int, below: str) -> Place | None:
    """Where a line meets an outline, nearest to one of its ends, when it does not end there."""
    place = end_of(outline, line, end)
    if place is not None or line.name == below:
        return place
    chain = line.chain
    names = (below, line.ends[end].edge)
    met = [
        (meeting.first, (index, meeting.second))
        for index, edge in enumerate(outline.edges)
        if edge.name in names
        for meeting in meetings(chain, edge.chain)
    ]
    half = chain.length / 2.0
    met = [one for one in met if (one[0] > half) == (end == 1)]
    return min(met, key=lambda one: abs(one[0] - end * chain.length))[1] if met else None


def with_splits(piece: Piece, splits: tuple[tuple[int, float, str], ...]) -> Piece:
    """The piece with the places where lines end along its edges."""
    return piece if splits == piece.splits else msgspec.structs.replace(piece, splits=splits)


def _without_rest(
    recipe: PanelPiece, panel: Panel, face: Outline, bounds: tuple[DrawnLine, ...]
) -> Outline:
    """Take the darts' rest below the bounding line out at side or rise; pleats are folded there."""
    level = panel.levels.get(recipe.rest_level)
    if level is None:
        raise GeometryRefused(f"{panel.name} has no {recipe.rest_level} line.", where=recipe.name)
    at_waist = tuple(dart for dart in panel.darts if dart.edge == f"{panel.name}.waist")
    sewn = tuple(dart for dart in at_waist if dart.pleat is None)
    for line in bounds:
        # Below a band of one width so much is taken out that its seam is as long on both sides.
        folded = pleats_width(line.chain, at_waist)
        rest = rest_below(line.chain, sewn) if line.shut is None else line.more - folded
        if abs(rest) > tolerance.CORNER_MM and len(line.edges) == 1:
            face = taken_out(
                face, line.edges[0].name, f"{panel.name}.{recipe.rest_at}", rest, level
            )
    return face


_marks = remembered(_marks_of, 400)
_splits = remembered(_splits_by, 1600)
_drawn_whole = remembered(_drawn_whole_of, 400)

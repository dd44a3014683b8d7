"""The second stage: pieces cut from panels along their lines, strips, bands."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

import msgspec

from studio import cut, sew
from studio.block import Panel
from studio.check import Finding
from studio.cut import DrawnLine, Piece
from studio.design import Design, PanelPiece, ShapePiece
from studio.design.joins import JoinSide
from studio.design.pieces import FacingPiece, PieceRecipe, StripPiece, WaistbandPiece
from studio.errors import GeometryRefused
from studio.memo import Made, remembered
from studio.pattern.model import Pattern
from studio.pattern.told import MANY, grave, told


class _Beside(Made, frozen=True):
    """The lines of a panel that end on its edges."""

    lines: tuple[DrawnLine, ...]


class _Readers(msgspec.Struct, frozen=True):
    """Which recipes read a line, which are cut from a panel, and which are made from other pieces:
    those that fit a seam, and facings.
    """

    of_line: dict[str, frozenset[str]]
    of_panel: dict[str, frozenset[str]]
    fitting: tuple[WaistbandPiece | StripPiece, ...]
    facings: tuple[FacingPiece, ...]


def cut_pieces(
    design: Design,
    panels: tuple[Panel, ...],
    lines: tuple[DrawnLine, ...],
    findings: list[Finding],
    base: Pattern | None,
) -> dict[str, Piece]:
    """The pieces by name, in the order of their recipes; one that cannot be made is told and left
    out. Those that nothing has touched since `base` are its own.
    """
    pieces: dict[str, Piece] = {}
    touched = None
    if base is not None and panels is base.panels and _is_whole(design, base):
        touched = _touched(design.pieces, lines, base.lines)
        if touched is not None:
            pieces = dict(base.work.pieces)
    by_name = {panel.name: panel for panel in panels}
    line_by_name = {line.name: line for line in lines}
    ends = {
        name: _beside(tuple([one for one in lines if one.panel == name and one.ends]))
        for name in by_name
    }
    for recipe in design.pieces:
        if touched is not None and recipe.name not in touched:
            continue
        if isinstance(recipe, StripPiece) and not recipe.fits:
            _enter(pieces, recipe.name, told(findings, "piece", recipe.name, _strip, recipe))
        elif isinstance(recipe, PanelPiece | ShapePiece):
            made = _cut_piece(recipe, by_name, line_by_name, ends, findings)
            _enter(pieces, recipe.name, made)
    _make_from_pieces(design, pieces, findings)
    if touched is not None:
        return pieces
    return {recipe.name: pieces[recipe.name] for recipe in design.pieces if recipe.name in pieces}


def unmade(design: Design, pieces: dict[str, Piece]) -> set[str]:
    """Pieces that are wanted but could not be made; why has been told where they failed."""
    if len(pieces) == len(design.pieces):
        return set()
    return {recipe.name for recipe in design.pieces} - pieces.keys()


def _make_from_pieces(design: Design, pieces: dict[str, Piece], findings: list[Finding]) -> None:
    """Make what is made from other pieces: bands and strips as long as a seam, facings."""
    readers = _readers(design.pieces)
    for recipe in readers.fitting:
        made = None
        if not _seam_unmade(design, recipe, pieces):
            made = told(findings, "piece", recipe.name, _fitting, design, recipe, pieces)
        _enter(pieces, recipe.name, made)
    if not readers.facings:
        return
    facing = partial(told, findings, "piece")
    faced = cut.faced(design.pieces, pieces, lambda one, of: facing(one.name, _facing, one, of))
    for one in readers.facings:
        _enter(pieces, one.name, faced.get(one.name))


def _enter(pieces: dict[str, Piece], name: str, made: Piece | None) -> None:
    if made is None:
        pieces.pop(name, None)
    else:
        pieces[name] = made


def _is_whole(design: Design, base: Pattern) -> bool:
    """True when an earlier pattern has every piece of the same recipes and joins."""
    return (
        design.pieces is base.design.pieces
        and design.joins is base.design.joins
        and len(base.work.pieces) == len(design.pieces)
    )


def _touched(
    recipes: tuple[PieceRecipe, ...], lines: Sequence[DrawnLine], before: Sequence[DrawnLine]
) -> set[str] | None:
    """Names of the recipes that read a line that has changed, or are cut from a panel where one
    ends; None when these are not the same lines at all.
    """
    if [line.name for line in lines] != [line.name for line in before]:
        return None
    readers = _readers(recipes)
    found: set[str] = set()
    for line, was in zip(lines, before, strict=True):
        if line is not was:
            found |= readers.of_line.get(line.name, frozenset())
            found |= readers.of_panel.get(line.panel, frozenset())
            found |= readers.of_panel.get(was.panel, frozenset())
    return found


def _readers_of(recipes: tuple[PieceRecipe, ...]) -> _Readers:
    of_line: dict[str, frozenset[str]] = {}
    of_panel: dict[str, frozenset[str]] = {}
    for recipe in recipes:
        if isinstance(recipe, PanelPiece):
            here = of_panel.get(recipe.panel, frozenset())
            of_panel[recipe.panel] = here | {recipe.name}
        for line in _lines_read(recipe):
            of_line[line] = of_line.get(line, frozenset()) | {recipe.name}
    fitting = [one for one in recipes if isinstance(one, WaistbandPiece | StripPiece) and one.fits]
    facings = [one for one in recipes if isinstance(one, FacingPiece)]
    return _Readers(of_line, of_panel, tuple(fitting), tuple(facings))


def _lines_read(recipe: PieceRecipe) -> tuple[str, ...]:
    if isinstance(recipe, ShapePiece):
        return (recipe.line, *recipe.marks)
    if isinstance(recipe, PanelPiece):
        return (*(bound.line for bound in recipe.bounds), *recipe.marks)
    return ()


def _cut_piece(
    recipe: PanelPiece | ShapePiece,
    panels: dict[str, Panel],
    lines: dict[str, DrawnLine],
    ends: dict[str, _Beside],
    findings: list[Finding],
) -> Piece | None:
    missing = [name for name in _lines_read(recipe) if name not in lines]
    if missing:
        words = f"Its line {missing[0]} is not there. Draw it again, or take the piece away."
        findings.append(grave("piece", recipe.name, words))
        return None
    if isinstance(recipe, ShapePiece):
        marks = tuple(lines[name] for name in recipe.marks)
        return told(findings, "piece", recipe.name, _shape, recipe, lines[recipe.line], marks)
    if recipe.panel not in panels:
        findings.append(grave("piece", recipe.name, f"There is no panel {recipe.panel}."))
        return None
    bounds = tuple(lines[bound.line] for bound in recipe.bounds)
    marks = tuple(lines[name] for name in recipe.marks)
    panel = panels[recipe.panel]
    beside = ends[recipe.panel]
    return told(findings, "piece", recipe.name, _panel_piece, recipe, panel, bounds, marks, beside)


def _panel_piece_of(
    recipe: PanelPiece,
    panel: Panel,
    bounds: tuple[DrawnLine, ...],
    marks: tuple[DrawnLine, ...],
    beside: _Beside,
) -> Piece:
    piece = face(recipe, panel, bounds, marks)
    return _with_splits(piece, cut.splits_of(piece.outline, beside.lines, recipe.below))


def _fitting(
    design: Design, recipe: WaistbandPiece | StripPiece, pieces: dict[str, Piece]
) -> Piece:
    """The band or strip, as long as side a of the join it fits."""
    for join in design.joins:
        if join.name == recipe.fits:
            names = dict.fromkeys(ref.piece for ref in join.a.edges)
            length = _fitted(join.a, tuple(pieces[name] for name in names if name in pieces))
            if isinstance(recipe, StripPiece):
                return _strip(recipe, length)
            return _band(recipe, length)
    raise GeometryRefused(f"There is no join {recipe.fits} for it to fit.", where=recipe.name)


def _seam_unmade(
    design: Design, recipe: WaistbandPiece | StripPiece, pieces: dict[str, Piece]
) -> bool:
    """True when a piece of the side it fits could not be made."""
    missing = unmade(design, pieces)
    if not missing:
        return False
    bands = {piece.name for piece in design.pieces if isinstance(piece, WaistbandPiece)}
    return any(
        ref.piece in missing - bands
        for join in design.joins
        if join.name == recipe.fits
        for ref in join.a.edges
    )


def _fitted_of(side: JoinSide, pieces: tuple[Piece, ...]) -> float:
    by_name = {piece.name: piece for piece in pieces}
    return sew.measured_side(side, by_name, against=side.mirrored).length


_kept = remembered(cut.kept_side, MANY)
face = remembered(partial(cut.cut_from_panel, keep=_kept), MANY)
"""As `cut.cut_from_panel`."""

_readers = remembered(_readers_of, 4)
_with_splits = remembered(cut.with_splits, MANY)
_panel_piece = remembered(_panel_piece_of, MANY)
_shape = remembered(cut.cut_shape, MANY)
_strip = remembered(cut.cut_strip, MANY)
_facing = remembered(cut.cut_facing, 64)
_band = remembered(cut.cut_waistband, 8)
_fitted = remembered(_fitted_of, 16)
_beside = remembered(_Beside, 16)

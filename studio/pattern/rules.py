"""The fifth stage: what the rules find, of each piece by itself and of the pattern as a whole."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from studio import check
from studio.check import Finding
from studio.design import Design, PanelPiece, ShapePiece
from studio.design.joins import Finish, Join
from studio.design.pieces import PieceRecipe
from studio.memo import remembered
from studio.pattern.joins import waists_among, waists_in
from studio.pattern.model import Judging, Pattern, ReadyPiece
from studio.pattern.ready import legs_of
from studio.pattern.told import MANY
from studio.sew import AllowanceRules, Lined, MeasuredJoin
from studio.sew.loop_places import placed


def judged_pieces(
    design: Design, ready: dict[str, ReadyPiece], rules: AllowanceRules, base: Pattern | None
) -> tuple[dict[str, tuple[Finding, ...]], Judging, frozenset[str]]:
    """What the rules find of each piece, and what it was judged by; and the names of those for
    which, while something is dragged, that was put off: they keep what was found of them before.
    """
    by = _judging(rules, tuple([line.name for line in design.lines if line.kind == "seam"]))
    if base is None:
        return {name: _of_piece(one, by) for name, one in ready.items()}, by, frozenset()
    before = base.work
    put_off = frozenset(
        name
        for name, one in ready.items()
        if one is not before.ready.get(name) or by is not before.by or name in before.put_off
    )
    return {name: base.judged.get(name, ()) for name in ready}, by, put_off


def judged_whole(pattern: Pattern, rules: AllowanceRules) -> Iterator[Finding]:
    """What the rules find of a pattern that is made but for its findings: of all that no piece has
    by itself, and, in its place among that, what was found of each piece.
    """
    design, work = pattern.design, pattern.work
    yield from _unlaid(pattern)
    for row in pattern.ledger:
        found = check.judge_row(row)
        if found is not None:
            yield found
    stretch = min((cloth.stretch for cloth in design.cloths if cloth.name == "main"), default=0.0)
    drawn_in = _is_drawn_in(design.finishes)
    yield from check.judge_girths(pattern.girths, stretch, drawn_in=drawn_in)
    yield from _pulled_on(design.body, pattern.girths, design.finishes, design.joins, stretch)
    yield from _kinks(pattern.panels)
    front, back = pattern.panel("front"), pattern.panel("back")
    if front is not None and back is not None:
        yield from _run_on(front, back)
    for of_piece in pattern.judged.values():
        yield from of_piece
    yield from _allowances(rules)
    waists = [work.joins[name].measured for name in waists_in(design) if name in work.joins]
    yield from _loops(design.pieces, design.joins, design.finishes, tuple(waists))
    if design.shortages:
        legs = legs_of(pattern.panels)
        yield from check.judge_shortages(design.shortages, pattern.pieces, rules, legs)
    hand = design.body.hand_girth if design.body is not None else None
    yield from _pockets(pattern.pockets, design.carried, hand)


def _of_piece_of(one: ReadyPiece, by: Judging) -> tuple[Finding, ...]:
    piece = one.sewn.piece
    return (
        *check.judge_outline(piece),
        *check.judge_darts(piece, by.cuts),
        *_cut_line(piece.name, one.lined),
        *check.judge_marks(one.sewn),
        *_laid(piece),
        *_edges(piece.name, one.edges, by.rules),
        *check.judge_folds(piece, by.rules.finishes, by.rules.standard),
    )


def _cut_line_of(name: str, lined: Lined) -> tuple[Finding, ...]:
    return check.judge_cut_line(name, lined.line, lined.trouble)


def _unlaid(pattern: Pattern) -> tuple[Finding, ...]:
    pieces = pattern.work.pieces
    lines = tuple([line.name for line in pattern.lines])
    asked = _marks_asked(pattern.design.pieces, lines, tuple(pieces))
    return check.judge_unlaid(asked, [_lines_on(one.marks) for one in pieces.values() if one.marks])


def _marks_asked_of(
    recipes: tuple[PieceRecipe, ...], lines: tuple[str, ...], pieces: tuple[str, ...]
) -> tuple[tuple[str, str], ...]:
    """Lines that could be drawn with the pieces made that are to bear them."""
    drawn, made = set(lines), set(pieces)
    return tuple(
        (recipe.name, mark)
        for recipe in recipes
        if isinstance(recipe, PanelPiece | ShapePiece) and recipe.name in made
        for mark in recipe.marks
        if mark in drawn
    )


def _loops_of(
    recipes: tuple[PieceRecipe, ...],
    joins: tuple[Join, ...],
    finishes: tuple[Finish, ...],
    measured: tuple[MeasuredJoin, ...],
) -> list[Finding]:
    waists = waists_among(recipes, joins, finishes)
    by_name = {one.join.name: one for one in measured}
    return check.judge_loops(recipes, joins, finishes, placed(waists, by_name))


_judging = remembered(Judging, 8)
_marks_asked = remembered(_marks_asked_of, 8)
_lines_on = remembered(check.lines_on, MANY)
_of_piece = remembered(_of_piece_of, MANY)
_cut_line = remembered(_cut_line_of, MANY)
_laid = remembered(check.judge_laid, MANY)
_edges = remembered(check.judge_edges, MANY)
_is_drawn_in = remembered(check.is_drawn_in, 4)
_pulled_on = remembered(check.judge_pulled_on, 8)
_kinks = remembered(check.judge_kinks, 8)
_run_on = remembered(check.judge_run_on, 8)
_allowances = remembered(check.judge_allowances, 4)
_loops = remembered(_loops_of, 4)
_use = remembered(check.use_of, MANY)
_pockets = remembered(partial(check.judge_pockets, use=_use), 8)

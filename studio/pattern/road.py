"""The road: from a design to finished pieces and findings, stage by stage.

Each stage remembers its last results by the identity of what it read, so that an edit costs only
what it touches; and under the hand it takes from the pattern shown before what nothing has touched.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import partial

from studio import check, sew
from studio.block import Panel
from studio.check import Finding, GirthRow, LedgerRow, Pocket
from studio.cut import DrawnLine, Piece
from studio.cut.copies import Leg, drawn_legs
from studio.design import Design, LowerWaist, PanelPiece, ShapePiece
from studio.design.joins import Finish, Join
from studio.design.pieces import PieceRecipe
from studio.design.topstitch import Topstitch
from studio.errors import exact_of
from studio.memo import forget_all, remembered
from studio.pattern.joins import made_joins, waists_among, waists_in
from studio.pattern.model import Joined, Pattern, Work
from studio.pattern.panels import altered, block_of, drawn_lines
from studio.pattern.pieces import cut_pieces, face
from studio.pattern.ready import judged_pieces, named_parts, ready_pieces
from studio.pattern.told import MANY
from studio.sew import AllowanceRules, Given, MeasuredJoin, Parts, SewingOrder, SewnPiece
from studio.sew.spread import placed


def evaluate(design: Design, since: Pattern | None = None) -> Pattern:
    """The pattern of a design: pure, the same design gives the same pattern.

    What cannot be made is left out and told as a grave finding; the rest stands.

    While something is dragged, `since` is the pattern shown before, and a draft is given: what the
    rules say of pieces that changed (cut lines that cross themselves, notches that cannot be cut)
    is put off and stays as it was. All that is drawn and measured is as in the whole pattern, but
    for lines whose holds take long to meet: they may lie a little off, or stay as they were drawn
    with the holds told as clashing. A draft is never written to a file; the whole follows when the
    hand rests or lets go.

    Raises:
        BodyRefused: there is no body to draft from, or none that a block can be drawn for.
        GeometryRefused: the panels of an imported block are broken.
    """
    findings: list[Finding] = []
    block = block_of(design.body, design.block)
    findings += [
        Finding("block", "note", "block", str(remark), exact=exact_of(remark))
        for remark in block.remarks
    ]
    panels, steps, told = altered(block, design.alterations)
    findings += told
    lines, held = drawn_lines(design, panels, findings, since)
    pieces = cut_pieces(design, panels, lines, findings, since)
    rules = _rules(design.joins, design.finishes, design.standard_allowance)
    joins = made_joins(design, pieces, rules, findings, since)
    parts = named_parts(pieces, since)
    order = _order(rules, design.sewing, design.topstitching, tuple(parts), tuple(parts.values()))
    given = _given_by(design, rules, order)
    ready = ready_pieces(design, pieces, parts, joins, given, since)
    for joined in joins.values():
        findings += joined.findings
    for one in ready.values():
        findings += one.refused
    findings += check.judge_unlaid(_marks_asked(design, lines, pieces), pieces.values())
    legs = _legs(panels)
    sewn = tuple([_less(design, one.sewn, legs) for one in ready.values()])
    ledger = tuple(
        [
            joins[join.name].row if join.name in joins else check.broken_row(join)
            for join in design.joins
        ]
    )
    girths = _girths_of(design, panels)
    pockets = check.pockets_in(design, panels, lines, pieces, face, _pocket, _loop)
    findings += _judged(design, panels, ledger, girths)
    judged, by, put_off = judged_pieces(design, ready, rules, since)
    for found_here in judged.values():
        findings += found_here
    findings += _allowances(rules)
    findings += _loops_told(design, joins)
    if design.shortages:
        findings += check.judge_shortages(design.shortages, sewn, rules, legs)
    hand = design.body.hand_girth if design.body is not None else None
    findings += _pocket_rules(pockets, design.carried, hand)
    return Pattern(
        design,
        panels,
        lines,
        sewn,
        ledger,
        girths,
        check.with_acceptance(findings, design.accepted),
        steps,
        tuple([joined.measured for joined in joins.values()]),
        order,
        pockets,
        judged,
        bool(put_off) or not all(group.found.is_whole for group in held.values()),
        Work(pieces, joins, parts, ready, given, held, by, put_off),
    )


def forget() -> None:
    """Drop everything remembered, for measurements and tests."""
    forget_all()


def _given_by(design: Design, rules: AllowanceRules, order: SewingOrder) -> Given:
    wearer = design.body.name if design.body is not None else ""
    return _given(rules, design.corners, order, design.notch_shape, wearer)


def _girths_of(design: Design, panels: tuple[Panel, ...]) -> tuple[GirthRow, ...]:
    lowered = sum(
        step.at_rise
        for step in design.alterations
        if isinstance(step, LowerWaist) and step.active and step.at_rise > 0.0
    )
    return _girths(design.body, panels, float(lowered))


def _marks_asked(
    design: Design, lines: tuple[DrawnLine, ...], pieces: Mapping[str, Piece]
) -> list[tuple[str, str]]:
    """Lines that could be drawn with the pieces made that are to bear them."""
    drawn = {line.name for line in lines}
    return [
        (recipe.name, mark)
        for recipe in design.pieces
        if isinstance(recipe, PanelPiece | ShapePiece) and recipe.name in pieces
        for mark in recipe.marks
        if mark in drawn
    ]


def _loops_told(design: Design, joins: Mapping[str, Joined]) -> list[Finding]:
    waists = waists_in(design)
    measured = tuple([joins[name].measured for name in waists if name in joins])
    return _loops(design.pieces, design.joins, design.finishes, measured)


def _loops_of(
    recipes: tuple[PieceRecipe, ...],
    joins: tuple[Join, ...],
    finishes: tuple[Finish, ...],
    measured: tuple[MeasuredJoin, ...],
) -> list[Finding]:
    waists = waists_among(recipes, joins, finishes)
    by_name = {one.join.name: one for one in measured}
    return check.judge_loops(recipes, joins, finishes, placed(waists, by_name))


def _less(design: Design, sewn: SewnPiece, legs: dict[str, Leg]) -> SewnPiece:
    """The piece with the allowances its copies do without."""
    asked = tuple(one for one in design.shortages if one.piece == sewn.piece.name)
    return _shorted(sewn, asked, legs.get(sewn.piece.panel, "")) if asked else sewn


def _judged(
    design: Design,
    panels: tuple[Panel, ...],
    ledger: tuple[LedgerRow, ...],
    girths: tuple[GirthRow, ...],
) -> list[Finding]:
    found = [finding for row in ledger if (finding := check.judge_row(row)) is not None]
    stretch = min((cloth.stretch for cloth in design.cloths if cloth.name == "main"), default=0.0)
    found += check.judge_girths(girths, stretch)
    found += _kinks(panels)
    by_name = {panel.name: panel for panel in panels}
    if "front" in by_name and "back" in by_name:
        found += _run_on(by_name["front"], by_name["back"])
    return found


def _order_of(
    rules: AllowanceRules,
    wished: tuple[str, ...],
    rows: tuple[Topstitch, ...],
    names: tuple[str, ...],
    parts: tuple[Parts, ...],
) -> SewingOrder:
    by_name = dict(zip(names, parts, strict=True))
    return sew.sewing_order(rules.joins, rules.finishes, by_name, wished, rows)


_rules = remembered(sew.allowance_rules, 4)
_order = remembered(_order_of, 8)
_given = remembered(Given, 8)
_shorted = remembered(sew.shorted, MANY)
_legs = remembered(drawn_legs, 4)
_girths = remembered(check.girth_rows, 8)
_kinks = remembered(check.judge_kinks, 8)
_run_on = remembered(check.judge_run_on, 8)
_pocket = remembered(check.pocket_of, MANY)
_loop = remembered(lambda name, hang: Pocket(name, "loop", hang), MANY)
_use = remembered(check.use_of, MANY)
_pocket_rules = remembered(partial(check.judge_pockets, use=_use), 8)
_loops = remembered(_loops_of, 4)
_allowances = remembered(check.judge_allowances, 4)

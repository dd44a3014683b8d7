"""The road: from a design to finished pieces and findings, stage by stage.

Each stage remembers its last results (`studio.memo`), so that an edit costs only what it touches;
and under the hand it takes from the pattern shown before what nothing has touched.
"""

from __future__ import annotations

from msgspec.structs import replace

from studio import check, sew
from studio.check import Finding, Pocket
from studio.design import Design, LowerWaist
from studio.design.topstitch import Topstitch
from studio.errors import exact_of
from studio.memo import forget_all, remembered
from studio.pattern.joins import made_joins
from studio.pattern.model import Pattern, StepMade, Work
from studio.pattern.panels import altered, block_of, drawn_lines
from studio.pattern.pieces import cut_pieces, face
from studio.pattern.ready import named_parts, ready_pieces, sewn_pieces
from studio.pattern.rules import judged_pieces, judged_whole
from studio.pattern.told import MANY
from studio.sew import AllowanceRules, Given, Parts, SewingOrder


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
    sewn = sewn_pieces(design, panels, ready.values())
    ledger = tuple(
        [
            joins[join.name].row if join.name in joins else check.broken_row(join)
            for join in design.joins
        ]
    )
    girths = _girths(design.body, panels, _off_the_rises(steps))
    pockets = check.pockets_in(design, panels, lines, pieces, face, _pocket, _loop)
    judged, by, put_off = judged_pieces(design, ready, rules, since)
    pattern = Pattern(
        design,
        panels,
        lines,
        sewn,
        ledger,
        girths,
        (),
        steps,
        tuple([joined.measured for joined in joins.values()]),
        order,
        pockets,
        judged,
        bool(put_off) or not all(group.found.is_whole for group in held.values()),
        Work(pieces, joins, parts, ready, given, held, by, put_off),
    )
    findings += judged_whole(pattern, rules)
    return replace(pattern, findings=check.with_acceptance(findings, design.accepted))


def forget() -> None:
    """Drop everything remembered, for measurements and tests."""
    forget_all()


def _given_by(design: Design, rules: AllowanceRules, order: SewingOrder) -> Given:
    wearer = design.body.name if design.body is not None else ""
    return _given(rules, design.corners, order, design.notch_shape, wearer)


def _off_the_rises_of(steps: tuple[StepMade, ...]) -> float:
    """What lowering the waist took off both rises, mm, along them: a leaning rise loses more than
    its waist is lowered by, down the grain.
    """
    taken = 0.0
    for made in steps:
        if isinstance(made.step, LowerWaist) and made.before is not None and made.after is not None:
            rise = f"{made.step.panel}.rise"
            taken += made.before.sewn_length(rise) - made.after.sewn_length(rise)
    return taken


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
_off_the_rises = remembered(_off_the_rises_of, 8)
_girths = remembered(check.girth_rows, 8)
_pocket = remembered(check.pocket_of, MANY)
_loop = remembered(lambda name, hang: Pocket(name, "loop", hang), MANY)

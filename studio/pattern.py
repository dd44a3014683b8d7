"""The road: from a design to finished pieces and findings.

Each stage remembers its last results by the identity of what it read, so that a dragged line
costs only what it touches.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TypeVar

import msgspec

from studio import check, cut, sew
from studio.alter import altered_beside, kind_of
from studio.block import Block, Panel, draft
from studio.block.imported import block_of_drawing
from studio.check import Finding, GirthRow, LedgerRow, Pocket
from studio.cut import DrawnLine, Piece
from studio.cut.copies import Leg, drawn_legs
from studio.design import (
    Alteration,
    Body,
    Design,
    ImportedBlock,
    Join,
    LowerWaist,
    PanelPiece,
    ShapePiece,
    StyleLine,
)
from studio.design import block as designed
from studio.design.holds import Hold, lines_in
from studio.design.joins import JoinSide
from studio.design.pieces import StripPiece, WaistbandPiece
from studio.design.topstitch import Topstitch
from studio.errors import BodyRefused, GeometryRefused
from studio.memo import Remembered, forget_all
from studio.sew import (
    AllowanceRules,
    Given,
    Lined,
    MeasuredJoin,
    Parts,
    Seam,
    SewingOrder,
    SewnPiece,
)

Made = TypeVar("Made")

MANY = 400
"""As many results as a stage holds of pieces or joins: several times those of a rich design, so
that what a drag makes anew does not push out what it leaves alone."""


class StepMade(msgspec.Struct, frozen=True):
    """A step of the design with its panel before and after it; `after` is None when the step
    could not be done, both when its panel is not there.
    """

    step: Alteration
    before: Panel | None
    after: Panel | None


class Pattern(msgspec.Struct, frozen=True):
    """All that follows from a design. Pieces lie in the coordinates of their panel.

    `judged` are the findings of each piece, by name. A `draft` is a pattern under the hand: all of
    it is drawn, but pieces that changed are not judged yet, and keep what was found of them before.
    """

    design: Design
    panels: tuple[Panel, ...]
    lines: tuple[DrawnLine, ...]
    pieces: tuple[SewnPiece, ...]
    ledger: tuple[LedgerRow, ...]
    girths: tuple[GirthRow, ...]
    findings: tuple[Finding, ...]
    steps: tuple[StepMade, ...] = ()
    measured: tuple[MeasuredJoin, ...] = ()
    order: SewingOrder = SewingOrder((), ())
    pockets: tuple[Pocket, ...] = ()
    judged: dict[str, tuple[Finding, ...]] = {}
    draft: bool = False

    def piece(self, name: str) -> SewnPiece:
        """The piece of that name; raises KeyError."""
        for sewn in self.pieces:
            if sewn.piece.name == name:
                return sewn
        raise KeyError(name)


class _Joined(msgspec.Struct, frozen=True):
    """A join that could be made: measured, in the ledger, what it brings to its pieces, and what
    is told of that.
    """

    measured: MeasuredJoin
    pieces: tuple[str, ...]
    row: LedgerRow
    seam: Seam
    findings: tuple[Finding, ...]


class _Beside(msgspec.Struct, frozen=True):
    """The lines of a panel."""

    lines: tuple[DrawnLine, ...]


class _Judging(msgspec.Struct, frozen=True):
    """What pieces are judged by: the allowance rules, and the lines that cut a panel in two."""

    rules: AllowanceRules
    cuts: tuple[str, ...]


class _Made(msgspec.Struct, frozen=True):
    """A piece ready for the shears, the lines it was given, and what of it could not be made."""

    sewn: SewnPiece
    edges: tuple[str, ...]
    lined: Lined
    refused: tuple[Finding, ...]


def evaluate(design: Design, since: Pattern | None = None) -> Pattern:
    """The pattern of a design: pure, the same design gives the same pattern.

    What cannot be made is left out and told as a grave finding; the rest stands.

    While something is dragged, `since` is the pattern shown before, and a draft is given: what the
    rules say of pieces that changed (cut lines that cross themselves, notches that cannot be cut)
    is put off and stays as it was. All that is drawn and measured is as in the whole pattern. A
    draft is never written to a file; the whole follows when the hand rests or lets go.

    Raises:
        BodyRefused: there is no body to draft from, or none that a block can be drawn for.
        GeometryRefused: the panels of an imported block are broken.
    """
    findings: list[Finding] = []
    block = _block(design.body, design.block)
    findings += [Finding("block", "note", "block", remark) for remark in block.remarks]
    panels, steps, told = _altered(block, design.alterations)
    findings += told
    lines = _lines(design, panels, findings)
    pieces = _pieces(design, panels, lines, findings)
    rules = _rules(design.joins, design.finishes, design.standard_allowance)
    joins = _joins(design, pieces, rules, findings)
    parts = tuple(_parts_of_piece(piece) for piece in pieces.values())
    order = _order(rules, design.sewing, tuple(pieces), parts)
    made = _made_pieces(design, pieces, parts, joins, _given_by(design, rules, order))
    for joined in joins.values():
        findings += joined.findings
    for one in made:
        findings += one.refused
    legs = _legs(panels)
    sewn = tuple(_less(design, one.sewn, legs) for one in made)
    ledger = tuple(
        joins[join.name].row if join.name in joins else check.broken_row(join)
        for join in design.joins
    )
    lowered = sum(
        step.at_rise
        for step in design.alterations
        if isinstance(step, LowerWaist) and step.active and step.at_rise > 0.0
    )
    girths = _girths(design.body, panels, float(lowered))
    pockets = check.pockets_in(design, panels, lines, pieces, _face, _pocket, _loop)
    findings += _judged(design, panels, ledger, girths)
    judged, is_draft = _judged_pieces(design, made, rules, since)
    for found_here in judged.values():
        findings += found_here
    findings += _allowances(rules)
    if design.shortages:
        findings += check.judge_shortages(design.shortages, sewn, rules, legs)
    hand = design.body.hand_girth if design.body is not None else None
    findings += _pocket_rules(pockets, design.carried, hand)
    measured = tuple(joined.measured for joined in joins.values())
    found = check.with_acceptance(findings, design.accepted)
    return Pattern(
        design,
        panels,
        lines,
        sewn,
        ledger,
        girths,
        found,
        steps,
        measured,
        order,
        pockets,
        judged,
        is_draft,
    )


def forget() -> None:
    """Drop everything remembered, for measurements and tests."""
    forget_all()


def _block_of(body: Body | None, block: designed.Block) -> Block:
    if isinstance(block, ImportedBlock):
        return block_of_drawing(block)
    if body is None:
        raise BodyRefused("There is no body to draft the block for.", where="body")
    return draft(body, block.fit)


def _altered_of(
    block: Block, steps: tuple[Alteration, ...]
) -> tuple[tuple[Panel, ...], tuple[StepMade, ...], tuple[Finding, ...]]:
    """The panels after all steps, in the order they were asked for; a step that cannot be done is
    told and left out.
    """
    panels = {panel.name: panel for panel in block.panels}
    findings: list[Finding] = []
    made = []
    for step in steps:
        before = panels.get(step.panel)
        if before is None:
            findings.append(
                _grave("alteration", step.panel, f"There is no panel {step.panel} to alter.")
            )
            made.append(StepMade(step, None, None))
            continue
        after: Panel | None = before
        if step.active:
            others = tuple(panels[name] for name in kind_of(step).reads(step) if name in panels)
            title = step.name or kind_of(step).title
            after = _told(
                findings, "alteration", step.panel, _step, before, step, others, what=title
            )
        panels[step.panel] = after or before
        made.append(StepMade(step, before, after))
    return tuple(panels.values()), tuple(made), tuple(findings)


def _lines(
    design: Design, panels: tuple[Panel, ...], findings: list[Finding]
) -> tuple[DrawnLine, ...]:
    by_name = {panel.name: panel for panel in panels}
    lines = _held_lines(design, panels, findings)
    drawn = []
    for line in lines:
        panel = by_name.get(line.panel)
        if panel is None:
            findings.append(_grave("line", line.name, f"There is no panel {line.panel}."))
            continue
        made = _told(findings, "line", line.name, _drawn, line, panel)
        if made is not None:
            drawn.append(made)
    return tuple(drawn)


def _held_lines(
    design: Design, panels: tuple[Panel, ...], findings: list[Finding]
) -> tuple[StyleLine, ...]:
    """The lines with what holds on them met; lines whose holds clash stay as they were drawn."""
    if not design.holds:
        return design.lines
    by_name = {line.name: line for line in design.lines}
    for names in cut.linked(design.lines, design.holds):
        group = tuple(by_name[name] for name in names)
        asked = tuple(
            hold for hold in design.holds if hold.active and set(names) & set(lines_in(hold))
        )
        made = _told(findings, "hold", names[0], _held, group, panels, asked)
        by_name |= {line.name: line for line in made or ()}
    return tuple(by_name.values())


def _pieces(
    design: Design,
    panels: tuple[Panel, ...],
    lines: tuple[DrawnLine, ...],
    findings: list[Finding],
) -> dict[str, Piece]:
    by_name = {panel.name: panel for panel in panels}
    line_by_name = {line.name: line for line in lines}
    ends = {name: _beside(tuple([a for a in lines if a.panel == name])) for name in by_name}
    pieces: dict[str, Piece] = {}
    for recipe in design.pieces:
        if isinstance(recipe, StripPiece):
            made = _told(findings, "piece", recipe.name, _strip, recipe)
            if made is not None:
                pieces[recipe.name] = made
        elif isinstance(recipe, PanelPiece | ShapePiece):
            made = _cut_piece(recipe, by_name, line_by_name, ends, findings)
            if made is not None:
                pieces[recipe.name] = made
    for recipe in design.pieces:
        if isinstance(recipe, WaistbandPiece) and not _waist_unmade(design, recipe, pieces):
            made = _told(findings, "piece", recipe.name, _waistband, design, recipe, pieces)
            if made is not None:
                pieces[recipe.name] = made
    facing = partial(_told, findings, "piece")
    pieces |= cut.faced(design.pieces, pieces, lambda one, of: facing(one.name, _facing, one, of))
    return {recipe.name: pieces[recipe.name] for recipe in design.pieces if recipe.name in pieces}


def _cut_piece(
    recipe: PanelPiece | ShapePiece,
    panels: dict[str, Panel],
    lines: dict[str, DrawnLine],
    ends: dict[str, _Beside],
    findings: list[Finding],
) -> Piece | None:
    wanted = (
        (recipe.line, *recipe.marks)
        if isinstance(recipe, ShapePiece)
        else (*(bound.line for bound in recipe.bounds), *recipe.marks)
    )
    missing = [name for name in wanted if name not in lines]
    if missing:
        findings.append(_grave("piece", recipe.name, f"Its line {missing[0]} is not there."))
        return None
    if isinstance(recipe, ShapePiece):
        marks = tuple(lines[name] for name in recipe.marks)
        return _told(findings, "piece", recipe.name, _shape, recipe, lines[recipe.line], marks)
    if recipe.panel not in panels:
        findings.append(_grave("piece", recipe.name, f"There is no panel {recipe.panel}."))
        return None
    bounds = tuple(lines[bound.line] for bound in recipe.bounds)
    marks = tuple(lines[name] for name in recipe.marks)
    panel = panels[recipe.panel]
    beside = ends[recipe.panel]
    return _told(findings, "piece", recipe.name, _panel_piece, recipe, panel, bounds, marks, beside)


def _panel_piece_of(
    recipe: PanelPiece,
    panel: Panel,
    bounds: tuple[DrawnLine, ...],
    marks: tuple[DrawnLine, ...],
    beside: _Beside,
) -> Piece:
    piece = _face(recipe, panel, bounds, marks)
    return _with_splits(piece, cut.splits_of(piece.outline, beside.lines, recipe.below))


def _waistband(design: Design, recipe: WaistbandPiece, pieces: dict[str, Piece]) -> Piece:
    """The band, as long as side a of the join it fits."""
    for join in design.joins:
        if join.name == recipe.fits:
            names = dict.fromkeys(ref.piece for ref in join.a.edges)
            length = _fitted(join.a, tuple(pieces[name] for name in names if name in pieces))
            return _band(recipe, length)
    raise GeometryRefused(f"There is no join {recipe.fits} for it to fit.", where=recipe.name)


def _waist_unmade(design: Design, recipe: WaistbandPiece, pieces: dict[str, Piece]) -> bool:
    """True when a piece of the waist it fits could not be made."""
    bands = {piece.name for piece in design.pieces if isinstance(piece, WaistbandPiece)}
    unmade = _unmade(design, pieces) - bands
    return any(
        ref.piece in unmade
        for join in design.joins
        if join.name == recipe.fits
        for ref in join.a.edges
    )


def _joins(
    design: Design, pieces: dict[str, Piece], rules: AllowanceRules, findings: list[Finding]
) -> dict[str, _Joined]:
    found = {}
    unmade = _unmade(design, pieces)
    for join, names in _named_in(design.joins):
        if not unmade.isdisjoint(names):
            continue
        concerned = tuple([pieces[name] for name in names if name in pieces])
        asked = tuple([one for one in design.topstitching if one.piece in names])
        made = _told(findings, "join", join.name, _joined, join, concerned, rules, asked)
        if made is not None:
            found[join.name] = made
    return found


def _unmade(design: Design, pieces: dict[str, Piece]) -> set[str]:
    """Pieces that are wanted but could not be made; why has been told where they failed."""
    if len(pieces) == len(design.pieces):
        return set()
    return {recipe.name for recipe in design.pieces} - pieces.keys()


def _given_by(design: Design, rules: AllowanceRules, order: SewingOrder) -> Given:
    wearer = design.body.name if design.body is not None else ""
    return _given(rules, design.corners, order, design.notch_shape, wearer)


def _made_pieces(
    design: Design,
    pieces: dict[str, Piece],
    parts: tuple[Parts, ...],
    joins: dict[str, _Joined],
    given: Given,
) -> tuple[_Made, ...]:
    seams: dict[str, list[Seam]] = {name: [] for name in pieces}
    for joined in joins.values():
        for name in joined.pieces:
            seams[name].append(joined.seam)
    made = []
    for piece, named in zip(pieces.values(), parts, strict=True):
        asked = tuple([one for one in design.topstitching if one.piece == piece.name])
        made.append(_made(piece, named, tuple(seams[piece.name]), asked, given))
    return tuple(made)


def _made_of(
    piece: Piece,
    named: Parts,
    seams: tuple[Seam, ...],
    asked: tuple[Topstitch, ...],
    given: Given,
) -> _Made:
    ready = sew.ready(piece, named.edges, seams, asked, given)
    refused = (_grave("topstitch", piece.name, ready.refused),) if ready.refused else ()
    return _Made(ready.sewn, named.edges, ready.lined, refused)


def _judged_pieces(
    design: Design, made: tuple[_Made, ...], rules: AllowanceRules, since: Pattern | None
) -> tuple[dict[str, tuple[Finding, ...]], bool]:
    """What the rules find of each piece; and whether that was put off for any."""
    by = _judging(rules, tuple([line.name for line in design.lines if line.kind == "seam"]))
    judged, is_draft = {}, False
    for one in made:
        name = one.sewn.piece.name
        found = None
        if since is not None:
            found = _piece_findings.recall(one, by)
            if found is None:
                found, is_draft = since.judged.get(name, ()), True
        judged[name] = _piece_findings(one, by) if found is None else found
    return judged, is_draft


def _piece_findings_of(one: _Made, by: _Judging) -> tuple[Finding, ...]:
    piece = one.sewn.piece
    return (
        *check.judge_darts(piece, by.cuts),
        *_line_findings(piece.name, one.lined),
        *check.judge_marks(one.sewn),
        *_edge_findings(piece.name, one.edges, by.rules),
    )


def _line_findings_of(name: str, lined: Lined) -> tuple[Finding, ...]:
    return check.judge_cut_line(name, lined.line, lined.trouble)


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
    by_name = {panel.name: panel for panel in panels}
    if "front" in by_name and "back" in by_name:
        found += _run_on(by_name["front"], by_name["back"])
    return found


def _told(
    findings: list[Finding],
    rule: str,
    where: str,
    make: Callable[..., Made],
    *read: object,
    what: str = "",
) -> Made | None:
    """What `make` makes; when the geometry refuses, a grave finding (that starts with `what`) and
    None.
    """
    try:
        return make(*read)
    except GeometryRefused as refusal:
        message = f"{what}: {refusal.message}" if what else refusal.message
        findings.append(_grave(rule, where, message))
        return None


def _grave(rule: str, where: str, message: str) -> Finding:
    return Finding(rule, "grave", where, message)


def _named_in_of(joins: tuple[Join, ...]) -> tuple[tuple[Join, tuple[str, ...]], ...]:
    """Every join with the names of its pieces."""
    return tuple((join, tuple(sorted({ref.piece for ref in join.refs}))) for join in joins)


def _joined_of(
    join: Join, pieces: tuple[Piece, ...], rules: AllowanceRules, asked: tuple[Topstitch, ...]
) -> _Joined:
    by_name = {piece.name: piece for piece in pieces}
    measured = sew.measured(join, by_name)
    seam = sew.seam_of(measured, by_name, rules, asked)
    told = check.judge_partners(join.name, seam.lonely)
    return _Joined(measured, tuple(by_name), _ledger_row(measured), seam, told)


def _fitted_of(side: JoinSide, pieces: tuple[Piece, ...]) -> float:
    by_name = {piece.name: piece for piece in pieces}
    return sew.measured_side(side, by_name, against=side.mirrored).length


def _held_of(
    lines: tuple[StyleLine, ...], panels: tuple[Panel, ...], asked: tuple[Hold, ...]
) -> tuple[StyleLine, ...]:
    return cut.held(lines, {panel.name: panel for panel in panels}, asked)


def _parts_of(piece: Piece) -> Parts:
    """The piece by names: the same object again while they are the same."""
    return _parts(
        piece.panel,
        tuple(edge.name for edge in piece.outline),
        tuple(mark.name for mark in piece.marks),
        tuple(dart.name for dart in piece.darts),
    )


def _order_of(
    rules: AllowanceRules,
    wished: tuple[str, ...],
    names: tuple[str, ...],
    parts: tuple[Parts, ...],
) -> SewingOrder:
    by_name = dict(zip(names, parts, strict=True))
    return sew.sewing_order(rules.joins, rules.finishes, by_name, wished)


_block = Remembered(_block_of, 4)
_altered = Remembered(_altered_of, 8)
_step = Remembered(altered_beside, 64)
_held = Remembered(_held_of, 32)
_drawn = Remembered(cut.draw_line, MANY)
_kept = Remembered(cut.kept_side, MANY)
_face = Remembered(partial(cut.cut_from_panel, keep=_kept), MANY)
_with_splits = Remembered(cut.with_splits, MANY)
_panel_piece = Remembered(_panel_piece_of, MANY)
_shape = Remembered(cut.cut_shape, MANY)
_strip = Remembered(cut.cut_strip, MANY)
_facing = Remembered(cut.cut_facing, 64)
_band = Remembered(cut.cut_waistband, 8)
_fitted = Remembered(_fitted_of, 16)
_named_in = Remembered(_named_in_of, 4)
_joined = Remembered(_joined_of, MANY)
_rules = Remembered(sew.allowance_rules, 4)
_parts = Remembered(Parts, 2048)  # Only names; while they are the same, so is the order.
_parts_of_piece = Remembered(_parts_of, MANY)
_order = Remembered(_order_of, 8)
_given = Remembered(Given, 8)
_beside = Remembered(_Beside, 16)
_judging = Remembered(_Judging, 8)
_made = Remembered(_made_of, MANY)
_shorted = Remembered(sew.shorted, MANY)
_legs = Remembered(drawn_legs, 4)
_piece_findings = Remembered(_piece_findings_of, MANY)
_line_findings = Remembered(_line_findings_of, MANY)
_edge_findings = Remembered(check.judge_edges, MANY)
_ledger_row = Remembered(check.ledger_row, MANY)
_girths = Remembered(check.girth_rows, 8)
_run_on = Remembered(check.judge_run_on, 8)
_pocket = Remembered(check.pocket_of, MANY)
_loop = Remembered(lambda name, hang: Pocket(name, "loop", hang), MANY)
_use = Remembered(check.use_of, MANY)
_pocket_rules = Remembered(partial(check.judge_pockets, use=_use), 8)
_allowances = Remembered(check.judge_allowances, 4)

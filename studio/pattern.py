"""The road: from a design to finished pieces and findings.

Each stage remembers its last results by the identity of what it read, so that a dragged line
costs only what it touches.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import partial
from typing import TypeAlias, TypeVar

import msgspec

from studio import check, cut, sew
from studio.alter import altered_beside, kind_of
from studio.block import Block, Panel, draft
from studio.block.imported import block_of_drawing
from studio.check import Finding, GirthRow, LedgerRow, Pocket
from studio.curves import Chain, Outline
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
from studio.design.joins import Finish, NotchShape
from studio.design.pieces import StripPiece, WaistbandPiece
from studio.design.topstitch import Topstitch
from studio.errors import BodyRefused, GeometryRefused
from studio.memo import Remembered
from studio.sew import (
    AllowanceRules,
    CutEdge,
    MeasuredJoin,
    NotchPlace,
    Parts,
    PieceRules,
    SewingOrder,
    SewnPiece,
)

Made = TypeVar("Made")
CutLine: TypeAlias = tuple[tuple[CutEdge, ...], tuple[str, ...]]


class StepMade(msgspec.Struct, frozen=True):
    """A step of the design with its panel before and after it; `after` is None when the step
    could not be done, both when its panel is not there.
    """

    step: Alteration
    before: Panel | None
    after: Panel | None


class Pattern(msgspec.Struct, frozen=True):
    """All that follows from a design. Pieces lie in the coordinates of their panel."""

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

    def piece(self, name: str) -> SewnPiece:
        """The piece of that name; raises KeyError."""
        for sewn in self.pieces:
            if sewn.piece.name == name:
                return sewn
        raise KeyError(name)


class _Seam(msgspec.Struct, frozen=True):
    """What a join brings to its pieces: where they are notched, what is told of that, and rows on
    edges of which it takes only a part.
    """

    places: tuple[NotchPlace, ...]
    findings: tuple[Finding, ...]
    rows: tuple[tuple[str, Chain], ...]


def evaluate(design: Design) -> Pattern:
    """The pattern of a design: pure, the same design gives the same pattern.

    What cannot be made is left out and told as a grave finding; the rest stands.

    Raises:
        BodyRefused: there is no body to draft from, or none that a block can be drawn for.
        GeometryRefused: the panels of an imported block are broken.
    """
    findings: list[Finding] = []
    block = _block(design.body, design.block)
    findings += [Finding("block", "note", "block", remark) for remark in block.remarks]
    panels, steps = _alter(design, block, findings)
    lines = _lines(design, panels, findings)
    pieces = _pieces(design, panels, lines, findings)
    joins = _joins(design, pieces, findings)
    named = tuple(
        (
            name,
            piece.panel,
            _edge_names(piece.outline),
            tuple(mark.name for mark in piece.marks),
            tuple(dart.name for dart in piece.darts),
        )
        for name, piece in pieces.items()
    )
    order = _order(design.joins, design.finishes, design.sewing, named)
    legs = _legs(panels)
    sewn = _sewn(design, pieces, tuple(joins.values()), order, findings)
    sewn = tuple(_less(design, one, legs) for one in sewn)
    ledger = tuple(
        _ledger_row(joins[join.name]) if join.name in joins else check.broken_row(join)
        for join in design.joins
    )
    lowered = sum(
        step.at_rise
        for step in design.alterations
        if isinstance(step, LowerWaist) and step.active and step.at_rise > 0.0
    )
    girths = _girths(design.body, panels, float(lowered))
    pockets = check.pockets_in(design, panels, lines, pieces, _face, _pocket, _loop)
    findings += _judged(design, panels, sewn, ledger, girths)
    if design.shortages:
        rules = _rules(design.joins, design.finishes, design.standard_allowance)
        findings += check.judge_shortages(design.shortages, sewn, rules, legs)
    hand = design.body.hand_girth if design.body is not None else None
    findings += _pocket_rules(pockets, design.carried, hand)
    measured = tuple(joins.values())
    found = check.with_acceptance(findings, design.accepted)
    return Pattern(
        design, panels, lines, sewn, ledger, girths, found, steps, measured, order, pockets
    )


def forget() -> None:
    """Drop everything remembered, for measurements and tests."""
    for stage in _STAGES:
        stage.forget()


def _block_of(body: Body | None, block: designed.Block) -> Block:
    if isinstance(block, ImportedBlock):
        return block_of_drawing(block)
    if body is None:
        raise BodyRefused("There is no body to draft the block for.", where="body")
    return draft(body, block.fit)


def _alter(
    design: Design, block: Block, findings: list[Finding]
) -> tuple[tuple[Panel, ...], tuple[StepMade, ...]]:
    """The panels after all steps, in the order they were asked for; a step that cannot be done is
    told and left out.
    """
    panels = {panel.name: panel for panel in block.panels}
    made = []
    for step in design.alterations:
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
                findings, "alteration", step.panel, _altered, before, step, others, what=title
            )
        panels[step.panel] = after or before
        made.append(StepMade(step, before, after))
    return tuple(panels.values()), tuple(made)


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
    ends = {name: tuple(line for line in lines if line.panel == name) for name in by_name}
    pieces: dict[str, Piece] = {}
    for recipe in design.pieces:
        if isinstance(recipe, StripPiece):
            made = _told(findings, "piece", recipe.name, _strip, recipe)
            if made is not None:
                pieces[recipe.name] = made
        elif not isinstance(recipe, WaistbandPiece):
            made = _cut_piece(recipe, by_name, line_by_name, ends, findings)
            if made is not None:
                pieces[recipe.name] = made
    for recipe in design.pieces:
        if isinstance(recipe, WaistbandPiece) and not _waist_unmade(design, recipe, pieces):
            made = _told(findings, "piece", recipe.name, _waistband, design, recipe, pieces)
            if made is not None:
                pieces[recipe.name] = made
    return {recipe.name: pieces[recipe.name] for recipe in design.pieces if recipe.name in pieces}


def _cut_piece(
    recipe: PanelPiece | ShapePiece,
    panels: dict[str, Panel],
    lines: dict[str, DrawnLine],
    ends: dict[str, tuple[DrawnLine, ...]],
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
    face = _told(findings, "piece", recipe.name, _face, recipe, panel, bounds, marks)
    return None if face is None else _split(face, ends[recipe.panel])


def _waistband(design: Design, recipe: WaistbandPiece, pieces: dict[str, Piece]) -> Piece:
    """The band, as long as side a of the join it fits."""
    for join in design.joins:
        if join.name == recipe.fits:
            side = sew.measured_side(join.a, pieces, against=join.a.mirrored)
            return _band(recipe, side.length)
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
    design: Design, pieces: dict[str, Piece], findings: list[Finding]
) -> dict[str, MeasuredJoin]:
    found = {}
    for join in design.joins:
        names = {ref.piece for ref in join.refs}
        if names & _unmade(design, pieces):
            continue
        concerned = tuple(pieces[name] for name in sorted(names) if name in pieces)
        made = _told(findings, "join", join.name, _measured, join, concerned)
        if made is not None:
            found[join.name] = made
    return found


def _unmade(design: Design, pieces: dict[str, Piece]) -> set[str]:
    """Pieces that are wanted but could not be made; why has been told where they failed."""
    if len(pieces) == len(design.pieces):
        return set()
    return {recipe.name for recipe in design.pieces} - pieces.keys()


def _sewn(
    design: Design,
    pieces: dict[str, Piece],
    joins: tuple[MeasuredJoin, ...],
    order: SewingOrder,
    findings: list[Finding],
) -> tuple[SewnPiece, ...]:
    rules = _rules(design.joins, design.finishes, design.standard_allowance)
    places: dict[str, list[NotchPlace]] = {name: [] for name in pieces}
    beside: dict[str, tuple[Chain, ...]] = dict.fromkeys(pieces, ())
    for join in joins:
        names = join.pieces
        asked = tuple(one for one in design.topstitching if one.piece in names)
        seam = _seam(join, tuple(pieces[name] for name in sorted(names)), rules, asked)
        for place in seam.places:
            if not sew.is_notched(place, places[place.piece]):
                places[place.piece].append(place)
        findings += seam.findings
        for name, row in seam.rows:
            beside[name] += (row,)
    made = []
    wearer = design.body.name if design.body is not None else ""
    for name, piece in pieces.items():
        asked = tuple(one for one in design.topstitching if one.piece == name)
        edges = _edge_names(piece.outline)
        facts = _facts(name, edges, rules, design.corners, order)
        rows = _rows(piece.outline, facts)
        if asked:
            rows += _told(findings, "topstitch", name, sew.asked_rows, piece, asked) or ()
        stitched = (*rows, *beside[name])
        made.append(_ready(piece, facts, tuple(places[name]), stitched, design.notch_shape, wearer))
    return tuple(made)


def _less(design: Design, sewn: SewnPiece, legs: dict[str, Leg]) -> SewnPiece:
    """The piece with the allowances its copies do without."""
    asked = tuple(one for one in design.shortages if one.piece == sewn.piece.name)
    return _shorted(sewn, asked, legs.get(sewn.piece.panel, "")) if asked else sewn


def _judged(
    design: Design,
    panels: tuple[Panel, ...],
    sewn: tuple[SewnPiece, ...],
    ledger: tuple[LedgerRow, ...],
    girths: tuple[GirthRow, ...],
) -> list[Finding]:
    found = [finding for row in ledger if (finding := check.judge_row(row)) is not None]
    stretch = min((cloth.stretch for cloth in design.cloths if cloth.name == "main"), default=0.0)
    found += check.judge_girths(girths, stretch)
    by_name = {panel.name: panel for panel in panels}
    if "front" in by_name and "back" in by_name:
        found += _run_on(by_name["front"], by_name["back"])
    rules = _rules(design.joins, design.finishes, design.standard_allowance)
    seams = tuple(line.name for line in design.lines if line.kind == "seam")
    for one in sewn:
        found += _piece_findings(one, rules, seams)
    found += _allowances(rules)
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


def _measured_of(join: Join, pieces: Iterable[Piece]) -> MeasuredJoin:
    return sew.measured(join, {piece.name: piece for piece in pieces})


def _seam_of(
    join: MeasuredJoin,
    pieces: Iterable[Piece],
    rules: AllowanceRules,
    asked: tuple[Topstitch, ...],
) -> _Seam:
    name = join.join.name
    caught = tuple(
        finish.at for finish in rules.finishes if finish.into == name and finish.at is not None
    )
    by_name = {piece.name: piece for piece in pieces}
    try:
        stitched = sew.row_ends(join, by_name, asked)
    except GeometryRefused:
        # Told where the rows themselves could not be made.
        stitched = ()
    places = sew.notch_places(join, by_name, (*caught, *stitched))
    lonely = sew.lonely_notches(join, by_name, places)
    rows = sew.partial_rows(join, rules.standard)
    return _Seam(tuple(places), check.judge_partners(name, lonely), rows)


def _piece_findings_of(
    sewn: SewnPiece, rules: AllowanceRules, seams: tuple[str, ...]
) -> tuple[Finding, ...]:
    name, edges = sewn.piece.name, _edge_names(sewn.piece.outline)
    return (
        *check.judge_darts(sewn.piece, seams),
        *_cut_line(name, sewn.cut_line, sewn.trouble),
        *check.judge_marks(sewn),
        *check.judge_edges(name, edges, rules),
    )


def _held_of(
    lines: tuple[StyleLine, ...], panels: tuple[Panel, ...], asked: tuple[Hold, ...]
) -> tuple[StyleLine, ...]:
    return cut.held(lines, {panel.name: panel for panel in panels}, asked)


def _ready_of(
    piece: Piece,
    facts: PieceRules,
    places: tuple[NotchPlace, ...],
    rows: tuple[Chain, ...],
    shape: NotchShape,
    wearer: str,
) -> SewnPiece:
    line = _line(piece.outline, facts)
    grain = _grain(piece.outline, piece.warp)
    second = _second(piece.outline, facts, line)
    return sew.sew_piece(piece, facts.widths, line, grain, places, rows, second, shape, wearer)


def _line_of(outline: Outline, facts: PieceRules) -> CutLine:
    return sew.cut_line(outline, facts.widths, facts.hems, facts.corners)


def _rows_of(outline: Outline, facts: PieceRules) -> tuple[Chain, ...]:
    return sew.rows_of(outline, facts.rows)


def _second_of(outline: Outline, facts: PieceRules, line: CutLine) -> tuple[Chain, ...]:
    return sew.second_lines(outline, facts.narrower, line[0])


def _edge_names_of(outline: Outline) -> tuple[str, ...]:
    return tuple(edge.name for edge in outline)


def _order_of(
    joins: tuple[Join, ...],
    finishes: tuple[Finish, ...],
    wished: tuple[str, ...],
    named: tuple[tuple[str, str, tuple[str, ...], tuple[str, ...], tuple[str, ...]], ...],
) -> SewingOrder:
    parts = {name: Parts(panel, edges, marks, darts) for name, panel, edges, marks, darts in named}
    return sew.sewing_order(joins, finishes, parts, wished)


_block = Remembered(_block_of, 4)
_altered = Remembered(altered_beside, 64)
_held = Remembered(_held_of, 32)
_drawn = Remembered(cut.draw_line, 64)
_kept = Remembered(cut.kept_side, 64)
_face = Remembered(partial(cut.cut_from_panel, keep=_kept), 64)
_split = Remembered(cut.with_splits, 64)
_shape = Remembered(cut.cut_shape, 32)
_strip = Remembered(cut.cut_strip, 32)
_band = Remembered(cut.cut_waistband, 8)
_measured = Remembered(_measured_of, 128)
_seam = Remembered(_seam_of, 128)
_rules = Remembered(sew.allowance_rules, 4)
_order = Remembered(_order_of, 8)
_edge_names = Remembered(_edge_names_of, 64)
_facts = Remembered(sew.piece_rules, 64)
_rows = Remembered(_rows_of, 64)
_second = Remembered(_second_of, 64)
_line = Remembered(_line_of, 64)
_shorted = Remembered(sew.shorted, 32)
_legs = Remembered(drawn_legs, 4)
_grain = Remembered(sew.grainline, 64)
_ready = Remembered(_ready_of, 64)
_ledger_row = Remembered(check.ledger_row, 128)
_girths = Remembered(check.girth_rows, 8)
_run_on = Remembered(check.judge_run_on, 8)
_cut_line = Remembered(check.judge_cut_line, 64)
_pocket = Remembered(check.pocket_of, 32)
_loop = Remembered(lambda name, hang: Pocket(name, "loop", hang), 32)
_use = Remembered(check.use_of, 64)
_pocket_rules = Remembered(partial(check.judge_pockets, use=_use), 8)
_piece_findings = Remembered(_piece_findings_of, 64)
_allowances = Remembered(check.judge_allowances, 4)

_STAGES: tuple[Remembered[object], ...] = tuple(
    stage for stage in list(globals().values()) if isinstance(stage, Remembered)
)

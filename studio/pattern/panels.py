"""The first stage: block, alterations, style lines drawn on the panels."""

from __future__ import annotations

from studio import cut
from studio.alter import altered_beside, kind_of
from studio.block import Block, Panel, draft
from studio.block.imported import block_of_drawing
from studio.check import Finding
from studio.cut import DrawnLine
from studio.design import Alteration, Body, Design, ImportedBlock
from studio.design import block as designed
from studio.errors import BodyRefused
from studio.memo import remembered
from studio.pattern.held_lines import held_lines
from studio.pattern.model import HeldGroup, Pattern, StepMade
from studio.pattern.told import MANY, grave, told


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
                grave("alteration", step.panel, f"There is no panel {step.panel} to alter.")
            )
            made.append(StepMade(step, None, None))
            continue
        after: Panel | None = before
        if step.active:
            others = tuple(panels[name] for name in kind_of(step).reads(step) if name in panels)
            title = step.name or kind_of(step).title
            after = told(
                findings, "alteration", step.panel, _step, before, step, others, what=title
            )
        panels[step.panel] = after or before
        made.append(StepMade(step, before, after))
    return tuple(panels.values()), tuple(made), tuple(findings)


def drawn_lines(
    design: Design, panels: tuple[Panel, ...], findings: list[Finding], base: Pattern | None
) -> tuple[tuple[DrawnLine, ...], dict[str, HeldGroup]]:
    """The style lines as they lie on the panels, those unchanged since `base` its own; and what was
    found of those that something holds.
    """
    by_name = {panel.name: panel for panel in panels}
    known: dict[int, DrawnLine] = {}
    if base is not None and panels is base.panels and not design.holds and not base.design.holds:
        drawn_before = {drawn.name: drawn for drawn in base.lines}
        known = {
            id(line): drawn_before[line.name]
            for line in base.design.lines
            if line.name in drawn_before
        }
    drawn = []
    lines, groups = held_lines(design, panels, findings, base)
    for line in lines:
        made = known.get(id(line))
        panel = by_name.get(line.panel)
        if made is None and panel is not None:
            made = told(findings, "line", line.name, _drawn, line, panel)
        if panel is None:
            findings.append(grave("line", line.name, f"There is no panel {line.panel}."))
        elif made is not None:
            drawn.append(made)
    return tuple(drawn), groups


block_of = remembered(_block_of, 4)
"""The block of a body (or None) and a design's block; raises BodyRefused, GeometryRefused."""

altered = remembered(_altered_of, 8)
"""As `_altered_of`."""

_step = remembered(altered_beside, 64)
_drawn = remembered(cut.draw_line, MANY)

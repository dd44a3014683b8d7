"""Style lines with what holds on them met, group by group."""

from __future__ import annotations

from studio import cut
from studio.block import Panel
from studio.check import Finding
from studio.constrain import Sketch
from studio.design import Design, StyleLine
from studio.design.holds import Hold, lines_in
from studio.memo import remembered
from studio.pattern.model import HeldGroup, Pattern
from studio.pattern.told import grave, told


def held_lines(
    design: Design,
    panels: tuple[Panel, ...],
    findings: list[Finding],
    base: Pattern | None,
) -> tuple[tuple[StyleLine, ...], dict[str, HeldGroup]]:
    """The lines with what holds on them met, and what was found, by the first line of each group;
    lines whose holds clash stay as they were drawn. Under the hand, with the pattern before as
    `base`, no longer is sought than a frame has time for.
    """
    if not design.holds:
        return design.lines, {}
    by_name = {line.name: line for line in design.lines}
    groups: dict[str, HeldGroup] = {}
    for names in cut.linked(design.lines, design.holds):
        group = tuple(by_name[name] for name in names)
        asked = tuple(
            hold for hold in design.holds if hold.active and set(names) & set(lines_in(hold))
        )
        before = base.work.held.get(names[0]) if base is not None else None
        found = told(
            findings, "hold", names[0], _found, group, panels, asked, base is not None, before
        )
        if found is None:
            continue
        groups[names[0]] = HeldGroup(group, panels, asked, found)
        if found.lines is None:
            findings.append(grave("hold", names[0], found.why_not))
        by_name |= {line.name: line for line in found.lines or ()}
    return tuple(by_name.values()), groups


def _found(
    lines: tuple[StyleLine, ...],
    panels: tuple[Panel, ...],
    asked: tuple[Hold, ...],
    hasty: bool,
    before: HeldGroup | None,
) -> cut.LinesHeld:
    """In haste, lines are sought from where they were in the frame before; what is found in haste
    and cannot be bettered serves in full.
    """
    if hasty and before is not None:
        if before.is_of(lines, panels, asked):
            return before.found
        if before.found.near is not None:
            return _held_of(lines, panels, asked, True, before.found.near)
    found = _held(lines, panels, asked, True)
    return found if hasty or found.is_whole else _held(lines, panels, asked, False)


def _held_of(
    lines: tuple[StyleLine, ...],
    panels: tuple[Panel, ...],
    asked: tuple[Hold, ...],
    hasty: bool,
    near: Sketch | None = None,
) -> cut.LinesHeld:
    return cut.lines_held(lines, {panel.name: panel for panel in panels}, asked, hasty, near)


_held = remembered(_held_of, 32)
"""Why lines cannot be held is remembered too, or every frame of a drag elsewhere would find it
again.
"""

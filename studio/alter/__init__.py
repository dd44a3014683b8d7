"""Alterations: flat-pattern work on panels, one module a kind."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from studio.alter.lower_waist import lower_waist
from studio.alter.swing_rise import swing_rise
from studio.block.panel import Panel
from studio.design.alterations import Alteration, LowerWaist, SwingRise

KINDS: dict[type[Alteration], Callable[[Panel, Any], Panel]] = {
    LowerWaist: lower_waist,
    SwingRise: swing_rise,
}
"""Every kind of alteration and the function that does it."""


def altered(panel: Panel, steps: tuple[Alteration, ...]) -> Panel:
    """The panel after the active steps that name it, in order; raises GeometryRefused."""
    for step in steps:
        if step.active and step.panel == panel.name:
            panel = KINDS[type(step)](panel, step)
    return panel

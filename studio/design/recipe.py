"""The steps of a design, added, changed, taken away and moved; each gives a new design."""

from __future__ import annotations

from msgspec.structs import replace

from studio.design.alterations import Alteration
from studio.design.design import Design


def step_added(design: Design, step: Alteration, at: int | None = None) -> Design:
    """The design with a step put in before the one at `at`; left out, as the last."""
    steps = list(design.alterations)
    steps.insert(len(steps) if at is None else at, step)
    return replace(design, alterations=tuple(steps))


def step_changed(design: Design, at: int, step: Alteration) -> Design:
    """The design with the step at `at` replaced; raises IndexError."""
    steps = list(design.alterations)
    steps[at] = step
    return replace(design, alterations=tuple(steps))


def step_removed(design: Design, at: int) -> Design:
    """The design without the step at `at`; raises IndexError."""
    steps = list(design.alterations)
    del steps[at]
    return replace(design, alterations=tuple(steps))


def step_moved(design: Design, at: int, by: int) -> Design:
    """The design with a step moved `by` places, earlier when negative, as far as there are any."""
    steps = list(design.alterations)
    step = steps.pop(at)
    steps.insert(min(len(steps), max(0, at + by)), step)
    return replace(design, alterations=tuple(steps))

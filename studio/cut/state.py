"""What the holds on a line leave free, in a sentence for the maker."""

from __future__ import annotations

from collections.abc import Sequence

from studio.block.panel import Panel
from studio.constrain import Diagnosis, diagnosis
from studio.cut.held import bound, linked
from studio.design.design import Design
from studio.design.holds import lines_in
from studio.errors import YokewrightError


def diagnosis_of(design: Design, panels: Sequence[Panel], line: str) -> Diagnosis | None:
    """The diagnosis of the group of lines a line is tied to; None when nothing holds on it.

    Raises:
        GeometryRefused: a line of the group cannot be drawn, or a hold names what is not there.
    """
    for names in linked(design.lines, design.holds):
        if line in names:
            group = [known for known in design.lines if known.name in names]
            asked = [hold for hold in design.holds if set(names) & set(lines_in(hold))]
            tied = bound(group, {panel.name: panel for panel in panels}, asked)
            return diagnosis(tied.sketch)
    return None


def state_of_holds(design: Design, panels: Sequence[Panel], line: str) -> str:
    """What clashes, what is redundant, how much is free; empty when nothing holds on the line."""
    try:
        found = diagnosis_of(design, panels, line)
    except YokewrightError as problem:
        return str(problem)
    if found is None:
        return ""
    said = [
        f"{clash.newest} clashes with {_listed(clash.others)}: switch one off, or change a number."
        for clash in found.conflicts
    ]
    said += [
        f"{clash.newest} follows from {_listed(clash.others)} and adds nothing."
        for clash in found.redundant
    ]
    if not found.conflicts:
        said.append(
            "Nothing is free to move."
            if found.freedom == 0
            else f"{found.freedom} ways to move are left."
            if found.freedom > 1
            else "One way to move is left."
        )
    return " ".join(said)


def _listed(names: Sequence[str]) -> str:
    return " and ".join(names) if names else "what is held already"

"""What the holds on a line leave free, in a sentence for the maker."""

from __future__ import annotations

from collections.abc import Sequence

from studio import numbers
from studio.block.panel import Panel
from studio.constrain import Sketch, Solution, diagnosis, reach, solved
from studio.cut.bound import bound
from studio.cut.held import cannot_all_hold, tied_to
from studio.design.design import Design
from studio.design.holds import Hold, lines_in, title_of, value_field
from studio.errors import Told, YokewrightError

ALL_HOLD = "All of it holds."
"""Said of holds that are met."""

_SLACK = 0.01
"""Share of the last digit told within which a place on the way counts as the next."""


def state_of_holds(design: Design, panels: Sequence[Panel], line: str) -> str:
    """What clashes, what is redundant, how much is free; empty when nothing holds on the line.

    Takes tenths of a second where the holds clash; reads only what never changes, so that it may
    be asked on another thread.
    """
    try:
        sketch, asked = _asked(design, panels, line)
        if not asked:
            return ""
        found, whole = diagnosis(sketch), solved(sketch)
    except YokewrightError as problem:
        return problem.sentence
    said: list[str] = [
        f"{clash.newest} clashes with {_listed(clash.others)}: switch one off, or change a number."
        for clash in found.conflicts
    ]
    said += [
        f"{clash.newest} follows from {_listed(clash.others)} and adds nothing."
        for clash in found.redundant
    ]
    how_far = _how_far(sketch, asked, whole)
    if not whole.met and not found.conflicts and not how_far:
        # No number alone stands in the way: all are told that do.
        said.insert(0, cannot_all_hold(whole.unmet))
    said += how_far
    if whole.met and not found.conflicts:
        said = [ALL_HOLD, *said, _what_is_left(found.freedom)]
    return Told.joined(said)


def reachable(
    design: Design, panels: Sequence[Panel], line: str
) -> tuple[tuple[Hold, float, tuple[str, ...]], ...]:
    """Where the holds tied to a line cannot all be met: each that has a number, how far towards
    it that number can go while all others hold, and what stands against more; else nothing.

    Raises:
        GeometryRefused: a line of the group cannot be drawn, or a hold names what is not there.
    """
    sketch, asked = _asked(design, panels, line)
    return _reachable(sketch, asked, solved(sketch)) if asked else ()


def _asked(
    design: Design, panels: Sequence[Panel], line: str
) -> tuple[Sketch, tuple[tuple[str, Hold], ...]]:
    """The sketch of the lines tied to a line, and its holds by their names in the sketch."""
    group = tied_to(design.lines, design.holds, line)
    lines = [known for known in design.lines if known.name in group]
    asked = [hold for hold in design.holds if hold.active and set(group) & set(lines_in(hold))]
    sketch = bound(lines, {panel.name: panel for panel in panels}, asked).sketch
    # The holds were bound in order, after what keeps the ends of the lines.
    names = [known.name for known in sketch.constraints[len(sketch.constraints) - len(asked) :]]
    return sketch, tuple(zip(names, asked, strict=True))


def _reachable(
    sketch: Sketch, asked: Sequence[tuple[str, Hold]], whole: Solution
) -> tuple[tuple[Hold, float, tuple[str, ...]], ...]:
    if whole.met:
        return ()
    found = []
    for name, hold in asked:
        field = value_field(hold)
        if field is None:
            continue
        got = reach(sketch, name, getattr(hold, field), whole)
        if got.met:
            found.append((hold, got.value, got.against))
    return tuple(found)


def _how_far(sketch: Sketch, asked: Sequence[tuple[str, Hold]], whole: Solution) -> list[Told]:
    return [_far_words(hold, value) for hold, value, _ in _reachable(sketch, asked, whole)]


def _far_words(hold: Hold, value: float) -> Told:
    """How far a hold can go: as the last number, in the digits that are told, which is still on the
    way, so that it can be typed.
    """
    field = value_field(hold)
    assert field is not None
    last = 1e-3 if field == "share" else 0.1
    # What is told of a way is not quite exact: a number that lies that near to it is meant.
    bound = (
        numbers.AtLeast(value - _SLACK * last)
        if value > getattr(hold, field)
        else numbers.AtMost(value + _SLACK * last)
    )
    if field == "degrees":
        told = numbers.angle(bound)
    else:
        told = numbers.percent(bound, 1) if field == "share" else numbers.length(bound)
    return Told(f"{title_of(hold)} can go as far as {told} while the others hold.", (bound,))


def _what_is_left(freedom: int) -> str:
    if freedom == 0:
        return "Nothing is free to move."
    return f"{freedom} ways to move are left." if freedom > 1 else "One way to move is left."


def _listed(names: Sequence[str]) -> str:
    return " and ".join(names) if names else "what is held already"

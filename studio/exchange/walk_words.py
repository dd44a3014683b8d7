"""What a walked seam shows, in sentences."""

from __future__ import annotations

from functools import partial

from studio import numbers
from studio.errors import BadInput
from studio.numbers import LengthUnit
from studio.pattern import Pattern
from studio.sew.walk import Met, Walk

_NOTHING_MM = 0.05
"""Half of the last digit told: less is nothing."""


def walk_of(pattern: Pattern, name: str) -> Walk:
    """The walk of a join of a pattern.

    Raises:
        BadInput: there is no such join, or one of its sides could not be made.
    """
    for join in pattern.measured:
        if join.join.name == name:
            return Walk(join, pattern.pieces_by_name())
    known = ", ".join(join.name for join in pattern.design.joins)
    if any(join.name == name for join in pattern.design.joins):
        raise BadInput(f"{name} cannot be walked: one of its sides could not be made.", where=name)
    raise BadInput(f"there is no join {name!r}; there are: {known}.", where=name)


def walk_words(walk: Walk, unit: LengthUnit = "mm", *, brief: bool = False) -> tuple[str, ...]:
    """What a walk found: both lengths first, then ease, gap, notches and corners. `brief` tells of
    notches that meet by their number only.
    """
    say = partial(numbers.length, unit=unit, decimals=numbers.DECIMALS[unit])
    join = walk.join
    said = [
        f"{join.name}: {say(walk.length_a)} along the first side, {say(walk.length_b)} along the "
        "second."
    ]
    if join.ease:
        where = "spread evenly"
        if join.eased is not None:
            where = f"between {say(join.eased[0])} and {say(join.eased[1])} of the first side"
        said.append(
            f"{say(join.ease)} of the second side are eased in, {where}."
            if join.ease > 0.0
            else f"The second side is {say(-join.ease)} shorter: it is stretched to fit, {where}."
        )
    said.append(
        "Nothing is left over at the end."
        if abs(walk.gap) < _NOTHING_MM
        else f"{say(abs(walk.gap))} of the {'second' if walk.gap > 0 else 'first'} side are left "
        "over at the end."
    )
    meeting = [met.gap is not None and abs(met.gap) < _NOTHING_MM for met in walk.met]
    if brief and any(meeting):
        count = sum(meeting)
        said.append("One notch meets." if count == 1 else f"{count} notches meet.")
    said += [
        f"Notch {number} at {say(met.along_a)}: {met_words(met, unit)}."
        for number, met in enumerate(walk.met, start=1)
        if not (brief and meeting[number - 1])
    ]
    for words, corner in zip(("start", "end"), walk.corners, strict=True):
        if None not in corner:
            total = sum(angle for angle in corner if angle is not None)
            said.append(f"The corners at the {words} add up to {numbers.angle(total)}.")
    return tuple(said)


def met_words(met: Met, unit: LengthUnit = "mm") -> str:
    """What a notch meets."""
    if met.gap is None:
        return "nothing on the other side is near it"
    if abs(met.gap) < _NOTHING_MM:
        return "it meets its partner"
    apart = numbers.length(abs(met.gap), unit, numbers.DECIMALS[unit])
    return f"its partner is {apart} {'ahead' if met.gap > 0 else 'behind'}"

"""What is wrong with where a piece lies, in a sentence for each piece that it concerns."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from studio import numbers
from studio.cloth.by_hand import Table
from studio.cloth.referee import Fault, faults
from studio.design.cloth import Placement
from studio.numbers import LengthUnit

Key = tuple[str, int]


def troubles_of(
    table: Table, name: Callable[[Key], str], unit: LengthUnit = "mm"
) -> dict[Key, str]:
    """For each piece that may not be cut as it lies, why, in one or more sentences. `name` is how
    a copy is called.
    """
    found = faults(table.items.values(), table.beds.values(), table.laid, table.lay.gap)
    told: dict[Key, list[str]] = {}
    for fault in found:
        for placement in fault.placements:
            key = placement.piece, placement.copy
            words = _words(fault, placement, name, table.lay.gap, unit)
            if words not in told.setdefault(key, []):
                told[key].append(words)
    return {key: " ".join(words) for key, words in told.items()}


def counted(keys: Iterable[Key], name: Callable[[Key], str]) -> str:
    """Names of copies in a row, in their order: "yoke, left; bearer, right"."""
    return "; ".join(name(key) for key in keys)


def _words(
    fault: Fault, placement: Placement, name: Callable[[Key], str], gap: float, unit: LengthUnit
) -> str:
    by = numbers.length(fault.by, unit, numbers.DECIMALS[unit])
    if fault.kind == "too near":
        other = next((one for one in fault.placements if one != placement), placement)
        called = name((other.piece, other.copy))
        if fault.by > gap:
            return f"Lies over {called}."
        return f"Lies {by} too near to {called}."
    return {
        "unknown": "This piece or its cloth is no longer there.",
        "stock": f"It may not be cut from {placement.stock}.",
        "twice": "It is laid twice.",
        "turn": f"It is turned {numbers.angle(fault.by)} further than it may be.",
        "face": "It lies with the wrong side up.",
        "outside": f"It reaches {by} beyond usable cloth.",
    }[fault.kind]

"""What is wrong with where a piece lies, in a sentence for each piece that it concerns."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from studio import numbers
from studio.cloth.referee import Fault, faults
from studio.cloth.table import Table
from studio.numbers import LengthUnit

Key = tuple[str, int]


def faults_by_piece(table: Table) -> dict[Key, list[Fault]]:
    """The faults of a lay under each copy that is in them."""
    found: dict[Key, list[Fault]] = {}
    for fault in faults(table.items.values(), table.beds.values(), table.laid, table.lay.gap):
        for placement in fault.placements:
            found.setdefault((placement.piece, placement.copy), []).append(fault)
    return found


def troubles_of(
    table: Table, name: Callable[[Key], str], unit: LengthUnit = "mm"
) -> dict[Key, str]:
    """For each piece that may not be cut as it lies, why, in one or more sentences. `name` is how
    a copy is called.
    """
    return {
        key: trouble_words(key, found, name, table.lay.gap, unit)
        for key, found in faults_by_piece(table).items()
    }


def trouble_words(
    key: Key,
    found: Iterable[Fault],
    name: Callable[[Key], str],
    gap: float,
    unit: LengthUnit = "mm",
) -> str:
    """What is wrong with one copy, a sentence a fault."""
    told = dict.fromkeys(_words(fault, key, name, gap, unit) for fault in found)
    return " ".join(told)


def counted(keys: Iterable[Key], name: Callable[[Key], str]) -> str:
    """Names of copies in a row, in their order: "yoke, left; bearer, right"."""
    return "; ".join(name(key) for key in keys)


def _words(fault: Fault, key: Key, name: Callable[[Key], str], gap: float, unit: LengthUnit) -> str:
    by = _some(lambda mm: numbers.length(mm, unit, numbers.DECIMALS[unit]), fault.by, unit)
    if fault.kind == "too near":
        keys = [(one.piece, one.copy) for one in fault.placements]
        called = name(next((one for one in keys if one != key), key))
        if fault.by > gap:
            return f"Lies over {called}."
        return f"Lies {by} too near to {called}."
    return {
        "unknown": "This piece or its cloth is no longer there.",
        "stock": f"It may not be cut from {fault.placements[0].stock}.",
        "twice": "It is laid twice.",
        "turn": f"It is turned {_some(numbers.angle, fault.by)} further than it may be.",
        "face": "It lies with the wrong side up.",
        "outside": f"It reaches {by} beyond usable cloth.",
    }[fault.kind]


def _some(say: Callable[[float], str], amount: float, unit: LengthUnit = "mm") -> str:
    """An amount that is more than nothing, and is told so where its digits show none."""
    told = say(amount)
    if told.removeprefix(numbers.ABOUT) != say(0.0):
        return told
    return f"less than {say(numbers.least(unit))}"

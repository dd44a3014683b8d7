"""What there is to say of a lay: a verdict in one sentence, each cloth, each piece wanting."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

import msgspec
from msgspec.structs import replace

from studio import numbers
from studio.canvas.lay_scene import Key
from studio.cloth.fault_words import counted, faults_by_piece, trouble_words
from studio.cloth.items import Item
from studio.cloth.referee import Fault
from studio.cloth.table import Table, shares_used
from studio.cloth.verdict import verdict
from studio.design.cloth import Lay
from studio.numbers import LengthUnit
from studio.pattern import Pattern
from studio.window.lay_advice import Advice, Deal, short_as_taken
from studio.window.lay_panes import StockRow

_NAMED = 4
"""So many pieces are named in a verdict; more are counted."""


class Report(msgspec.Struct, frozen=True):
    """A lay judged: what is wrong with which piece, what pieces do without, and the verdict."""

    troubles: Mapping[Key, str]
    short: Mapping[Key, str]
    waiting: tuple[Key, ...]
    verdict: str
    good: bool


class Wanting(msgspec.Struct, frozen=True):
    """A piece that is wanting, or several that only wait, with what can be done."""

    name: str
    sentences: tuple[str, ...]
    deals: tuple[Deal, ...] = ()
    key: Key | None = None


def report_of(
    pattern: Pattern, table: Table, name: Callable[[Key], str], unit: LengthUnit
) -> Report:
    """The report on a lay; `name` is how a copy is called."""
    found = faults_by_piece(table)
    short = _short(pattern, table, found)
    troubles = {
        key: trouble_words(key, why, name, table.lay.gap, unit)
        for key, why in found.items()
        if key not in short
    }
    waiting = tuple((item.piece, item.copy) for item in table.not_laid)
    good = not troubles and not waiting and bool(table.laid)
    return Report(troubles, short, waiting, verdict_of(table, troubles, short, name), good)


class Followed(msgspec.Struct, frozen=True):
    """What becomes of a lay whose pieces have changed: the lay as it would be, the report on it,
    and a sentence; whether it may be cut so.
    """

    lay: Lay
    report: Report
    sentence: str
    holds: bool


def followed(
    pattern: Pattern,
    table: Table,
    names: Mapping[Key, str],
    unit: LengthUnit,
    before: Sequence[Item],
) -> Followed | None:
    """What becomes of a lay that was made for the items `before`: pure, for work beside the window;
    half a second at the most. None where nothing is laid.
    """

    def name(key: Key) -> str:
        return names.get(key, key[0])

    laid = table.laid
    keys = {(one.piece, one.copy) for one in laid}
    items = [item for key, item in table.items.items() if key in keys]
    if not laid:
        return None
    beds = list(table.beds.values())
    found = verdict(pattern.pieces, items, beds, laid, table.lay.gap, before=before, name=name)
    if found is None:
        return None
    lay = replace(table.lay, placements=found.placements)
    report = report_of(pattern, table.with_lay(lay), name, unit)
    return Followed(lay, report, found.sentence, found.kind in ("holds", "moved"))


def stock_rows(table: Table) -> list[StockRow]:
    """Every cloth with how much of it is used."""
    shares = shares_used(table)
    return [
        StockRow(bed.name, f"{bed.cloth}, {numbers.percent(shares[bed.name])}", shares[bed.name])
        for bed in table.beds.values()
    ]


def used_of_cut(table: Table) -> float:
    """The share of the usable area of all stock that is cut into which lies under pieces."""
    shares = shares_used(table)
    areas = {name: bed.usable.area for name, bed in table.beds.items() if shares[name]}
    whole = sum(areas.values())
    return sum(shares[name] * area for name, area in areas.items()) / whole if whole else 0.0


def wanting(
    report: Report, table: Table, name: Callable[[Key], str], advice: Mapping[Key, Advice]
) -> list[Wanting]:
    """Each piece in trouble and each that is known to have no place; those that only wait are
    counted. `advice` is what has been worked out so far. Under the hand a report is older than the
    table: of pieces that are gone by now nothing is told.
    """
    found = []
    for key, why in report.troubles.items():
        if key not in table.items:
            continue
        known = advice.get(key)
        if known is None:
            found.append(Wanting(name(key), (why,), (), key))
        else:
            said = why, *known.sentences
            found.append(Wanting(name(key), said, known.deals, key))
    waiting = 0
    # That the stash is empty the verdict tells, once for all pieces.
    for key in report.waiting if table.beds else ():
        if key not in table.items:
            continue
        known = advice.get(key)
        if known is not None:
            found.append(Wanting(name(key), known.sentences, known.deals, key))
        elif not table.items[key].ways:
            found.append(Wanting(name(key), ("None of its cloth lies in the stash.",), (), key))
        else:
            waiting += 1
    if waiting:
        told = "Let a lay be found, or drag them onto the cloth."
        found.append(Wanting(f"{pieces_words(waiting)} in the tray", (told,)))
    return found


def progress_of(table: Table) -> str:
    """How many pieces lie, and how much of the cloth that is cut into they take."""
    laid, waiting = len(table.laid), len(table.not_laid)
    used = used_of_cut(table)
    return f"{laid} of {laid + waiting} pieces laid, {numbers.percent(used)} of the cloth used"


def verdict_of(
    table: Table, troubles: Mapping[Key, str], short: Mapping[Key, str], name: Callable[[Key], str]
) -> str:
    """How a lay stands, in one sentence."""
    if not table.beds:
        return "The stash is empty: Cloth, Add to the stash puts rolls and panels there."
    waiting, laid = table.not_laid, len(table.laid)
    if troubles:
        return f"{pieces_words(len(troubles))} cannot be cut as laid: {_named(troubles, name)}."
    if not waiting:
        less = f", {len(short)} with less allowance" if short else ""
        return f"All {laid} pieces lie on the cloth{less}."
    if laid and len(waiting) <= _NAMED:
        keys = {(item.piece, item.copy): "" for item in waiting}
        do = "does" if len(waiting) == 1 else "do"
        return f"{pieces_words(len(waiting))} {do} not lie yet: {_named(keys, name)}."
    return f"{laid} of {laid + len(waiting)} pieces lie on the cloth."


def pieces_words(count: int) -> str:
    """So many pieces, in words."""
    return "1 piece" if count == 1 else f"{count} pieces"


def _short(pattern: Pattern, table: Table, faults: Mapping[Key, Sequence[Fault]]) -> dict[Key, str]:
    """Pieces that lie with less allowance, beyond their cloth by no more than the maker does
    without.
    """
    copies = {(one.piece, one.copy) for one in pattern.design.shortages}
    found = {}
    for one in table.laid:
        key = one.piece, one.copy
        why = faults.get(key, ())
        if key not in copies or any(fault.kind != "outside" for fault in why):
            continue
        if not why or short_as_taken(pattern, table, one):
            found[key] = "It lies here with less allowance, as taken."
    return found


def _named(keys: Mapping[Key, str], name: Callable[[Key], str]) -> str:
    some = list(keys)[:_NAMED]
    rest = len(keys) - len(some)
    return counted(some, name) + (f"; and {rest} more" if rest else "")

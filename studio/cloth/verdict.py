"""The verdict while a line is dragged: does the lay still hold, and if not, how much is short.

Pure and quick enough to follow a drag from a thread of its own: what still lies right is left, a
changed piece is looked for elsewhere, and what is short is told. A search has the last word.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from time import monotonic
from typing import Literal

import msgspec
from msgspec.structs import replace

from studio import numbers
from studio.cloth.bed import Bed
from studio.cloth.items import Item
from studio.cloth.missing import Lying, missing_words
from studio.cloth.referee import Fault, faults
from studio.cloth.shortfall import cleared, least_loss
from studio.cloth.stance import lying
from studio.curves import Point
from studio.design.cloth import Placement
from studio.errors import Told
from studio.sew import SewnPiece

Key = tuple[str, int]
"""A piece and its copy."""

SECONDS = 0.45
"""So long a verdict looks for other places; then it tells what it knows."""

_CLEAR_MM = 0.05
"""A piece found elsewhere that lacks no more fits: what a station tells, half a digit."""


class Verdict(msgspec.Struct, frozen=True):
    """What becomes of a lay: it "holds"; "moved" when it does with some pieces elsewhere; "short"
    when a piece lacks cloth wherever it is laid beside the others; "area" when there is less cloth
    than pieces; "unsure" when time ran out first. `placements` is the lay as it would be,
    `lacking` what is short of each piece, `over` the area that is short, mm2.
    """

    kind: Literal["holds", "moved", "short", "area", "unsure"]
    sentence: str
    placements: tuple[Placement, ...]
    lacking: tuple[Lying, ...] = ()
    over: float = 0.0


def verdict(
    pieces: Sequence[SewnPiece],
    items: Sequence[Item],
    beds: Sequence[Bed],
    placements: Sequence[Placement],
    gap: float,
    *,
    before: Sequence[Item] = (),
    name: Callable[[Key], str] | None = None,
    stop: Callable[[], bool] = bool,
    seconds: float = SECONDS,
) -> Verdict | None:
    """The verdict on a lay with changed pieces: `items` are those of the changed `pieces`, `before`
    those the placements were made for (so that a piece that grows at one end stays where it lay).
    `name` says what a copy is called. None when `stop` says so on the way, which is asked at least
    every tenth of a second or so.

    What holds or has moved passes the referee; what is short is as exact as `missing_at` at the
    best place found.
    """
    ends = monotonic() + seconds
    called = name or (lambda key: key[0])
    over = area_short(items, beds)
    if over > 0.0:
        area = numbers.cloth_area(over)
        words = f"By area alone it cannot fit: {area} of cloth are short."
        return Verdict("area", Told(words, (over,)), tuple(placements), (), over)
    kept = _followed(placements, before, items, beds)
    wrong = faults(items, beds, kept, gap)
    if not wrong:
        return Verdict("holds", "The lay still holds.", kept)
    if stop():
        return None
    lost = _to_move(wrong, _changed(before, items))
    lie = tuple(one for one in kept if (one.piece, one.copy) not in lost)
    by_piece = {sewn.piece.name: sewn for sewn in pieces}
    moved: list[str] = []
    lacking: list[Lying] = []
    for item in sorted(items, key=lambda one: -one.area):
        key = (item.piece, item.copy)
        if key not in lost or item.piece not in by_piece:
            continue
        if stop():
            return None
        if monotonic() > ends:
            said = f"{called(key)} must lie elsewhere: the search will tell where."
            return Verdict("unsure", said, lie, tuple(lacking))
        found = least_loss(item, by_piece[item.piece], cleared(beds, items, lie, gap))
        if found is not None and _is_clear(found):
            lie = (*lie, found.placement)
            moved.append(called(key))
        elif found is not None:
            lacking.append(found)
    return _told(lie, moved, lacking, by_piece, called)


def _told(
    lie: tuple[Placement, ...],
    moved: Sequence[str],
    lacking: Sequence[Lying],
    pieces: Mapping[str, SewnPiece],
    called: Callable[[Key], str],
) -> Verdict:
    if lacking:
        return Verdict("short", _short_words(lacking, pieces, called), lie, tuple(lacking))
    if moved:
        said = f"It still fits, with {' and '.join(moved)} laid elsewhere."
        return Verdict("moved", said, lie)
    return Verdict("unsure", "Some pieces may not lie where they do.", lie)


def area_short(items: Iterable[Item], beds: Iterable[Bed]) -> float:
    """By how much the cut outlines exceed the usable cloth they may be cut from, mm2, at the least:
    0 when they may fit. Pieces that share stock are held against all of it; exact areas.
    """
    usable = {bed.name: bed.usable.area for bed in beds}
    needs = [
        (frozenset(way.stock for way in item.ways if way.stock in usable), item.area)
        for item in items
        if item.ways
    ]
    worst = 0.0
    for stocks in {stocks for stocks, _ in needs}:
        needed = sum(area for on, area in needs if on <= stocks)
        worst = max(worst, needed - sum(usable[one] for one in stocks))
    return worst


def _is_clear(found: Lying) -> bool:
    return all(one.depth <= _CLEAR_MM for one in found.missing)


def _changed(before: Iterable[Item], items: Iterable[Item]) -> set[Key]:
    """The copies whose cut line is another than before; all when nothing is known of before."""
    known = {(item.piece, item.copy): item for item in before}
    found = set()
    for item in items:
        old = known.get((item.piece, item.copy))
        if old is None or _lines(old) != _lines(item):
            found.add((item.piece, item.copy))
    return found


def _lines(item: Item) -> list[object]:
    return [way.stance.cut for way in item.ways]


def _to_move(wrong: Iterable[Fault], changed: set[Key]) -> set[Key]:
    """The pieces that must lie elsewhere: of two too near to each other the changed one, never one
    that the maker locked.
    """
    found: set[Key] = set()
    for fault in wrong:
        keys = [(one.piece, one.copy) for one in fault.placements if not one.locked]
        if any(key in found for key in keys):
            continue
        found |= set([key for key in keys if key in changed][:1] or keys[:1])
    return found


def _followed(
    placements: Iterable[Placement],
    before: Iterable[Item],
    items: Iterable[Item],
    beds: Iterable[Bed],
) -> tuple[Placement, ...]:
    """Placements of changed pieces so that what did not change of them stays where it lay: a
    placement tells the middle of a piece's box, which moves when the piece grows at one end.
    Placements of pieces that are gone are left out.
    """
    old_by_key = {(item.piece, item.copy): item for item in before}
    new_by_key = {(item.piece, item.copy): item for item in items}
    warps = {bed.name: bed.warp for bed in beds}
    origin = Point(0.0, 0.0)
    found = []
    for placement in placements:
        key = (placement.piece, placement.copy)
        if key not in new_by_key:
            continue
        old = old_by_key.get(key)
        was = old.way(placement) if old is not None else None
        way = new_by_key[key].way(placement)
        if was is not None and way is not None and was.stance.move != way.stance.move:
            there = lying(way.stance, placement, warps.get(placement.stock, 90.0))
            step = there.vector(was.stance.move(origin) - way.stance.move(origin))
            at = (placement.at[0] + step.x, placement.at[1] + step.y)
            found.append(replace(placement, at=at))
        else:
            found.append(placement)
    return tuple(found)


def _short_words(
    lacking: Sequence[Lying], pieces: Mapping[str, SewnPiece], called: Callable[[Key], str]
) -> str:
    """The worst of what is short of each piece, in a sentence a piece."""
    said: list[str] = []
    for one in lacking:
        outline = pieces[one.placement.piece].piece.outline
        name = called((one.placement.piece, one.placement.copy))
        if one.crosses:
            area = numbers.cloth_area(one.inside)
            words = f"{name} does not fit: {area} inside its sewing line are short."
            said.append(Told(words, (one.inside,)))
        else:
            worst = max(one.missing, key=lambda missing: missing.depth)
            at = missing_words(worst, outline)
            said.append(Told(f"{name} is short at {at}.", at.exact))
    return Told.joined(said)

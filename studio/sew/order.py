"""In which order the seams are sewn, as near to what the maker wishes as can be.

Each join, each finished edge, the darts of each piece and the rows asked for on it are a step.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from studio.design.joins import Finish, Join
from studio.design.step_names import darts_name, rows_name, through_name
from studio.design.topstitch import Topstitch
from studio.memo import Made
from studio.sew.closing import flat_first
from studio.sew.reasons import reasons_of
from studio.sew.row_steps import row_steps
from studio.sew.steps import Before, Parts, worked

_BESIDE = 0.25
"""Rows rank so near the join they belong to that nothing else comes between, if it need not."""


class SewingOrder(Made, frozen=True):
    """Steps in order, the reasons for it, and which of the maker's wishes it could not follow."""

    steps: tuple[str, ...]
    reasons: tuple[Before, ...]
    against: tuple[Before, ...] = ()


def sewing_order(
    joins: Sequence[Join],
    finishes: Sequence[Finish],
    pieces: Mapping[str, Parts],
    wished: Sequence[str] = (),
    rows: Sequence[Topstitch] = (),
) -> SewingOrder:
    """An order in which all can be sewn, as near to `wished` (else the design's) as that allows;
    `rows` are those the maker asks for.

    Wishes that go against a reason are told in `against`. Rows of which none is told stand beside
    the join they belong to, wherever that is wished for.
    """
    names = [darts_name(name) for name, parts in pieces.items() if parts.darts]
    names += [join.name for join in flat_first(joins, pieces)]
    names += [one.step for one in worked(finishes)]
    reasons = tuple(reasons_of(joins, finishes, pieces, rows))
    rank = {name: float(k) for k, name in enumerate((*wished, *names)) if name in names}
    for k, name in enumerate(wished):
        rank[name] = float(k - len(wished))
    for name, beside in _row_steps(rows, joins, pieces, rank):
        rank.setdefault(name, beside)
        names.append(name)
    steps = _sorted(names, reasons, rank)
    place = {name: k for k, name in enumerate(wished)}
    against = tuple(
        one
        for one in reasons
        if one.first in place and one.then in place and place[one.first] > place[one.then]
    )
    return SewingOrder(tuple(steps), reasons, against)


def reasons_for(order: SewingOrder, step: str) -> list[Before]:
    """Why a step waits for others, the last of these first: that is what it waits for longest."""
    place = {name: k for k, name in enumerate(order.steps)}
    reasons = [one for one in order.reasons if one.then == step]
    return sorted(reasons, key=lambda one: -place.get(one.first, -1))


def _row_steps(
    rows: Sequence[Topstitch],
    joins: Sequence[Join],
    pieces: Mapping[str, Parts],
    rank: Mapping[str, float],
) -> Iterator[tuple[str, float]]:
    """The steps of rows, each with its rank beside the first join of its piece, or the one it is
    laid on by.
    """
    for step in row_steps(rows, joins, pieces):
        if step.alone:
            sewn = [join.name for join in joins if join.sews(step.piece)]
            yield rows_name(step.piece), min(map(rank.__getitem__, sewn), default=0.0) - _BESIDE
        if step.laid is not None and step.through:
            yield through_name(step.piece), rank[step.laid.name] + _BESIDE


def _sorted(
    names: Sequence[str], reasons: Iterable[Before], rank: Mapping[str, float]
) -> list[str]:
    """Names so that every reason holds, by rank where there is a choice; a circle is broken at
    its lowest rank.
    """
    waits: dict[str, set[str]] = {name: set() for name in names}
    for one in reasons:
        if one.first in waits and one.then in waits:
            waits[one.then].add(one.first)
    found: list[str] = []
    left = sorted(names, key=lambda name: rank[name])
    while left:
        done = set(found)
        ready = [name for name in left if waits[name] <= done]
        chosen = ready[0] if ready else left[0]
        found.append(chosen)
        left.remove(chosen)
    return found

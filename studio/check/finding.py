"""What a rule found: a value with its numbers, and the sentence made from them."""

from __future__ import annotations

from typing import Literal, TypeAlias

import msgspec

from studio.memo import Made

Gravity: TypeAlias = Literal["grave", "warning", "note"]


class Finding(msgspec.Struct, frozen=True):
    """`rule` is a stable code, `where` names the piece, edge, join or line; `measured` and
    `limit` are in `unit`; `message` says what is wrong and what to do. `accepted` is the maker's
    reason for letting it stand. `exact` are lengths in mm, unrounded, that its sentence speaks of
    beside these two.
    """

    rule: str
    gravity: Gravity
    where: str
    message: str
    measured: float | None = None
    limit: float | None = None
    unit: str = "mm"
    accepted: str = ""
    exact: tuple[float, ...] = ()


class LedgerRow(Made, frozen=True):
    """A join in the ledger; lengths in mm, `verdict` is "match", "long" (side b too long),
    "short" (side b too short) or "broken" (a side could not be found). `is_laid` when side b is a
    line drawn on a piece, along which a patch is laid.
    """

    name: str
    edges_a: tuple[str, ...]
    edges_b: tuple[str, ...]
    length_a: float
    length_b: float
    difference: float
    ease: float
    allowed: float
    verdict: Literal["match", "long", "short", "broken"]
    is_laid: bool = False


class GirthRow(msgspec.Struct, frozen=True):
    """A girth of the finished garment against the body, mm; `body` is None when not measured.
    `down` is how far below the waist it lies where its name says so.
    """

    name: str
    body: float | None
    finished: float
    ease: float | None
    down: float | None = None

    @property
    def exact(self) -> tuple[float, ...]:
        """Lengths that its name speaks of, mm, unrounded."""
        return () if self.down is None else (self.down,)

"""The steps of the order of sewing by name: darts, joins, finished edges, rows asked for."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from studio.design.joins import Finish
from studio.memo import Made


class Before(msgspec.Struct, frozen=True):
    """One step must come before another, and why."""

    first: str
    then: str
    why: str


class Parts(Made, frozen=True):
    """A piece by names: its panel, its edges counter-clockwise, the marks on it, its darts."""

    panel: str
    edges: tuple[str, ...]
    marks: tuple[str, ...] = ()
    darts: tuple[str, ...] = ()


def worked(finishes: Sequence[Finish]) -> list[Finish]:
    """The finishes that are steps of their own."""
    return [finish for finish in finishes if finish.how not in ("caught", "raw")]

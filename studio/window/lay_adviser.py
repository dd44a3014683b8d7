"""Advice for pieces that are wanting, worked out beside the window: first what each lacks, then
joins of scraps, which take longer, piece by piece.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import partial

from PySide6.QtCore import QObject, Signal

from studio.cloth.table import Table
from studio.pattern import Pattern
from studio.window.latest import Latest
from studio.window.lay_advice import (
    MOST_ADVISED,
    Advice,
    Joins,
    Key,
    all_advice,
    joins_of,
    with_joins,
)
from studio.window.lay_summary import Report


class LayAdviser(QObject):
    """`advice` grows as it is worked out; `changed` tells of it."""

    changed = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.advice: dict[Key, Advice] = {}
        self._to_join: list[str] = []
        self._of: tuple[Pattern, Table] | None = None
        self._latest = Latest(self)
        self._latest.answered.connect(self._answered)

    def ask(self, pattern: Pattern, table: Table, report: Report, *, quick_only: bool) -> None:
        """Advise on another lay. With `quick_only` nothing new is worked out: a search runs.

        What was said of a piece stays to be read until there is better to say.
        """
        wanted = {*report.waiting, *report.troubles}
        self.advice = {key: one for key, one in self.advice.items() if key in wanted}
        self._to_join = []
        self._of = (pattern, table)
        waiting = _largest(report.waiting, table) if table.laid else []
        troubled = [one for one in table.laid if (one.piece, one.copy) in report.troubles]
        if quick_only or not (waiting or troubled):
            self._latest.forget()
        else:
            self._latest.ask(partial(all_advice, pattern, table, waiting, troubled))

    @property
    def is_busy(self) -> bool:
        """Whether more is being worked out."""
        return self._latest.is_busy or bool(self._to_join)

    def forget(self) -> None:
        """Want no more advice."""
        self._to_join = []
        self._latest.forget()

    def _answered(self, found: object) -> None:
        if isinstance(found, Joins):
            self.advice = with_joins(self.advice, found)
        elif isinstance(found, tuple):
            self.advice = {one.key: one for one in found}
            pieces = (key[0] for key, one in self.advice.items() if not one.whole)
            self._to_join = list(dict.fromkeys(pieces))
        self.changed.emit()
        if self._to_join and self._of is not None:
            pattern, table = self._of
            self._latest.ask(partial(joins_of, pattern, table, self._to_join.pop(0)))


def _largest(waiting: Iterable[Key], table: Table) -> list[Key]:
    """So many of the pieces that wait as advice is sought for: those that take the most cloth."""
    return sorted(waiting, key=lambda key: -table.items[key].area)[:MOST_ADVISED]

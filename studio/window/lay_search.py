"""The search for a lay as the window sees it: begun, polled by a timer, stopped, its best filled up
and kept.
"""

from __future__ import annotations

import time
from collections.abc import Iterable
from contextlib import suppress
from functools import partial

from msgspec.structs import replace
from PySide6.QtCore import QObject, QTimer, Signal

from studio.cloth.filled import filled
from studio.cloth.items import Item
from studio.cloth.layout import Layout
from studio.cloth.searching import Searching
from studio.cloth.table import Table
from studio.design.cloth import Lay
from studio.sew import SewnPiece
from studio.window.latest import Latest

POLL_MS = 40
"""So often the processes are asked for a better layout."""


class LaySearch(QObject):
    """One search at a time, in processes of its own. `better` carries each better lay as it is
    found; `ended` tells that no more will come, and after how many seconds; `failed` carries a
    sentence when it could not go on.
    """

    better = Signal(object)
    ended = Signal(float)
    failed = Signal(str)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._searching = Searching()
        self._table = Table({}, {}, Lay())
        self._items: tuple[Item, ...] = ()
        self._pieces: tuple[SewnPiece, ...] = ()
        self._began = 0.0
        self._filling = Latest(self)
        self._filling.answered.connect(self._filled)
        self._filling.refused.connect(lambda _: self._end())
        self._timer = QTimer(self, interval=POLL_MS)
        self._timer.timeout.connect(self._poll)
        self.best: Lay | None = None

    @property
    def is_running(self) -> bool:
        """Whether better lays may still come."""
        return self._timer.isActive()

    @property
    def seconds(self) -> float:
        """How long it has been running."""
        return time.monotonic() - self._began if self.is_running else 0.0

    @property
    def too_long(self) -> dict[str, float]:
        """Rolls that are too short for all that is to come of them: the length needed, mm."""
        return self._searching.too_long

    def make_ready(self) -> None:
        """Start the processes ahead, so that a search that is about to begin need not wait."""
        # A process that cannot be started now is told of when it is needed.
        with suppress(OSError):
            self._searching.ready()

    def begin(self, table: Table, pieces: Iterable[SewnPiece]) -> None:
        """Look for a lay of all that is not left out; locked pieces, and those left out that lie
        there already, stay where they are. One that runs is ended first. `pieces` are those of the
        pattern.
        """
        self._filling.forget()
        self.best, self._table, self._pieces = None, table, tuple(pieces)
        fixed = tuple(
            replace(one, locked=True)
            for one in table.laid
            if one.locked or one.piece in table.left_out
        )
        there = {(one.piece, one.copy) for one in fixed}
        self._items = tuple(
            item
            for key, item in table.items.items()
            if key in there or item.piece not in table.left_out
        )
        try:
            self._searching.start(
                self._items, list(table.beds.values()), replace(table.lay, placements=fixed)
            )
        except OSError as problem:
            self._timer.stop()
            self.failed.emit(f"No process for it could be started: {problem}.")
            return
        self._began = time.monotonic()
        self._timer.start()

    def stop(self) -> None:
        """End the processes and wait until they are gone; the best so far stays in `best`."""
        self._timer.stop()
        self._filling.forget()
        self._searching.stop()

    def stop_and_fill(self) -> None:
        """End the processes and wait until they are gone; the best so far stays in `best`, with all
        that still has room. A second at the most for a few pieces left.
        """
        self.stop()
        if self.best is not None:
            self.best = self._full(self.best)

    def _poll(self) -> None:
        found = self._searching.poll()
        if found is not None:
            self.best = self._lay_of(found)
            self.better.emit(self.best)
        if not self._searching.ended or not self.is_running or self._filling.is_busy:
            return
        if self.best is not None:
            self._filling.ask(partial(self._full, self.best))
            return
        self._end()

    def _full(self, lay: Lay) -> Lay:
        """The lay with what still has room; reads only values that never change."""
        return filled(lay, self._items, list(self._table.beds.values()), self._pieces)

    def _filled(self, lay: object) -> None:
        """What the processes have left is laid; no more comes."""
        assert isinstance(lay, Lay)
        if not self.is_running:
            return
        if lay != self.best:
            self.best = lay
            self.better.emit(lay)
        self._end()

    def _end(self) -> None:
        seconds, problem = self.seconds, self._searching.problem
        self.stop()
        if problem and self.best is None:
            self.failed.emit(problem)
        else:
            self.ended.emit(seconds)

    def _lay_of(self, found: Layout) -> Lay:
        """A layout with the locks as the maker has set them."""
        locked = {(one.piece, one.copy) for one in self._table.laid if one.locked}
        placements = tuple(
            replace(one, locked=(one.piece, one.copy) in locked) for one in found.placements
        )
        return replace(self._table.lay, placements=placements)

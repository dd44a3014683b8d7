"""A search for a lay as it goes at the table: begun, its seconds told, ended with its best."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import QObject, QTimer, Signal

from studio import numbers
from studio.cloth.table import Table
from studio.design import Design
from studio.design.cloth import Lay
from studio.numbers import LengthUnit
from studio.sew import SewnPiece
from studio.window.lay_bar import LayBar
from studio.window.lay_search import LaySearch
from studio.window.lay_summary import progress_of

TICK_MS = 500
"""The running search's seconds are told so often."""


class LayRun(QObject):
    """Tells in the bar how a search goes. `better` tells that a better lay is to be shown; `over`
    carries the best, or None, once no more comes. `shown` gives the table as it is.
    """

    better = Signal(object)
    over = Signal(object)
    failed = Signal(str)

    def __init__(
        self, search: LaySearch, bar: LayBar, shown: Callable[[], Table], unit: LengthUnit
    ) -> None:
        super().__init__(search)
        self._search = search
        self._bar = bar
        self._shown = shown
        self._of: Design | None = None
        self.unit: LengthUnit = unit
        self._tick = QTimer(self, interval=TICK_MS)
        self._tick.timeout.connect(self._show_progress)
        search.better.connect(self._better)
        search.ended.connect(self._ended)
        search.failed.connect(self._failed)

    def begin(self, design: Design, pieces: Sequence[SewnPiece]) -> None:
        """Look for a lay of all that is not left out, in processes beside the window."""
        self._of = design
        self._search.begin(self._shown(), pieces)
        self._bar.show_running(True)
        self._tick.start()
        self._show_progress()

    def make_ready(self) -> None:
        """A search is about to be asked for."""
        if not self._search.is_running and self._shown().beds:
            self._search.make_ready()

    def is_behind(self, design: Design) -> bool:
        """Whether it runs for a design that is no more."""
        return self._search.is_running and design is not self._of

    def stop_and_keep(self) -> None:
        """End the search; the best lay that it has found is one step."""
        if not self._search.is_running:
            return
        seconds = self._search.seconds
        self._search.stop_and_fill()
        self._ended(seconds)

    def forget(self) -> None:
        """End the search; what it has found is nobody's."""
        self._search.stop()
        self._search.best = None

    def _better(self, lay: object) -> None:
        self.better.emit(lay)
        self._show_progress()

    def _ended(self, seconds: float) -> None:
        """No more comes of the search."""
        self._tick.stop()
        self._bar.show_running(False)
        best, self._search.best = self._search.best, None
        self.over.emit(best)
        self._bar.show_progress(self._outcome(seconds, best))

    def _outcome(self, seconds: float, best: Lay | None) -> str:
        told = "Nothing was found."
        if best is not None:
            told = f"{numbers.plain(seconds)} s, {progress_of(self._shown())}"
        for roll, mm in self._search.too_long.items():
            needed = numbers.length(mm, self.unit, numbers.ROUGH[self.unit])
            told = f"{told}; {roll} would have to be {needed} long"
        return told

    def _failed(self, sentence: str) -> None:
        self._ended(0.0)
        self.failed.emit(sentence)

    def _show_progress(self) -> None:
        told = f"{numbers.plain(self._search.seconds)} s"
        if self._search.best is not None:
            told = f"{told}, {progress_of(self._shown())}"
        self._bar.show_progress(f"Searching: {told}")

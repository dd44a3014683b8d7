"""When Python looks for values that hold one another and nobody else: while the hand rests.

Nearly all values go as soon as nobody holds them. Looking for the others takes a few hundredths of
a second after every hundred frames of a drag, and would be seen in its midst.
"""

from __future__ import annotations

import gc

from PySide6.QtCore import QObject, Qt, QTimer
from PySide6.QtGui import QGuiApplication

_EVERY_MS = 2000
_FROM = 20_000
"""New values before it is worth looking."""

_ALL_EACH = 10
"""Of so many looks one goes over older values too."""


def hold_sweeps() -> None:
    """Leave what there is by now out of all rounds, and have none begin by itself."""
    gc.collect()
    gc.freeze()
    gc.disable()


class Sweeper(QObject):
    """Looks every other second, unless a button of the mouse is held."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        hold_sweeps()
        self._rounds = 0
        timer = QTimer(self)
        timer.timeout.connect(self.sweep)
        timer.start(_EVERY_MS)

    def sweep(self) -> None:
        """Look now, where enough is new and the hand rests."""
        if gc.get_count()[0] < _FROM or _is_held():
            return
        self._rounds += 1
        gc.collect(1 if self._rounds % _ALL_EACH else 2)


def _is_held() -> bool:
    return QGuiApplication.mouseButtons() != Qt.MouseButton.NoButton

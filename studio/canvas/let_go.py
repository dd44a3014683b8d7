"""What waits until a hand lets go: under one that drags nothing may move."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, QTimer

_EVERY_MS = 100
"""Between two looks at whether a hand has let go: another window may have had the release."""


class LetGo(QObject):
    """What waits on one holder: a view, or what answers `is_held` for several. The holder is known
    as the parent only, so that the two do not keep each other alive.
    """

    def __init__(self, holder: QObject) -> None:
        super().__init__(holder)
        self._waiting: list[Callable[[], None]] = []
        self._again = QTimer(self, singleShot=True, interval=_EVERY_MS)
        self._again.timeout.connect(self._look)

    def then(self, do: Callable[[], None]) -> None:
        """Do it now where no hand holds; else when it has let go, once, however often it was asked
        for until then.
        """
        if do not in self._waiting:
            self._waiting.append(do)
        self._look()

    def _look(self) -> None:
        if self.parent().is_held:  # type: ignore[union-attr]
            self._again.start()
            return
        while self._waiting:
            self._waiting.pop(0)()

"""What is told beside a field, below it, for some seconds."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QPoint, QRect, QTimer
from PySide6.QtWidgets import QToolTip, QWidget

from studio.canvas.plain_tip import plain_tip

_TOLD_MS = 8000


def tell_beside(field: QWidget, words: Callable[[], str]) -> None:
    """Tell it once the next widget has its focus, which would wipe the words away; by then they may
    have been told otherwise (no words), or the field may be gone.
    """
    below, over = field.mapToGlobal(QPoint(0, field.height())), field.window()

    def tell() -> None:
        if said := words():
            QToolTip.showText(below, plain_tip(said), over, QRect(), _TOLD_MS)

    QTimer.singleShot(0, over, tell)

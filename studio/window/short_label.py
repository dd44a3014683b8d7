"""A sentence of one line that never makes its window wider: what does not fit ends in dots."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QHelpEvent, QPaintEvent, QPalette
from PySide6.QtWidgets import QLabel, QSizePolicy, QStylePainter, QToolTip, QWidget

from studio.canvas.plain_tip import plain_tip

_LEAST = 120
"""Pixels of it that are seen in the narrowest window."""


class ShortLabel(QLabel):
    """Its `text` is always whole; the pointer over it tells what does not fit, unless it
    has a tip of its own.
    """

    def __init__(self) -> None:
        super().__init__()
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.setMinimumWidth(_LEAST)

    def shown_words(self) -> str:
        """What is painted in the room there is."""
        room = self.contentsRect().width()
        return self.fontMetrics().elidedText(self.text(), Qt.TextElideMode.ElideRight, room)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """The words that fit, in the colour of the label."""
        painter = QStylePainter(self)
        painter.drawItemText(
            self.contentsRect(),
            int(self.alignment()),
            self.palette(),
            self.isEnabled(),
            self.shown_words(),
            QPalette.ColorRole.WindowText,
        )

    def event(self, event: QEvent) -> bool:
        """Tell the words whole where they are cut short."""
        return told_whole(self, event, self.text, self.shown_words) or super().event(event)


def told_whole(
    widget: QWidget, event: QEvent, words: Callable[[], str], shown: Callable[[], str]
) -> bool:
    """Answer the pointer that rests over a widget with its words where not all of them are shown,
    and with nothing where they are; False for another event, and for a widget with a tip.
    """
    if widget.toolTip() or not isinstance(event, QHelpEvent):
        return False
    if event.type() != QEvent.Type.ToolTip:
        return False
    whole = words()
    QToolTip.showText(event.globalPos(), plain_tip(whole) if shown() != whole else "", widget)
    return True

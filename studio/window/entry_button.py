"""A row of a list in a pane: a button as wide as there is room, its words cut short by dots."""

from __future__ import annotations

from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QPaintEvent
from PySide6.QtWidgets import (
    QPushButton,
    QSizePolicy,
    QStyle,
    QStyleOptionButton,
    QStylePainter,
)

from studio.window.short_label import told_whole

_BETWEEN = 4
"""Pixels that the style keeps between an icon and the words."""


class EntryButton(QPushButton):
    """Its `text` is always whole; the pointer over it tells what does not fit, unless the row has a
    tip of its own. What a maker called something is shown as it is, an ampersand too. `cut_at` is
    where words give way: in their middle where names differ at their ends.
    """

    def __init__(self, words: str = "") -> None:
        super().__init__(words)
        self.cut_at = Qt.TextElideMode.ElideRight
        self.setCheckable(True)
        self.setProperty("role", "entry")
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)

    def shown_words(self) -> str:
        """What is painted in the room there is."""
        option = self._option()
        contents = self.style().subElementRect(
            QStyle.SubElement.SE_PushButtonContents, option, self
        )
        room = contents.width()
        if not self.icon().isNull():
            room -= self.iconSize().width() + _BETWEEN
        return self.fontMetrics().elidedText(self.text(), self.cut_at, room)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """As the style paints a button, with the words that fit."""
        option = self._option()
        option.text = self.shown_words().replace("&", "&&")
        QStylePainter(self).drawControl(QStyle.ControlElement.CE_PushButton, option)

    def event(self, event: QEvent) -> bool:
        """Tell the words whole where they are cut short."""
        return told_whole(self, event, self.text, self.shown_words) or super().event(event)

    def _option(self) -> QStyleOptionButton:
        option = QStyleOptionButton()
        self.initStyleOption(option)
        return option

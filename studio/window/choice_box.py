"""A box of choices that may be narrower than the words of the one that is chosen."""

from __future__ import annotations

from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QHelpEvent
from PySide6.QtWidgets import (
    QComboBox,
    QStyle,
    QStyleOptionComboBox,
    QToolTip,
)

from studio.canvas.plain_tip import plain_tip


class ChoiceBox(QComboBox):
    """Words that have no room end in dots, as everywhere else, and are told whole by the pointer
    over them; Qt would cut them off in the midst of a letter.
    """

    def initStyleOption(self, option: QStyleOptionComboBox) -> None:
        """Qt's question how it is to be painted."""
        super().initStyleOption(option)
        option.currentText = self._shown(option)

    def event(self, event: QEvent) -> bool:
        """The pointer rests on it: its own tip, or words that are not seen whole."""
        if event.type() == QEvent.Type.ToolTip and isinstance(event, QHelpEvent):
            told = self.toolTip() or ("" if self.shown_words == self.currentText() else self._tip())
            QToolTip.showText(event.globalPos(), told, self)
            return True
        return super().event(event)

    @property
    def shown_words(self) -> str:
        """What is seen of the words of the choice."""
        option = QStyleOptionComboBox()
        super().initStyleOption(option)
        return self._shown(option)

    def _tip(self) -> str:
        return plain_tip(self.currentText())

    def _shown(self, option: QStyleOptionComboBox) -> str:
        part = QStyle.SubControl.SC_ComboBoxEditField
        room = self.style().subControlRect(QStyle.ComplexControl.CC_ComboBox, option, part, self)
        icon = 0 if self.itemIcon(self.currentIndex()).isNull() else self.iconSize().width() + 4
        wide = room.width() - icon - _BESIDE
        metrics = self.fontMetrics()
        return str(metrics.elidedText(self.currentText(), Qt.TextElideMode.ElideRight, wide))


_BESIDE = 2
"""Pixels that a style keeps beside the words."""

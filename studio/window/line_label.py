"""A line of words that takes the room there is, cut short by dots, and asks for none."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QSize, Qt
from PySide6.QtGui import QHelpEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QLabel, QSizePolicy, QStyle, QStyleOption, QToolTip


class LineLabel(QLabel):
    """Its `text` is always whole, and shown as it was written; the pointer over it tells what does
    not fit. However long, it makes no pane beside it narrower.
    """

    def __init__(self) -> None:
        super().__init__()
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)

    def minimumSizeHint(self) -> QSize:
        """Any width will do."""
        return QSize(0, super().minimumSizeHint().height())

    def sizeHint(self) -> QSize:
        """Any width will do."""
        return self.minimumSizeHint()

    def shown_words(self) -> str:
        """What is painted in the room there is."""
        words = " ".join(self.text().split())
        room = self.contentsRect().width()
        return self.fontMetrics().elidedText(words, Qt.TextElideMode.ElideRight, room)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """The words that fit, in the ink and letters of the style."""
        painter = QPainter(self)
        option = QStyleOption()
        option.initFrom(self)
        self.style().drawPrimitive(QStyle.PrimitiveElement.PE_Widget, option, painter, self)
        where = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
        painter.drawText(self.contentsRect(), where, self.shown_words())

    def event(self, event: QEvent) -> bool:
        """Tell the words whole where they are cut short."""
        if isinstance(event, QHelpEvent) and event.type() == QEvent.Type.ToolTip:
            words = self.text() if self.shown_words().endswith("\N{HORIZONTAL ELLIPSIS}") else ""
            QToolTip.showText(event.globalPos(), words, self)
            return True
        return super().event(event)

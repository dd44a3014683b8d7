"""A field for a number in a pane that scrolls."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtWidgets import QDoubleSpinBox, QWidget

from studio import numbers
from studio.canvas.gives_back import escape_gives_back, number_of


class PaneSpinBox(QDoubleSpinBox):
    """Tells a value when the maker ends typing it; named for those who cannot see its label.
    Escape gives back the value that stood there.
    """

    def __init__(self, label: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(label)
        self.setKeyboardTracking(False)
        self.setAlignment(Qt.AlignmentFlag.AlignRight)
        escape_gives_back(self, lambda: number_of(self), self.give_back)

    def give_back(self) -> None:
        """Show the value again in place of what is just being typed, which is not told."""
        self.setValue(self.value())

    def textFromValue(self, value: float) -> str:
        """The digits as everywhere else, with a true minus."""
        return super().textFromValue(value).replace("-", numbers.MINUS)

    def wheelEvent(self, event: QWheelEvent) -> None:
        """A wheel over a field that is not being typed in belongs to the pane."""
        if self.hasFocus():
            super().wheelEvent(event)
        else:
            event.ignore()

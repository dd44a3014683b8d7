"""A number that is no length: per cent, degrees."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtWidgets import QDoubleSpinBox


class NumberBox(QDoubleSpinBox):
    """`changed_to` is called when the maker ends typing a value that differs."""

    def __init__(
        self,
        label: str,
        changed_to: Callable[[float], None],
        *,
        unit: str,
        least: float = 0.0,
        most: float = 100.0,
    ) -> None:
        super().__init__()
        self._changed_to = changed_to
        self.setAccessibleName(label)
        self.setKeyboardTracking(False)
        self.setAlignment(Qt.AlignmentFlag.AlignRight)
        self.setDecimals(1)
        self.setRange(least, most)
        self.setSuffix(unit)
        self.valueChanged.connect(self._changed_to)

    def show_value(self, value: float) -> None:
        """Show a value without telling anyone."""
        self.blockSignals(True)
        self.setValue(value)
        self.blockSignals(False)

    def wheelEvent(self, event: QWheelEvent) -> None:
        """A wheel over a field that is not being typed in belongs to the pane."""
        if self.hasFocus():
            super().wheelEvent(event)
        else:
            event.ignore()

"""The field that opens over a number of the sheet when it is clicked."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QRect, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QDoubleSpinBox, QWidget

from studio.canvas.dimensions import Dimension
from studio.numbers import DECIMALS, MILLIMETRES, LengthUnit

MOST = 3000.0
"""Longest length that can be typed, mm."""

_ROOM = 24
"""Pixels a field is wider than the number it stands for."""


class NumberField(QDoubleSpinBox):
    """Enter or a click elsewhere takes the number, Escape leaves it as it was."""

    def __init__(
        self,
        dimension: Dimension,
        unit: LengthUnit,
        taken: Callable[[Dimension, float], None],
        parent: QWidget,
    ) -> None:
        super().__init__(parent)
        self._dimension = dimension
        self._taken = taken
        self._open = True
        self._factor = 1.0
        self.setAccessibleName(dimension.title)
        self.setButtonSymbols(QDoubleSpinBox.ButtonSymbols.NoButtons)
        self.setAlignment(Qt.AlignmentFlag.AlignCenter)
        if dimension.measure == "degrees":
            self._prepare(1, "°", -360.0, 360.0)
        elif dimension.measure == "share":
            self._factor = 0.01
            self._prepare(1, " %", 0.0, 100.0)
        else:
            self._factor = MILLIMETRES[unit]
            least = dimension.least / self._factor
            self._prepare(DECIMALS[unit], f" {unit}", least, MOST / self._factor)
        self.setValue(dimension.value / self._factor)
        self._shown = self.value()
        self.editingFinished.connect(self._finish)

    def open_over(self, box: QRect) -> None:
        """Show it over a number, ready to be typed in."""
        room = box.adjusted(-_ROOM // 2, -3, _ROOM // 2, 3)
        self.setGeometry(room)
        self.show()
        self.setFocus()
        self.selectAll()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape closes without a change."""
        if event.key() == Qt.Key.Key_Escape:
            self._close()
            return
        super().keyPressEvent(event)

    def _prepare(self, decimals: int, suffix: str, least: float, most: float) -> None:
        self.setDecimals(decimals)
        self.setSuffix(suffix)
        self.setRange(least, most)

    def _finish(self) -> None:
        if not self._open:
            return
        value = self.value()
        self._close()
        if value != self._shown:
            self._taken(self._dimension, value * self._factor)

    def _close(self) -> None:
        self._open = False
        self.hide()
        self.deleteLater()

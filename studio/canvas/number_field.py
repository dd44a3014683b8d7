"""The field that opens over a number of the sheet when it is clicked."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QEvent, QObject, QRect, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QWidget

from studio.canvas.dimensions import Dimension
from studio.canvas.length_field import LengthField
from studio.canvas.read_field import PlainField, ReadField
from studio.canvas.type_size import size_with_letters
from studio.numbers import LengthUnit

MOST = 3000.0
"""Longest length that can be typed, mm."""

_ROOM = 24
"""Pixels a field is wider than the number it stands for."""


class NumberField(QWidget):
    """Enter or a click elsewhere takes the number, Escape leaves it as it was. What cannot be read
    is told, and asked for again.
    """

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
        self._value = dimension.value
        self.field = self._length(unit) if dimension.measure == "length" else self._plain()
        self.field.setAlignment(Qt.AlignmentFlag.AlignCenter)
        size_with_letters(self.field, minimumWidth=0)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self.field)
        self.setFocusProxy(self.field)
        self.field.installEventFilter(self)
        self.field.editingFinished.connect(self._finish)

    def open_over(self, box: QRect) -> None:
        """Show it over a number, ready to be typed in."""
        room = box.adjusted(-_ROOM // 2, -3, _ROOM // 2, 3)
        self.setGeometry(room)
        self.show()
        self.field.setFocus()
        self.field.selectAll()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Escape closes without a change."""
        if event.type() != QEvent.Type.KeyPress or not isinstance(event, QKeyEvent):
            return super().eventFilter(watched, event)
        if event.key() == Qt.Key.Key_Escape:
            self._close()
            return True
        return super().eventFilter(watched, event)

    def _length(self, unit: LengthUnit) -> ReadField:
        one = self._dimension
        field = LengthField(one.title, self._typed, least=one.least, most=MOST, parent=self)
        field.set_unit(unit)
        field.show_mm(one.value)
        return field

    def _plain(self) -> ReadField:
        degrees = self._dimension.measure == "degrees"
        factor = 1.0 if degrees else 0.01
        field = PlainField(self._dimension.title, self)
        field.setDecimals(1)
        field.setSuffix("\N{DEGREE SIGN}" if degrees else " %")
        field.setRange(*(-360.0, 360.0) if degrees else (0.0, 100.0))
        field.setValue(self._dimension.value / factor)
        field.valueChanged.connect(lambda value: self._typed(value * factor))
        return field

    def _typed(self, value: float | None) -> None:
        if value is not None:
            self._value = value

    def _finish(self) -> None:
        if not self._open:
            return
        if self.field.problem and self.field.hasFocus():
            self.field.selectAll()
            return
        self._close()
        if self._value != self._dimension.value:
            self._taken(self._dimension, self._value)

    def _close(self) -> None:
        self._open = False
        self.hide()
        self.deleteLater()

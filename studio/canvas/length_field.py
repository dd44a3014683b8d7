"""Numbers a maker types: spin boxes that speak the chosen unit and keep millimetres."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import QWidget

from studio.canvas.pane_spin_box import PaneSpinBox
from studio.numbers import DECIMALS, MILLIMETRES, LengthUnit


class LengthField(PaneSpinBox):
    """A length in mm shown in a unit. `changed_to` is called with mm when the maker ends typing
    a value that differs; an empty field (`may_be_empty`) stands for None.
    """

    def __init__(
        self,
        label: str,
        changed_to: Callable[[float | None], None],
        *,
        least: float = 0.0,
        most: float = 3000.0,
        may_be_empty: bool = False,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(label, parent)
        self._unit: LengthUnit = "mm"
        self._least, self._most = least, most
        self._changed_to = changed_to
        self._may_be_empty = may_be_empty
        self._shown: float | None = None
        self.setMinimumWidth(96)
        if may_be_empty:
            self.setSpecialValueText("not taken")
        self.set_unit("mm")
        self.valueChanged.connect(self._typed)

    def set_unit(self, unit: LengthUnit) -> None:
        """Speak another unit; the length stays."""
        self._unit = unit
        self.blockSignals(True)
        self.setDecimals(DECIMALS[unit])
        self.setSuffix(f" {unit}")
        scale = MILLIMETRES[unit]
        floor = min(self._least, 0.0) if self._may_be_empty else self._least
        self.setRange(floor / scale, self._most / scale)
        self.setSingleStep(1.0 / scale)
        self.blockSignals(False)
        self._show()

    def show_mm(self, mm: float | None) -> None:
        """Show a length without telling anyone."""
        if mm != self._shown:
            self._shown = mm
            self._show()

    def _show(self) -> None:
        mm = self._shown
        self.blockSignals(True)
        self.setValue(self.minimum() if mm is None else mm / MILLIMETRES[self._unit])
        self.blockSignals(False)

    def _typed(self, value: float) -> None:
        mm: float | None = value * MILLIMETRES[self._unit]
        if self._may_be_empty and value <= self.minimum():
            mm = None
        near = (
            mm is not None
            and self._shown is not None
            and abs(mm - self._shown) * 10 ** DECIMALS[self._unit] / MILLIMETRES[self._unit] < 0.5
        )
        if mm != self._shown and not near:
            self._shown = mm
            self._changed_to(mm)

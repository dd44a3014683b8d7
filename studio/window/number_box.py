"""A number that is no length: per cent, degrees."""

from __future__ import annotations

from collections.abc import Callable

from studio.canvas.read_field import PlainField


class NumberBox(PlainField):
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
        super().__init__(label)
        self._changed_to = changed_to
        self.setDecimals(1)
        self.setRange(least, most)
        self.setSuffix(unit)
        self.valueChanged.connect(self._changed_to)

    def show_value(self, value: float) -> None:
        """Show a value without telling anyone."""
        self.blockSignals(True)
        self.setValue(value)
        self.blockSignals(False)

"""Escape in a field that is being typed in."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QDoubleSpinBox, QLineEdit, QSpinBox


class _GivesBack(QObject):
    """Watches the keys of a field, which owns it."""

    def __init__(
        self,
        field: QDoubleSpinBox | QSpinBox | QLineEdit,
        is_typed: Callable[[], bool],
        give_back: Callable[[], None],
    ) -> None:
        super().__init__(field)
        self._is_typed, self._give_back = is_typed, give_back
        field.installEventFilter(self)

    def eventFilter(self, _watched: QObject, event: QEvent) -> bool:
        """Keep Escape from the rest of the window while something is typed."""
        if event.type() not in (QEvent.Type.ShortcutOverride, QEvent.Type.KeyPress):
            return False
        assert isinstance(event, QKeyEvent)
        if event.key() != Qt.Key.Key_Escape or not self._is_typed():
            return False
        if event.type() == QEvent.Type.KeyPress:
            self._give_back()
        event.accept()
        return True


def escape_gives_back(
    field: QDoubleSpinBox | QSpinBox | QLineEdit,
    stands: Callable[[], str],
    give_back: Callable[[], None],
) -> None:
    """Let Escape call `give_back`, keep the focus and select all while the text of a field is not
    what `stands` there; else Escape does what it does in the window.
    """
    line = field if isinstance(field, QLineEdit) else field.lineEdit()

    def given_back() -> None:
        give_back()
        field.selectAll()

    _GivesBack(field, lambda: line.text() != stands(), given_back)


def number_of(box: QDoubleSpinBox | QSpinBox) -> str:
    """The text in which a box shows its number."""
    special = box.specialValueText()
    if special and box.value() == box.minimum():
        return special
    # Each kind of box takes its own kind of number.
    plain = box.textFromValue(box.value())  # type: ignore[arg-type]
    return f"{box.prefix()}{plain}{box.suffix()}"

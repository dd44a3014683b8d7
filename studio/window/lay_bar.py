"""The bar above the laying table: find or stop, how it goes, the gap, what is left out, sheets."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping

from PySide6.QtCore import Signal
from PySide6.QtGui import QAction, QEnterEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QWidget

from studio.canvas.length_field import LengthField
from studio.canvas.plain_tip import plain_tip
from studio.canvas.type_size import size_with_letters
from studio.numbers import LengthUnit
from studio.window.buttons import with_menu, with_words
from studio.window.menu_letters import with_letters
from studio.window.short_label import ShortLabel

MOST_GAP = 50.0
"""The widest gap between two cuts that can be asked for, mm."""


_OUT = "Cloths of which nothing is to be laid for now are unticked here."


class LayBar(QWidget):
    """`asked` is Find or Stop, `near` that the pointer has come to that button; `gap_changed` tells
    mm; `left_out_changed` names of cloths.
    """

    asked = Signal()
    near = Signal()
    gap_changed = Signal(float)
    left_out_changed = Signal(frozenset)
    sheets_asked = Signal()
    print_asked = Signal()
    fit_asked = Signal()

    def __init__(self, unit: LengthUnit) -> None:
        super().__init__()
        row = QHBoxLayout(self)
        row.setContentsMargins(14, 8, 14, 8)
        row.setSpacing(10)
        self.find_button = _FindButton("Find a lay", self.near.emit)
        self.find_button.setProperty("role", "primary")
        size_with_letters(self.find_button, minimumWidth=118)
        self.find_button.clicked.connect(lambda: self.asked.emit())
        row.addWidget(self.find_button)
        self.progress = ShortLabel()
        self.progress.setProperty("role", "faint")
        row.addWidget(self.progress, 1)
        row.addWidget(QLabel("Gap between cuts"))
        self.gap = LengthField("Gap between cuts", self._gap_typed, least=0.0, most=MOST_GAP)
        size_with_letters(self.gap, minimumWidth=88, maximumWidth=104)
        self.gap.set_unit(unit)
        row.addWidget(self.gap)
        self.left_out, self._menu = with_menu("")
        row.addWidget(self.left_out)
        row.addWidget(with_words("Show all", self.fit_asked.emit))
        self.sheets = with_words("Write sheets…", self.sheets_asked.emit)
        row.addWidget(self.sheets)
        self.printing = with_words("Print…", self.print_asked.emit)
        self.printing.setToolTip("Print the plans of the cloths, to read while cutting (Ctrl+P)")
        row.addWidget(self.printing)

    def set_unit(self, unit: LengthUnit) -> None:
        """Speak another unit."""
        self.gap.set_unit(unit)

    def show_running(self, running: bool) -> None:
        """Whether a search runs: what the button does next."""
        self.find_button.setText("Stop" if running else "Find a lay")

    def show_progress(self, words: str) -> None:
        """How the search goes, or how it went."""
        self.progress.setText(words)

    def show_cloths(self, counts: Mapping[str, int], left_out: Iterable[str]) -> None:
        """Every cloth that pieces are cut from, with how many they are; some are left out."""
        out = set(left_out)
        self._menu.clear()
        words = with_letters([f"{name} ({count})" for name, count in counts.items()])
        for name, told in zip(counts, words, strict=True):
            action = QAction(told, self._menu, checkable=True)
            action.setChecked(name not in out)
            action.setData(name)
            action.toggled.connect(lambda _on: self._cloths_changed())
            self._menu.addAction(action)
        named = [name for name in counts if name in out]
        # Names would widen the window: they are in the tip.
        self.left_out.setText(_counted(len(named)) if named else "Nothing left out")
        self.left_out.setToolTip(
            plain_tip("\n".join([f"Left out: {', '.join(named)}.", _OUT] if named else [_OUT]))
        )

    def _cloths_changed(self) -> None:
        out = frozenset(
            str(action.data()) for action in self._menu.actions() if not action.isChecked()
        )
        self.left_out_changed.emit(out)

    def _gap_typed(self, mm: float | None) -> None:
        if mm is not None:
            self.gap_changed.emit(mm)


def _counted(cloths: int) -> str:
    return f"{cloths} cloth{'' if cloths == 1 else 's'} left out"


class _FindButton(QPushButton):
    """A button that tells when the pointer comes to it."""

    def __init__(self, label: str, near: Callable[[], object]) -> None:
        super().__init__(label)
        self._near = near

    def enterEvent(self, event: QEnterEvent) -> None:
        """It is about to be pressed."""
        self._near()
        super().enterEvent(event)

"""What a maker who has just come in may begin with, beside the example that is shown to them."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from studio.window.widgets import faint

WAYS = {
    "body": "New from a body…",
    "drawing": "Make a block of a drawing…",
    "open": "Open a project…",
}
"""The ways to begin, as the File menu has them."""


class StartForm(QWidget):
    """A sentence and a button for each way; `asked` tells which."""

    asked = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 8, 0, 0)
        column.setSpacing(6)
        column.addWidget(
            faint("What is shown is an example to try everything on. To begin a pair of your own:")
        )
        self.buttons: dict[str, QPushButton] = {}
        for way, words in WAYS.items():
            button = QPushButton(words)
            button.setProperty("role", "offer")
            button.clicked.connect(lambda _on=False, way=way: self.asked.emit(way))
            column.addWidget(button)
            self.buttons[way] = button

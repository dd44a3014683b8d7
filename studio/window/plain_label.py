"""A label that shows words as they were written."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel


class PlainLabel(QLabel):
    """For whatever a maker has named: `pocket <old>` would else be taken for markup, and lose a
    word of its name.
    """

    def __init__(self, words: str = "") -> None:
        super().__init__()
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setText(words)

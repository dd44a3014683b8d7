"""Labels, buttons and menus that show words as they were written."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel


def on_button(words: str) -> str:
    """Words on a button or in a menu: one ampersand would else be taken away, to mark a key."""
    return words.replace("&", "&&")


class PlainLabel(QLabel):
    """For whatever a maker has named: `pocket <old>` would else be taken for markup, and lose a
    word of its name.
    """

    def __init__(self, words: str = "") -> None:
        super().__init__()
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setText(words)

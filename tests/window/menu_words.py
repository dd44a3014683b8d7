"""What an entry of a menu, or something in a dialog, says, and its letter, as Qt reads both."""

from __future__ import annotations

import re

from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QAbstractButton, QLabel

Marked = QAction | QAbstractButton | QLabel


def words_of(entry: Marked) -> str:
    """The words of an entry, without the mark of its letter and without its key."""
    return re.sub("&(.)", r"\1", entry.text().partition("\t")[0])


def letter_of(entry: Marked) -> str:
    """The letter of an entry, large; empty for none."""
    return QKeySequence.mnemonic(entry.text().partition("\t")[0]).toString().removeprefix("Alt+")

"""What an entry of a menu says, and the letter that takes it, as Qt reads both."""

from __future__ import annotations

import re

from PySide6.QtGui import QAction, QKeySequence


def words_of(entry: QAction) -> str:
    """The words of an entry, without the mark of its letter and without its key."""
    return re.sub("&(.)", r"\1", entry.text().partition("\t")[0])


def letter_of(entry: QAction) -> str:
    """The letter of an entry, large; empty for none."""
    return QKeySequence.mnemonic(entry.text().partition("\t")[0]).toString().removeprefix("Alt+")

"""The name of a design and the maker's notes on it, asked for together."""

from __future__ import annotations

from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QLineEdit,
    QPlainTextEdit,
    QWidget,
)

from studio.canvas.type_size import size_with_letters
from studio.window.widgets import column_of, faint, form_in, ok_and_cancel


class NameDialog(QDialog):
    """What the design is called, as on every label and sheet, and the maker's notes on it."""

    def __init__(self, name: str, notes: str, parent: QWidget | None) -> None:
        super().__init__(parent)
        self.setWindowTitle("Name and notes")
        column = column_of(self)
        form = form_in(column)
        self.name = QLineEdit(name)
        self.name.setAccessibleName("Name of the design")
        self.name.selectAll()
        form.addRow("Name", self.name)
        self.notes = QPlainTextEdit(notes)
        self.notes.setAccessibleName("Notes")
        self.notes.setTabChangesFocus(True)
        size_with_letters(self.notes, minimumWidth=360, minimumHeight=120)
        form.addRow("Notes", self.notes)
        words = "The name stands on every label and sheet, the notes on the draft-along sheet."
        column.addWidget(faint(words))
        buttons = ok_and_cancel(self)
        accept = buttons.button(QDialogButtonBox.StandardButton.Ok)
        self.name.textChanged.connect(lambda text: accept.setEnabled(bool(text.strip())))
        column.addWidget(buttons)

"""Small things that several panes, forms and dialogs are made of."""

from __future__ import annotations

from PySide6.QtWidgets import QDialog, QDialogButtonBox, QLabel, QLayout


def emptied(layout: QLayout) -> None:
    """Take everything out of a layout, also out of layouts within it."""
    while (item := layout.takeAt(0)) is not None:
        widget, inner = item.widget(), item.layout()
        if widget is not None:
            widget.setParent(None)
            widget.deleteLater()
        elif inner is not None:
            emptied(inner)


def faint(sentence: str) -> QLabel:
    """A wrapped sentence in the fainter ink."""
    label = QLabel(sentence)
    label.setWordWrap(True)
    label.setProperty("role", "faint")
    return label


def ok_and_cancel(dialog: QDialog) -> QDialogButtonBox:
    """The two buttons of a dialog, which accept and reject it."""
    buttons = QDialogButtonBox(
        QDialogButtonBox.StandardButton.Ok | QDialogButtonBox.StandardButton.Cancel
    )
    buttons.accepted.connect(dialog.accept)
    buttons.rejected.connect(dialog.reject)
    return buttons

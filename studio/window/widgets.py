"""Small things that several panes, forms and dialogs are made of."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QApplication,
    QDialog,
    QDialogButtonBox,
    QLabel,
    QLayout,
    QScrollArea,
    QToolTip,
    QWidget,
)

from studio.canvas.length_field import LengthField
from studio.canvas.read_field import ReadField
from studio.window.plain_label import PlainLabel


def emptied(layout: QLayout) -> None:
    """Take everything out of a layout, also out of layouts within it."""
    while (item := layout.takeAt(0)) is not None:
        widget, inner = item.widget(), item.layout()
        if widget is not None:
            widget.setParent(None)
            widget.deleteLater()
        elif inner is not None:
            emptied(inner)


def show_in(area: QScrollArea, content: QWidget) -> None:
    """Show something else in a scroll area. What was there goes at the next turn of the event loop:
    `setWidget` takes it away at once, also the very field or button whose signal led here, which
    ends the program.
    """
    before, focused = area.widget(), QApplication.focusWidget()
    if before is not None and focused is not None and before.isAncestorOf(focused):
        # It has been read already, and has nothing more to say when it loses the focus.
        focused.blockSignals(True)
    area.takeWidget()
    area.setWidget(content)
    if before is not None:
        before.deleteLater()


def chain_tabs(pane: QWidget) -> None:
    """Tab goes from a pane to what is in it: what was made later would else come last of all in the
    window.
    """
    before = pane
    for inner in pane.findChildren(QWidget):
        if inner.window() is not pane.window():
            continue  # The list that a box of choices opens.
        if inner.focusPolicy() & Qt.FocusPolicy.TabFocus and inner.focusProxy() is None:
            QWidget.setTabOrder(before, inner)
            before = inner


def faint(sentence: str) -> QLabel:
    """A wrapped sentence in the fainter ink."""
    label = PlainLabel(sentence)
    label.setWordWrap(True)
    label.setProperty("role", "faint")
    return label


def ok_and_cancel(dialog: QDialog) -> QDialogButtonBox:
    """The two buttons of a dialog, which accept and reject it; it is not accepted while a number in
    it was typed that could not be taken.
    """
    buttons = QDialogButtonBox(
        QDialogButtonBox.StandardButton.Ok | QDialogButtonBox.StandardButton.Cancel
    )
    buttons.accepted.connect(lambda: _accept(dialog))
    buttons.rejected.connect(dialog.reject)
    return buttons


def _accept(dialog: QDialog) -> None:
    """A number that was not understood fell back to what it was: no one should go on unaware."""
    from studio.window import dialogs  # It is made of what is in here.

    for field in dialog.findChildren(ReadField):
        field.interpretText()
        problem = field.told_problem()
        if problem:
            QToolTip.hideText()
            what = "length" if isinstance(field, LengthField) else "number"
            dialogs.tell(dialog, f"This {what} is left as it was.", problem)
            field.setFocus()
            field.selectAll()
            return
    dialog.accept()

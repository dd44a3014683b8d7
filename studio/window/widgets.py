"""Small things that several panes, forms and dialogs are made of."""

from __future__ import annotations

from typing import TypeVar

from PySide6.QtCore import QEvent, QSize, Qt
from PySide6.QtGui import QIcon, QKeySequence
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractSpinBox,
    QApplication,
    QCheckBox,
    QComboBox,
    QDialog,
    QDialogButtonBox,
    QFormLayout,
    QLabel,
    QLayout,
    QLineEdit,
    QPushButton,
    QScrollArea,
    QToolTip,
    QVBoxLayout,
    QWidget,
)

from studio.canvas.length_field import LengthField
from studio.canvas.read_field import ReadField
from studio.canvas.sheet_item import lettering
from studio.canvas.type_size import size_with_letters
from studio.window.menu_letters import with_letters
from studio.window.plain_label import PlainLabel

_POINTS, _LONGEST_LABEL = 10.0, "How many pairs"
"""A label is not yet in the letters of its window when its room is reckoned."""

_Window = TypeVar("_Window", bound=QWidget)

_GOOD_HALF = 0.64
"""Of the height of a screen: the rest is for what a dialog has above and below, and its frame."""


def open_large(window: QWidget) -> None:
    """Let a window open as large as it would be, where the screen has the room; by itself it takes
    two thirds of the screen at the most.
    """
    wanted, layout = window.sizeHint(), window.layout()
    if layout is not None and layout.hasHeightForWidth():
        # Sentences that wrap are higher than the hint knows.
        wanted.setHeight(max(wanted.height(), layout.totalHeightForWidth(wanted.width())))
    window.resize(wanted.boundedTo(window.screen().availableSize() * 0.94))


def open_beside(window: _Window) -> _Window:
    """Show a window that is gone when it is closed."""
    window.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    open_large(window)
    window.show()
    return window


def emptied(layout: QLayout) -> None:
    """Take everything out of a layout, also out of layouts within it."""
    while (item := layout.takeAt(0)) is not None:
        widget, inner = item.widget(), item.layout()
        if widget is not None:
            widget.setParent(None)
            widget.deleteLater()
        elif inner is not None:
            emptied(inner)


def end_typing() -> None:
    """Have the field that is typed in read, as when it is left: what is not read yet would be
    missing from what is saved, or be given to the design that is opened next.
    """
    field = QApplication.focusWidget()
    if isinstance(field, QAbstractSpinBox | QLineEdit):
        field.clearFocus()
        if field.isVisible():
            field.setFocus()


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


class Titled(QWidget):
    """A pane with its title above it."""

    def __init__(self, title: str, pane: QWidget) -> None:
        super().__init__()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 6, 0, 0)
        column.setSpacing(4)
        self.head = QLabel(title)
        self.head.setProperty("role", "title")
        self.head.setContentsMargins(11, 0, 0, 0)
        column.addWidget(self.head)
        column.addWidget(pane, 1)


def redo_keys() -> list[QKeySequence]:
    """Which of the two keys is a desktop's own differs; hands know either, in every window."""
    own = QKeySequence(QKeySequence.StandardKey.Redo)
    return list(dict.fromkeys((own, QKeySequence("Ctrl+Y"), QKeySequence("Ctrl+Shift+Z"))))


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


def wrapped(sentence: str = "") -> QLabel:
    """A sentence that goes on below where its line is full."""
    label = PlainLabel(sentence)
    label.setWordWrap(True)
    return label


def faint(sentence: str = "") -> QLabel:
    """A wrapped sentence in the fainter ink."""
    label = wrapped(sentence)
    label.setProperty("role", "faint")
    return label


def head(words: str) -> QLabel:
    """What stands above a part of a pane or form."""
    label = wrapped(words)
    label.setProperty("role", "head")
    return label


def may_be_narrow(box: QComboBox) -> QComboBox:
    """Choices that give way in a narrow pane; the list that they open is as wide as its words."""
    box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
    box.setMinimumContentsLength(6)
    return box


class Scrolled(QScrollArea):
    """As high as what is in it where the screen has the room; else it is scrolled, and goes along
    with the field that Tab goes to.
    """

    def __init__(self, content: QWidget) -> None:
        super().__init__()
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._content = content
        self.setWidget(content)

    def sizeHint(self) -> QSize:
        """All of it, as far as a good half of the screen goes."""
        rim = max(2, self.frameWidth())  # As wide as the ring of what has the focus.
        whole = self._content.sizeHint() + QSize(0, 2 * rim)
        high = round(self.screen().size().height() * _GOOD_HALF)
        return whole.boundedTo(QSize(whole.width(), high))

    def minimumSizeHint(self) -> QSize:
        """A dialog is not made smaller than it has to be."""
        return self.sizeHint()


def label_of(words: str) -> QLabel:
    """What stands before a field. Fields of a form that is made in several places begin below one
    another, since all leave room for the longest words that are usual.
    """
    return _FieldLabel(words)


class _FieldLabel(PlainLabel):
    """Wraps, but leaves room for the longest words that are usual, in letters of any size."""

    def __init__(self, words: str) -> None:
        super().__init__(words)
        self.setWordWrap(True)
        self._leave_room()

    def changeEvent(self, event: QEvent) -> None:
        """Its letters are others now."""
        if event.type() == QEvent.Type.FontChange:
            self._leave_room()
        super().changeEvent(event)

    def _leave_room(self) -> None:
        _, metrics = lettering(_POINTS, bold=False)
        self.setMinimumWidth(round(metrics.horizontalAdvance(_LONGEST_LABEL)) + 2)


def column_of(dialog: QDialog, words: str = "") -> QVBoxLayout:
    """The column of a dialog, begun with what is asked for."""
    column = QVBoxLayout(dialog)
    column.setContentsMargins(24, 18, 24, 16)
    column.setSpacing(12)
    if words:
        label = wrapped(words)
        size_with_letters(label, minimumWidth=380)
        column.addWidget(label)
    return column


def form_in(column: QVBoxLayout) -> QFormLayout:
    """A form at the end of a column."""
    form = QFormLayout()
    form.setVerticalSpacing(6)
    form.setHorizontalSpacing(12)
    column.addLayout(form)
    return form


def ok_and_cancel(dialog: QDialog, accept: str = "") -> QDialogButtonBox:
    """The two buttons of a dialog, which accept and reject it; it is not accepted while a number in
    it was typed that could not be taken. `accept` says what is then done. Asked for when all else
    is in the dialog: fields, ticks and buttons are given their letters.
    """
    buttons = QDialogButtonBox(
        QDialogButtonBox.StandardButton.Ok | QDialogButtonBox.StandardButton.Cancel
    )
    if accept:
        buttons.button(QDialogButtonBox.StandardButton.Ok).setText(accept)
    in_words(buttons)
    buttons.accepted.connect(lambda: _accept(dialog))
    buttons.rejected.connect(dialog.reject)
    _give_letters(dialog, buttons)
    return buttons


def in_words(buttons: QDialogButtonBox) -> None:
    """Some desktops put pictures of their own on the buttons of a dialog; words say it all."""
    for button in buttons.buttons():
        button.setIcon(QIcon())


def _give_letters(dialog: QDialog, buttons: QDialogButtonBox) -> None:
    """Each field with a label, each tick and each button is gone to by a letter of its own."""
    asked: list[QLabel | QAbstractButton] = [
        *(one for one in dialog.findChildren(QLabel) if one.buddy() is not None),
        *dialog.findChildren(QCheckBox),
        *dialog.findChildren(QPushButton),
        *buttons.buttons(),
    ]
    words = with_letters([one.text().replace("&", "") for one in asked])
    for one, told in zip(asked, words, strict=True):
        one.setText(told)


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

"""What of a window's words does not fit where it stands; words that are cut short by dots on
purpose, and told whole by the pointer, are no part of it.
"""

from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractScrollArea,
    QAbstractSpinBox,
    QCheckBox,
    QComboBox,
    QLabel,
    QLineEdit,
    QStyle,
    QStyleOptionComboBox,
    QTableView,
    QWidget,
)

from studio.window.entry_button import EntryButton
from studio.window.short_label import ShortLabel
from tests.window.menu_words import words_of

_SLACK = 1
"""Pixels by which letters may stand over: their advance is rounded up."""


def clipped(window):
    """A line for each widget in sight with words that do not fit, and for each that stands over the
    side of what holds it.
    """
    found = []
    for widget in window.findChildren(QWidget):
        if not widget.isVisible() or widget.window() is not window.window():
            continue
        said = _said(widget) or _over_the_side(widget)
        if said:
            found.append(f"{type(widget).__name__}: {said}")
    return found


def _said(widget):
    if isinstance(widget, (EntryButton, ShortLabel)):
        return ""
    for kind, judge in (
        (QLabel, _label),
        (QCheckBox, _button),
        (QAbstractButton, _button),
        (QComboBox, _choice),
        (QLineEdit, _field),
        (QTableView, _table),
    ):
        if isinstance(widget, kind):
            return judge(widget)
    return ""


def _label(label):
    room = label.contentsRect()
    # The mark of a letter takes no room.
    words = label.text() if label.buddy() is None else words_of(label)
    # One that may give way is made as wide as there is room, and its end is dots or nothing.
    if not words or (
        label.sizePolicy().horizontalPolicy().name == "Ignored" and not label.wordWrap()
    ):
        return ""
    if label.wordWrap():
        whole = label.fontMetrics().boundingRect(
            QRect(0, 0, room.width(), 10_000), Qt.TextFlag.TextWordWrap, words
        )
        fits = whole.height() <= room.height() + 2 and whole.width() <= room.width() + _SLACK
        return "" if fits else f"{words!r} needs {whole.size()}, has {room.size()}"
    wide = max(label.fontMetrics().horizontalAdvance(line) for line in words.splitlines())
    high = label.fontMetrics().height() * len(words.splitlines())
    if wide <= room.width() + _SLACK and high <= room.height() + 2:
        return ""
    return f"{words!r} needs {wide} by {high}, has {room.size()}"


def _button(button):
    if button.property("role") == "pick" or not button.text():
        return ""
    wanted = button.minimumSizeHint()
    if wanted.width() <= button.width() + _SLACK and wanted.height() <= button.height() + _SLACK:
        return ""
    return f"{button.text()!r} needs {wanted}, has {button.size()}"


def _choice(box):
    if box.sizeAdjustPolicy().name.startswith("AdjustToMinimum") or box.toolTip():
        return ""
    option = QStyleOptionComboBox()
    box.initStyleOption(option)
    room = box.style().subControlRect(
        QStyle.ComplexControl.CC_ComboBox, option, QStyle.SubControl.SC_ComboBoxEditField, box
    )
    wide = box.fontMetrics().horizontalAdvance(box.currentText())
    return "" if wide <= room.width() + _SLACK else f"{box.currentText()!r} needs {wide}, {room}"


def _field(field):
    if not isinstance(field.parent(), QAbstractSpinBox):
        return ""  # What a maker typed may be longer than its field, and is scrolled.
    wide = field.fontMetrics().horizontalAdvance(field.text())
    room = field.contentsRect().width() - 4
    return "" if wide <= room + _SLACK else f"{field.text()!r} needs {wide}, has {room}"


def _table(table):
    """Numbers in full, and the heads over them; names may end in dots."""
    model, metrics, said = table.model(), table.fontMetrics(), []
    for column in range(1, model.columnCount()):
        head = model.headerData(column, Qt.Orientation.Horizontal)
        cells = [model.index(row, column).data() for row in range(model.rowCount())]
        numbers = [cell for cell in cells if cell and cell.lstrip("+\N{MINUS SIGN}")[:1].isdigit()]
        wide = max((metrics.horizontalAdvance(words) for words in numbers), default=0) + 19
        wide = max(wide, table.horizontalHeader().sectionSizeHint(column) if head else 0)
        if wide > table.columnWidth(column) + _SLACK:
            said.append(f"column {head!r} needs {wide}, has {table.columnWidth(column)}")
    return ", ".join(said)


def _over_the_side(widget):
    """Horizontally, in the nearest widget that holds others; what is scrolled up or down is not
    cut off.
    """
    holder = widget.parentWidget()
    if holder is None or isinstance(widget, QAbstractScrollArea) or widget.isWindow():
        return ""
    left = widget.mapTo(holder, QPoint(0, 0)).x()
    if left >= -_SLACK and left + widget.width() <= holder.width() + _SLACK:
        return ""
    words = widget.text() if hasattr(widget, "text") else widget.accessibleName()
    return f"{words!r} from {left}, {widget.width()} wide, in {holder.width()}"

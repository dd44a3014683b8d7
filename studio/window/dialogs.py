"""Questions and sentences in windows of their own."""

from __future__ import annotations

from collections.abc import Iterable
from enum import Enum, auto

from PySide6.QtCore import Qt
from PySide6.QtGui import QIcon
from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QFormLayout,
    QInputDialog,
    QLabel,
    QMessageBox,
    QVBoxLayout,
    QWidget,
)

from studio import __version__
from studio.canvas.type_size import size_with_letters
from studio.exchange.drawing_units import UNITS_MM
from studio.exchange.printed_square import side_words
from studio.numbers import LengthUnit
from studio.window.widgets import in_words, wrapped

_CAUTIONS = (
    "Cut and sew a toile in cheap cloth before you cut good cloth.",
    "Rotary cutters, shears, needles and hot irons injure. Take metal parts out of old garments "
    "before sewing over them.",
    "Clothing that protects, for work near machines, flames, saws or traffic, is governed by its "
    "own standards and local rules. Nothing here certifies it.",
)


KEYS = (
    ("Click", "picks what lies there; a number on the sheet can then be typed"),
    ("Double-click", "on a line adds a node"),
    ("Wheel", "closer and further, about the pointer"),
    ("Middle button, Space", "held while dragging moves the sheet"),
    ("Control", "held while dragging goes past what a point would snap to"),
    ("Arrows", "move what is in hand by 1 mm, with Shift by 10, with Alt by 0.1"),
    ("Tab", "takes the next node or end of the picked line"),
    ("C, Delete", "make a node smooth or a corner, take it away"),
    ("D, W", "draw a style line, walk the picked seam"),
    ("Escape", "gives up what is under way and puts everything back"),
)
"""What mouse and keys do on the sheet."""

_ABOUT = (
    "A drafting canvas for people who make their own trousers: from a body's measures to pieces "
    "ready to cut.",
    "Free software under the GNU General Public License, version 3 or later, without any warranty: "
    "use it, study it, change it, pass it on.",
)


class Answer(Enum):
    """What the maker says about unsaved work."""

    SAVE = auto()
    DISCARD = auto()
    STAY = auto()


def tell(parent: QWidget | None, title: str, sentence: str) -> None:
    """Say that something could not be done, calmly; the design is as it was."""
    box = _box(parent, QMessageBox.Icon.Information, title, sentence)
    box.addButton(QMessageBox.StandardButton.Ok).setIcon(QIcon())
    box.exec()


def _box(parent: QWidget | None, icon: QMessageBox.Icon, text: str, more: str) -> QMessageBox:
    """Two sentences as they were written: a name that looks like markup is none."""
    box = QMessageBox(parent)
    box.setTextFormat(Qt.TextFormat.PlainText)
    box.setIcon(icon)
    box.setWindowTitle("Yokewright")
    box.setText(text)
    box.setInformativeText(more)
    for label in box.findChildren(QLabel):
        label.setTextFormat(Qt.TextFormat.PlainText)
    return box


def ask_unsaved(parent: QWidget | None, name: str) -> Answer:
    """What to do with unsaved changes."""
    box = _box(
        parent,
        QMessageBox.Icon.Question,
        f"{name} has changes that are not saved.",
        "Save them before going on?",
    )
    save = box.addButton("Save", QMessageBox.ButtonRole.AcceptRole)
    discard = box.addButton("Leave without saving", QMessageBox.ButtonRole.DestructiveRole)
    box.addButton("Stay here", QMessageBox.ButtonRole.RejectRole)
    box.setDefaultButton(save)
    box.exec()
    if box.clickedButton() is save:
        return Answer.SAVE
    return Answer.DISCARD if box.clickedButton() is discard else Answer.STAY


def ask_recover(parent: QWidget | None, name: str, when: str) -> bool | None:
    """Whether to take up what was left behind, or to throw it away; None to be asked again at the
    next start, which is also what Escape says.
    """
    box = _box(
        parent,
        QMessageBox.Icon.Question,
        f"Unsaved work on {name} was left behind {when}.",
        "The program did not end well. Take the work up again?",
    )
    take = box.addButton("Take it up", QMessageBox.ButtonRole.AcceptRole)
    throw = box.addButton("Throw it away", QMessageBox.ButtonRole.DestructiveRole)
    later = box.addButton("Ask me later", QMessageBox.ButtonRole.RejectRole)
    box.setDefaultButton(take)
    box.setEscapeButton(later)
    box.exec()
    if box.clickedButton() is take:
        return True
    return False if box.clickedButton() is throw else None


def ask(
    parent: QWidget | None,
    text: str,
    more: str,
    accept: str,
    refuse: tuple[str, QMessageBox.ButtonRole],
) -> bool:
    """A question with two answers; True for `accept`, which Enter takes, and Escape where the other
    loses something.
    """
    box = _box(parent, QMessageBox.Icon.Question, text, more)
    accepted = box.addButton(accept, QMessageBox.ButtonRole.AcceptRole)
    box.addButton(*refuse)
    box.setDefaultButton(accepted)
    if refuse[1] is QMessageBox.ButtonRole.DestructiveRole:
        # A slip of the hand never takes the answer by which something is lost.
        box.setEscapeButton(accepted)
    box.exec()
    return box.clickedButton() is accepted


def ask_write_over(parent: QWidget | None, name: str) -> bool:
    """Whether a file that is there already may be written over."""
    return ask(
        parent,
        f"There is a file called {name} already.",
        "Writing over it takes away what is in it now.",
        "Write over it",
        ("Leave it", QMessageBox.ButtonRole.RejectRole),
    )


def ask_write_over_others(parent: QWidget | None, name: str) -> bool:
    """Whether a design's own file may be written over, though what is in it is not from here."""
    return not ask(
        parent,
        f"{name} was changed by another window or program.",
        "Writing over it takes away what is in it now. Save as, under another name, keeps both.",
        "Leave it",
        ("Write over it", QMessageBox.ButtonRole.DestructiveRole),
    )


def ask_unit(
    parent: QWidget | None, words: str = "The drawing does not say its unit. It is in"
) -> str | None:
    """The unit of a drawing that does not say it, or seems to say another; None when the maker
    gives up.
    """
    chosen, taken = QInputDialog.getItem(parent, "Yokewright", words, list(UNITS_MM), 0, False)
    return chosen if taken else None


def square_caution(unit: LengthUnit) -> str:
    """What is measured before anything printed is cut by."""
    return f"Measure the printed test square before cutting: it is {side_words(unit)} on each side."


def show_cautions(parent: QWidget | None, unit: LengthUnit = "mm") -> None:
    """The usual cautions."""
    dialog, column = _told("Before you cut", parent)
    _say(column, (square_caution(unit), *_CAUTIONS))
    column.addWidget(_ok(dialog))
    dialog.exec()


def show_keys(parent: QWidget | None) -> None:
    """What hand and keys do on the sheet."""
    dialog, column = _told("Mouse and keys", parent)
    form = QFormLayout()
    form.setVerticalSpacing(6)
    form.setHorizontalSpacing(24)
    for keys, words in KEYS:
        head = QLabel(keys)
        head.setProperty("role", "term")
        form.addRow(head, QLabel(words))
    column.addLayout(form)
    column.addWidget(_ok(dialog))
    dialog.exec()


def show_about(parent: QWidget | None) -> None:
    """What the program is, its version and its licence."""
    dialog, column = _told("About Yokewright", parent)
    name = QLabel(f"Yokewright {__version__}")
    name.setProperty("role", "title")
    column.addWidget(name)
    _say(column, _ABOUT)
    column.addWidget(_ok(dialog))
    dialog.exec()


def _say(column: QVBoxLayout, sentences: Iterable[str]) -> None:
    for sentence in sentences:
        label = wrapped(sentence)
        size_with_letters(label, minimumWidth=440)
        column.addWidget(label)


def _told(title: str, parent: QWidget | None) -> tuple[QDialog, QVBoxLayout]:
    dialog = QDialog(parent)
    dialog.setWindowTitle(title)
    column = QVBoxLayout(dialog)
    column.setContentsMargins(24, 20, 24, 16)
    column.setSpacing(12)
    return dialog, column


def _ok(dialog: QDialog) -> QDialogButtonBox:
    buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Ok)
    in_words(buttons)
    buttons.accepted.connect(dialog.accept)
    return buttons

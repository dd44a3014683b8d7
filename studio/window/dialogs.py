"""Questions and sentences in windows of their own."""

from __future__ import annotations

from collections.abc import Iterable
from enum import Enum, auto

import msgspec
from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QApplication,
    QDialog,
    QDialogButtonBox,
    QFormLayout,
    QInputDialog,
    QLabel,
    QLineEdit,
    QMessageBox,
    QPlainTextEdit,
    QVBoxLayout,
    QWidget,
)

from studio import __version__
from studio.canvas.length_field import LengthField
from studio.canvas.plain_tip import plain_tip
from studio.canvas.type_size import size_with_letters
from studio.design import Body
from studio.exchange.drawing_units import UNITS_MM
from studio.exchange.printed_square import side_words
from studio.numbers import MILLIMETRES, LengthUnit, chosen_as, decimal
from studio.window.body_measures import BODY_LABELS, REQUIRED, WHERE_TAKEN, still_needed
from studio.window.choice_box import ChoiceBox
from studio.window.widgets import Scrolled, column_of, faint, form_in, ok_and_cancel, wrapped

_THREE_LINES = 52
"""Pixels for three lines of letters of the usual size."""

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
    ("C, Delete", "make a node smooth or a corner, remove it"),
    ("D, W", "draw a style line, walk the picked seam"),
    ("Escape", "gives up what is under way and puts everything back"),
)
"""What hand and keys do on the sheet."""

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


def ask_unit(parent: QWidget | None) -> str | None:
    """The unit of a drawing that does not say it; None when the maker gives up."""
    words = "The drawing does not say its unit. It is in"
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
    dialog, column = _told("Hand and keys", parent)
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
    buttons.accepted.connect(dialog.accept)
    return buttons


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


def unit_of_bodies(chosen: LengthUnit) -> LengthUnit:
    """What a body is measured in: inches by those who have chosen them, with decimals or fractions
    as they chose; else centimetres, as a tape measure has them (common practice, no source).
    """
    return chosen if decimal(chosen) == "inch" else "cm"


class BodyDialog(QDialog):
    """Measurements for a new design."""

    def __init__(
        self,
        parent: QWidget | None = None,
        unit: LengthUnit = "cm",
        title: str = "New from a body",
        accept: str = "Draft the block",
    ) -> None:
        super().__init__(parent)
        self.setWindowTitle(title)
        self.unit: LengthUnit = unit
        self._values: dict[str, float | None] = {}
        self._fields: dict[str, LengthField] = {}
        column = column_of(
            self,
            "Measures with a * are needed; a waist height will do instead of the body rise. "
            "Each further measure makes the block fit better.",
        )
        holder = QWidget()
        form = QFormLayout(holder)
        # On the right there is room for the bar by which it is scrolled.
        form.setContentsMargins(0, 0, 12, 0)
        form.setVerticalSpacing(6)
        form.setHorizontalSpacing(12)
        self._name = QLineEdit()
        self._name.setAccessibleName("Name")
        form.addRow("Name", self._name)
        units = ChoiceBox()
        units.setAccessibleName("Unit")
        for known in MILLIMETRES:
            units.addItem(chosen_as(known), known)
        units.setCurrentIndex(units.findData(unit))
        units.currentIndexChanged.connect(lambda at: self._set_unit(units.itemData(at)))
        form.addRow("Unit", units)
        for name, label in BODY_LABELS.items():

            def change(mm: float | None, name: str = name) -> None:
                self._values[name] = mm

            field = LengthField(label, change, may_be_empty=True)
            field.show_mm(None)
            field.setToolTip(plain_tip(WHERE_TAKEN[name]))
            needed = name in REQUIRED or name == "body_rise"
            form.addRow(f"{label} *" if needed else label, field)
            self._fields[name] = field
        column.addWidget(Scrolled(holder), 1)
        self._where = faint("")
        # Room for the longest from the start, so that nothing moves while the maker types.
        size_with_letters(self._where, minimumHeight=_THREE_LINES)
        self._where.setAlignment(Qt.AlignmentFlag.AlignTop)
        column.addWidget(self._where)
        column.addWidget(ok_and_cancel(self, accept))
        self._set_unit(unit)
        app = QApplication.instance()
        assert isinstance(app, QApplication)
        app.focusChanged.connect(self._show_where)

    def accept(self) -> None:
        """What is still needed is asked for all at once."""
        needed = still_needed([name for name, mm in self._values.items() if mm])
        if needed:
            tell(self, "Some measures are still needed.", f"{needed.capitalize()}.")
            return
        super().accept()

    def _show_where(self, _old: QWidget | None, now: QWidget | None) -> None:
        """Where the measure that is typed is taken."""
        for name, field in self._fields.items():
            if field is now:
                self._where.setText(WHERE_TAKEN[name])

    def body(self) -> Body:
        """What was typed; a measure not taken that is required counts as nothing, and the draft
        will say so by its name.
        """
        values = {name: self._values.get(name) for name in BODY_LABELS}
        needed = {name: values.pop(name) or 0.0 for name in REQUIRED}
        return msgspec.convert(
            {"name": self._name.text().strip(), **needed, **values}, Body, strict=False
        )

    def _set_unit(self, unit: LengthUnit) -> None:
        self.unit = unit
        for field in self._fields.values():
            field.set_unit(self.unit)

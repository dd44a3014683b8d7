"""A picked cloth: its name, colour and what it does when it is worn, washed and turned over."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from msgspec.structs import replace
from PySide6.QtCore import QSize
from PySide6.QtGui import QColor
from PySide6.QtWidgets import (
    QCheckBox,
    QColorDialog,
    QFormLayout,
    QLineEdit,
    QPushButton,
    QWidget,
)

from studio.canvas.selection import Selection
from studio.cloth import stash_edit as edit
from studio.design.cloth import Cloth
from studio.window.choice_box import ChoiceBox
from studio.window.document import Document
from studio.window.number_box import NumberBox
from studio.window.one_line import one_line
from studio.window.plain_label import PlainLabel
from studio.window.stash_pane import swatch
from studio.window.widgets import faint, may_be_narrow

_SIDES = {"one": "its right side only", "both": "either side"}


class ClothForm(QWidget):
    """The fields follow the design; each change is one step."""

    def __init__(self, document: Document, name: str) -> None:
        super().__init__()
        self._document = document
        self._name = name
        form = QFormLayout(self)
        form.setContentsMargins(0, 0, 0, 0)
        form.setVerticalSpacing(4)
        self.called: QLineEdit = _line("Name", self._rename_typed)
        self.colour = QPushButton()
        self.colour.setAccessibleName("Colour")
        self.colour.setProperty("role", "pick")
        self.colour.setIconSize(QSize(18, 18))
        self.colour.clicked.connect(self._ask_colour)
        self.fibre: QLineEdit = _line("Fibre", partial(self._set_typed, "fibre"))
        self.fibre.setPlaceholderText("cotton, wool, linen…")
        self.note: QLineEdit = _line("Note", partial(self._set_typed, "note"))
        self.boxes: dict[str, NumberBox] = {}
        for field, label, head, most in (
            ("stretch", "Stretches", "Stretch round the body", edit.MOST_STRETCH),
            ("warp_shrinkage", "Shrinks, length", "Shrinkage along the warp", edit.MOST_SHRINKAGE),
            ("weft_shrinkage", "Shrinks, width", "Shrinkage along the weft", edit.MOST_SHRINKAGE),
        ):
            self.boxes[field] = NumberBox(head, partial(self.set, field), unit=" %", most=most)
            self.boxes[field].setObjectName(label)
        self.one_way = QCheckBox("Nap or print runs one way")
        self.one_way.toggled.connect(partial(self.set, "one_way"))
        self.sides = may_be_narrow(ChoiceBox())
        self.sides.setAccessibleName("Worn outside may be")
        for word, said in _SIDES.items():
            self.sides.addItem(said, word)
        self.sides.activated.connect(lambda _at: self.set("sides", self.sides.currentData()))
        for label, widget in (
            ("Name", self.called),
            ("Colour", self.colour),
            ("Fibre", self.fibre),
            *((box.objectName(), box) for box in self.boxes.values()),
            ("Worn outside", self.sides),
        ):
            form.addRow(PlainLabel(label), widget)
        form.addRow(self.one_way)
        form.addRow("Note", self.note)
        form.addRow(
            faint(
                "Pieces are cut as much larger as it will shrink; 0 when it was washed. "
                "One way: all pieces point up."
            )
        )
        self.refresh()

    def refresh(self) -> None:
        """Show the cloth as it is now."""
        cloth = self._cloth()
        if cloth is None:
            return
        for line, text in (
            (self.called, cloth.name),
            (self.fibre, cloth.fibre),
            (self.note, cloth.note),
        ):
            if not line.hasFocus():
                line.setText(text)
        for field, box in self.boxes.items():
            box.show_value(getattr(cloth, field))
        self.colour.setIcon(swatch(cloth.colour, 18))
        self.colour.setText(cloth.colour)
        self.one_way.blockSignals(True)
        self.one_way.setChecked(cloth.one_way)
        self.one_way.blockSignals(False)
        self.sides.setCurrentIndex(self.sides.findData(cloth.sides))

    def set(self, field: str, value: object) -> None:
        """Change one thing about the cloth."""
        cloth = self._cloth()
        if cloth is None or getattr(cloth, field) == value:
            return
        words = field.replace("_", " ").capitalize()
        changed: Cloth = replace(cloth, **{field: value})
        made = partial(edit.changed_cloth, cloth=changed)
        if not self._document.edit(f"{words} of {self._name}", made):
            self.refresh()

    def rename(self, name: str) -> None:
        """Call it otherwise, wherever it is spoken of."""
        if name == self._name or self._cloth() is None:
            return
        made = partial(edit.renamed_cloth, old=self._name, new=name)
        if self._document.edit(f"Name {name}", made):
            self._document.select(Selection("cloth", name))
        else:
            self.called.setText(self._name)

    def _rename_typed(self) -> None:
        self.rename(one_line(self.called.text()))

    def _set_typed(self, field: str) -> None:
        line = self.fibre if field == "fibre" else self.note
        self.set(field, one_line(line.text()))

    def _ask_colour(self) -> None:
        cloth = self._cloth()
        if cloth is not None:
            asked = QColorDialog.getColor(QColor(cloth.colour), self, "Colour of the cloth")
            if asked.isValid():
                self.set("colour", asked.name())

    def _cloth(self) -> Cloth | None:
        cloths = self._document.history.design.cloths
        return next((cloth for cloth in cloths if cloth.name == self._name), None)


def _line(label: str, done: Callable[[], object]) -> QLineEdit:
    line = QLineEdit()
    line.setAccessibleName(label)
    line.editingFinished.connect(done)
    return line

"""The width, height and lean of a picked patch, to be typed."""

from __future__ import annotations

from functools import partial

from msgspec.structs import replace
from PySide6.QtWidgets import QFormLayout, QLabel

from studio.canvas.length_field import LengthField
from studio.canvas.plain_tip import plain_tip
from studio.cut.patch_shape import LEAST, PatchShape, shape_of, with_shape
from studio.design import Design, StyleLine
from studio.numbers import LengthUnit
from studio.window.document import Document
from studio.window.number_box import NumberBox

_TIPS = {
    "width": "Along its top, on the sewing line.",
    "height": "From its top to its lower corners, on the sewing line; a point below is not in it.",
    "lean": "From the grain; counter-clockwise is more.",
}


class PatchFields:
    """Rows of a form, seen only while the picked line is a patch that width, height and lean tell
    the shape of.
    """

    def __init__(self, document: Document, name: str, unit: LengthUnit, form: QFormLayout) -> None:
        self._document = document
        self._name = name
        self._form = form
        self.width_field = LengthField("Width", partial(self._set, "width"), least=LEAST)
        self.height_field = LengthField("Height", partial(self._set, "height"), least=LEAST)
        self.lean_box = NumberBox(
            "Leans by", partial(self._set, "lean"), unit="\N{DEGREE SIGN}", least=-180.0, most=180.0
        )
        for field in (self.width_field, self.height_field):
            field.set_unit(unit)
        for words, what, widget in (
            ("Width", "width", self.width_field),
            ("Height", "height", self.height_field),
            ("Leans by", "lean", self.lean_box),
        ):
            head = QLabel(words)
            head.setToolTip(plain_tip(_TIPS[what]))
            widget.setToolTip(plain_tip(_TIPS[what]))
            form.addRow(head, widget)

    def refresh(self) -> None:
        """Show the patch as it is now."""
        shape = self._shape()
        for field in (self.width_field, self.height_field, self.lean_box):
            self._form.setRowVisible(field, shape is not None)
        if shape is None:
            return
        for length, mm in ((self.width_field, shape.width), (self.height_field, shape.height)):
            if not length.hasFocus():
                length.show_mm(mm)
        if not self.lean_box.hasFocus():
            self.lean_box.show_value(shape.lean)

    def _shape(self) -> PatchShape | None:
        line = self._line(self._document.design)
        return None if line is None else shape_of(line)

    def _line(self, design: Design) -> StyleLine | None:
        return next((one for one in design.lines if one.name == self._name), None)

    def _set(self, what: str, value: float | None) -> None:
        line = self._line(self._document.history.design)
        shape = None if line is None else shape_of(line)
        if line is None or shape is None or value is None:
            return

        def made(design: Design) -> Design:
            return design.with_line(with_shape(line, replace(shape, **{what: value})))

        if not self._document.edit(f"Set the {what} of {self._name}", made):
            self.refresh()

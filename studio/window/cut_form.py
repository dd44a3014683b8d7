"""A picked piece: from which cloth it is cut, how often, and the numbers of a band or strip."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from msgspec.structs import replace
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QCheckBox, QComboBox, QFormLayout, QSpinBox, QWidget

from studio.canvas.gives_back import escape_gives_back, number_of
from studio.canvas.length_field import LengthField
from studio.canvas.theme import CLOTH
from studio.cut.count import with_count, with_loops_spread
from studio.cut.parts.band_facing import (
    TURN_OF_CLOTH,
    Band,
    band_with,
    facings_of,
    layer_of,
    with_band_facing,
    with_facing_cut,
    without_band_facing,
)
from studio.design.cloth import Cloth
from studio.design.design import Design
from studio.design.pieces import (
    FacingPiece,
    PanelPiece,
    PieceRecipe,
    StripPiece,
    WaistbandPiece,
)
from studio.numbers import LengthUnit
from studio.pattern import with_places_kept
from studio.sew.loops import may_be_spread
from studio.window.choice_box import ChoiceBox
from studio.window.document import Document
from studio.window.widgets import label_of

_LENGTHS: dict[type[PieceRecipe], tuple[tuple[str, str, float], ...]] = {
    WaistbandPiece: (
        ("width", "Width, folded", 1.0),
        ("overlap", "Overlap", 0.0),
        ("button", "Button, across", 0.0),
    ),
    StripPiece: (("length", "Length", 1.0), ("width", "Width", 1.0)),
}
"""Lengths that a piece's own recipe holds: field, what it is called, its least, mm."""

_SHORTER = -1000.0
"""A strip that fits a seam may be shorter than it: its least, mm."""

_END_LENGTHS = (("overlap", "Overlap", 1.0), ("button", "Button, across", 0.0))
"""Lengths of the end of a band cut off a panel, which both of its fronts share."""


class CutForm(QWidget):
    """The fields of one piece's recipe; made anew by its owner when the recipe changes."""

    def __init__(self, document: Document, recipe: PieceRecipe, unit: LengthUnit) -> None:
        super().__init__()
        self._document = document
        self._name = recipe.name
        self.lengths: dict[str, LengthField] = {}
        self._form = QFormLayout(self)
        self._form.setContentsMargins(0, 0, 0, 0)
        self._form.setVerticalSpacing(4)
        self._form.setHorizontalSpacing(12)
        self.cloth = self._cloth_box(recipe)
        self._add("From the cloth", self.cloth)
        self.whole_layer: QCheckBox | None = None
        self.faced_with: QComboBox | None = None
        band = band_with(document.design, recipe.name)
        if band is not None:
            self._add_layer(recipe, band)
        if hasattr(recipe, "count"):
            is_pair = getattr(recipe, "cut", "single") == "pair"
            self._add("How many pairs" if is_pair else "How many", self._count_box(recipe.count))
        self.spread: QCheckBox | None = None
        self._add_spread(recipe.name)
        for name, label, least in _LENGTHS.get(type(recipe), ()):
            if name == "length" and isinstance(recipe, StripPiece) and recipe.fits:
                label, least = f"Longer than {recipe.fits}", _SHORTER
            self._add_length(name, label, least, getattr(recipe, name), self.set_value, unit)
        if isinstance(recipe, PanelPiece) and recipe.ends is not None:
            for name, label, least in _END_LENGTHS:
                value = getattr(recipe.ends, name)
                self._add_length(name, label, least, value, self.set_end, unit)
        if band is not None and isinstance(recipe, FacingPiece):
            self._add_length("less", "Narrower by", 0.0, recipe.less, self.set_narrower, unit)

    def set_cloth(self, name: str) -> None:
        """Cut the piece, and where it is asked for all of its layer of a band, from a cloth; one
        that is not known yet becomes a cloth of the design.
        """
        name = name.strip()
        design = self._document.history.design
        if not name or name == self._recipe().cloth:
            return
        is_whole = self.whole_layer is not None and self.whole_layer.isChecked()
        changed = layer_of(design, self._name) if is_whole else (self._name,)
        if all(cloth.name != name for cloth in design.cloths):
            design = replace(design, cloths=(*design.cloths, Cloth(name, CLOTH)))
        pieces = tuple(
            replace(one, cloth=name) if one.name in changed else one for one in design.pieces
        )
        what = self._name if len(changed) == 1 else f"{self._name} and its like"
        self._document.change(f"Cut {what} from {name}", replace(design, pieces=pieces))

    def face_with(self, cloth: str) -> None:
        """Face the whole band with a cloth, or with another; "" takes its facing away."""
        design = self._document.history.design
        band = band_with(design, self._name)
        if band is None:
            return
        if not facings_of(design, band):
            if cloth:
                made = partial(with_band_facing, design, band, cloth, TURN_OF_CLOTH)
                self._take(f"Face {band.name} with {cloth}", made)
        elif cloth:
            made = partial(with_facing_cut, design, band, cloth=cloth, less=None)
            self._take(f"Face {band.name} with {cloth}", made)
        else:
            self._take(f"No facing of {band.name}", partial(without_band_facing, design, band))

    def set_narrower(self, _field: str, value: float | None) -> None:
        """Take so much off the lower edge of all facings of the band, mm."""
        design = self._document.history.design
        band = band_with(design, self._name)
        if band is not None and value is not None:
            made = partial(with_facing_cut, design, band, cloth=None, less=value)
            self._take(f"Facing of {band.name} narrower", made)

    def _take(self, label: str, made: Callable[[], Design]) -> None:
        self._document.edit(label, lambda before: with_places_kept(before, made()))

    def set_value(self, field: str, value: float | None) -> None:
        """Give a number of the recipe."""
        design = self._document.history.design
        if field == "count" and value is not None:
            made = with_count(design, self._name, round(value))
        else:
            pieces = tuple(
                replace(one, **{field: value}) if one.name == self._name else one
                for one in design.pieces
            )
            made = replace(design, pieces=pieces)
        self._document.change(f"{field.capitalize()} of {self._name}", made)

    def set_end(self, field: str, value: float | None) -> None:
        """Give a number of a band's end, to both of its fronts: they must fit on each other."""
        recipe = self._recipe()
        if not isinstance(recipe, PanelPiece) or value is None:
            return
        design = self._document.history.design
        pieces = tuple(
            replace(one, ends=replace(one.ends, **{field: value}))
            if isinstance(one, PanelPiece)
            and one.ends is not None
            and one.bounds[:1] == recipe.bounds[:1]
            else one
            for one in design.pieces
        )
        self._document.change(
            f"{field.capitalize()} of {self._name}", replace(design, pieces=pieces)
        )

    def set_spread(self, spread: bool) -> None:
        """Have loops spread round the waist and notched there, or leave their places to the eye."""
        made = with_loops_spread(self._document.history.design, self._name, spread)
        words = f"Spread {self._name} round the waist" if spread else f"Place {self._name} by eye"
        self._document.change(words, made)

    def _recipe(self) -> PieceRecipe:
        return next(one for one in self._document.history.design.pieces if one.name == self._name)

    def _cloth_box(self, recipe: PieceRecipe) -> QComboBox:
        box = ChoiceBox()
        box.setEditable(True)
        box.setInsertPolicy(QComboBox.InsertPolicy.NoInsert)
        box.setAccessibleName("Cloth")
        box.addItems([cloth.name for cloth in self._document.design.cloths])
        box.setCurrentText(recipe.cloth)
        box.activated.connect(lambda _at: self.set_cloth(box.currentText()))
        line = box.lineEdit()
        assert line is not None
        line.editingFinished.connect(lambda: self.set_cloth(box.currentText()))
        return box

    def _add_layer(self, recipe: PieceRecipe, band: Band) -> None:
        """What is said once for all pieces of one layer of a band, and the band's facing."""
        design = self._document.design
        others = len(layer_of(design, recipe.name)) - 1
        plural = "s" if others > 1 else ""
        what = "facing" if isinstance(recipe, FacingPiece) else "band"
        self.whole_layer = QCheckBox(f"The other {others} piece{plural} of the {what} too")
        self.whole_layer.setChecked(True)
        self._form.addRow(self.whole_layer)
        box = ChoiceBox()
        box.setAccessibleName("Faced with")
        box.addItem("no facing", "")
        for cloth in design.cloths:
            box.addItem(cloth.name, cloth.name)
        known = {one.cloth for one in facings_of(design, band).values()}
        if len(known) > 1:
            box.addItem("several cloths", None)
        box.setCurrentIndex(
            box.count() - 1 if len(known) > 1 else max(0, box.findData("".join(known)))
        )
        box.activated.connect(lambda _at: self._face_chosen(box.currentData()))
        self._add("Faced with", box)
        self.faced_with = box

    def _add_spread(self, name: str) -> None:
        """For loops that are caught in a waist."""
        design = self._document.design
        is_spread = may_be_spread(name, design.pieces, design.joins, design.finishes)
        if is_spread is None:
            return
        self.spread = QCheckBox("Spread round the waist, notched")
        self.spread.setToolTip(
            "Evenly, clear of seams and pockets, alike on both halves; otherwise by eye"
        )
        self.spread.setChecked(is_spread)
        self.spread.toggled.connect(self.set_spread)
        self._form.addRow(self.spread)

    def _face_chosen(self, cloth: str | None) -> None:
        if cloth is not None:
            self.face_with(cloth)

    def _count_box(self, count: int) -> QSpinBox:
        box = QSpinBox()
        box.setAccessibleName("How many")
        box.setRange(1, 99)
        box.setKeyboardTracking(False)
        box.setAlignment(Qt.AlignmentFlag.AlignRight)
        box.setValue(count)
        box.valueChanged.connect(partial(self.set_value, "count"))
        escape_gives_back(box, lambda: number_of(box), lambda: box.setValue(box.value()))
        return box

    def _add_length(
        self,
        name: str,
        label: str,
        least: float,
        value: float,
        give: Callable[[str, float | None], None],
        unit: LengthUnit,
    ) -> None:
        field = LengthField(label, partial(give, name), least=least)
        field.set_unit(unit)
        field.show_mm(value)
        self._add(label, field)
        self.lengths[name] = field

    def _add(self, label: str, widget: QWidget) -> None:
        self._form.addRow(label_of(label), widget)

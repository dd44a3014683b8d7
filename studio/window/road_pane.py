"""The road at the left: every stage from body to check, with what the maker decided in it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import msgspec
from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QComboBox,
    QFormLayout,
    QLabel,
    QMenu,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from studio.block.plausible import checked
from studio.canvas.length_field import LengthField
from studio.canvas.plain_tip import plain_tip
from studio.canvas.selection import Picked, Selection
from studio.canvas.type_size import size_with_letters
from studio.design import Body, Design, DraftedBlock
from studio.design.block import Block
from studio.design.body import Fit
from studio.design.fitted import with_fit
from studio.errors import YokewrightError
from studio.numbers import LengthUnit, retold
from studio.window import dialogs
from studio.window.body_dialog import BodyDialog, unit_of_bodies
from studio.window.body_measures import BODY_LABELS, FIT_TOLD, REQUIRED, WHERE_TAKEN
from studio.window.buttons import with_menu
from studio.window.choice_box import ChoiceBox
from studio.window.document import Document
from studio.window.drawn_block import DrawnBlockForm
from studio.window.entry_button import EntryButton
from studio.window.sewing_pane import SewingPane
from studio.window.stash_pane import StashPane
from studio.window.steps_pane import StepsPane
from studio.window.toile_pane import ToilePane
from studio.window.widgets import faint, show_in

BLOCK, ALTERATIONS, CLOTH = 1, 2, 7
"""Where the block, the steps and the stash stand among the stages."""

FIT_LABELS = {
    "waist_ease": "Waist ease",
    "hip_ease": "Hip ease",
    "thigh_ease": "Thigh, at least",
    "knee_ease": "Knee, at least",
    "crotch_ease": "Crotch ease",
    "hem_girth": "Hem girth",
    "inseam_stretch": "Inseam stretch",
}


class RoadPane(QScrollArea):
    """The stages as headings that open one at a time. Below the style lines and the pieces stand
    menus that add more of them, filled by whoever can do so.
    """

    def __init__(self, document: Document, line_menu: QMenu, part_menu: QMenu) -> None:
        super().__init__()
        self._document = document
        self.line_menu, self.part_menu = line_menu, part_menu
        self._unit: LengthUnit = "mm"
        self._stages: list[tuple[QPushButton, QWidget]] = []
        self._fields: list[tuple[LengthField, Callable[[Design], float | None]]] = []
        self._steps: StepsPane | None = None
        self._toile: ToilePane | None = None
        self._order: SewingPane | None = None
        self._stash: StashPane | None = None
        self._drawn: DrawnBlockForm | None = None
        self._notches: QComboBox | None = None
        self._entries: list[tuple[QPushButton, Selection]] = []
        self._shape: tuple[Any, ...] = ()
        self._open = 3
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        size_with_letters(self, minimumWidth=258)
        self.setAccessibleName("The road")
        document.shown.connect(self.refresh)
        document.picked.connect(self._show_picked)
        self.refresh()

    def set_unit(self, unit: LengthUnit) -> None:
        """Show lengths in another unit."""
        self._unit = unit
        for field, _ in self._fields:
            field.set_unit(unit)
        for pane in (self._steps, self._toile, self._stash):
            if pane is not None:
                pane.set_unit(unit)

    def open_stage(self, index: int) -> None:
        """Open one stage and close the others."""
        self._open = index
        for number, (button, body) in enumerate(self._stages):
            button.setChecked(number == index)
            body.setVisible(number == index)

    def refresh(self) -> None:
        """Show the design; the widgets are made anew only when its outline changed."""
        if self._document.only_lines_moved:
            return  # Nothing of a line but its name stands here.
        design = self._document.design
        shape = (
            design.body is None,
            _block_names(design.block),
            tuple((line.name, line.kind, line.panel) for line in design.lines),
            tuple((piece.name, piece.cloth) for piece in design.pieces),
            tuple(join.name for join in design.joins),
        )
        if shape != self._shape:
            self._shape = shape
            self._build(design)
        for field, read in self._fields:
            if not field.hasFocus():
                field.show_mm(read(design))
        if self._notches is not None:
            self._notches.setCurrentText(design.notch_shape)
        for pane in (self._steps, self._toile, self._order, self._stash):
            if pane is not None:
                pane.refresh()

    def _build(self, design: Design) -> None:
        self._stages, self._fields, self._entries = [], [], []
        holder = QWidget()
        column = QVBoxLayout(holder)
        column.setContentsMargins(0, 6, 0, 12)
        column.setSpacing(0)
        for title, body in (
            ("Body", self._body_form(design)),
            ("Block", self._block_form(design)),
            ("Alterations", self._new_steps()),
            ("Style lines", self._lines(design)),
            ("Pieces", self._pieces(design)),
            ("Sewing", self._sewing()),
            ("Toile", self._new_toile()),
            ("Cloth", self._new_stash()),
        ):
            self._add_stage(column, title, body)
        column.addStretch(1)
        show_in(self, holder)
        self.open_stage(self._open)
        self.set_unit(self._unit)
        self._show_picked()

    def _add_stage(self, column: QVBoxLayout, title: str, body: QWidget) -> None:
        number = len(self._stages)
        button = QPushButton(f"{number + 1}   {title}")
        button.setCheckable(True)
        button.setProperty("role", "stage")
        button.clicked.connect(lambda _checked, at=number: self.open_stage(at))
        column.addWidget(button)
        column.addWidget(body)
        self._stages.append((button, body))

    def _body_form(self, design: Design) -> QWidget:
        if design.body is None:
            return self._no_body()
        form = _Form()
        for name, label in BODY_LABELS.items():

            def change(mm: float | None, name: str = name, label: str = label) -> None:
                now = self._document.history.design
                if now.body is not None:
                    body: Body = msgspec.structs.replace(now.body, **{name: mm})
                    self._take(f"Set {label.lower()}", msgspec.structs.replace(now, body=body))

            def read(now: Design, name: str = name) -> float | None:
                return None if now.body is None else getattr(now.body, name)

            field = self._field(label, change, read, name not in REQUIRED)
            field.setToolTip(plain_tip(WHERE_TAKEN[name]))
            form.add(label, field)
        return form

    def _no_body(self) -> QWidget:
        """A drawn block stands without a body; with one its girths are held against it."""
        form = _Form()
        words = "The block came from a drawing. With a body its girths are held against it."
        form.across(faint(words))
        measures = QPushButton("Give it a body…")
        measures.clicked.connect(lambda _on=False: self._give_body())
        form.across(measures)
        return form

    def _give_body(self) -> None:
        unit = unit_of_bodies(self._unit)
        dialog = BodyDialog(self.window(), unit, "Give it a body", "Take these")
        while dialog.exec():
            body = dialog.body()
            try:
                checked(body, Fit(), [])
            except YokewrightError as problem:
                told = retold(problem.sentence, dialog.unit)
                dialogs.tell(self.window(), "These measures cannot be used.", told)
                continue
            design = self._document.history.design
            self._take("Give it a body", msgspec.structs.replace(design, body=body))
            return

    def _block_form(self, design: Design) -> QWidget:
        block = design.block
        if not isinstance(block, DraftedBlock):
            self._drawn = DrawnBlockForm(self._document)
            return self._drawn
        form = _Form()
        for name, label in FIT_LABELS.items():

            def change(mm: float | None, name: str = name, label: str = label) -> None:
                now = self._document.history.design
                if isinstance(now.block, DraftedBlock):
                    fit = msgspec.structs.replace(now.block.fit, **{name: mm})
                    self._take(f"Set {label.lower()}", with_fit(now, fit))

            def read(now: Design, name: str = name) -> float | None:
                if not isinstance(now.block, DraftedBlock):
                    return None
                value: float | None = getattr(now.block.fit, name)
                return value

            field = self._field(label, change, read, name == "hem_girth", least=-200.0)
            field.setToolTip(plain_tip(FIT_TOLD[name]))
            if name == "hem_girth":
                field.setSpecialValueText("by the hip")
            form.add(label, field)
        return form

    def _new_steps(self) -> StepsPane:
        self._steps = StepsPane(self._document)
        return self._steps

    def _new_toile(self) -> ToilePane:
        self._toile = ToilePane(self._document)
        return self._toile

    def _new_stash(self) -> StashPane:
        self._stash = StashPane(self._document)
        self._stash.set_unit(self._unit)
        return self._stash

    def _lines(self, design: Design) -> QWidget:
        return self._entry_list(
            [
                (f"{line.name}", f"{line.kind}, {line.panel}", "line", line.name)
                for line in design.lines
            ],
            "No lines are drawn yet.",
            ("Add a line", self.line_menu),
        )

    def _pieces(self, design: Design) -> QWidget:
        return self._entry_list(
            [(piece.name, piece.cloth, "piece", piece.name) for piece in design.pieces],
            "There are no pieces.",
            ("Add a part", self.part_menu),
        )

    def _sewing(self) -> QWidget:
        holder = QWidget()
        column = QVBoxLayout(holder)
        column.setContentsMargins(0, 0, 0, 6)
        column.setSpacing(0)
        form = _Form()

        def change(mm: float | None) -> None:
            now = self._document.history.design
            if mm is not None:
                changed = msgspec.structs.replace(now, standard_allowance=mm)
                self._take("Set the standard allowance", changed)

        label = "Single allowance"
        form.add(label, self._field(label, change, lambda now: now.standard_allowance, False))
        shapes = ChoiceBox()
        shapes.setAccessibleName("Notches are cut as")
        shapes.addItems(["slit", "T", "castle", "check", "U"])
        shapes.textActivated.connect(self._cut_notches_as)
        self._notches = shapes
        form.add("Notches", shapes)
        column.addWidget(form)
        self._order = SewingPane(self._document)
        column.addWidget(self._order)
        return holder

    def _cut_notches_as(self, shape: str) -> None:
        design = self._document.history.design
        if shape != design.notch_shape:
            changed = msgspec.structs.replace(design, notch_shape=shape)
            self._document.change(f"Cut notches as {shape}", changed)

    def _entry_list(
        self,
        rows: list[tuple[str, str, Picked, str]],
        none: str,
        adding: tuple[str, QMenu],
    ) -> QWidget:
        holder = QWidget()
        column = QVBoxLayout(holder)
        column.setContentsMargins(14, 2, 12, 10)
        column.setSpacing(1)
        for title, what, kind, name in rows:
            button = EntryButton(f"{title}   ·   {what}")
            selection = Selection(kind, name)
            button.clicked.connect(lambda _checked, it=selection: self._document.select(it))
            column.addWidget(button)
            self._entries.append((button, selection))
        if not rows:
            column.addWidget(_note(none))
        column.addSpacing(6)
        column.addWidget(with_menu(*adding)[0])
        return holder

    def _field(
        self,
        label: str,
        change: Callable[[float | None], None],
        read: Callable[[Design], float | None],
        may_be_empty: bool,
        least: float = 0.0,
    ) -> LengthField:
        field = LengthField(label, change, least=least, may_be_empty=may_be_empty)
        self._fields.append((field, read))
        return field

    def _take(self, label: str, design: Design) -> None:
        if not self._document.change(label, design):
            for field, read in self._fields:
                field.show_mm(read(self._document.design))

    def _show_picked(self) -> None:
        picked = self._document.selection
        for button, selection in self._entries:
            button.setChecked((selection.kind, selection.name) == (picked.kind, picked.name))
        for pane in (self._steps, self._order, self._stash):
            if pane is not None:
                pane.refresh()


class _Form(QWidget):
    """Labels at the left, fields at the right."""

    def __init__(self, margin: int = 14) -> None:
        super().__init__()
        self._rows = QFormLayout(self)
        self._rows.setContentsMargins(margin, 4, 12, 10)
        self._rows.setVerticalSpacing(5)
        self._rows.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.AllNonFixedFieldsGrow)

    def add(self, label: str, field: QWidget) -> None:
        self._rows.addRow(label, field)

    def across(self, widget: QWidget) -> None:
        """A row without a label."""
        self._rows.addRow(widget)


def _block_names(block: Block) -> tuple[str, ...] | None:
    """The names of a drawn block's panels and edges, by which its form is made; None for a drafted
    block.
    """
    if isinstance(block, DraftedBlock):
        return None
    return tuple(
        name
        for panel in block.panels
        for name in (panel.name, *(edge.name for edge in panel.edges))
    )


def _note(sentence: str) -> QLabel:
    label = faint(sentence)
    label.setContentsMargins(14, 4, 12, 10)
    return label

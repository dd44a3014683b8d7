"""What is picked, in words and numbers, with what of it can be typed."""

from __future__ import annotations

from functools import partial
from typing import TypeAlias

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtWidgets import QFormLayout, QLabel, QLineEdit, QScrollArea, QVBoxLayout, QWidget

from studio import numbers
from studio.alter import kind_of
from studio.canvas.plain_tip import plain_tip
from studio.canvas.selection import Selection
from studio.canvas.type_size import grown
from studio.design import ImportedBlock
from studio.design.naming import renamed_edge
from studio.numbers import LengthUnit
from studio.sew.edge_words import ref_in_list
from studio.window.cloth_form import ClothForm
from studio.window.document import Document
from studio.window.join_form import JoinForm
from studio.window.line_form import LineForm
from studio.window.one_line import one_line
from studio.window.piece_form import PieceForm
from studio.window.start_form import StartForm
from studio.window.step_form import StepForm
from studio.window.stock_form import StockForm
from studio.window.widgets import chain_tabs, faint, label_of, show_in, wrapped

_BESIDE_WORDS, _WORDS_WIDE, _LEAST_HIGH = 72, 195, 150
"""Pixels of margins and rims, and of the words of the widest form in letters of the usual size."""

_ROUND, _WITHIN = "Sewing line", "Area within it"

_TOLD_OF_PIECES = {
    _ROUND: "Once round the piece along its sewing line: allowances lie outside it.",
    _WITHIN: "What the sewing line holds; the cloth that is cut has allowances besides.",
}
_HOW_TO_PICK = (
    "Click a style line to take hold of it, a piece to see its numbers, "
    "a seam in the ledger to see where it runs."
)
_WHAT_NEXT = (
    "These panels are the block. On the road at the left their shape is changed under "
    "Alterations, lines are drawn on them under Style lines, and pockets, a fly and a "
    "waistband come with Pieces."
)

_Form: TypeAlias = StepForm | LineForm | JoinForm | PieceForm | ClothForm | StockForm

_OF_PIECES = ("Cut", *_TOLD_OF_PIECES, "Notches")


class DetailsPane(QScrollArea):
    """Made anew for another selection; its numbers follow the pattern. `walk_asked` when the picked
    seam should be walked, `begin_asked` how a design of one's own is begun.
    """

    walk_asked = Signal()
    begin_asked = Signal(str)

    def __init__(self, document: Document) -> None:
        super().__init__()
        self._document = document
        self._unit: LengthUnit = "mm"
        self._shape: object = None
        self._values: list[tuple[QLabel, str]] = []
        self.form: _Form | None = None
        """In which what is picked can be said otherwise; None where nothing of it can."""
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAccessibleName("Details of what is picked")
        document.shown.connect(self.refresh)
        document.picked.connect(self.refresh)
        self.refresh()

    def minimumSizeHint(self) -> QSize:
        """Room for the widest form: nothing of it is cut off at the side."""
        return QSize(_BESIDE_WORDS + grown(_WORDS_WIDE), _LEAST_HIGH)

    def set_unit(self, unit: LengthUnit) -> None:
        """Show lengths in another unit."""
        self._unit = unit
        self._shape = None
        self.refresh()

    def refresh(self) -> None:
        """Show the selection as it is now."""
        picked = self._document.selection
        shape = (
            picked.kind,
            picked.name,
            self._unit,
            self._kind_of_step(picked),
            () if picked.name else (self._document.is_untouched, self._has_lines()),
        )
        if shape != self._shape:
            self._shape = shape
            self._build(picked)
            chain_tabs(self)
        if self.form is not None:
            self.form.refresh()
        for label, what in self._values:
            label.setText(self._value(picked, what))

    def _kind_of_step(self, picked: Selection) -> object:
        """What a picked step is and what it finds on its panel: other choices need other fields."""
        steps = self._document.pattern.steps
        if picked.kind != "step" or int(picked.name) >= len(steps):
            return None
        before = steps[int(picked.name)].before
        known = (
            None
            if before is None
            else (tuple(before.levels), tuple(dart.name for dart in before.darts))
        )
        return type(steps[int(picked.name)].step), known

    def _build(self, picked: Selection) -> None:
        self._values = []
        self.form = None
        holder = QWidget()
        column = QVBoxLayout(holder)
        column.setContentsMargins(9, 6, 11, 8)
        column.setSpacing(4)
        title = wrapped(picked.name or "Nothing picked")
        title.setProperty("role", "title")
        column.addWidget(title)
        form = QFormLayout()
        form.setVerticalSpacing(5)
        form.setHorizontalSpacing(12)
        column.addLayout(form)
        if picked.kind == "line":
            self._build_line(column, picked.name)
        elif picked.kind == "piece":
            for what in _OF_PIECES:
                self._add_value(form, what)
            self._build_form(column, PieceForm(self._document, picked.name, self._unit))
        elif picked.kind == "join":
            for what in ("First side", "Second side"):
                self._add_value(form, what)
            self._build_join(column, picked.name)
        elif picked.kind == "step":
            self._build_step(title, column, int(picked.name))
        elif picked.kind == "cloth":
            self._build_form(column, ClothForm(self._document, picked.name))
        elif picked.kind == "stock":
            self._build_form(column, StockForm(self._document, picked.name, self._unit))
        elif picked.kind == "edge":
            self._add_value(form, "Length")
            self._build_edge(form, picked.name)
        else:
            self._build_nothing(column)
        column.addStretch(1)
        show_in(self, holder)

    def _build_form(self, column: QVBoxLayout, form: _Form) -> None:
        self.form = form
        column.addWidget(form)

    def _build_nothing(self, column: QVBoxLayout) -> None:
        """What can be picked or comes next, and for an example how to begin."""
        column.addWidget(faint(_HOW_TO_PICK if self._has_lines() else _WHAT_NEXT))
        if self._document.is_untouched:
            start = StartForm()
            start.asked.connect(self.begin_asked)
            column.addWidget(start)

    def _has_lines(self) -> bool:
        return bool(self._document.design.lines)

    def _build_step(self, title: QLabel, column: QVBoxLayout, at: int) -> None:
        step = self._document.design.alterations[at]
        title.setText(f"{kind_of(step).title}, {step.panel}")
        self._build_form(column, StepForm(self._document, at, self._unit))

    def _build_line(self, column: QVBoxLayout, name: str) -> None:
        if any(line.name == name for line in self._document.design.lines):
            self._build_form(column, LineForm(self._document, name, self._unit))

    def _build_join(self, column: QVBoxLayout, name: str) -> None:
        if any(join.name == name for join in self._document.design.joins):
            form = JoinForm(self._document, name, self._unit)
            form.walk_asked.connect(self.walk_asked)
            self._build_form(column, form)

    def _build_edge(self, form: QFormLayout, name: str) -> None:
        if not isinstance(self._document.design.block, ImportedBlock):
            return
        field = QLineEdit(name)
        field.setAccessibleName("Name of the edge")
        field.editingFinished.connect(lambda: self._take_edge_name(name, field))
        form.addRow("Name", field)

    def _add_value(self, form: QFormLayout, what: str) -> None:
        label = wrapped()
        label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        head = label_of(what) if what in _OF_PIECES else QLabel(what)
        head.setProperty("role", "faint")
        for one in (head, label):
            one.setToolTip(plain_tip(_TOLD_OF_PIECES.get(what, "")))
        form.addRow(head, label)
        self._values.append((label, what))

    def _value(self, picked: Selection, what: str) -> str:
        finders = {
            "piece": self._piece_value,
            "join": self._join_value,
            "edge": self._edge_value,
        }
        finder = finders.get(picked.kind)
        return finder(picked.name, what) if finder else ""

    def _piece_value(self, name: str, what: str) -> str:
        sewn = next((s for s in self._document.pattern.pieces if s.piece.name == name), None)
        if sewn is None:
            return "cannot be made"
        piece = sewn.piece
        words = {
            "Cut": f"{piece.quantity}, mirrored" if piece.cut == "pair" else str(piece.quantity),
            _ROUND: self._length(piece.outline.perimeter),
            _WITHIN: numbers.area(piece.outline.area_mm2, numbers.squares(self._unit)),
            "Notches": str(len(sewn.notches)),
        }
        return words[what]

    def _join_value(self, name: str, what: str) -> str:
        join = next((j for j in self._document.design.joins if j.name == name), None)
        row = next((r for r in self._document.pattern.ledger if r.name == name), None)
        if join is None or row is None:
            return ""
        side, length = (join.a, row.length_a) if what == "First side" else (join.b, row.length_b)
        pieces = {sewn.piece.name: sewn.piece for sewn in self._document.pattern.pieces}
        edges = [
            ref_in_list(ref, pieces[ref.piece].panel if ref.piece in pieces else "")
            for ref in side.edges
        ]
        # Rounded once: edges that are measured one by one may add up to another last digit.
        together = " together" if len(edges) > 1 else ""
        return "\n".join((*edges, f"{self._length(length)}{together}"))

    def _edge_value(self, name: str, _what: str) -> str:
        for panel in self._document.pattern.panels:
            if panel.outline.has(name):
                return self._length(panel.outline.edge(name).length)
        return ""

    def _length(self, mm: float) -> str:
        return numbers.length(mm, self._unit, numbers.DECIMALS[self._unit])

    def _take_edge_name(self, name: str, field: QLineEdit) -> None:
        self._rename_edge(name, one_line(field.text()))
        # Seen where it was refused: else the form is another by now.
        field.setText(name)

    def _rename_edge(self, name: str, wanted: str) -> None:
        if wanted == name:
            return
        made = partial(renamed_edge, old=name, new=wanted)
        if self._document.edit(f"Name {wanted}", made):
            self._document.select(Selection("edge", wanted))

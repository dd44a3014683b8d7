"""A picked line: its kind, its length, where its ends lie, what holds, and the cut along it."""

from __future__ import annotations

from functools import partial

from msgspec.structs import replace
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QFormLayout,
    QLabel,
    QLineEdit,
    QVBoxLayout,
    QWidget,
)

from studio import numbers
from studio.canvas.length_field import LengthField
from studio.canvas.plain_tip import plain_tip
from studio.canvas.selection import Selection
from studio.cut import tied_to
from studio.cut.band_off import is_band_line
from studio.cut.beside import edge_to_keep_off, kept_off
from studio.cut.divide import divided, pieces_along
from studio.cut.piece import Piece
from studio.cut.why_no_cut import why_no_cut
from studio.design import AnchoredPath, Design, OnEdge, PanelPiece, ShapePiece, StyleLine
from studio.design.naming import renamed_line
from studio.numbers import LengthUnit
from studio.window.buttons import with_words
from studio.window.choice_box import ChoiceBox
from studio.window.document import Document
from studio.window.holds_list import HoldsList
from studio.window.one_line import one_line
from studio.window.patch_fields import PatchFields
from studio.window.take_away import line_button
from studio.window.widgets import faint

_KINDS = {
    "seam": "Seam",
    "mouth": "Pocket mouth",
    "patch": "Edge of a patch",
    "mark": "Mark only",
}


class LineForm(QWidget):
    """Made anew for another line; its numbers follow the pattern."""

    def __init__(self, document: Document, name: str, unit: LengthUnit) -> None:
        super().__init__()
        self._document = document
        self._name = name
        self._unit = unit
        self.ends: list[tuple[LengthField, str]] = []
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        form = QFormLayout()
        form.setVerticalSpacing(5)
        column.addLayout(form)
        self._called = QLineEdit(name)
        self._called.setAccessibleName("Name of the line")
        self._called.editingFinished.connect(self._rename)
        form.addRow("Name", self._called)
        self._kind = ChoiceBox()
        self._kind.setAccessibleName("Kind of line")
        for kind, words in _KINDS.items():
            self._kind.addItem(words, kind)
        self._kind.setSizeAdjustPolicy(
            QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon
        )
        self._kind.activated.connect(self._set_kind)
        form.addRow("Kind", self._kind)
        self._length = QLabel()
        head = QLabel("Length")
        head.setProperty("role", "faint")
        form.addRow(head, self._length)
        for which in ("start", "end"):
            self._add_end(form, which)
        self.keeps = faint("")
        form.addRow(self.keeps)
        self.keep = with_words("Keep its distance all along", self._keep_off)
        form.addRow(self.keep)
        self.patch = PatchFields(document, name, unit, form)
        self.rivets = QCheckBox("Its open corners are riveted")
        self.rivets.clicked.connect(self._set_rivets)
        form.addRow(self.rivets)
        self._cut = with_words("Cut the piece along it", self._cut_here)
        form.addRow(self._cut)
        self.why = faint("")
        form.addRow(self.why)
        self.holds = HoldsList(document, name, unit)
        column.addWidget(self.holds)
        self.holds.setVisible(isinstance(self._line().path, AnchoredPath))
        column.addWidget(line_button(document, name))
        document.settled.connect(self._judge)
        self.refresh()
        self._judge()

    def refresh(self) -> None:
        """Show the line as it is now."""
        line = self._line_if_there()
        if line is None:
            return
        if self._kind.currentData() != line.kind:
            self._kind.setCurrentIndex(self._kind.findData(line.kind))
        drawn = self._document.pattern.drawn(self._name)
        self._length.setText(
            "cannot be drawn"
            if drawn is None
            else numbers.length(drawn.chain.length, self._unit, numbers.DECIMALS[self._unit])
        )
        for field, which in self.ends:
            place = self._place(which)
            if place is not None and not field.hasFocus():
                field.show_mm(place.mm)
        self.patch.refresh()
        self.rivets.setChecked(line.riveted)
        self.rivets.setVisible(line.riveted or self._is_pocket(line))
        along = self._pieces_along()
        self._cut.setVisible(len(along) == 1)
        self.why.setText("" if len(along) == 1 else self._why_no_cut(along))
        self.why.setVisible(bool(self.why.text()))
        self.holds.refresh()

    def _is_pocket(self, line: StyleLine) -> bool:
        """Whether a pocket opens along it: a mouth, or a patch that is a piece of its own."""
        pieces = self._document.design.pieces
        shapes = [one.line for one in pieces if isinstance(one, ShapePiece)]
        return line.kind == "mouth" or line.name in shapes

    def _set_rivets(self, on: bool) -> None:
        verb = "Rivet" if on else "No rivets for"

        def made(design: Design) -> Design:
            return design.with_line(replace(design.line(self._name), riveted=on))

        self._document.edit(f"{verb} {self._name}", made)

    def _show_distance(self, line: StyleLine) -> None:
        """Whether the line keeps its distance from an edge; a band's that does not may."""
        beside = line.path.beside if isinstance(line.path, AnchoredPath) else ""
        self.keeps.setText(
            f"Keeps its distance from {beside} all along, once the darts there are shut. Its "
            "handles, a node or a hold give it a shape of its own."
            if beside
            else ""
        )
        self.keeps.setVisible(bool(beside))
        edge = self._edge_to_keep_off(line)
        tip = (
            f"As far from {edge} all along as at its ends, once the darts there are shut: the band "
            "is then of one width. The shape of the line is given up."
        )
        self.keep.setToolTip(plain_tip(tip))
        self.keep.setVisible(bool(edge))

    def _edge_to_keep_off(self, line: StyleLine) -> str:
        """The edge that the lower edge of a band could keep its distance from; "" for none."""
        design = self._document.design
        if not is_band_line(design, line.name) or tied_to(design.lines, design.holds, line.name):
            return ""
        panel = self._document.pattern.panel(line.panel)
        return "" if panel is None else edge_to_keep_off(line.path, panel)

    def _keep_off(self) -> None:
        line = self._line()
        edge = self._edge_to_keep_off(line)
        if isinstance(line.path, AnchoredPath) and edge:
            path = kept_off(line.path, edge)
            design = self._document.history.design.with_line(replace(line, path=path))
            self._document.change(f"Keep {self._name} off {edge}", design)

    def _judge(self) -> None:
        """What is told when the hand rests."""
        line = self._line_if_there()
        if line is not None:
            self._show_distance(line)
            self.holds.judge()

    def _line_if_there(self) -> StyleLine | None:
        """The line; None once it has been taken away, before this form is."""
        return next((ln for ln in self._document.design.lines if ln.name == self._name), None)

    def _line(self) -> StyleLine:
        return self._document.design.line(self._name)

    def _place(self, which: str) -> OnEdge | None:
        path = self._line().path
        if isinstance(path, AnchoredPath):
            return path.start if which == "start" else path.end
        return path.at if which == "start" else None

    def _add_end(self, form: QFormLayout, which: str) -> None:
        place = self._place(which)
        if place is None:
            return
        words = QLabel(f"{place.edge}\nfrom {place.corner}")
        if place.mm is None:
            share = QLabel(f"{numbers.percent(place.share or 0.0, 1)} along")
            form.addRow(words, share)
            return
        label = f"{which.capitalize()} on {place.edge}, from {place.corner}"
        field = LengthField(label, lambda mm: self._set_end(which, mm))
        field.set_unit(self._unit)
        form.addRow(words, field)
        self.ends.append((field, which))

    def _set_end(self, which: str, mm: float | None) -> None:
        design = self._document.history.design
        line = design.line(self._name)
        place = self._place(which)
        if place is None or mm is None:
            return
        key = which if isinstance(line.path, AnchoredPath) else "at"
        path = replace(line.path, **{key: replace(place, mm=mm)})
        self._document.change(
            f"Set the {which} of {self._name}", design.with_line(replace(line, path=path))
        )

    def _set_kind(self, _at: int) -> None:
        design = self._document.history.design
        line = design.line(self._name)
        kind = self._kind.currentData()
        if kind != line.kind:
            self._document.change(
                f"Make {self._name} a {kind}", design.with_line(replace(line, kind=kind))
            )

    def _rename(self) -> None:
        wanted = one_line(self._called.text())
        if wanted == self._name:
            return
        made = partial(renamed_line, old=self._name, new=wanted)
        if self._document.edit(f"Name {wanted}", made):
            self._document.select(Selection("line", wanted))
        else:
            self._called.setText(self._name)

    def _is_used(self) -> bool:
        pieces = [p for p in self._document.design.pieces if isinstance(p, PanelPiece)]
        return any(bound.line == self._name for piece in pieces for bound in piece.bounds)

    def _pieces_along(self) -> list[Piece]:
        """The pieces a free seam line runs through: it is cut where there is only one."""
        if self._line().kind != "seam" or self._is_used():
            return []
        pattern = self._document.pattern
        drawn = pattern.drawn(self._name)
        pieces = (sewn.piece for sewn in pattern.pieces)
        return [] if drawn is None else pieces_along(pattern.design, pieces, drawn)

    def _why_no_cut(self, along: list[Piece]) -> str:
        """Why no piece can be cut along a line that runs from edge to edge; nothing when one is."""
        line, design = self._line(), self._document.design
        if not isinstance(line.path, AnchoredPath) or line.path.start.edge == line.path.end.edge:
            return ""
        pieces = [p for p in design.pieces if isinstance(p, PanelPiece) and p.panel == line.panel]
        if not pieces or self._is_used():
            return ""
        if line.kind == "mark":
            return "To cut a piece along it, make it a seam."
        if line.kind != "seam":
            return ""
        return self._why_not_here(line, along)

    def _why_not_here(self, line: StyleLine, along: list[Piece]) -> str:
        """What is in the way of a cut along a seam line that runs from edge to edge."""
        pattern = self._document.pattern
        drawn = pattern.drawn(line.name)
        if drawn is None:
            return ""
        pieces = [one.piece for one in pattern.pieces]
        return why_no_cut(pattern.design, pattern.panel_of(drawn), pieces, drawn, along)

    def _cut_here(self) -> None:
        along, pattern = self._pieces_along(), self._document.pattern
        drawn = pattern.drawn(self._name)
        if drawn is None or len(along) != 1:
            return
        (piece,) = along
        made = partial(
            divided,
            panel=pattern.panel_of(drawn),
            piece_name=piece.name,
            line=self._line(),
            new_name=f"{piece.name}-{self._name}",
            outline=piece.outline,
        )
        self._document.edit(f"Cut {piece.name} along {self._name}", made)

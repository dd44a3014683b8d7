"""The seams in the order they are sewn: picked, moved earlier or later, with the reason told."""

from __future__ import annotations

from functools import partial
from operator import is_

from msgspec.structs import replace
from PySide6.QtWidgets import (
    QHBoxLayout,
    QPushButton,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from studio.canvas.plain_tip import plain_tip
from studio.canvas.selection import Selection
from studio.sew import darts_name, rows_name, through_name
from studio.sew.constructions import CONSTRUCTIONS, FINISHES
from studio.sew.edge_words import ref_words
from studio.sew.order import reasons_for
from studio.window.buttons import with_sign
from studio.window.document import Document
from studio.window.entry_button import EntryButton
from studio.window.widgets import emptied, faint


class SewingPane(QWidget):
    """Made anew when the steps change; a step that cannot be where it is wished says why."""

    def __init__(self, document: Document) -> None:
        super().__init__()
        self._document = document
        self._shape: tuple[str, ...] | None = None
        self._picked = ""
        self._shown: tuple[object, ...] = (None,) * 5
        self._rows: dict[str, QPushButton] = {}
        self._of_picked: list[QToolButton] = []
        outer = QVBoxLayout(self)
        outer.setContentsMargins(14, 2, 12, 10)
        outer.setSpacing(1)
        self._column = QVBoxLayout()
        self._column.setSpacing(1)
        outer.addLayout(self._column)
        outer.addWidget(self._buttons())
        self._told = faint("")
        outer.addWidget(self._told)
        self.refresh()

    def refresh(self) -> None:
        """Show the order as it is now; nothing is written while all it is made of is the same."""
        design, order = self._document.design, self._document.pattern.order
        selection = self._document.selection
        if selection.kind == "join":
            self._picked = selection.name
        shown = (order, design.joins, design.pieces, design.finishes, self._picked)
        if not all(map(is_, shown, self._shown)):
            self._shown = shown
            self._write(order.steps)
        # A click has turned its own button, whether or not another step is picked now.
        for name, button in self._rows.items():
            button.setChecked(name == self._picked)
        for act in self._of_picked:
            act.setEnabled(self._picked in self._rows)

    def _write(self, steps: tuple[str, ...]) -> None:
        if steps != self._shape:
            self._shape = steps
            self._build(steps)
        known = self._words()
        for at, (name, button) in enumerate(self._rows.items(), start=1):
            words, kind = known.get(name, (name, ""))
            button.setText(f"{at}  {words}   ·   {kind}")
            # In a narrow window the end of a row is cut short.
            button.setToolTip(plain_tip(f"{words}, {kind}" if kind else words))
        self._told.setText(self._reason())

    def shift(self, by: int) -> None:
        """Wish for the picked step earlier or later by so many places."""
        steps = list(self._document.pattern.order.steps)
        if self._picked not in steps:
            return
        at = steps.index(self._picked)
        to = min(len(steps) - 1, max(0, at + by))
        steps.insert(to, steps.pop(at))
        design = self._document.history.design
        wished = replace(design, sewing=tuple(steps))
        called = self._words().get(self._picked, (self._picked, ""))[0]
        label = f"Sew {'earlier' if by < 0 else 'later'}: {called}"
        self._document.change(label, wished)
        self.refresh()

    def pick(self, name: str) -> None:
        """Pick a step; its join, or the piece that it works on, is picked on the sheet as well."""
        self._picked = name
        design = self._document.design
        of_piece = {
            step(one.name): one.name
            for one in design.pieces
            for step in (darts_name, rows_name, through_name)
        }
        of_piece |= {one.step: one.edge.piece for one in design.finishes}
        if any(join.name == name for join in design.joins):
            self._document.select(Selection("join", name))
        elif name in of_piece:
            self._document.select(Selection("piece", of_piece[name]))
        self.refresh()

    def _reason(self) -> str:
        order = self._document.pattern.order
        against = [one for one in order.against if self._picked in (one.first, one.then)]
        if against:
            called = self._words()
            first, then = (
                called.get(name, (name, ""))[0] for name in (against[0].first, against[0].then)
            )
            return f"{first} stays before {then}: {against[0].why}"
        why = reasons_for(order, self._picked)
        return f"Why not before: {why[0].why}" if why else ""

    def _words(self) -> dict[str, tuple[str, str]]:
        """What each step is called and how it is sewn, by its name."""
        design = self._document.design
        known = {
            join.name: (join.name, CONSTRUCTIONS[join.construction].title.lower())
            for join in design.joins
        }
        for recipe in design.pieces:
            darts, alone, through = (
                step(recipe.name) for step in (darts_name, rows_name, through_name)
            )
            known[darts] = (darts, "sewn first")
            known[alone] = (alone, "topstitched")
            known[through] = (through, "through both layers")
        for finish in design.finishes:
            words = ref_words(finish.edge), FINISHES[finish.how].title.lower()
            known[finish.step] = words
        return known

    def _build(self, steps: tuple[str, ...]) -> None:
        emptied(self._column)
        self._rows = {}
        for name in steps:
            button = EntryButton()
            button.clicked.connect(lambda _on, name=name: self.pick(name))
            self._column.addWidget(button)
            self._rows[name] = button
        if not steps:
            self._column.addWidget(faint("No seams are joined yet."))

    def _buttons(self) -> QWidget:
        row = QWidget()
        line = QHBoxLayout(row)
        line.setContentsMargins(0, 4, 0, 0)
        line.setSpacing(3)
        line.addStretch(1)
        for text, told, by in (("↑", "Sew it earlier", -1), ("↓", "Sew it later", 1)):
            act = with_sign(text, partial(self.shift, by), tip=told)
            self._of_picked.append(act)
            line.addWidget(act)
        return row

"""What is drawn on the cloth: tools, the list of what there is, and which side is up."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from msgspec.structs import replace
from PySide6.QtCore import Signal
from PySide6.QtWidgets import (
    QCheckBox,
    QFormLayout,
    QGridLayout,
    QHBoxLayout,
    QSizePolicy,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from studio import numbers
from studio.canvas.length_field import LengthField
from studio.canvas.trace_hand import Tool, TraceHand
from studio.cloth import tracing as trace
from studio.cloth.tracing import WORDS, Tracing
from studio.design.cloth import Flaw
from studio.numbers import LengthUnit
from studio.window.buttons import one_of_several, with_sign
from studio.window.choice_box import ChoiceBox
from studio.window.entry_button import EntryButton
from studio.window.widgets import emptied, faint, head

TOOLS: dict[Tool, str] = {
    "move": "Move points",
    "outline": "Outline",
    "grain": "Grain",
    "hole": "Hole",
    "stain": "Stain",
    "worn": "Worn place",
    "seam": "Old seam",
}
UP = {"choose…": None, "the right side": False, "the wrong side": True}
"""Which side of the cloth a photograph shows, and whether it then lies face down."""

_ENTRY_IN = 8
"""Pixels that the style keeps free before the words of an entry."""


class DrawForm(QWidget):
    """Follows a `TraceHand`. `sided` tells that the side was chosen."""

    sided = Signal()

    def __init__(self, hand: TraceHand, unit: LengthUnit, *, roll: bool = False) -> None:
        super().__init__()
        self._hand = hand
        self._unit: LengthUnit = unit
        self._shape: object = None
        self.tools: dict[Tool, QToolButton] = {}
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        column.addLayout(self._tool_grid(roll))
        self._seam = QWidget()
        wide = QFormLayout(self._seam)
        wide.setContentsMargins(0, 0, 0, 0)
        self.wide = LengthField("Width of an old seam", self._set_wide, least=0.1, most=200.0)
        self.wide.set_unit(unit)
        self.wide.show_mm(hand.seam_wide)
        wide.addRow("Seam is wide", self.wide)
        column.addWidget(self._seam)
        column.addWidget(head("Drawn"))
        self._rows = QVBoxLayout()
        self._rows.setSpacing(3)
        column.addLayout(self._rows)
        self._side_rows = QWidget()
        self._side_rows.setVisible(False)
        side = QVBoxLayout(self._side_rows)
        side.setContentsMargins(0, 4, 0, 0)
        side.setSpacing(4)
        side.addWidget(head("The photograph shows"))
        self.up = ChoiceBox()
        self.up.setAccessibleName("Which side of the cloth is up")
        self.up.addItems(list(UP))
        self.up.currentTextChanged.connect(lambda _text: self.sided.emit())
        side.addWidget(self.up)
        side.addWidget(
            faint("Left and right pieces depend on it: face down, the panel is its mirror image.")
        )
        column.addWidget(self._side_rows)
        column.addStretch(1)
        self.refresh()

    @property
    def face_down(self) -> bool | None:
        """Whether the photograph shows the wrong side; None until that is answered."""
        return UP[self.up.currentText()]

    def ask_side(self, face_down: bool | None) -> None:
        """Ask which side is up, with what was answered before."""
        self._side_rows.setVisible(True)
        self.up.setCurrentText(next(word for word, down in UP.items() if down is face_down))

    def refresh(self) -> None:
        """Show what is drawn as it is now."""
        hand = self._hand
        for tool, button in self.tools.items():
            button.setChecked(tool == hand.tool)
        self._seam.setVisible(hand.tool == "seam")
        shape = (_told_of(hand.tracing), hand.picked_flaw)
        if shape != self._shape:
            self._shape = shape
            self._build(hand.tracing)

    def _tool_grid(self, roll: bool) -> QGridLayout:
        grid = QGridLayout()
        grid.setSpacing(4)
        shown = [tool for tool in TOOLS if not (roll and tool in ("outline", "grain"))]
        for at, tool in enumerate(shown):
            button = one_of_several(TOOLS[tool], partial(self._take, tool))
            button.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
            grid.addWidget(button, at // 2, at % 2)
            self.tools[tool] = button
        return grid

    def _take(self, tool: Tool) -> None:
        self._hand.take(tool)
        self.refresh()

    def _set_wide(self, mm: float | None) -> None:
        self._hand.seam_wide = mm or trace.SEAM_WIDE

    def _build(self, tracing: Tracing) -> None:
        emptied(self._rows)
        if tracing.outline and not tracing.fixed:
            words = f"outline   ·   {len(tracing.outline)} points"
            self._row(words, None, trace.outline_removed)
        if len(tracing.grain) == 2 and not tracing.fixed:
            self._row("grain", None, trace.grain_removed)
        for at, flaw in enumerate(tracing.flaws):
            self._row(self._words(flaw), at, partial(trace.flaw_removed, at=at))
            if at == self._hand.picked_flaw:
                self._rows.addWidget(self._flaw_form(at, flaw))
        if not self._rows.count():
            self._rows.addWidget(faint("Nothing yet."))

    def _words(self, flaw: Flaw) -> str:
        said = [WORDS[flaw.kind]]
        if flaw.wide > 0.0:
            said.append(f"{self._said(flaw.wide)} wide")
        if not flaw.avoided:
            said.append("may be covered")
        return "   ·   ".join(said)

    def _said(self, mm: float) -> str:
        return numbers.length(mm, self._unit, numbers.DECIMALS[self._unit])

    def _row(self, words: str, flaw: int | None, without: Callable[[Tracing], Tracing]) -> None:
        row = QWidget()
        line = QHBoxLayout(row)
        line.setContentsMargins(0, 0, 0, 0)
        line.setSpacing(2)
        if flaw is None:
            told = faint(words)
            # As far in as the words of a row that can be picked.
            told.setContentsMargins(_ENTRY_IN, 0, 0, 0)
            line.addWidget(told, 1)
        else:
            button = EntryButton(words)
            button.setAutoDefault(False)
            button.setChecked(flaw == self._hand.picked_flaw)
            button.clicked.connect(lambda _on, at=flaw: self._hand.pick_flaw(at))
            line.addWidget(button, 1)
        remove, called = partial(self._remove, without), f"Take away the {words}"
        line.addWidget(with_sign("✕", remove, tip="Take it away", called=called))
        self._rows.addWidget(row)

    def _remove(self, without: Callable[[Tracing], Tracing]) -> None:
        self._hand.picked = None
        self._hand.set_tracing(without(self._hand.tracing))

    def _flaw_form(self, at: int, flaw: Flaw) -> QWidget:
        holder = QWidget()
        form = QFormLayout(holder)
        form.setContentsMargins(8, 2, 0, 6)
        form.setVerticalSpacing(4)
        if flaw.wide > 0.0:
            wide = LengthField("Width", partial(self._change, at, "wide"), least=0.1, most=200.0)
            wide.set_unit(self._unit)
            wide.show_mm(flaw.wide)
            form.addRow("Width", wide)
        avoided = QCheckBox("No piece may cover it")
        avoided.setChecked(flaw.avoided)
        avoided.toggled.connect(partial(self._change, at, "avoided"))
        form.addRow(avoided)
        return holder

    def _change(self, at: int, field: str, value: object) -> None:
        flaw = replace(self._hand.tracing.flaws[at], **{field: value})
        self._hand.set_tracing(trace.flaw_changed(self._hand.tracing, at, flaw))


def _told_of(tracing: Tracing) -> object:
    """What the list tells: it is made anew when that changes."""
    flaws = tuple((flaw.kind, flaw.wide, flaw.avoided) for flaw in tracing.flaws)
    return len(tracing.outline), len(tracing.grain), flaws

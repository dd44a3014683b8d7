"""The toile in the road: what it showed, and the steps proposed for it, taken one by one."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from msgspec.structs import replace
from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QCheckBox,
    QFrame,
    QHBoxLayout,
    QVBoxLayout,
    QWidget,
)

from studio import numbers
from studio.alter import kind_of
from studio.alter.toile import MISFITS, Proposal, proposed, said
from studio.block.panel import Panel
from studio.canvas.length_field import LengthField
from studio.canvas.type_size import size_with_letters
from studio.design.alterations import Alteration
from studio.design.toile import ToileNote
from studio.errors import GeometryRefused
from studio.numbers import LengthUnit
from studio.window.buttons import with_sign, with_words
from studio.window.choice_box import ChoiceBox
from studio.window.document import Document
from studio.window.widgets import emptied, faint, wrapped


class ToilePane(QWidget):
    """A line to write a note in, and a card a note."""

    def __init__(self, document: Document) -> None:
        super().__init__()
        self._document = document
        self._unit: LengthUnit = "mm"
        self._shape: object = None
        self._notes: tuple[ToileNote, ...] = ()
        self._panels: tuple[Panel, ...] = ()
        self._answers: tuple[Proposal | str | None, ...] = ()
        self._amount_mm = 10.0
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 4, 12, 10)
        column.setSpacing(6)
        words = faint("What did the toile show? Sew it, wear it, sit and kneel in it.")
        column.addWidget(words)
        self._place = ChoiceBox()
        self._place.setAccessibleName("Where")
        self._place.addItems(list(MISFITS))
        self._place.currentTextChanged.connect(self._offer)
        self._misfit = ChoiceBox()
        self._misfit.setAccessibleName("What is wrong")
        self._amount = LengthField("By how much", self._set_amount, least=0.5, most=300.0)
        self._amount.show_mm(self._amount_mm)
        size_with_letters(self._amount, minimumWidth=70)
        first, second = QHBoxLayout(), QHBoxLayout()
        first.addWidget(self._place, 1)
        first.addWidget(self._misfit, 1)
        second.addWidget(self._amount, 1)
        second.addWidget(with_words("Note it", self.add))
        column.addLayout(first)
        column.addLayout(second)
        self._cards = QVBoxLayout()
        self._cards.setSpacing(6)
        column.addLayout(self._cards)
        self._offer(self._place.currentText())
        self.refresh()

    def set_unit(self, unit: LengthUnit) -> None:
        """Speak another unit."""
        self._unit = unit
        self._amount.set_unit(unit)
        self._shape = None
        self.refresh()

    def refresh(self) -> None:
        """Show the notes; cards are made anew only when they, or what is proposed, changed. That
        follows the panels when the hand rests.
        """
        notes, panels = self._document.design.toile, self._document.pattern.panels
        is_resting = not self._document.pattern.draft
        if notes != self._notes or (panels is not self._panels and is_resting):
            self._notes, self._panels = notes, panels
            self._answers = tuple(None if n.taken else _answer(n, panels) for n in notes)
        answers = self._answers
        shape = (notes, answers, self._unit)
        if shape == self._shape:
            return
        self._shape = shape
        emptied(self._cards)
        for at, (note, answer) in enumerate(zip(notes, answers, strict=True)):
            self._cards.addWidget(self._card(at, note, answer))

    def add(self) -> None:
        """Write the note down."""
        note = ToileNote(
            self._place.currentText(),  # type: ignore[arg-type]
            self._misfit.currentData(),
            self._amount_mm,
        )
        design = self._document.history.design
        self._document.change(f"Note: {said(note)}", replace(design, toile=(*design.toile, note)))

    def take(self, at: int, which: Sequence[bool] | None = None) -> None:
        """Put a note's steps at the end of the recipe: all, or those for which `which` is true."""
        design = self._document.history.design
        note = design.toile[at]
        try:
            proposal = proposed(note, self._document.pattern.panels)
        except GeometryRefused as problem:
            self._document.refused.emit(problem.sentence)
            return
        wanted = which or [True] * len(proposal.steps)
        named = tuple(
            replace(step, name=said(note))
            for step, on in zip(proposal.steps, wanted, strict=True)
            if on
        )
        notes = list(design.toile)
        notes[at] = replace(note, taken=True)
        self._document.change(
            f"Mend: {said(note)}",
            replace(design, alterations=(*design.alterations, *named), toile=tuple(notes)),
        )

    def drop(self, at: int) -> None:
        """Strike a note out; steps taken for it stay."""
        design = self._document.history.design
        notes = (*design.toile[:at], *design.toile[at + 1 :])
        self._document.change("Strike a note out", replace(design, toile=notes))

    def _set_amount(self, mm: float | None) -> None:
        self._amount_mm = mm or 0.0

    def _offer(self, place: str) -> None:
        self._misfit.clear()
        for misfit in MISFITS[place]:  # type: ignore[index]
            self._misfit.addItem(f"too {misfit}", misfit)

    def _card(self, at: int, note: ToileNote, answer: Proposal | str | None) -> QWidget:
        card = QFrame()
        card.setProperty("role", "card")
        column = QVBoxLayout(card)
        column.setContentsMargins(8, 6, 8, 8)
        column.setSpacing(4)
        head = QHBoxLayout()
        told = said(note, self._say)
        head.addWidget(wrapped(f"{'✓ ' if note.taken else ''}{told.capitalize()}"), 1)
        drop, called = partial(self.drop, at), f"Strike out: {told}"
        head.addWidget(with_sign("✕", drop, tip="Strike this note out", called=called))
        column.addLayout(head)
        if answer is None:
            column.addWidget(faint("Its steps are in the recipe, under this name."))
            return card
        if isinstance(answer, str):
            column.addWidget(faint(numbers.retold(answer, self._unit)))
            return card
        ticks = [self._step(column, step) for step in answer.steps]
        column.addWidget(faint(numbers.retold(answer.reason, self._unit)))
        take = with_words(
            "Take these steps" if len(ticks) > 1 else "Take this step",
            lambda: self.take(at, [tick.isChecked() for tick in ticks]),
        )
        for tick in ticks:
            tick.toggled.connect(
                lambda _on: take.setEnabled(any(tick.isChecked() for tick in ticks))
            )
        column.addWidget(take)
        return card

    def _step(self, column: QVBoxLayout, step: Alteration) -> QCheckBox:
        sentence = kind_of(step).sentence(step, self._say)
        row = QHBoxLayout()
        column.addLayout(row)
        tick = QCheckBox()
        tick.setChecked(True)
        tick.setAccessibleName(sentence)
        row.addWidget(tick, 0, Qt.AlignmentFlag.AlignTop)
        row.addWidget(wrapped(sentence), 1)
        return tick

    def _say(self, mm: float) -> str:
        return numbers.length(mm, self._unit, numbers.DECIMALS[self._unit])


def _answer(note: ToileNote, panels: Sequence[Panel]) -> Proposal | str:
    """The steps proposed for a note, or why there are none."""
    try:
        return proposed(note, panels)
    except GeometryRefused as problem:
        return problem.sentence

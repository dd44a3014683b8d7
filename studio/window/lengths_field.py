"""A field in which several lengths are typed with commas between them."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QLineEdit

from studio import numbers
from studio.canvas.gives_back import escape_gives_back
from studio.canvas.told_beside import tell_beside
from studio.errors import BadInput
from studio.numbers import LengthUnit
from studio.typed_length import read_lengths


class LengthsField(QLineEdit):
    """Lengths in mm shown in a unit. `take` is called with mm when the maker ends typing others
    than those shown, and raises BadInput for what it refuses.

    What cannot be read, or is refused, is told beside the field and by `refused`, and the lengths
    that were there stand in it again, as in a field for one length; so they do after Escape.
    """

    refused = Signal(object)

    def __init__(
        self, label: str, unit: LengthUnit, take: Callable[[tuple[float, ...]], None]
    ) -> None:
        super().__init__()
        self.problem = ""
        self._label, self._unit, self._take = label, unit, take
        self._shown = ""
        self.setAccessibleName(label)
        self.editingFinished.connect(self.end_typing)
        self.textEdited.connect(self._forget_problem)
        escape_gives_back(self, lambda: self._shown, self._give_back)

    def show_lengths(self, lengths: Iterable[float]) -> None:
        """Show lengths, mm, without telling anyone; what is just being typed stays."""
        told = numbers.listed(lengths, self._unit)
        is_typed = self.hasFocus() and self.text() != self._shown
        self._shown = told
        if not is_typed and self.text() != told:
            self.setText(told)

    def end_typing(self) -> None:
        """Take what was typed. What is shown has few digits: left alone, it is no change."""
        typed = self.text()
        if typed == self._shown:
            return
        # Shown again first: what is taken may be told to this field while it is.
        self.setText(self._shown)
        try:
            lengths = read_lengths(typed, self._unit)
            if numbers.listed(lengths, self._unit) != self._shown:
                self._take(lengths)
        except BadInput as problem:
            self.problem = f"{self._label}: {numbers.retold(problem.message, self._unit)}"
            tell_beside(self, lambda: self.problem)
            self.refused.emit(problem.message)

    def _give_back(self) -> None:
        self.setText(self._shown)
        self.problem = ""

    def _forget_problem(self, _text: str) -> None:
        self.problem = ""

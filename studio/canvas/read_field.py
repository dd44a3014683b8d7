"""A field that reads itself what is typed in it, and tells what it could not take."""

from __future__ import annotations

from PySide6.QtGui import QValidator
from PySide6.QtWidgets import QWidget

from studio import numbers
from studio.canvas.pane_spin_box import PaneSpinBox
from studio.canvas.told_beside import tell_beside
from studio.errors import BadInput

_SLACK = 1e-9

_UNITS = "%\N{DEGREE SIGN}"


class ReadField(PaneSpinBox):
    """No key that could belong to a number is swallowed: what cannot be read, or is out of bounds,
    is told beside the field and in `problem` when the maker ends typing, and the number stays.
    """

    def __init__(self, label: str, signs: frozenset[str], parent: QWidget | None = None) -> None:
        super().__init__(label, parent)
        self.problem = ""
        self._label = label
        self._signs = signs
        self.lineEdit().textEdited.connect(lambda _text: self.told_problem())

    def read_text(self, text: str) -> float | None:
        """What the text of the field says; None when it stands for nothing.

        Raises:
            BadInput: it cannot be read, or is out of bounds.
        """
        raise NotImplementedError

    def is_empty(self, _text: str) -> bool:
        """Whether a text stands for nothing."""
        return False

    def told_problem(self) -> str:
        """What could not be taken of what was last typed, or nothing; told once."""
        problem, self.problem = self.problem, ""
        return problem

    def give_back(self) -> None:
        """Show the value again; what was told of other text is told no more."""
        super().give_back()
        self.told_problem()

    def validate(self, text: str, at: int) -> tuple[QValidator.State, str, int]:
        """Whatever reads as a number within bounds; other text may become one."""
        if not self.is_empty(text) and not self._signs.issuperset(text.removesuffix(self.suffix())):
            return QValidator.State.Invalid, text, at
        try:
            self.read_text(text)
        except BadInput:
            return QValidator.State.Intermediate, text, at
        return QValidator.State.Acceptable, text, at

    def fixup(self, text: str) -> str:
        """Called when the maker ends typing what is no number: say why, and keep the old one."""
        try:
            self.read_text(text)
        except BadInput as problem:
            self.problem = f"{self._label}: {problem.message}"
            tell_beside(self, lambda: self.problem)
        return text


class PlainField(ReadField):
    """A number that is no length, such as degrees or per cent, with a point or a comma before its
    decimals: it has no thousands that a comma could stand for.
    """

    def __init__(self, label: str, parent: QWidget | None = None) -> None:
        super().__init__(label, frozenset(f"0123456789+-.,{numbers.MINUS} {_UNITS}"), parent)

    def read_text(self, text: str) -> float:
        """The number within the bounds of the field; raises BadInput."""
        typed = text.removesuffix(self.suffix()).strip(f" {_UNITS}")
        plain = typed.replace(",", ".").replace(numbers.MINUS, "-")
        try:
            value = float(plain)
        except ValueError:
            raise BadInput(f"{typed!r} is not a number. Write it as 12.5.") from None
        if not self.minimum() - _SLACK <= value <= self.maximum() + _SLACK:
            least, most = self.textFromValue(self.minimum()), self.textFromValue(self.maximum())
            raise BadInput(f"It has to lie between {least} and {most}{self.suffix()}.")
        return value

    def valueFromText(self, text: str) -> float:
        """The value of the spin box; the old one while the text is none."""
        try:
            return self.read_text(text)
        except BadInput:
            return self.value()

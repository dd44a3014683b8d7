"""What of a step can be typed or chosen, made from what its kind asks for."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from msgspec.structs import replace
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QFormLayout,
    QLineEdit,
    QVBoxLayout,
    QWidget,
)

from studio import numbers
from studio.alter import Field, kind_of
from studio.block.panel import Panel
from studio.canvas.length_field import LengthField
from studio.canvas.read_field import PlainField
from studio.design.alterations import Alteration
from studio.design.lines import OnEdge
from studio.design.recipe import step_changed
from studio.numbers import LengthUnit
from studio.window.choice_box import ChoiceBox
from studio.window.document import Document
from studio.window.one_line import one_line
from studio.window.widgets import faint

Show = Callable[[Any], None]


class StepForm(QWidget):
    """The fields of the step at one place of the recipe."""

    def __init__(self, document: Document, at: int, unit: LengthUnit) -> None:
        super().__init__()
        self._document = document
        self._at = at
        self._unit = unit
        self._shown: list[tuple[QWidget, Field, Show]] = []
        form = QFormLayout(self)
        form.setContentsMargins(0, 0, 0, 0)
        form.setVerticalSpacing(5)
        self._told = faint("")
        form.addRow(self._told)
        step = self._step()
        if step is not None:
            self._add_name(form)
            for known in kind_of(step).fields:
                self._add(form, known)
        self.refresh()

    def refresh(self) -> None:
        """Show the step as it is now."""
        step = self._step()
        if step is None:
            return
        self._told.setText(kind_of(step).sentence(step, self._say))
        for widget, known, show in self._shown:
            if not widget.hasFocus() and hasattr(step, known.name):
                show(getattr(step, known.name))

    def _say(self, mm: float) -> str:
        return numbers.length(mm, self._unit, numbers.DECIMALS[self._unit])

    def _step(self) -> Alteration | None:
        steps = self._document.design.alterations
        return steps[self._at] if self._at < len(steps) else None

    def _panel(self) -> Panel | None:
        """The panel before the step, whose edges, levels and darts can be chosen."""
        made = self._document.pattern.steps
        return made[self._at].before if self._at < len(made) else None

    def _set(self, known: Field, value: Any) -> None:
        design = self._document.history.design
        step = design.alterations[self._at]
        if getattr(step, known.name) == value:
            return
        changed = step_changed(design, self._at, replace(step, **{known.name: value}))
        if not self._document.change(f"Set {known.label.lower()}", changed):
            self.refresh()

    def _add_name(self, form: QFormLayout) -> None:
        known = Field("name", "Your name for it", "word", optional=True)
        field = QLineEdit()
        field.setPlaceholderText("none")
        field.setAccessibleName(known.label)
        field.editingFinished.connect(lambda: self._set(known, one_line(field.text())))
        form.addRow("Name", field)
        self._shown.append((field, known, field.setText))

    def _add(self, form: QFormLayout, known: Field) -> None:
        makers: dict[str, Callable[[Field], tuple[QWidget, Show]]] = {
            "length": self._length,
            "share": self._share,
            "yes": self._yes,
            "word": self._word,
            "place": self._place,
            "edge": self._choice,
            "any-edge": self._choice,
            "level": self._choice,
            "dart": self._choice,
            "end": self._choice,
        }
        widget, show = makers[known.asks](known)
        widget.setAccessibleName(known.label)
        if known.asks == "yes":
            form.addRow(widget)
        else:
            form.addRow(known.label, widget)
        self._shown.append((widget, known, show))

    def _length(self, known: Field) -> tuple[QWidget, Show]:
        field = LengthField(
            known.label,
            lambda mm: self._set(known, mm),
            least=known.least,
            may_be_empty=known.optional,
        )
        if known.optional:
            field.setSpecialValueText("all of it")
        field.set_unit(self._unit)
        return field, field.show_mm

    def _share(self, known: Field) -> tuple[QWidget, Show]:
        field = PlainField(known.label)
        field.setRange(1.0, 100.0)
        field.setDecimals(0)
        field.setSuffix(" %")
        field.valueChanged.connect(lambda value: self._set(known, value / 100.0))

        def show(share: float) -> None:
            field.blockSignals(True)
            field.setValue(share * 100.0)
            field.blockSignals(False)

        return field, show

    def _yes(self, known: Field) -> tuple[QWidget, Show]:
        field = QCheckBox(known.label)
        field.toggled.connect(lambda on: self._set(known, on))

        def show(on: bool) -> None:
            field.blockSignals(True)
            field.setChecked(on)
            field.blockSignals(False)

        return field, show

    def _word(self, known: Field) -> tuple[QWidget, Show]:
        field = QLineEdit()
        field.editingFinished.connect(lambda: self._set(known, one_line(field.text())))
        return field, field.setText

    def _choice(self, known: Field) -> tuple[QWidget, Show]:
        field = ChoiceBox()
        choices = self._choices(known)
        for value in choices:
            field.addItem(value or "its end", value)
        field.activated.connect(lambda _at: self._set(known, field.currentData()))

        def show(value: str) -> None:
            if field.findData(value) < 0:
                field.addItem(value, value)
            field.setCurrentIndex(field.findData(value))

        return field, show

    def _choices(self, known: Field) -> list[str]:
        if known.asks == "end":
            return ["side", "rise"]
        if known.asks == "any-edge":
            panels = self._document.pattern.panels
            return [edge.name for panel in panels for edge in panel.outline]
        panel = self._panel()
        found: list[str] = [""] if known.optional else []
        if panel is None:
            return found
        if known.asks == "level":
            return found + sorted(panel.levels, key=lambda name: -panel.levels[name])
        if known.asks == "dart":
            return found + [dart.name for dart in panel.darts]
        return found + [edge.name for edge in panel.outline]

    def _place(self, known: Field) -> tuple[QWidget, Show]:
        """An edge with the corner it is measured from, and how far along."""
        holder = QWidget()
        column = QVBoxLayout(holder)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(3)
        where = ChoiceBox()
        where.setAccessibleName(f"{known.label}: edge")
        known_places = _corners(self._panel())
        for edge, corner in known_places:
            where.addItem(f"{edge}, from {corner}")

        def moved(at: int) -> None:
            edge, corner = known_places[at]
            self._set(known, replace(self._value(known), edge=edge, corner=corner))

        def typed(mm: float | None) -> None:
            if mm is not None:
                self._set(known, replace(self._value(known), mm=mm, share=None))

        where.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        where.activated.connect(moved)
        along = LengthField(known.label, typed)
        along.set_unit(self._unit)
        column.addWidget(where)
        column.addWidget(along)

        def show(place: OnEdge) -> None:
            pair = (place.edge, place.corner)
            if pair not in known_places:
                known_places.append(pair)
                where.addItem(f"{place.edge}, from {place.corner}")
            where.setCurrentIndex(known_places.index(pair))
            if not along.hasFocus():
                along.show_mm(self._millimetres(place))

        return holder, show

    def _value(self, known: Field) -> OnEdge:
        value: OnEdge = getattr(self._document.history.design.alterations[self._at], known.name)
        return value

    def _millimetres(self, place: OnEdge) -> float | None:
        """A place's distance, also when it is kept as a share."""
        panel = self._panel()
        if place.mm is not None or panel is None or not panel.outline.has(place.edge):
            return place.mm
        return (place.share or 0.0) * panel.outline.edge(place.edge).length


def _corners(panel: Panel | None) -> list[tuple[str, str]]:
    """Every edge with each of its two neighbours."""
    if panel is None:
        return []
    names = [edge.name for edge in panel.outline]
    found = []
    for at, name in enumerate(names):
        found += [(name, names[at - 1]), (name, names[(at + 1) % len(names)])]
    return found

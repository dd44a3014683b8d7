"""What holds on the picked line: switched, typed, taken away, added; and what is left free."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from msgspec.structs import replace
from PySide6.QtWidgets import (
    QCheckBox,
    QGridLayout,
    QMenu,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from studio import numbers
from studio.canvas.length_field import LengthField
from studio.canvas.plain_tip import plain_tip
from studio.canvas.read_field import PlainField
from studio.cut.held import tied_to
from studio.cut.hold_state import ALL_HOLD, state_of_holds
from studio.cut.offers import Offer, offers
from studio.design import Design
from studio.design.holds import Hold, lines_in, title_beside, title_of, value_field
from studio.errors import Told
from studio.numbers import LengthUnit
from studio.window.buttons import with_menu, with_sign
from studio.window.document import Document
from studio.window.latest import Latest
from studio.window.menu_letters import with_letters
from studio.window.plain_label import on_button
from studio.window.widgets import emptied, faint, head


class HoldsList(QWidget):
    """Made anew whenever another set of holds speaks of the line."""

    def __init__(self, document: Document, line: str, unit: LengthUnit) -> None:
        super().__init__()
        self._document = document
        self._line = line
        self._unit = unit
        self._shape: tuple[object, ...] | None = None
        self._shown: list[tuple[int, QCheckBox, Callable[[Hold], None] | None]] = []
        self._told_of: Design | None = None
        self._judged: Design | None = None
        self._judge = Latest(self)
        self._judge.answered.connect(self._tell)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 6, 0, 0)
        column.setSpacing(4)
        column.addWidget(head("Holds"))
        self._grid = QGridLayout()
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setVerticalSpacing(3)
        column.addLayout(self._grid)
        self._told = faint("")
        column.addWidget(self._told)
        adding, menu = with_menu("Hold…")
        menu.aboutToShow.connect(partial(self.fill, menu))
        column.addWidget(adding)
        self.refresh()

    def refresh(self) -> None:
        """Show the holds as they stand."""
        design = self._document.design
        known = [(at, hold) for at, hold in enumerate(design.holds) if self._line in lines_in(hold)]
        shape = tuple((at, type(hold), title_of(hold)) for at, hold in known)
        if shape != self._shape:
            self._shape = shape
            self._build(known)
        for at, check, show in self._shown:
            hold = design.holds[at]
            check.blockSignals(True)
            check.setChecked(hold.active)
            check.blockSignals(False)
            if show is not None:
                show(hold)
        self._tell_what_is_known()
        if design is self._document.history.design:
            self.judge()

    def judge(self) -> None:
        """Say what the holds leave free, a moment later: why holds clash takes long to find. Asked
        when an edit has settled, not while dragging.
        """
        pattern = self._document.pattern
        if pattern.design is self._judged:
            return
        self._tell_what_is_known()
        self._judged = pattern.design
        if self._tied(pattern.design):
            self._judge.ask(partial(state_of_holds, pattern.design, pattern.panels, self._line))

    @property
    def is_busy(self) -> bool:
        """Whether what the holds leave free is still being worked out."""
        return self._judge.is_busy

    def _tell_what_is_known(self) -> None:
        """What the pattern itself says of the holds; what was being worked out of another design
        is not wanted any more.
        """
        pattern = self._document.pattern
        if pattern.design is self._told_of:
            return
        self._told_of, self._judged = pattern.design, None
        self._judge.forget()
        group = self._tied(pattern.design)
        refused = (
            Told(finding.message, finding.exact)
            for finding in pattern.findings
            if finding.rule == "hold" and finding.where in group
        )
        self._tell(next(refused, ALL_HOLD) if group else "")

    def _tied(self, design: Design) -> list[str]:
        """The lines that holds tie to this one, itself among them; none without a hold."""
        return tied_to(design.lines, design.holds, self._line)

    def _tell(self, told: object) -> None:
        assert isinstance(told, str)
        self._told.setText(numbers.retold(told, self._unit))
        self._told.setVisible(bool(told))

    def fill(self, menu: QMenu) -> None:
        """What could be held now."""
        menu.clear()
        pattern = self._document.pattern
        grip = self._document.selection.grip
        drawn = pattern.drawn(self._line)
        if drawn is None:
            menu.addAction("&The line cannot be drawn").setEnabled(False)
            return
        offered = offers(pattern.design, drawn, grip, pattern.lines, pattern.panels)
        words = with_letters([numbers.retold(offer.words, self._unit) for offer in offered])
        for offer, told in zip(offered, words, strict=True):
            menu.addAction(told, partial(self._add, offer))

    def _build(self, known: list[tuple[int, Hold]]) -> None:
        emptied(self._grid)
        self._shown = []
        for row, (at, hold) in enumerate(known):
            check = QCheckBox(on_button(title_beside(hold, self._line)))
            check.setToolTip(plain_tip(title_of(hold)))
            check.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
            check.toggled.connect(lambda on, at=at: self._set(at, "active", on))
            show = self._add_number(row, at, hold)
            self._grid.addWidget(check, row, 0, 1, 1 if show is not None else 2)
            drop, called = partial(self._remove, at), f"Hold no longer: {title_of(hold)}"
            gone = with_sign("✕", drop, tip="Hold it no longer", called=called)
            self._grid.addWidget(gone, row, 2)
            self._shown.append((at, check, show))
        self._grid.setColumnStretch(0, 1)

    def _add_number(self, row: int, at: int, hold: Hold) -> Callable[[Hold], None] | None:
        name = value_field(hold)
        if name is None:
            return None
        if name in ("mm", "ease"):
            field = LengthField(title_of(hold), lambda mm: self._set(at, name, mm), least=-1000.0)
            field.set_unit(self._unit)
            self._grid.addWidget(field, row, 1)

            def show(now: Hold) -> None:
                if not field.hasFocus():
                    field.show_mm(getattr(now, name))

            return show
        factor = 1.0 if name == "degrees" else 100.0
        plain = PlainField(title_of(hold))
        plain.setRange(-360.0, 360.0)
        plain.setDecimals(1)
        plain.setSuffix("°" if name == "degrees" else " %")
        plain.valueChanged.connect(lambda value: self._set(at, name, value / factor))
        self._grid.addWidget(plain, row, 1)

        def show_plain(now: Hold) -> None:
            if not plain.hasFocus():
                plain.blockSignals(True)
                plain.setValue(getattr(now, name) * factor)
                plain.blockSignals(False)

        return show_plain

    def _set(self, at: int, name: str, value: object) -> None:
        design = self._document.history.design
        asked = list(design.holds)
        if value is None or getattr(asked[at], name) == value:
            return
        title = title_of(asked[at])
        asked[at] = replace(asked[at], **{name: value})
        verb = "Set" if name != "active" else ("Hold" if value else "Let go")
        self._document.change(f"{verb}: {title}", replace(design, holds=tuple(asked)))
        self.judge()

    def _add(self, offer: Offer) -> None:
        design = self._document.history.design
        changed = replace(design, holds=(*design.holds, offer.hold))
        self._document.change(f"Hold: {offer.words}", changed)
        self.judge()

    def _remove(self, at: int) -> None:
        design = self._document.history.design
        title = title_of(design.holds[at])
        asked = (*design.holds[:at], *design.holds[at + 1 :])
        self._document.change(f"Let go: {title}", replace(design, holds=asked))
        self.judge()

"""How a picked piece may lie on cloth: which cloth and stock, how it is turned, joined or not."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import partial

from msgspec.structs import replace
from PySide6.QtGui import QAction
from PySide6.QtWidgets import (
    QCheckBox,
    QFormLayout,
    QMenu,
    QPushButton,
    QSizePolicy,
    QWidget,
)

from studio.canvas.plain_tip import plain_tip
from studio.cloth.stash_edit import cutting_of, with_cutting
from studio.cut.facing import facings
from studio.design.cloth import CuttingRule
from studio.design.pieces import PieceRecipe
from studio.window.choice_box import ChoiceBox
from studio.window.document import Document
from studio.window.menu_letters import with_letters
from studio.window.number_box import NumberBox
from studio.window.plain_label import on_button
from studio.window.widgets import label_of, may_be_narrow

_LIES = {"along": "along the grain", "across": "along or across", "free": "at any angle"}
_EXACT, _USUAL, _OWN = "exactly", "within 3°", "within…"
USUAL_TOLERANCE = 3.0
"""Degrees off the grain that are not seen in wear (common practice, no source)."""

MOST_TOLERANCE = 45.0


class CuttingForm(QWidget):
    """The rule of one piece; made anew by its owner when the rule or the stash changes."""

    def __init__(self, document: Document, recipe: PieceRecipe) -> None:
        super().__init__()
        self._document = document
        self._name = recipe.name
        self._cloth = recipe.cloth
        design = document.design
        rule = cutting_of(design, recipe.name)
        form = QFormLayout(self)
        form.setContentsMargins(0, 0, 0, 0)
        form.setVerticalSpacing(4)
        form.setHorizontalSpacing(12)
        others = [cloth.name for cloth in design.cloths if cloth.name != recipe.cloth]
        self.cloths = _ticks("Other cloths", others, rule.cloths, "no other", self.set_cloths)
        form.addRow(label_of("Or also from"), self.cloths)
        lying = [one.name for one in design.stash if one.cloth in (recipe.cloth, *rule.cloths)]
        self.stock = _ticks("Only on", lying, rule.stock, "anything of it", self.set_stock)
        form.addRow(label_of("Laid on"), self.stock)
        self.lies = may_be_narrow(ChoiceBox())
        self.lies.setAccessibleName("Lies")
        for word, said in _LIES.items():
            self.lies.addItem(said, word)
        self.lies.setCurrentIndex(self.lies.findData(rule.lies))
        self.lies.activated.connect(lambda _at: self.set("lies", self.lies.currentData()))
        form.addRow(label_of("It lies"), self.lies)
        self._add_tolerance(form, rule)
        self.points_up = QCheckBox("Points up on every cloth")
        self.points_up.setChecked(rule.one_way)
        self.points_up.toggled.connect(partial(self.set, "one_way"))
        form.addRow(self.points_up)
        self.may_join = QCheckBox("May be joined of two scraps")
        self.may_join.setChecked(rule.may_join)
        self.may_join.toggled.connect(partial(self.set, "may_join"))
        form.addRow(self.may_join)
        faced = facings(design.pieces)
        is_faced = recipe.name in faced or recipe.name in faced.values()
        self.may_join.setEnabled(not is_faced)
        if is_faced:
            self.may_join.setToolTip("A piece and its facing are cut whole: they have one shape.")

    def set(self, field: str, value: object) -> None:
        """Change one thing about the rule."""
        self._take(replace(cutting_of(self._document.history.design, self._name), **{field: value}))

    def _take(self, rule: CuttingRule) -> None:
        if rule != cutting_of(self._document.history.design, self._name):
            self._document.edit(f"How {self._name} may lie", partial(with_cutting, rule=rule))

    def set_cloths(self, names: tuple[str, ...]) -> None:
        """Let the piece be cut from other cloths as well; stock of one that is taken off again is
        no longer among what it may be laid on.
        """
        design = self._document.history.design
        lying = {one.name for one in design.stash if one.cloth in (self._cloth, *names)}
        rule = cutting_of(design, self._name)
        stock = tuple(name for name in rule.stock if name in lying)
        self._take(replace(rule, cloths=names, stock=stock))

    def set_stock(self, names: tuple[str, ...]) -> None:
        """Let the piece be cut only from some of the stock; from none named, from any."""
        self.set("stock", names)

    def _add_tolerance(self, form: QFormLayout, rule: CuttingRule) -> None:
        self.tolerance = may_be_narrow(ChoiceBox())
        self.tolerance.setAccessibleName("On the grain")
        self.tolerance.addItems([_EXACT, _USUAL, _OWN])
        known = {0.0: _EXACT, USUAL_TOLERANCE: _USUAL}
        self.tolerance.setCurrentText(known.get(rule.tolerance, _OWN))
        self.tolerance.activated.connect(lambda _at: self._choose_tolerance())
        self.degrees = NumberBox(
            "Degrees off the grain", partial(self.set, "tolerance"), unit="°", most=MOST_TOLERANCE
        )
        self.degrees.show_value(rule.tolerance)
        form.addRow(label_of("On the grain"), self.tolerance)
        form.addRow(label_of("Off it by"), self.degrees)
        self._form = form
        # At any angle there is no grain to keep to.
        form.setRowVisible(self.tolerance, rule.lies != "free")
        form.setRowVisible(self.degrees, rule.lies != "free" and rule.tolerance not in known)

    def _choose_tolerance(self) -> None:
        chosen = self.tolerance.currentText()
        self._form.setRowVisible(self.degrees, chosen == _OWN)
        if chosen == _OWN:
            self.degrees.setFocus()
        else:
            self.set("tolerance", 0.0 if chosen == _EXACT else USUAL_TOLERANCE)


def _ticks(
    label: str,
    names: list[str],
    ticked: Iterable[str],
    none: str,
    changed: Callable[[tuple[str, ...]], object],
) -> QPushButton:
    """A button that opens a list of names to tick."""
    button = QPushButton()
    button.setAccessibleName(label)
    button.setProperty("role", "pick")
    button.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
    known = tuple(ticked)
    words = ", ".join(known) or none
    # A button with a menu is painted without the room at its left that a style asks for.
    button.setText(on_button(f" {words}"))
    button.setToolTip(plain_tip(words))
    button.setEnabled(bool(names))
    menu = QMenu(button)
    for name, told in zip(names, with_letters(names), strict=True):
        action = QAction(told, menu, checkable=True)
        action.setData(name)
        action.setChecked(name in known)
        menu.addAction(action)

    def take(_action: QAction) -> None:
        changed(tuple(str(one.data()) for one in menu.actions() if one.isChecked()))

    menu.triggered.connect(take)
    button.setMenu(menu)
    return button

"""The menus: what they are called, their keys, and what each entry does."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtGui import QAction, QActionGroup, QKeySequence
from PySide6.QtWidgets import QMenu

from studio import numbers
from studio.cut.parts import PARTS
from studio.numbers import LengthUnit
from studio.window import dialogs, export_dialog, recent
from studio.window.history import History
from studio.window.menu_letters import numbered, with_letters
from studio.window.plain_label import on_button
from studio.window.road_pane import CLOTH
from studio.window.stash_pane import fill_menu
from studio.window.widgets import redo_keys

if TYPE_CHECKING:
    from studio.window.main_window import MainWindow

_Keys = QKeySequence.StandardKey


class Menus:
    """File, Edit, Draft, Cloth, Look and Help of one window."""

    def __init__(self, window: MainWindow) -> None:
        self._window = window
        self._units: dict[LengthUnit, QAction] = {}
        self._looks: dict[bool | None, QAction] = {}
        bar = window.menuBar()
        self._make_file(bar.addMenu("&File"))
        self._make_edit(bar.addMenu("&Edit"))
        self._make_draft(bar.addMenu("&Draft"))
        self._make_cloth(bar.addMenu("&Cloth"))
        self._make_look(bar.addMenu("&Look"))
        helping = bar.addMenu("&Help")
        self._add(
            helping, "&Mouse and keys…", _Keys.HelpContents, partial(dialogs.show_keys, window)
        )
        self._add(helping, "&Before you cut…", None, self._show_cautions)
        helping.addSeparator()
        self._add(helping, "&About Yokewright…", None, partial(dialogs.show_about, window))

    def _show_cautions(self) -> None:
        dialogs.show_cautions(self._window, self._window.unit)

    def _print(self) -> None:
        export_dialog.print_pieces(self._window, self._window.document, self._window.unit)

    def show_history(self, history: History) -> None:
        """Name what undo and redo would do."""
        self._undo.setText(_named("&Undo", history.undo_label))
        self._undo.setEnabled(bool(history.undo_label))
        self._redo.setText(_named("&Redo", history.redo_label))
        self._redo.setEnabled(bool(history.redo_label))

    def show_unit(self, unit: LengthUnit) -> None:
        """Tick the unit that lengths are shown in."""
        self._units[unit].setChecked(True)

    def show_look(self, chosen: bool | None) -> None:
        """Tick the look that was chosen."""
        self._looks[chosen].setChecked(True)

    def _make_file(self, menu: QMenu) -> None:
        window = self._window
        self._add(menu, "&New from a body…", _Keys.New, window.files.new_design)
        self._add(menu, "&Open…", _Keys.Open, window.files.open_dialog)
        self._add(menu, "Make a &block of a drawing…", None, window.files.open_drawing)
        self._recent = menu.addMenu("Open &recent")
        self._recent.aboutToShow.connect(self._fill_recent)
        self._add(menu, "Open the orchard &trousers", None, window.files.open_demo)
        menu.addSeparator()
        self._add(menu, "&Save", _Keys.Save, window.files.save)
        self._add(menu, "Save &as…", _Keys.SaveAs, window.files.save_as)
        menu.addSeparator()
        self._add(menu, "&Write pieces to files…", "Ctrl+E", window.export)
        self._add(menu, "&Print…", _Keys.Print, self._print)
        self._add(menu, "&Draft-along sheet…", None, window.show_along)
        self._add(menu, "Wor&k sheet…", None, window.show_work)
        menu.addSeparator()
        self._add(menu, "&Close", _Keys.Quit, window.close)

    def _make_edit(self, menu: QMenu) -> None:
        window = self._window
        self._undo = self._add(menu, "Undo", _Keys.Undo, window.document.undo)
        self._redo = self._add(menu, "Redo", _Keys.Redo, window.document.redo)
        self._redo.setShortcuts(redo_keys())
        menu.addSeparator()
        self._add(menu, "&Name and notes…", None, window.name_design)
        menu.addSeparator()
        self._add(menu, "Smooth or &corner\tC", None, window.tool.toggle)
        self._add(menu, "&Take the node away\tDel", None, window.tool.delete)

    def _make_draft(self, menu: QMenu) -> None:
        window = self._window
        lines, parts = window.road.line_menu, window.road.part_menu
        lines.addAction(self._add(menu, "&Draw a style line", "D", window.draw_line))
        lines.addAction(self._add(menu, "Cut a &yoke…", None, window.adding.cut_yoke))
        menu.addMenu(parts)
        titles = with_letters([kind.title for kind in PARTS])
        for kind, title in zip(PARTS, titles, strict=True):
            self._add(parts, f"{title}…", None, partial(window.adding.add_part, kind))
        self._add(menu, "&Join edges…", None, window.adding.join_edges)
        self._add(menu, "&Walk the picked seam", "W", window.walk)
        self._add(menu, "&Check the pockets…", None, window.check_pockets)

    def _make_cloth(self, menu: QMenu) -> None:
        window = self._window
        self._add(menu, "&Lay on cloth…", "Ctrl+L", window.lay_on_cloth)
        self._add(menu, "&How much is needed…", None, window.ask_how_much)
        menu.addSeparator()
        self._add(menu, "&Show the stash", None, partial(window.road.open_stage, CLOTH))
        fill_menu(menu.addMenu("&Add to the stash"), window.stash)
        self._add(menu, "&Write all to a stash file…", None, window.stash.stash_out)

    def _make_look(self, menu: QMenu) -> None:
        window = self._window
        self._add(menu, "&Fit all", "Ctrl+0", window.view.fit)
        self._add(menu, "Fit what is &picked", "Ctrl+1", window.fit_picked)
        self._add(menu, "&Closer", _Keys.ZoomIn, partial(window.view.zoom, 1.25))
        self._add(menu, "F&urther", _Keys.ZoomOut, partial(window.view.zoom, 0.8))
        menu.addSeparator()
        self._make_units(menu.addMenu("&Lengths in"))
        self._make_looks(menu.addMenu("Light or &dark"))

    def _make_units(self, menu: QMenu) -> None:
        group = QActionGroup(self._window)
        words = with_letters([numbers.chosen_as(unit) for unit in numbers.MILLIMETRES])
        for unit, told in zip(numbers.MILLIMETRES, words, strict=True):
            action = self._add(menu, told, None, partial(self._choose_unit, unit))
            action.setCheckable(True)
            action.setChecked(unit == self._window.unit)
            group.addAction(action)
            self._units[unit] = action

    def _make_looks(self, menu: QMenu) -> None:
        group = QActionGroup(self._window)
        for chosen, words in ((None, "&As the desktop"), (False, "&Light"), (True, "&Dark")):
            action = self._add(menu, words, None, partial(self._window.look.choose, chosen))
            action.setCheckable(True)
            group.addAction(action)
            self._looks[chosen] = action

    def _choose_unit(self, unit: LengthUnit) -> None:
        """Also for the next time the program is started."""
        self._window.set_unit(unit)
        recent.keep_unit(unit)

    def _fill_recent(self) -> None:
        self._recent.clear()
        paths = recent.files()
        for path, words in zip(paths, numbered([path.name for path in paths]), strict=True):
            self._add(self._recent, words, None, partial(self._window.files.open_file, path))
        if not paths:
            self._recent.addAction("&None yet").setEnabled(False)

    def _add(
        self, menu: QMenu, label: str, keys: _Keys | str | None, run: Callable[[], object]
    ) -> QAction:
        action = QAction(label, self._window)
        if keys is not None:
            action.setShortcut(QKeySequence(keys))
        action.triggered.connect(lambda: run())
        menu.addAction(action)
        return action


def _named(what: str, step: str) -> str:
    """Undo or redo, and the step it would take."""
    return f"{what}: {on_button(step)}" if step else what

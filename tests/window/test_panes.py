"""How a window shares its room out, and what stands in its panes while nothing is picked."""

import pytest
from PySide6.QtWidgets import QApplication, QDialogButtonBox, QToolButton

from studio.canvas.selection import NOTHING, Selection
from studio.demo import demo_design
from studio.window.body_dialog import BodyDialog
from studio.window.main_window import MainWindow
from studio.window.recovery import Recovery
from tests.window.clipped import clipped

SEWING = 5


def of_size(qtbot, tmp_path, wide, high):
    """A window of the demonstration that opens so large."""
    made = MainWindow(demo_design(), None, recovery=Recovery(tmp_path / f"{wide}"))
    qtbot.addWidget(made, before_close_func=lambda _: made.document.history.mark_saved())
    made.resize(wide, high)
    with qtbot.waitExposed(made):
        made.show()
    QApplication.processEvents()
    return made


def test_a_large_window_gives_lists_and_legs_more_room_and_the_sheet_most(qtbot, tmp_path):
    small, large = (of_size(qtbot, tmp_path, *size) for size in ((1280, 800), (2560, 1440)))
    more = {
        name: getattr(large, name).width() - getattr(small, name).width()
        for name in ("road", "wearer", "view")
    }
    assert more["road"] >= 100
    assert more["wearer"] >= 200
    assert more["view"] >= more["road"] + more["wearer"]
    assert large.ledger.height() >= small.ledger.height() + 100
    # Afterwards the maker's own lines between the panes stay where they are.
    before = small.road.width(), small.wearer.width(), small.ledger.height()
    small.resize(1700, 1000)
    QApplication.processEvents()
    assert (small.road.width(), small.wearer.width(), small.ledger.height()) == before


@pytest.mark.parametrize(
    ("stage", "picked"),
    [
        (2, Selection("step", "1")),
        (5, Selection("join", "inseam")),
        (7, Selection("cloth", "main")),
    ],
    ids=["steps", "sewing", "stash"],
)
def test_what_acts_on_the_picked_row_waits_until_one_is_picked(window, stage, picked):
    window.road.open_stage(stage)
    acts = [
        button
        for button in window.road._stages[stage][1].findChildren(QToolButton)
        if button.text() in ("↑", "↓", "✕")
    ]
    window.document.select(NOTHING)
    assert acts
    assert not any(act.isEnabled() for act in acts)
    window.document.select(picked)
    assert all(act.isEnabled() for act in acts)


def test_a_picked_seam_is_not_drawn_where_its_pieces_are_hidden(window):
    window.document.select(Selection("join", "inseam"))
    assert window.sheet._highlight.isVisible()
    window._show("panels")
    assert not window.sheet._highlight.isVisible()
    assert window.sheet.box_of(window.document.selection).isEmpty()
    window.document.select(Selection("join", "side seam"))
    assert not window.sheet._highlight.isVisible()
    window._show("pieces")
    assert window.sheet._highlight.isVisible()


def test_buttons_of_a_dialog_have_words_only_on_any_desktop(qtbot, qapp):
    before = qapp.styleSheet()
    # As desktops do that want pictures on such buttons.
    qapp.setStyleSheet("QDialogButtonBox { dialogbuttonbox-buttons-have-icons: 1; }")
    try:
        plain = QDialogButtonBox(QDialogButtonBox.StandardButton.Ok)
        qtbot.addWidget(plain)
        dialog = BodyDialog()
        qtbot.addWidget(dialog)
        buttons = dialog.findChild(QDialogButtonBox).buttons()
        assert [button.icon().isNull() for button in buttons] == [True, True]
        assert not plain.buttons()[0].icon().isNull()
    finally:
        qapp.setStyleSheet(before)


def test_all_measures_of_a_body_are_seen_at_once_where_the_screen_has_the_room(qtbot, qapp):
    dialog = BodyDialog()
    qtbot.addWidget(dialog)
    with qtbot.waitExposed(dialog):
        dialog.show()
    last = list(dialog._fields.values())[-1]
    assert last.visibleRegion().boundingRect().height() == last.height()
    assert clipped(dialog) == []

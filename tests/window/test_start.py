"""What a maker meets first: an example with ways to begin, empty places that say what to do."""

import pytest
from PySide6.QtWidgets import QLabel, QToolButton

from studio.canvas.theme import DARK, LIGHT
from studio.demo import ORCHARD_BODY, demo_design
from studio.design.plain import plain_design
from studio.window import dialogs, recent
from studio.window.findings_list import NOTHING_FOUND
from studio.window.main_window import MainWindow
from studio.window.recovery import Recovery
from studio.window.road_pane import BLOCK
from studio.window.start_form import WAYS, StartForm
from tests.window.menu_words import words_of

STYLE_LINES, PIECES = BLOCK + 2, BLOCK + 3


def words_in(widget):
    return " ".join(label.text() for label in widget.findChildren(QLabel))


def start_of(window):
    """The start form that the details show now; what was there before goes in the next turn."""
    return window.details.widget().findChild(StartForm)


def test_an_example_offers_to_begin_ones_own_and_what_is_ones_own_does_not(window):
    assert set(start_of(window).buttons) == set(WAYS)
    design = window.document.history.design
    window.document.change("Name it mine", design.with_line(design.lines[0]))
    assert start_of(window) is not None
    window.document.replace(plain_design(ORCHARD_BODY), None, saved=False)
    assert start_of(window) is None


def test_an_example_that_something_was_done_to_offers_it_no_longer(window, tmp_path):
    before = window.document.history.design
    shorter = before.lines[1:]
    window.document.change(
        "Change",
        type(before)(
            **{name: getattr(before, name) for name in before.__struct_fields__}
            | {"lines": shorter, "notes": "mine"}
        ),
    )
    assert start_of(window) is None
    window.document.undo()
    assert start_of(window) is not None
    window.document.save(tmp_path / "mine.yoke")
    window.details.refresh()
    assert start_of(window) is None


@pytest.mark.parametrize(
    ("way", "act"), [("body", "new_design"), ("drawing", "open_drawing"), ("open", "open_dialog")]
)
def test_each_way_to_begin_leads_where_the_file_menu_does(window, monkeypatch, way, act):
    gone = []
    monkeypatch.setattr(window.files, act, lambda: gone.append(act))
    start_of(window).buttons[way].click()
    assert gone == [act]


def test_a_bare_block_is_told_what_comes_next(window):
    window.document.replace(plain_design(ORCHARD_BODY), None, saved=False)
    told = words_in(window.details.widget())
    for stage in ("Alterations", "Style lines", "Pieces"):
        assert stage in told


def test_lines_and_parts_are_added_where_they_are_listed(window):
    window.document.replace(plain_design(ORCHARD_BODY), None, saved=False)
    offered = {}
    for stage in (STYLE_LINES, PIECES):
        _, body = window.road._stages[stage]
        for button in body.findChildren(QToolButton):
            offered[button.text()] = [words_of(action) for action in button.menu().actions()]
    assert offered["Add a line"] == ["Draw a style line", "Cut a yoke…"]
    assert "Fly…" in offered["Add a part"]


def test_no_findings_are_told_in_words(window):
    assert not window.document.pattern.findings
    window.resize(1400, 900)
    bare = window.ledger.findings.view.grab().toImage()
    ground = bare.pixelColor(bare.width() - 4, bare.height() - 4)
    inked = sum(bare.pixelColor(x, y) != ground for x in range(12, 200) for y in range(8, 24))
    assert inked > 200, NOTHING_FOUND


def test_the_look_chosen_is_kept_and_none_is_kept_before_one_was_chosen(window, qtbot, tmp_path):
    assert recent.dark() is None
    window.look.choose(True)
    assert recent.dark() is True
    other = MainWindow(demo_design(), None, recovery=Recovery(tmp_path / "other"))
    qtbot.addWidget(other)
    other.set_theme(LIGHT)
    other.take_its_place()
    assert other.theme is DARK
    other.look.choose(False)
    assert recent.dark() is False


def test_what_the_program_is_and_its_licence_are_told(window, monkeypatch):
    seen = []
    monkeypatch.setattr(
        "PySide6.QtWidgets.QDialog.exec", lambda dialog: seen.append(words_in(dialog))
    )
    dialogs.show_about(window)
    assert "0.3.0" in seen[0]
    assert "GNU General Public License" in seen[0]

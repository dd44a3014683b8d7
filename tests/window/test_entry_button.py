"""A row of a pane whose words do not fit."""

import pytest

from studio.window.entry_button import EntryButton

LONG = "1  Hüfttasche-facing on Hüfttasche-bag   ·   lapped and topstitched"


@pytest.mark.parametrize("width", [60, 180, 260, 900])
def test_words_that_do_not_fit_end_in_dots_within_the_row(qtbot, width):
    button = EntryButton(LONG)
    qtbot.addWidget(button)
    button.resize(width, 24)
    button.show()
    shown = button.shown_words()
    assert button.text() == LONG
    assert button.fontMetrics().horizontalAdvance(shown) <= width
    assert (shown == LONG) is (width == 900)
    assert shown == LONG or shown.endswith("…")


def test_no_long_name_makes_the_road_wider_than_its_pane(window):
    from studio.design.naming import renamed_line

    named = renamed_line(window.document.history.design, "knee-panel", "Kniebesatz " * 12)
    window.document.change("Name", named)
    window.road.open_stage(3)
    button = next(b for b, s in window.road._entries if s.name.startswith("Kniebesatz"))
    assert button.text().startswith("Kniebesatz")
    assert button.shown_words().endswith("…")
    assert window.road.widget().width() <= window.road.viewport().width()


def test_an_ampersand_in_a_name_is_painted(qtbot):
    def width_of_ink(words):
        button = EntryButton(words)
        qtbot.addWidget(button)
        button.setFlat(True)
        button.resize(300, 24)
        image = button.grab().toImage()
        back = image.pixelColor(150, 1)
        rows = range(4, 20)
        ink = [x for x in range(300) if any(image.pixelColor(x, y) != back for y in rows)]
        return ink[-1] - ink[0]

    # Without it the words would be narrower by that sign.
    assert width_of_ink("a&b") > width_of_ink("ab") + 4

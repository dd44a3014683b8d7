"""How much cloth: a length for each width, one after the other, and an answer on an old pair."""

import pytest

from studio.cloth.need import USUAL_WIDTHS
from studio.window import need_window


@pytest.fixture
def asked(window, qtbot, monkeypatch):
    monkeypatch.setattr(need_window, "ROLL_SECONDS", 0.3)
    monkeypatch.setattr(need_window, "PAIR_SECONDS", 0.3)
    shown = window.ask_how_much()
    qtbot.addWidget(shown)
    shown.cloth.setCurrentText("knee")
    return shown


def test_every_usual_width_gets_a_length_for_the_cloth_chosen(asked, qtbot):
    qtbot.waitUntil(lambda: len(asked.needs) == len(USUAL_WIDTHS), timeout=60_000)
    assert [need.width for need in asked.needs] == list(USUAL_WIDTHS)
    assert {need.cloth for need in asked.needs} == {"knee"}
    # Two pieces of 227 by 388 lie side by side on any of these widths; lengths go by 50 mm, and
    # first fit, which stands in for a search that was too short, gives some away.
    assert {need.length for need in asked.needs} <= {400.0, 450.0}


def test_an_old_pair_is_answered_in_a_sentence(asked, qtbot):
    asked.ask_old_pair()
    qtbot.waitUntil(lambda: asked.answer not in ("", "Looking…"), timeout=60_000)
    assert asked.answer.startswith("An old pair of waist 860 mm, inside leg 790 mm would")
    assert "estimate" in asked.answer

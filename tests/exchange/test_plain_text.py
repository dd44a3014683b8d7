"""Text as old files hold it."""

import pytest

from studio.exchange.plain_text import ascii_text, block_names


@pytest.mark.parametrize(
    ("text", "plain"),
    [
        (
            "Größe 38 \N{EN DASH} Jeanne d\N{RIGHT SINGLE QUOTATION MARK}Arc",
            "Grosse 38 - Jeanne d'Arc",
        ),
        ("Łódź, Ærø, façade, naïve", "Lodz, AEro, facade, naive"),
        ("40 \N{MULTIPLICATION SIGN} 60", "40 x 60"),
        ("後身頃 1", "??? 1"),
        ("two\nlines\tone", "two lines one"),
        ("", ""),
    ],
)
def test_letters_lose_their_marks_and_strange_ones_become_question_marks(text, plain):
    assert ascii_text(text) == plain


def test_names_that_differ_only_in_capitals_are_told_apart():
    assert block_names(["leg", "Leg", "LEG", "leg-2"]) == ["LEG", "LEG-2", "LEG-3", "LEG-2-2"]


def test_long_names_are_cut_and_stay_their_own():
    names = block_names(["a" * 90, "a" * 91])
    assert len(set(names)) == 2
    assert max(map(len, names)) <= 64

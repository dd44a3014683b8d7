"""Lists of pieces on paper: broken where they must be, as high as their words, none left out."""

import pytest

from studio.exchange.paint.listed import TEXT, entries_beside, entry_below, shared_out
from studio.exchange.paint.offscreen import ensure_gui
from studio.exchange.paint.writing import LEADING, paragraphs_height, width_of, wrapped

ensure_gui()

LONG = "secateurs-pocket-for-the-right-hand-with-a-very-long-name"


@pytest.mark.parametrize("bold", [False, True])
@pytest.mark.parametrize("width", [4.0, 20.0, 45.0, 300.0])
@pytest.mark.parametrize(
    "text", [LONG, "less allowance, cut along the narrower line", "W" * 40, ""]
)
def test_no_line_is_wider_than_its_room_and_nothing_is_lost(text, width, bold):
    lines = wrapped(text, TEXT, width, bold=bold)
    assert all(width_of(line, TEXT, bold=bold) <= width for line in lines)
    assert "".join(lines).replace(" ", "") == text.replace(" ", "")


def test_a_long_word_is_broken_after_a_hyphen_where_it_has_one():
    lines = wrapped(LONG, TEXT, 50.0)
    assert len(lines) > 1
    assert all(line.endswith("-") for line in lines[:-1])
    # A letter wider than the room still stands.
    assert wrapped("W", TEXT, 0.5) == ["W"]


def test_paragraphs_take_their_lines_and_half_a_line_each():
    words = ("one", "two and more words than one line holds, by far, of this width")
    count = sum(len(wrapped(one, TEXT, 40.0)) for one in words)
    wanted = count * TEXT * LEADING + len(words) * 0.5 * TEXT
    assert count > 2
    assert paragraphs_height(words, TEXT, 40.0) == pytest.approx(wanted)


def lowest(entry):
    return max(line.below for line in entry.lines)


@pytest.mark.parametrize("width", [60.0, 90.0, 260.0])
def test_entries_are_as_high_as_their_words(width):
    told = "366 mm from the left, 15 mm up, turned 2.5\N{DEGREE SIGN}; less allowance"
    rows = [("yoke", "20 mm from the left"), (LONG, told)]
    below = [entry_below(k, *row, width) for k, row in enumerate(rows, start=1)]
    for entry in (*entries_beside(rows, width), *below):
        # The letters of the next entry rise less than their size above its baseline.
        assert entry.height - lowest(entry) >= TEXT
        for line in entry.lines:
            wide = 0.0 if line.align == "right" else width_of(line.text, line.size, bold=line.bold)
            assert line.right + wide <= width + 1e-6
    one, two = entries_beside(rows, width)
    assert (two.height > one.height) == (width < 260.0)


def test_what_is_told_beside_a_name_begins_where_no_name_reaches():
    rows = [("yoke", "a"), (LONG, "b"), ("back-leg, right", "c")]
    for entry, (_, told) in zip(entries_beside(rows, 190.0), rows, strict=True):
        (beside,) = [line for line in entry.lines if line.text == told]
        names = [line for line in entry.lines if line not in (beside, entry.lines[0])]
        assert all(line.right + width_of(line.text, TEXT) < beside.right - 3.0 for line in names)


def test_entries_are_shared_out_by_height_all_of_them_once():
    heights = [5.0, 5.0, 14.0, 5.0, 9.0, 30.0, 5.0]
    found = shared_out(len(heights), lambda k, _first: heights[k], 12.0, 20.0)
    # By hand: 5 + 5; then 14 + 5, since 9 more are too many; 9; 30 alone, taller than a page; 5.
    assert found == [range(0, 2), range(2, 4), range(4, 5), range(5, 6), range(6, 7)]
    # A first page without room has none, and a list of nothing is one page.
    assert shared_out(2, lambda _k, _first: 5.0, 3.0, 20.0) == [range(0), range(0, 2)]
    assert shared_out(0, lambda _k, _first: 5.0, 3.0, 20.0) == [range(0)]
    # On the first page an entry may be taller than on the others.
    tall = shared_out(4, lambda _k, first: 10.0 if first else 5.0, 20.0, 20.0)
    assert tall == [range(0, 2), range(2, 4)]


def test_a_number_is_not_parted_from_its_unit_or_fraction():
    ensure_gui()
    words = "Lines enclose 666 cm² in all, the hem 44 13/16 inch, the rest 12.0 mm. It is 4 or 5."
    for width in range(25, 120, 3):
        for line in wrapped(words, TEXT, float(width))[1:]:
            assert not line.startswith(("cm²", "13/16", "inch", "mm"))
    # Where they have no room beside one another they are parted all the same.
    assert wrapped("44 13/16 inch", TEXT, 14.0) == ["44", "13/16", "inch"]

"""Lines and pieces taken away in the window."""

import pytest
from msgspec.structs import replace
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QPushButton

from studio.canvas.selection import Selection
from studio.cut.parts import Fly, HandPocket, ShapedWaistband
from studio.demo import ORCHARD_BODY
from studio.design.file import encoded, load, save
from studio.design.plain import plain_design
from studio.pattern import evaluate, with_parts


def press(window, qtbot, words):
    """Press the button at the foot of the form on the right."""
    (button,) = [b for b in window.details.findChildren(QPushButton) if b.text() == words]
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)


@pytest.mark.parametrize(
    ("kind", "name", "went"),
    [
        ("line", "knee-panel", "knee panel"),
        ("line", "fly", "fly-shield"),
        ("piece", "waistband", "waist, other leg"),
        ("piece", "twine-loop", "twine-loop tube"),
    ],
)
def test_one_click_takes_it_away_with_its_seams_and_one_undo_brings_all_back(
    window, qtbot, kind, name, went
):
    before = encoded(window.document.design)
    window.document.select(Selection(kind, name))
    press(window, qtbot, f"Take this {kind} away")
    pattern = window.document.pattern
    assert name not in [piece.name for piece in pattern.design.pieces]
    assert went in window._hint.text()
    assert window.document.selection.kind != kind
    assert window.document.history.undo_label == f"Take away {name}"
    window.document.undo()
    assert encoded(window.document.design) == before


def test_what_something_is_laid_on_stays_and_the_reason_is_told(window, qtbot):
    before = encoded(window.document.design)
    window.document.select(Selection("line", "secateurs-pocket"))
    press(window, qtbot, "Take this line away")
    assert "pencil-pocket is laid on it" in window._hint.text()
    assert encoded(window.document.design) == before


def test_a_leg_is_not_offered_to_be_taken_away(window):
    window.document.select(Selection("piece", "front-leg"))
    words = [button.text() for button in window.details.findChildren(QPushButton)]
    assert "Take this piece away" not in words


def banded(window, **asked):
    """A plain pair with pocket and fly in the window, and then with a shaped band: before it, and
    with it.
    """
    plain = with_parts(plain_design(ORCHARD_BODY), HandPocket(), Fly())
    window.document.change("A plain pair", plain)
    window.document.change("Add a band", with_parts(plain, ShapedWaistband(**asked)))
    return plain, window.document.history.design


@pytest.mark.parametrize(
    ("kind", "name"), [("piece", "band-front"), ("piece", "band-back-under"), ("line", "band-back")]
)
def test_a_shaped_band_goes_whole_from_any_of_its_pieces_and_lines(
    window, qtbot, tmp_path, kind, name
):
    plain, with_band = banded(window)
    document = window.document
    document.select(Selection(kind, name))
    press(window, qtbot, "Take the whole band away")
    without = document.history.design
    assert (without.lines, without.pieces, without.joins) == (
        plain.lines,
        plain.pieces,
        plain.joins,
    )
    assert [s.cut_line for s in document.pattern.pieces] == [
        s.cut_line for s in evaluate(plain).pieces
    ]
    assert window._hint.text().startswith(f"Undo brings back all that went with {name}: ")
    save(without, tmp_path / "without.yoke")
    assert load(tmp_path / "without.yoke") == without
    document.undo()
    assert encoded(document.design) == encoded(with_band)
    document.redo()
    assert encoded(document.design) == encoded(without)


def test_the_facing_of_a_band_goes_whole_and_the_band_stays(window, qtbot):
    banded(window)
    window.document.select(Selection("piece", "band-front-under-facing"))
    press(window, qtbot, "Take the band's facing away")
    names = [one.name for one in window.document.design.pieces]
    assert [name for name in names if name.endswith("-facing")] == ["fly-facing"]
    assert "band-front-under" in names
    assert {row.verdict for row in window.document.pattern.ledger} == {"match"}


def test_notches_of_a_seam_stay_on_the_garment_when_a_band_or_its_facing_goes(window, qtbot):
    plain = plain_design(ORCHARD_BODY)
    joins = tuple(
        replace(one, notches=(120.0,)) if one.name == "crotch seam" else one for one in plain.joins
    )
    bare = replace(plain, joins=joins)
    document = window.document

    def notches():
        return next(one.notches for one in document.design.joins if one.name == "crotch seam")

    document.change("A band", with_parts(bare, ShapedWaistband(width=40.0, overlap=0.0)))
    # Its facing, 1.5 narrower, is folded up above: the seam begins so much earlier.
    assert notches() == pytest.approx((158.5,), abs=0.05)
    document.select(Selection("piece", "band-back-facing"))
    press(window, qtbot, "Take the band's facing away")
    assert notches() == pytest.approx((120.0,), abs=0.05)
    document.select(Selection("piece", "band-back"))
    faced_with = window.details.form.cut.faced_with
    faced_with.setCurrentIndex(faced_with.findText("main"))
    faced_with.activated.emit(faced_with.currentIndex())
    assert notches() == pytest.approx((158.5,), abs=0.05)
    document.select(Selection("piece", "band-back"))
    press(window, qtbot, "Take the whole band away")
    assert notches() == pytest.approx((120.0,), abs=0.05)

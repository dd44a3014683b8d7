"""The picture of the pieces."""

import pytest
from PySide6.QtGui import QColor, QImage

from studio.demo import demo_design
from studio.errors import BadInput
from studio.exchange.picture import PAPER, write_png
from studio.pattern import evaluate
from tests.exchange.pieces import band, flap

PATTERN = evaluate(demo_design())
COLOURS = {"main": "#0000ff", "knee": "#ff0000", "pocketing": "#00aa00"}


@pytest.fixture(scope="module")
def picture(tmp_path_factory):
    path = tmp_path_factory.mktemp("picture") / "pieces.png"
    write_png(PATTERN.pieces, path, colours=COLOURS, width_px=900)
    return QImage(str(path))


def pixels(image, step=3):
    for x in range(0, image.width(), step):
        for y in range(0, image.height(), step):
            yield QColor(image.pixel(x, y))


def test_the_picture_is_as_wide_as_asked(picture):
    assert picture.width() == 900
    assert 300 < picture.height() < 900


def test_it_shows_each_cloth_in_its_own_tint(picture):
    hues = {colour.hue() // 60 for colour in pixels(picture) if colour.saturation() > 60}
    assert {0, 2, 4} <= hues


def test_its_border_is_bare_paper(picture):
    last = picture.width() - 1
    for x in (2, 15, last - 15, last - 2):
        for y in range(picture.height()):
            assert QColor(picture.pixel(x, y)) == QColor(PAPER)


def test_its_lines_are_dark(picture):
    assert min(colour.lightness() for colour in pixels(picture, 1)) < 70


def test_the_same_pieces_give_the_same_bytes(tmp_path):
    for name in ("one.png", "two.png"):
        write_png((flap(),), tmp_path / name)
    assert (tmp_path / "one.png").read_bytes() == (tmp_path / "two.png").read_bytes()


def test_the_name_of_a_piece_too_small_for_it_stands_below(tmp_path):
    pieces = (flap("wide", scale=6.0), band(60, 12, "loop"))
    write_png(pieces, tmp_path / "small.png", width_px=800)
    image = QImage(str(tmp_path / "small.png"))
    dark = [
        (x, y)
        for x in range(image.width())
        for y in range(image.height())
        if QColor(image.pixel(x, y)).lightness() < 120
    ]
    right = max(x for x, _ in dark)
    loop = [y for x, y in dark if x > right - 30]
    # The band is some 10 pixels high; with its name below, the dark goes on further.
    assert max(loop) - min(loop) > 18


def test_what_cannot_be_painted_is_refused(tmp_path):
    with pytest.raises(BadInput, match="no pieces"):
        write_png((), tmp_path / "none.png")
    with pytest.raises(BadInput, match=r"main.*rrggbb"):
        write_png((flap(),), tmp_path / "x.png", colours={"main": "blue"})
    with pytest.raises(BadInput, match="300 to 20000"):
        write_png((flap(),), tmp_path / "x.png", width_px=10)
    with pytest.raises(BadInput, match=r"missing.*x\.png"):
        write_png((flap(),), tmp_path / "missing" / "x.png")

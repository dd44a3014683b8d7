"""Printed sheets, read back by another library."""

import pytest

from studio.curves import Box
from studio.demo import demo_design
from studio.errors import BadInput
from studio.exchange.arrange import arranged, extent, free_place, on_sheets
from studio.exchange.paper import SHEETS_MM, row_name, tiles_of, write_pdf
from studio.pattern import evaluate
from tests.exchange.reading import page_count, page_size_mm, painted_chains

PATTERN = evaluate(demo_design())


@pytest.fixture(scope="module")
def tiled(tmp_path_factory):
    path = tmp_path_factory.mktemp("paper") / "demo.pdf"
    write_pdf(PATTERN.pieces, path, paper="a4", title="Orchard trousers")
    return path


def square_sides(chains):
    """Boxes of four-sided painted paths about 100 mm wide and high."""
    boxes = [chain.box for chain in chains if len(chain.cubics) == 4]
    return [box for box in boxes if abs(box.width - 100) < 2 and abs(box.height - 100) < 2]


def test_the_test_square_is_100_mm_on_each_side(tiled):
    squares = square_sides(painted_chains(tiled, 0))
    assert len(squares) == 1
    assert squares[0].width == pytest.approx(100.0, abs=0.05)
    assert squares[0].height == pytest.approx(100.0, abs=0.05)


@pytest.mark.parametrize("paper", ["a4", "letter", "a0"])
def test_pages_have_the_papers_size(tmp_path, paper):
    path = tmp_path / f"{paper}.pdf"
    write_pdf(PATTERN.pieces, path, paper=paper)
    width, height = page_size_mm(path)
    assert width == pytest.approx(SHEETS_MM[paper][0], abs=0.2)
    assert height == pytest.approx(SHEETS_MM[paper][1], abs=0.2)
    if paper == "a0":
        every = [painted_chains(path, k) for k in range(page_count(path))]
        squares = [square for chains in every for square in square_sides(chains)]
        assert any(square.width == pytest.approx(100.0, abs=0.05) for square in squares)


@pytest.mark.parametrize("name", [sewn.piece.name for sewn in PATTERN.pieces])
def test_each_sewing_line_is_as_long_on_paper_as_in_the_model(tmp_path, name):
    sewn = PATTERN.piece(name)
    path = tmp_path / "one.pdf"
    write_pdf((sewn,), path, paper="a0")
    every = [c for k in range(page_count(path)) for c in painted_chains(path, k)]
    wanted = sewn.piece.outline.perimeter
    assert min(abs(chain.length - wanted) for chain in every) < 0.05
    cut = sum(edge.chain.length for edge in sewn.cut_line)
    assert min(abs(chain.length - cut) for chain in every) < 0.05


def test_neighbouring_sheets_print_the_same_mark(tiled):
    laid = arranged(PATTERN.pieces, 6 * 182.0, 12.0)
    tiles, _, _ = tiles_of(laid, 182.0, 269.0)
    names = [tile.name for tile in tiles]
    left, right = names.index("A1") + 1, names.index("A2") + 1
    diamonds = []
    for page in (left, right):
        boxes = [c.box for c in painted_chains(tiled, page) if len(c.cubics) == 4]
        diamonds.append([b for b in boxes if abs(b.width - 8) < 0.1 and abs(b.height - 8) < 0.1])
    edge_right = [box for box in diamonds[0] if abs(box.centre.x - 196.0) < 0.1]
    edge_left = [box for box in diamonds[1] if abs(box.centre.x - 14.0) < 0.1]
    assert len(edge_right) == 1
    assert len(edge_left) == 1
    assert edge_right[0].centre.y == pytest.approx(edge_left[0].centre.y, abs=0.05)


def test_a_line_that_leaves_one_sheet_goes_on_on_the_next(tiled):
    """What is drawn within the overlap of two neighbours is drawn at the same place on both."""
    laid = arranged(PATTERN.pieces, 6 * 182.0, 12.0)
    tiles, _, _ = tiles_of(laid, 182.0, 269.0)
    names = [tile.name for tile in tiles]
    upper, lower = (
        painted_chains(tiled, names.index("A1") + 1),
        painted_chains(tiled, names.index("B1") + 1),
    )
    cut = sum(edge.chain.length for edge in PATTERN.piece("front-leg").cut_line)
    one, two = (min(chains, key=lambda chain: abs(chain.length - cut)) for chains in (upper, lower))
    assert one.length == pytest.approx(cut, abs=0.05)
    assert one.start.y - two.start.y == pytest.approx(269.0, abs=0.05)
    assert one.start.x == pytest.approx(two.start.x, abs=0.05)


def test_only_sheets_that_show_something_are_printed(tiled):
    laid = arranged(PATTERN.pieces, 6 * 182.0, 12.0)
    tiles, rows, columns = tiles_of(laid, 182.0, 269.0)
    assert page_count(tiled) == len(tiles) + 1
    assert len(tiles) < rows * columns


def test_rows_are_letters_that_go_on_after_z():
    assert [row_name(k) for k in (0, 1, 25, 26, 27, 52)] == ["A", "B", "Z", "AA", "AB", "BA"]


def test_pieces_laid_out_never_overlap():
    laid = arranged(PATTERN.pieces, 1200.0, 12.0)
    for k, one in enumerate(laid):
        for two in laid[k + 1 :]:
            assert not one.box.meets(two.box, 11.0)


def test_whole_sheets_hold_every_piece_once_inside():
    sheets = on_sheets(PATTERN.pieces, 813.0, 1149.0, 12.0)
    names = [one.sewn.piece.name for laid in sheets for one in laid]
    assert sorted(names) == sorted(sewn.piece.name for sewn in PATTERN.pieces)
    for laid in sheets:
        box = extent(laid)
        assert box.left >= -1e-6
        assert box.right <= 813.0 + 1e-6
        assert box.bottom >= -1149.0 - 1e-6
        place = free_place(laid, 813.0, 1149.0, (190.0, 102.0), 12.0)
        if place is not None:
            free = Box(place.x, place.y - 102.0, place.x + 190.0, place.y)
            assert not any(free.meets(one.box, 11.0) for one in laid)


def test_a_piece_larger_than_the_sheet_is_refused_by_name():
    with pytest.raises(BadInput, match="front-leg"):
        on_sheets(PATTERN.pieces, 500.0, 500.0, 12.0)


def test_what_cannot_be_printed_is_refused(tmp_path):
    with pytest.raises(BadInput, match="no pieces"):
        write_pdf((), tmp_path / "none.pdf")
    with pytest.raises(BadInput, match="b5"):
        write_pdf(PATTERN.pieces, tmp_path / "b5.pdf", paper="b5")
    with pytest.raises(BadInput, match=r"missing.*x\.pdf"):
        write_pdf(PATTERN.pieces[:1], tmp_path / "missing" / "x.pdf", paper="a0")

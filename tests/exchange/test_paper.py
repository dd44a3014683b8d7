"""Printed pages, read back by another library."""

import re

import pypdfium2 as pdfium
import pytest
from msgspec.structs import replace

from studio.demo import demo_design
from studio.errors import BadInput
from studio.exchange.pages import row_name, tiled, whole
from studio.exchange.paint.overview import overview_count
from studio.exchange.paper import write_pdf
from studio.exchange.paper_sizes import MARGIN, PAPERS, STRIP
from studio.pattern import evaluate
from tests.exchange.pieces import band, flap
from tests.exchange.reading import page_count, page_size_mm, painted_chains

PATTERN = evaluate(demo_design())
PAGES = tiled(PATTERN.pieces, PAPERS["a4"])
BEFORE = overview_count(PAGES, PATTERN.pieces)
DIAMOND = 8.0


@pytest.fixture(scope="module")
def glued(tmp_path_factory):
    path = tmp_path_factory.mktemp("paper") / "demo.pdf"
    write_pdf(PATTERN.pieces, path, paper="a4", title="Orchard trousers")
    return path


@pytest.fixture(scope="module")
def great(tmp_path_factory):
    path = tmp_path_factory.mktemp("paper") / "great.pdf"
    write_pdf(PATTERN.pieces, path, paper="a0", title="Orchard trousers")
    return path


def squares(chains, side, slack=2.0):
    """Boxes of closed paths of four straight sides about as wide and high as asked."""
    boxes = [
        chain.box
        for chain in chains
        if len(chain.cubics) == 4 and all(cubic.is_straight for cubic in chain.cubics)
    ]
    return [b for b in boxes if abs(b.width - side) < slack and abs(b.height - side) < slack]


def text_of(path, index):
    with pdfium.PdfDocument(path) as book:
        return book[index].get_textpage().get_text_range()


def diamonds_on_sheet(path, page):
    """Middles of the marks of a page, on the sheet all pages are parts of."""
    index = PAGES.pages.index(page) + BEFORE
    return {
        (
            round(b.centre.x - MARGIN + page.core.left, 2),
            round(page.core.top - b.centre.y + MARGIN, 2),
        )
        for b in squares(painted_chains(path, index), DIAMOND, 0.1)
    }


def test_the_test_square_is_100_mm_on_each_side(glued):
    (square,) = squares(painted_chains(glued, 0), 100.0)
    assert square.width == pytest.approx(100.0, abs=0.05)
    assert square.height == pytest.approx(100.0, abs=0.05)
    assert "100 mm" in text_of(glued, 0)


def test_every_great_sheet_has_its_test_square(great):
    assert page_count(great) == 2
    for index in range(2):
        (square,) = squares(painted_chains(great, index), 100.0)
        assert square.width == pytest.approx(100.0, abs=0.05)
        assert square.height == pytest.approx(100.0, abs=0.05)


@pytest.mark.parametrize("paper", ["a4", "letter", "a0"])
def test_pages_have_the_papers_size(tmp_path, paper):
    path = tmp_path / f"{paper}.pdf"
    write_pdf((flap(),), path, paper=paper)
    for index in range(page_count(path)):
        width, height = page_size_mm(path, index)
        assert width == pytest.approx(PAPERS[paper].width, abs=0.1)
        assert height == pytest.approx(PAPERS[paper].height, abs=0.1)


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_a_piece_on_one_page_has_its_full_length_there(tmp_path, paper):
    sewn = flap()
    path = tmp_path / "flap.pdf"
    write_pdf((sewn,), path, paper=paper)
    assert page_count(path) == 2
    chains = painted_chains(path, 1)
    dart = sewn.piece.darts[0]
    wanted = {
        "sewing line": sewn.piece.outline.perimeter,
        "cut line": sum(edge.chain.length for edge in sewn.cut_line),
        "mark": sewn.piece.marks[0].chain.length,
        "dart legs": dart.first.distance_to(dart.point) + dart.last.distance_to(dart.point),
        "grainline": sewn.grain[0].distance_to(sewn.grain[1]),
    }
    for what, length in wanted.items():
        assert min(abs(chain.length - length) for chain in chains) < 0.05, what
    slits = [chain for chain in chains if abs(chain.length - 5.0) < 0.01]
    assert len(slits) == 3


@pytest.mark.parametrize("sewn", PATTERN.pieces, ids=lambda sewn: sewn.piece.name)
def test_each_sewing_line_is_as_long_on_a_great_sheet_as_in_the_model(great, sewn):
    every = [chain for index in range(2) for chain in painted_chains(great, index)]
    assert min(abs(chain.length - sewn.piece.outline.perimeter) for chain in every) < 0.05


def test_neighbouring_pages_carry_the_same_marks(glued):
    by_place = {(page.row, page.column): page for page in PAGES.pages}
    for name in ("A1", "B3", "D2"):
        page = next(page for page in PAGES.pages if page.name == name)
        for step in ((0, 1), (1, 0)):
            neighbour = by_place[(page.row + step[0], page.column + step[1])]
            shared = diamonds_on_sheet(glued, page) & diamonds_on_sheet(glued, neighbour)
            assert len(shared) == 2, (name, neighbour.name)


def test_the_numbers_of_shared_marks_are_on_both_pages(glued):
    one, two = PAGES.pages[:2]
    shared = {mark.number for mark in one.marks} & {mark.number for mark in two.marks}
    assert len(shared) == 2
    for index in (BEFORE, BEFORE + 1):
        assert {str(number) for number in shared} <= set(text_of(glued, index).split())


def test_a_line_goes_on_at_the_same_place_on_the_next_page(glued):
    names = [page.name for page in PAGES.pages]
    cut = sum(edge.chain.length for edge in PATTERN.piece("front-leg").cut_line)
    upper, lower = (
        min(
            painted_chains(glued, names.index(name) + BEFORE),
            key=lambda chain: abs(chain.length - cut),
        )
        for name in ("A1", "B1")
    )
    assert upper.length == pytest.approx(cut, abs=0.05)
    step = PAPERS["a4"].height - 2 * MARGIN - STRIP
    assert upper.start.y - lower.start.y == pytest.approx(step, abs=0.02)
    assert upper.start.x == pytest.approx(lower.start.x, abs=0.02)


def names_on(path, index, name):
    """The boxes of a name written on a page, mm from its lower left corner."""
    page = pdfium.PdfDocument(path)[index]
    words = page.get_textpage()
    found, search = [], words.search(name, match_case=True)
    while (hit := search.get_next()) is not None:
        boxes = [words.get_charbox(hit[0] + k) for k in range(hit[1])]
        sides = list(zip(*boxes, strict=True))
        ends = (f(side) for f, side in zip((min, min, max, max), sides, strict=True))
        found.append([end * 25.4 / 72.0 for end in ends])
    return found


@pytest.mark.parametrize("name", ["front-leg", "back-leg", "bearer", "pocket-bag", "waistband"])
def test_the_label_of_a_piece_is_whole_on_one_page_where_it_has_the_room(glued, name):
    """A label over a seam of the paper is read in four scraps until all is glued."""
    high = PAPERS["a4"].height
    whole = cut = 0
    for k, page in enumerate(PAGES.pages, start=BEFORE):
        frame = (
            MARGIN,
            high - MARGIN - page.core.height,
            MARGIN + page.core.width,
            high - MARGIN,
        )
        for left, low, right, top in names_on(glued, k, name):
            apart = right < frame[0] or left > frame[2] or top < frame[1] or low > frame[3]
            inside = left > frame[0] and right < frame[2] and low > frame[1] and top < frame[3]
            whole += inside
            cut += not inside and not apart
    assert (whole, cut) == (1, 0)


def test_every_page_bears_its_row_and_column(glued):
    assert page_count(glued) == len(PAGES.pages) + BEFORE
    for index, page in enumerate(PAGES.pages, start=BEFORE):
        assert page.name in text_of(glued, index).split()


def test_the_overview_names_every_page_and_piece_and_the_cautions(glued):
    text = " ".join(" ".join(text_of(glued, k) for k in range(BEFORE)).split())
    for page in PAGES.pages:
        assert re.search(rf"\b{page.name}\b", text)
    for sewn in PATTERN.pieces:
        assert sewn.piece.name in text
    for words in ("before cutting", "toile", "Rotary cutters", "not protective", "actual size"):
        assert words in text


def test_a_page_bears_the_number_that_is_printed_by(glued):
    # A print window counts every page of the file, and so does the overview's "print".
    whole = BEFORE + len(PAGES.pages)
    for number, page in enumerate(PAGES.pages, start=BEFORE + 1):
        text = " ".join(text_of(glued, number - 1).split())
        assert f"page {number} of {whole}" in text
        assert page.name in text


def test_a_long_list_of_pieces_goes_on_over_the_next_page_and_page_numbers_count_it(tmp_path):
    pieces = [
        replace(sewn, piece=replace(sewn.piece, name=f"{sewn.piece.name}-{copy}"))
        for copy in range(3)
        for sewn in PATTERN.pieces
    ]
    pages = tiled(pieces, PAPERS["a4"])
    before = overview_count(pages, pieces)
    assert before == 2
    path = tmp_path / "many.pdf"
    write_pdf(pieces, path, paper="a4", title="Orchard trousers")
    told = [" ".join(text_of(path, k).split()) for k in range(before)]
    for number, sewn in enumerate(pieces, start=1):
        name = f"{number} {sewn.piece.name}"
        assert sum(name in text for text in told) == 1, name
    # The last piece's pages, counted with those of the overview before them.
    first = min(pages.showing(pieces[-1])) + before + 1
    assert re.search(rf"print {first}\b", told[-1])
    # All of the list lies on the paper.
    for number in range(before):
        page = pdfium.PdfDocument(path)[number]
        words = page.get_textpage()
        lowest = min(words.get_charbox(k)[1] for k in range(words.count_chars()))
        assert lowest / 72.0 * 25.4 >= MARGIN - 0.5


def test_empty_pages_are_left_out_and_the_overview_says_so(tmp_path):
    # One long leg and a small piece beside it leave pages that nothing is on.
    pieces = [PATTERN.piece("front-leg"), PATTERN.piece("belt-loop")]
    pages = tiled(pieces, PAPERS["a4"])
    path = tmp_path / "two.pdf"
    write_pdf(pieces, path, paper="a4", title="Orchard trousers")
    assert "Empty pages are left out" in " ".join(text_of(path, 0).split())
    assert len(pages.pages) < pages.rows * pages.columns
    letters = {page.name for page in pages.pages}
    assert len(letters) == len(pages.pages)


def test_every_piece_is_wholly_on_the_pages_that_show_it():
    for one in PAGES.laid:
        shown = [PAGES.pages[k].core for k in PAGES.showing(one.sewn)]
        for edge in one.sewn.cut_line:
            chain = edge.chain.transformed(one.move)
            for k in range(40):
                at = chain.at(chain.length * k / 40)
                assert any(
                    core.left - 1e-6 <= at.x <= core.right + 1e-6
                    and core.bottom - 1e-6 <= at.y <= core.top + 1e-6
                    for core in shown
                )


def test_nothing_is_drawn_in_the_margin_of_a_page_to_be_glued(glued):
    with pdfium.PdfDocument(glued) as book:
        for index in (0, 1, 8):
            picture = book[index].render(scale=2.0, grayscale=True).to_numpy()
            picture = picture.reshape(picture.shape[:2])
            edge = int((MARGIN - 0.5) * 2.0 * 72.0 / 25.4)
            for border in (
                picture[:edge],
                picture[-edge:],
                picture[:, :edge],
                picture[:, -edge:],
            ):
                assert border.min() == 255
            assert picture.min() < 100


def test_a_piece_too_large_for_a_great_sheet_is_shared_out_on_several(tmp_path):
    path = tmp_path / "huge.pdf"
    write_pdf((flap("huge", scale=8.0),), path, paper="a0")
    pages = whole((flap("huge", scale=8.0),), PAPERS["a0"])
    assert pages.strip == STRIP
    assert page_count(path) == len(pages.pages) == 4
    for index in range(4):
        assert len(squares(painted_chains(path, index), 100.0, 0.05)) == 1


def test_a_long_list_of_pieces_goes_on_on_a_second_page(tmp_path):
    pieces = [band(60, 20, f"loop-{k}") for k in range(30)]
    path = tmp_path / "loops.pdf"
    write_pdf(pieces, path, title="Loops")
    both = text_of(path, 0) + text_of(path, 1)
    assert all(f"loop-{k}" in both for k in range(30))
    assert "loop-29" not in text_of(path, 0)


def test_rows_are_letters_that_go_on_after_z():
    assert [row_name(k) for k in (0, 1, 25, 26, 27, 52)] == ["A", "B", "Z", "AA", "AB", "BA"]


def test_the_same_pieces_give_the_same_file_but_for_its_date(tmp_path):
    contents = []
    for name in ("one.pdf", "two.pdf"):
        write_pdf((flap(),), tmp_path / name, title="Flap")
        content = (tmp_path / name).read_bytes()
        contents.append(re.sub(rb"D:\d{14}Z|\d{4}-\d\d-\d\dT[\d:+-]+", b"", content))
    assert contents[0] == contents[1]


def test_the_file_tells_its_title_and_maker(tmp_path):
    write_pdf((flap(),), tmp_path / "x.pdf", title="Gürtelschlaufe")
    with pdfium.PdfDocument(tmp_path / "x.pdf") as book:
        told = book.get_metadata_dict()
    assert told["Title"] == "Gürtelschlaufe"
    assert told["Creator"] == "Yokewright"


def test_what_cannot_be_printed_is_refused(tmp_path):
    with pytest.raises(BadInput, match="no pieces"):
        write_pdf((), tmp_path / "none.pdf")
    with pytest.raises(BadInput, match=r"b5.*a4, a0, letter"):
        write_pdf(PATTERN.pieces, tmp_path / "b5.pdf", paper="b5")
    with pytest.raises(BadInput, match=r"missing.*x\.pdf"):
        write_pdf((flap(),), tmp_path / "missing" / "x.pdf", paper="a0")

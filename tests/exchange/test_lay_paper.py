"""The plans of a lay and its true-size pages, read back by another library."""

import pypdfium2 as pdfium
import pytest
from msgspec.structs import replace

from studio.design.cloth import Placement, Roll, Shortage
from studio.design.file import decoded, encoded
from studio.errors import BadInput
from studio.exchange.lay_paper import write_lay_pdf, write_true_pdf
from studio.exchange.lay_plan import CAUTIONS, cloth_plans, lay_words
from studio.exchange.paper_sizes import MARGIN, PAPERS
from studio.pattern import evaluate
from tests.exchange.lays import laid_design
from tests.exchange.reading import page_count, page_size_mm, painted_chains

DESIGN = laid_design()
PATTERN = evaluate(DESIGN)
PLANS = cloth_plans(PATTERN)


def text_of(path, index):
    with pdfium.PdfDocument(path) as book:
        return " ".join(book[index].get_textpage().get_text_range().split())


@pytest.fixture(scope="module")
def plan(tmp_path_factory):
    path = tmp_path_factory.mktemp("lay") / "plan.pdf"
    write_lay_pdf(PLANS, path, title="Orchard trousers", verdict=lay_words(PATTERN))
    return path


def test_every_cloth_has_a_page_with_its_pieces_the_verdict_and_the_cautions(plan):
    assert page_count(plan) == 2
    words = text_of(plan, 0)
    for told in ("Orchard trousers: canvas", "back-leg, right", "turned 180°", "On no cloth:"):
        assert told in words
    assert all(caution in words for caution in CAUTIONS)
    assert "warp" in words
    assert "not for cutting" in words


def test_a_long_list_goes_on_on_another_page(tmp_path):
    roll = Roll("long roll", "main", 1500.0, 4000.0)
    loops = tuple(
        Placement("belt-loop", k, "long roll", (100.0 + 60.0 * (k % 20), 100.0 + 60.0 * (k // 20)))
        for k in range(60)
    )
    recipes = tuple(
        replace(recipe, count=60) if recipe.name == "belt-loop" else recipe
        for recipe in DESIGN.pieces
    )
    lay = replace(DESIGN.lay, placements=loops)
    pattern = evaluate(replace(DESIGN, pieces=recipes, stash=(roll,), lay=lay))
    path = tmp_path / "long.pdf"
    write_lay_pdf(cloth_plans(pattern), path, title="Loops", verdict="")
    count = page_count(path)
    assert count > 1
    words = " ".join(text_of(path, index) for index in range(count))
    assert all(f"belt-loop, {k} of 60" in words for k in range(1, 61))


def boxes(path, index):
    """Where every letter of a page lies: left, low, right, high, in mm from its lower left."""
    with pdfium.PdfDocument(path) as book:
        words = book[index].get_textpage()
        count = words.count_chars()
        text = words.get_text_range()
        found = [words.get_charbox(k) for k in range(count) if not text[k : k + 1].isspace()]
    return [tuple(side / 72.0 * 25.4 for side in box) for box in found if box[2] > box[0]]


@pytest.mark.parametrize("unit", ["mm", "inch"])
def test_long_names_and_notes_are_told_whole_within_the_paper(tmp_path, unit):
    """Read back by another library: no letter beyond the margins, every word there once."""
    long = "secateurs-pocket-for-the-right-hand-with-a-very-long-name"
    named = encoded(DESIGN).decode().replace('"back-leg"', f'"{long}"')
    design = decoded(named.encode())
    short = Shortage(long, 1, "back.rise", 205.0, 240.0, 5.3)
    title = "Orchard trousers with a knee panel, for a ladder and wet grass, the second version"
    pattern = evaluate(replace(design, shortages=(short,)))
    plans = cloth_plans(pattern)
    path = tmp_path / "long.pdf"
    missing = f"On no cloth: {'; '.join(f'loop {k} of the waist' for k in range(60))}."
    write_lay_pdf(plans, path, title=title, verdict=missing, unit=unit)
    paper = PAPERS["a4"]
    told = []
    for index in range(page_count(path)):
        places = boxes(path, index)
        assert min(left for left, *_ in places) >= MARGIN - 0.5
        assert max(right for _, _, right, _ in places) <= paper.width - MARGIN + 0.5
        assert min(low for _, low, _, _ in places) >= MARGIN - 0.5
        told.append(text_of(path, index))
    words = " ".join(told)
    assert "the second version: canvas" in words
    assert "loop 59 of the waist." in words
    assert "cut along the narrower line" in words
    assert all(caution in words for caution in CAUTIONS)
    # Broken after a hyphen, which the reader of the file gives back as a space.
    bare = "".join(words.split())
    for leg in ("left", "right"):
        assert f"{long},{leg}" in bare


def test_a_true_page_holds_the_cut_lines_at_true_size(tmp_path):
    paths = write_true_pdf(PLANS, tmp_path, "orchard")
    assert [path.name for path in paths] == ["orchard-canvas.pdf", "orchard-old_leg.pdf"]
    wide, high = page_size_mm(paths[1])
    left, _, _, top = PLANS[1].bed.outline.bounds
    assert wide == pytest.approx(PLANS[1].width + 100.0 + 3.0 * MARGIN, abs=0.01)
    assert high == pytest.approx(PLANS[1].height + 2.0 * MARGIN, abs=0.01)
    lengths = [chain.length for chain in painted_chains(paths[1], 0)]
    for one in PLANS[1].laid:
        whole = sum(edge.chain.length for edge in one.sewn.cut_line)
        assert min(abs(length - whole) for length in lengths) < 0.01
    starts = [
        (chain.start.x - MARGIN + left, top + MARGIN - chain.start.y)
        for chain in painted_chains(paths[1], 0)
    ]
    for one in PLANS[1].laid:
        start = one.sewn.cut_line[0].chain.start
        # The page is rounded to whole points, which moves all of it by half a point at most.
        assert min(abs(x - start.x) + abs(y - start.y) for x, y in starts) < 0.2


def test_what_cannot_be_printed_is_refused(tmp_path):
    with pytest.raises(BadInput, match="Nothing is laid"):
        write_lay_pdf((), tmp_path / "x.pdf", title="", verdict="")
    with pytest.raises(BadInput, match="a4 or letter"):
        write_lay_pdf(PLANS, tmp_path / "x.pdf", title="", verdict="", paper="a0")
    stash = (replace(DESIGN.stash[0], length=5200.0),)
    with pytest.raises(BadInput, match="5 m") as refusal:
        write_true_pdf(cloth_plans(evaluate(replace(DESIGN, stash=stash))), tmp_path, "long")
    assert refusal.value.where == "canvas"

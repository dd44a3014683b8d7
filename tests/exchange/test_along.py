"""The draft-along sheet: a panel drawn from its words alone is the panel."""

import re

import pypdfium2 as pdfium
import pytest
from msgspec.structs import replace

from studio.alter import KINDS
from studio.curves import Point
from studio.demo import demo_design
from studio.design.alterations import LowerWaist
from studio.errors import BadInput, GeometryRefused
from studio.exchange.along import sheet_of
from studio.exchange.along.letters import Letters
from studio.exchange.along.words import plainly
from studio.exchange.paint.along import EDGE, Line, Picture, pages_of
from studio.exchange.paint.offscreen import ensure_gui
from studio.exchange.paint.writing import width_of
from studio.exchange.paper_sizes import PAPERS
from studio.exchange.sheet_pdf import write_along
from studio.pattern import evaluate
from tests.exchange.reading import page_size_mm

DESIGN = demo_design()
PATTERN = evaluate(DESIGN)
PRINTED = 0.05
"""Half of the last digit given, mm."""

LETTER = r"[A-HJ-NP-Z]\d*"


def number(words):
    return float(words.replace("\N{MINUS SIGN}", "-"))


def levels_in(sentence):
    found = {"hem": 0.0}
    for name, up in re.findall(r"the (\w+) line at ([\d.]+) mm", sentence):
        found[name] = number(up)
    return found


def points_in(sentences, levels):
    """Each lettered point as a maker measures it: from a level line and the upright line."""
    found = {}
    for sentence in sentences:
        named = re.match(rf"({LETTER}): (.*)\.$", sentence)
        if named is None:
            continue
        words = named[2]
        level = re.search(r"(\w+) line", words)[1]
        up = re.search(r"([\d.]+) mm (up|down) from", words)
        y = levels[level]
        if up:
            y += number(up[1]) * (1.0 if up[2] == "up" else -1.0)
        across = re.search(r"([\d.]+) mm to the (left|right)", words)
        x = 0.0 if across is None else number(across[1]) * (1 if across[2] == "right" else -1)
        found[named[1]] = Point(x, y)
    return found


def places_in(clause, points):
    """The places of one curve in drafting order, from its first lettered point to its last."""
    one, two = re.search(rf"from ({LETTER}) to ({LETTER})", clause).groups()
    start, end = points[one], points[two]
    run = (end - start).unit()
    found = [start]
    for off, side, along in re.findall(
        r"([\d.]+) mm (left|right) at (\N{MINUS SIGN}?[\d.]+)", clause
    ):
        sideways = run.left() if side == "left" else run.right()
        found.append(start + run * number(along) + sideways * number(off))
    return [*found, end]


@pytest.mark.parametrize("name", ["front", "back"])
def test_a_panel_drawn_from_the_sentences_alone_is_the_block(name):
    sheet = sheet_of(PATTERN)
    stage = next(stage for stage in sheet.stages if stage.title == f"Draw the {name}")
    block = next(made.before for made in PATTERN.steps if made.step.panel == name)
    levels = levels_in(stage.sentences[0])
    points = points_in(stage.sentences, levels)
    assert {k: round(v, 1) for k, v in block.levels.items()} == levels
    seen = 0
    for edge, title in (
        (f"{name}.side", "The side seam"),
        (f"{name}.waist", "The waist"),
        (f"{name}.rise", "The rise"),
        (f"{name}.inseam", "The inseam"),
        (f"{name}.hem", "The hem"),
    ):
        sentence = next(s for s in stage.sentences if s.startswith(f"{title}:"))
        chain = block.outline.edge(edge).chain
        for clause in sentence.partition(". ")[0].split(";"):
            for place in places_in(clause, points):
                assert chain.nearest(place)[1] <= 3.0 * PRINTED
                seen += 1
        taped = number(re.search(r"measures ([\d.]+) mm", sentence)[1])
        assert abs(taped - chain.length) <= PRINTED + 1e-9
    assert seen > 20
    for dart in block.darts:
        assert min(dart.point.distance_to(point) for point in points.values()) <= 1.5 * PRINTED


def test_every_letter_said_stands_in_the_figure():
    for stage in sheet_of(PATTERN).stages:
        if stage.figure is None or not stage.figure.points:
            continue
        shown = {letter for letter, _ in stage.figure.points}
        said = set(re.findall(rf"\b{LETTER}\b(?!-)", " ".join(stage.sentences))) - {"A0"}
        assert said <= shown, stage.title
        view = stage.figure.view
        for letter, point in stage.figure.points:
            assert view.is_near(point, 1e-6), (stage.title, letter)


def test_a_point_keeps_its_letter_and_no_letter_is_taken_for_a_number():
    letters = Letters()
    names = [letters.of(Point(float(k), 0.0)) for k in range(60)]
    assert len(set(names)) == 60
    assert not {name[0] for name in names} & {"I", "O"}
    assert letters.of(Point(7.0, 1e-5)) == names[7]


def test_edges_are_said_plainly_and_those_of_the_other_panel_by_its_name():
    said = plainly("front.side walks along back.side to back.patch.", "back", ("front", "back"))
    assert said == "The front side seam walks along the side seam to back.patch."
    for stage in sheet_of(PATTERN).stages:
        assert not re.search(r"\b(front|back)\.", " ".join(stage.sentences)), stage.title


@pytest.mark.parametrize("kind", KINDS.values(), ids=[kind.title for kind in KINDS.values()])
def test_every_kind_of_step_becomes_a_stage(kind):
    plain = evaluate(replace(DESIGN, alterations=(), lines=(), pieces=(), joins=(), finishes=()))
    for panel in reversed(plain.panels):
        try:
            step = kind.fresh(panel)
        except GeometryRefused:
            continue
        pattern = evaluate(replace(plain.design, alterations=(step,)))
        stages = [s for s in sheet_of(pattern).stages if s.title.startswith(kind.title)]
        assert len(stages) == 1
        assert stages[0].figure.points
        assert "{" not in " ".join(stages[0].sentences)
        return
    pytest.fail(f"no panel of a plain block has room for {kind.title}")


def test_a_step_switched_off_is_left_out_and_one_that_failed_is_told_in_front():
    off = replace(DESIGN.alterations[0], active=False)
    failing = LowerWaist("back", 5000.0, 5000.0)
    design = replace(DESIGN, alterations=(off, *DESIGN.alterations[1:], failing))
    sheet = sheet_of(evaluate(design))
    titles = [stage.title for stage in sheet.stages]
    assert "Swing in the rise: the front" not in titles
    assert titles.count("Lower the waist: the back") == 1
    assert any("could not be made" in words and "5000" in words for words in sheet.before)


def test_lengths_are_written_in_the_unit_asked_for():
    words = " ".join(s for stage in sheet_of(PATTERN, "inch").stages for s in stage.sentences)
    assert " inch" in words
    assert not re.search(r"\d mm", words)


def test_the_pdf_holds_every_sentence_and_every_title(tmp_path):
    path = tmp_path / "along.pdf"
    write_along(PATTERN, path)
    with pdfium.PdfDocument(path) as book:
        text = " ".join(page.get_textpage().get_text_bounded() for page in book)
    read = re.sub(r"\s+", "", text)
    for stage in sheet_of(PATTERN).stages:
        for words in (stage.title, *stage.sentences):
            assert re.sub(r"\s+", "", words) in read
    assert page_size_mm(path) == pytest.approx((210.0, 297.0), abs=0.01)


def test_nothing_is_set_outside_the_margins():
    ensure_gui()
    for paper in (PAPERS["a4"], PAPERS["letter"]):
        for page in pages_of(sheet_of(PATTERN), paper):
            for item in page:
                if isinstance(item, Picture):
                    assert item.top >= EDGE
                    assert item.top + item.height <= paper.height - EDGE
                else:
                    assert EDGE <= item.y <= paper.height - EDGE + 1e-9


def test_a_great_sheet_is_refused_for_reading(tmp_path):
    with pytest.raises(BadInput, match="a4 or letter"):
        write_along(PATTERN, tmp_path / "x.pdf", paper="a0")


def test_a_long_name_and_notes_of_several_paragraphs_stay_within_the_page():
    ensure_gui()
    words = "what the toile showed, and what is to be changed before the good cloth is cut. " * 6
    notes = "\n\n".join([*[words.strip()] * 14, "First line\nsecond line", "x" * 400])
    name = "Trousers for the orchard " * 9
    sheet = sheet_of(evaluate(replace(DESIGN, name=name.strip(), notes=notes)))
    assert sheet.before.count(words.strip()) == 14
    assert sheet.before[-3:-1] == ("First line", "second line")
    paper = PAPERS["a4"]
    pages = pages_of(sheet, paper)
    for page in pages:
        for line in page:
            if isinstance(line, Line):
                wide = width_of(line.text, line.size, bold=line.bold)
                assert line.x + wide <= paper.width - EDGE + 0.01
                assert EDGE <= line.y <= paper.height - EDGE + 0.01
    written = " ".join(line.text for page in pages for line in page if isinstance(line, Line))
    assert name.strip() in written
    assert written.count("before the good cloth is cut.") >= 14 * 6

"""The report says the same as the pattern, to the last printed digit."""

import pytest
from msgspec.structs import replace

from studio.check import Finding
from studio.demo import ORCHARD_BODY, demo_design
from studio.design.plain import plain_design
from studio.exchange.report import has_grave, report_text, report_tree
from studio.pattern import evaluate


@pytest.fixture(scope="module")
def pattern():
    return evaluate(demo_design())


def test_the_tree_holds_every_join_girth_and_piece(pattern):
    tree = report_tree(pattern)
    assert [join["name"] for join in tree["joins"]] == [row.name for row in pattern.ledger]
    for join, row in zip(tree["joins"], pattern.ledger, strict=True):
        assert join["sides"][0]["length_mm"] == round(row.length_a, 3)
        assert join["difference_mm"] == pytest.approx(row.difference, abs=5e-4)
    pieces = {piece["name"]: piece for piece in tree["pieces"]}
    assert pieces["front-leg"]["quantity"] == 2
    assert pieces["back-pocket"]["quantity"] == 1
    outline = pattern.piece("yoke").piece.outline
    assert pieces["yoke"]["area_mm2"] == round(outline.area_mm2, 3)


def test_the_text_names_each_verdict_in_words_and_sign(pattern):
    text = report_text(pattern)
    assert "= match" in text
    for row in pattern.ledger:
        assert row.name in text


def test_lengths_are_written_in_the_unit_asked_for(pattern):
    text = report_text(pattern, "inch")
    assert " inch" in text
    assert " mm" not in text


def test_a_side_of_several_edges_is_told_to_be_measured_along_all_of_them(pattern):
    said = "measured along all of them together, and rounded once"
    assert said in report_text(pattern)
    plain = plain_design(ORCHARD_BODY)
    one_each = tuple(join for join in plain.joins if len(join.a.edges) == len(join.b.edges) == 1)
    assert one_each
    assert said not in report_text(evaluate(replace(plain, joins=one_each)))


def test_areas_are_written_in_squares_of_the_unit_asked_for(pattern):
    # A square inch is 25.4 mm by 25.4 mm by definition (ISO 80000-3).
    mm2 = pattern.piece("fly-shield").piece.outline.area_mm2
    assert f"{mm2 / 645.16:.1f} inch²" in report_text(pattern, "inch")
    assert "cm²" not in report_text(pattern, "inch")
    assert f"{mm2 / 100.0:.1f} cm²" in report_text(pattern, "cm")


def test_nothing_grave_in_the_demo(pattern):
    assert not has_grave(pattern)


def test_findings_are_written_in_the_unit_asked_for(pattern):
    finding = Finding("pocket", "warning", "p", "It is 142 mm long.", 141.6, 150.0)
    troubled = replace(pattern, findings=(finding,))
    assert "p: It is 5.57 inch long." in report_text(troubled, "inch")
    assert "p: It is 142 mm long." in report_text(troubled)
    assert report_tree(troubled)["findings"][0]["message"] == "It is 142 mm long."

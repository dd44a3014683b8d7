"""A yoke in one action, on a plain pair of trousers, and other divisions."""

import msgspec
import pytest
from shapely import LineString

from studio.block.panel import Panel
from studio.curves import Edge, Outline
from studio.cut.divide import Yoke, divided, with_yoke
from studio.demo import ORCHARD_BODY
from studio.design import AnchoredPath, OnEdge, StyleLine
from studio.design.plain import plain_design
from studio.errors import GeometryRefused
from studio.pattern import evaluate

PLAIN = plain_design(ORCHARD_BODY)


def panel(name):
    return next(panel for panel in evaluate(PLAIN).panels if panel.name == name)


def grave(pattern):
    return [f.message for f in pattern.findings if f.gravity == "grave" and f.rule != "girth-small"]


@pytest.mark.parametrize("rest_at", ["side", "rise"])
def test_a_yoke_is_one_action_and_every_seam_still_matches(rest_at):
    # 80 at the rise and 30 at the side: common practice, no source.
    made = with_yoke(PLAIN, panel("back"), Yoke(rest_at=rest_at))
    pattern = evaluate(made)
    assert [row.name for row in pattern.ledger if row.verdict != "match"] == []
    assert grave(pattern) == []
    yoke = pattern.piece("yoke").piece
    assert yoke.darts == ()
    assert yoke.outline.edge("back.rise").length == pytest.approx(80.0, abs=1e-6)
    assert yoke.outline.edge("back.side").length == pytest.approx(30.0, abs=1e-6)
    assert len(yoke.outline.edge("back.waist").chain.cubics) == 1
    seam = next(join for join in made.joins if join.name == "yoke seam")
    assert seam.construction == "felled"


def test_a_front_yoke_is_cut_the_same_way():
    made = with_yoke(PLAIN, panel("front"), Yoke("front-yoke", "front", 70.0, 40.0))
    pattern = evaluate(made)
    assert grave(pattern) == []
    assert [row.name for row in pattern.ledger if row.verdict != "match"] == []


def test_a_leg_is_divided_at_the_knee_and_both_seams_run_on_over_both_parts():
    line = StyleLine(
        "knee-seam",
        "front",
        "seam",
        AnchoredPath(
            OnEdge("front.side", "front.hem", mm=440.0),
            OnEdge("front.inseam", "front.hem", mm=440.0),
        ),
    )
    design = msgspec.structs.replace(PLAIN, lines=(*PLAIN.lines, line))
    piece = next(p.name for p in design.pieces if getattr(p, "panel", "") == "front")
    made = divided(design, panel("front"), piece, line, "upper-front")
    pattern = evaluate(made)
    assert grave(pattern) == []
    assert [row.name for row in pattern.ledger if row.verdict != "match"] == []
    assert len(pattern.pieces) == len(evaluate(PLAIN).pieces) + 1


@pytest.mark.parametrize(
    ("asked", "reason"),
    [
        (Yoke(at_rise=2000.0), "past the end"),
        (Yoke(name="back"), "already"),
    ],
)
def test_a_yoke_that_cannot_be_is_refused_by_name(asked, reason):
    with pytest.raises(GeometryRefused, match=reason):
        with_yoke(PLAIN, panel("back"), asked)


def test_a_second_yoke_is_refused():
    made = with_yoke(PLAIN, panel("back"), Yoke())
    with pytest.raises(GeometryRefused, match="already"):
        with_yoke(made, panel("back"), Yoke())
    with pytest.raises(GeometryRefused, match="No one piece"):
        with_yoke(made, panel("back"), Yoke(name="other"))


def test_the_lower_edge_of_a_yoke_is_its_line_less_what_the_darts_hold_there():
    """By hand: a straight line from 80 to 30 cuts each dart between its legs; closing the dart
    takes out that stretch. The legs are cut by the line with shapely.
    """
    back = panel("back")
    made = evaluate(with_yoke(PLAIN, back, Yoke(bow=0.0)))
    line = next(line for line in made.lines if line.name == "yoke")
    ruled = LineString([(p.x, p.y) for p in (line.chain.start, line.chain.end)])
    held = 0.0
    for dart in back.darts:
        hits = [
            ruled.intersection(LineString([(end.x, end.y), (dart.point.x, dart.point.y)]))
            for end in (dart.first, dart.last)
        ]
        if not any(hit.is_empty for hit in hits):
            held += hits[0].distance(hits[1])
    assert held > 10.0
    assert made.piece("yoke").piece.outline.edge("yoke").length == pytest.approx(
        ruled.length - held, abs=1.0
    )


def test_a_yoke_on_a_drawn_panel_without_names_is_refused_in_words():
    plain = panel("back")
    edges = tuple(
        Edge.whole(f"back.edge-{number}", edge.chain)
        for number, edge in enumerate(plain.outline, start=1)
    )
    with pytest.raises(GeometryRefused, match=r"no edge back\.waist"):
        with_yoke(PLAIN, Panel("back", Outline(edges), (), {}), Yoke())

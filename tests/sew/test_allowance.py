"""Allowances follow from how a seam is sewn."""

import pytest

from studio.cut import Piece
from studio.design import EdgeRef, Finish, Join, JoinSide
from studio.sew import SewingOrder, allowance_rules, piece_rules
from studio.sew.allowance import sides_allowance
from tests.shapes import front_panel

STANDARD = 12.0


def side(*names):
    return JoinSide(tuple(EdgeRef("leg", name) for name in names))


def by_edge(rules):
    names = [edge.name for edge in LEG.outline.edges]
    return dict(zip(names, of_leg(rules).widths, strict=True))


def of_leg(rules):
    edges = tuple(edge.name for edge in LEG.outline)
    return piece_rules("leg", edges, rules, (), SewingOrder((), ()))


LEG = Piece("leg", front_panel().outline, panel="front")


@pytest.mark.parametrize(
    ("construction", "wraps", "expected"),
    [
        # ISO 4916:1991 class 1 (superimposed seam): both sides alike; width common practice.
        ("plain", "a", (12.0, 12.0)),
        # ISO 4916:1991 class 2 (lapped seam, flat-felled): double wraps single; common practice,
        # no source for the widths.
        ("felled", "a", (24.0, 12.0)),
        ("felled", "b", (12.0, 24.0)),
        # Lapped patch edge: single turned under on none; common practice, no source.
        ("lapped", "a", (12.0, 0.0)),
    ],
)
def test_each_construction_gives_single_and_double_as_the_trade_has_them(
    construction, wraps, expected
):
    join = Join("seam", side("front.side"), side("front.side"), construction, wraps)
    assert sides_allowance(join, STANDARD) == expected


def test_the_widest_allowance_asked_for_wins_and_free_edges_get_the_standard():
    joins = (
        Join("one", side("front.side"), JoinSide(()), "plain"),
        Join("two", side("front.side"), JoinSide(()), "felled", "a"),
    )
    widths = by_edge(allowance_rules(joins, (), STANDARD))
    assert widths["front.side"] == 24.0
    assert widths["front.waist"] == STANDARD


def test_finishes_set_free_edges():
    finishes = (
        Finish(EdgeRef("leg", "front.hem"), "hem", 40.0),
        Finish(EdgeRef("leg", "front.waist"), "raw"),
        Finish(EdgeRef("other", "front.rise"), "turned", 25.0),
    )
    # A raw edge is not wider than the standard one only when nothing else asks for it.
    rules = allowance_rules((), finishes, STANDARD)
    widths = by_edge(rules)
    assert widths["front.hem"] == 40.0
    assert widths["front.waist"] == 0.0
    assert widths["front.rise"] == STANDARD
    assert [LEG.outline.edges[k].name for k in of_leg(rules).hems] == ["front.hem"]

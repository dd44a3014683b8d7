"""A slight hollow bend beside a very short curve of its edge, as hinging a panel open leaves."""

from __future__ import annotations

import pytest
import shapely
from msgspec.structs import replace

from studio.alter.hinge import HingeKind
from studio.demo import ORCHARD_BODY
from studio.design import Body
from studio.design.plain import plain_design
from studio.pattern import evaluate
from studio.sew.cut_line import cut_outline_points

# Invented measures.
TALL = Body(name="Tall", waist_girth=740.0, hip_girth=920.0, inside_leg=840.0, body_rise=270.0)


@pytest.mark.parametrize("body", [TALL, ORCHARD_BODY])
@pytest.mark.parametrize("allowance", [12.0, 20.0])
@pytest.mark.parametrize(("name", "amount"), [("back", 30.0), ("front", 45.0)])
def test_a_hinged_panel_is_cut_at_its_allowance_all_along_its_side(body, allowance, name, amount):
    plain = replace(plain_design(body), standard_allowance=allowance)
    panel = next(one for one in evaluate(plain).panels if one.name == name)
    step = replace(HingeKind().fresh(panel), amount=amount)
    pattern = evaluate(replace(plain, alterations=(step,)))
    assert not [one for one in pattern.findings if one.rule == "cut-line"]
    sewn = pattern.piece(name)
    cut = shapely.Polygon(cut_outline_points(sewn.cut_line, 0.001))
    assert cut.is_valid
    # Seen by shapely, the side lies its allowance inside the cut, neither more nor less.
    side = sewn.piece.outline.edge(f"{name}.side").chain
    for k in range(1, 100):
        place = side.at(side.length * k / 100.0)
        off = cut.exterior.distance(shapely.Point(place.x, place.y))
        assert off == pytest.approx(allowance, abs=0.02)

"""The DXF files of a lay, read back by ezdxf: each copy where it lies, true to size."""

import ezdxf
import pytest
from shapely import Polygon

from studio.cloth.stance import laid, lying, stance_of
from studio.errors import BadInput
from studio.exchange.dxf_out import BOUNDARY
from studio.exchange.lay_dxf import CLOTH, FLAWS, write_lay_dxf
from studio.exchange.lay_plan import cloth_plans
from studio.pattern import evaluate
from tests.exchange.lays import PLACEMENTS, laid_design

PATTERN = evaluate(laid_design())
PLANS = cloth_plans(PATTERN)


@pytest.fixture(scope="module")
def drawings(tmp_path_factory):
    folder = tmp_path_factory.mktemp("lay")
    paths = write_lay_dxf(PLANS, folder, "orchard")
    assert [path.name for path in paths] == ["orchard-canvas.dxf", "orchard-old_leg.dxf"]
    return [ezdxf.readfile(path) for path in paths]


def polygons(entities, layer):
    return [
        Polygon([(v.dxf.location.x, v.dxf.location.y) for v in entity.vertices])
        for entity in entities
        if entity.dxftype() == "POLYLINE" and entity.dxf.layer == layer and entity.is_closed
    ]


@pytest.mark.parametrize("index", [0, 1])
def test_each_cut_line_lies_where_the_lay_has_it(drawings, index):
    drawing, plan = drawings[index], PLANS[index]
    opened = [
        part for ref in drawing.modelspace().query("INSERT") for part in ref.virtual_entities()
    ]
    found = polygons(opened, BOUNDARY)
    here = [one for one in PLACEMENTS if one.stock == plan.stock.name]
    assert len(found) == len(here)
    for shape, placement in zip(found, here, strict=True):
        stance = stance_of(PATTERN.piece(placement.piece))
        wanted = laid(stance.cut, lying(stance, placement, plan.bed.warp))
        assert shape.hausdorff_distance(wanted) < 0.1
        assert shape.area == pytest.approx(wanted.area, rel=1e-4)


def test_the_cloth_and_its_flaws_have_layers_of_their_own(drawings):
    (outline,) = polygons(drawings[1].modelspace(), CLOTH)
    assert outline.equals(PLANS[1].bed.outline)
    assert len(polygons(drawings[1].modelspace(), FLAWS)) == 2
    words = {text.dxf.text for text in drawings[1].modelspace().query("TEXT")}
    assert {"hole", "worn"} <= words


def test_units_are_millimetres(drawings):
    assert {drawing.header["$INSUNITS"] for drawing in drawings} == {4}


def test_a_lay_without_pieces_is_refused(tmp_path):
    with pytest.raises(BadInput, match="Nothing is laid"):
        write_lay_dxf([plan for plan in PLANS if not plan.laid], tmp_path, "empty")
    assert not list(tmp_path.iterdir())

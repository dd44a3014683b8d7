"""The layers of our DXF files against the standard's table."""

import ezdxf

from studio.exchange.dxf_out import LAYERS, write_dxf
from tests.exchange.pieces import flap

# Source: ASTM D6673-10, layers of pattern data.
D6673 = {
    "1": "piece boundary",
    "2": "turn points",
    "3": "curve points",
    "4": "notches",
    "5": "grade reference",
    "6": "mirror line",
    "7": "grain line",
    "8": "internal lines",
    "9": "stripe reference",
    "10": "plaid reference",
    "11": "internal cutouts",
    "13": "drill holes",
    "14": "sew lines",
    "15": "annotation text",
    "80": "T notches",
    "81": "castle notches",
    "82": "check notches",
    "83": "U notches",
}


def test_layers_are_named_as_in_the_standard():
    assert {number: D6673[number] for number in LAYERS} == LAYERS


def test_every_entity_of_a_file_stands_on_a_layer_of_the_standard(tmp_path):
    path = tmp_path / "flap.dxf"
    write_dxf((flap(),), path, style="Flap")
    drawing = ezdxf.readfile(path)
    kinds = {}
    for space in (drawing.blocks.get("FLAP"), drawing.modelspace()):
        for entity in space:
            kinds.setdefault(entity.dxf.layer, set()).add(entity.dxftype())
    other_notches = {"80", "81", "82", "83"}
    assert set(kinds) == set(LAYERS) - other_notches <= set(D6673)
    # Source: ASTM D6673-10: boundary and sew lines are polylines, grain a line, turn and curve
    # points and drill holes points, annotation text; from memory.
    assert "POLYLINE" in kinds["1"] & kinds["14"]
    assert kinds["7"] == {"LINE"}
    assert kinds["2"] == kinds["3"] == kinds["13"] == {"POINT"}
    assert kinds["15"] == {"TEXT"}


def test_all_text_of_a_file_is_seven_bit_ascii(tmp_path):
    # Source: ASTM D6673-10: text is 7-bit ASCII.
    path = tmp_path / "flap.dxf"
    write_dxf((flap("Gürtelschlaufe"),), path, style="Größe 38")
    assert path.read_bytes().isascii()

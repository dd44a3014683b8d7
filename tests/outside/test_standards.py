"""Published standards the files keep to."""

import pytest

from studio.exchange.dxf_out import LAYERS
from studio.exchange.paper import SHEETS_MM


def test_iso_216_sizes():
    # Source: ISO 216:2007: A0 is 841 x 1189 mm; each further size halves the longer side,
    # rounded down to the millimetre; A4 is 210 x 297.
    width, height = SHEETS_MM["a0"]
    assert (width, height) == (841.0, 1189.0)
    for _ in range(4):
        width, height = height // 2, width
    assert (width, height) == SHEETS_MM["a4"]


def test_us_letter():
    # Source: ANSI/ASME Y14.1, size A: 8.5 x 11 inches of 25.4 mm.
    assert SHEETS_MM["letter"] == (pytest.approx(8.5 * 25.4), pytest.approx(11 * 25.4))


def test_layers_are_those_of_the_standard():
    # Source: ASTM D6673-10, layer numbers of pattern data.
    standard = {
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
    }
    for number, what in LAYERS.items():
        assert standard[number] == what

"""What is written on a piece."""

import pytest
from msgspec.structs import replace

from studio.exchange.marks import label_lines
from tests.exchange.pieces import flap


@pytest.mark.parametrize(("wearer", "told"), [("Orchard hand", ["for: Orchard hand"]), ("", [])])
def test_the_label_tells_name_cut_cloth_and_whose_it_is(wearer, told):
    lines = label_lines(replace(flap("cuff"), made_for=wearer))
    assert lines[0] == "cuff"
    assert lines[1].startswith("cut ")
    assert lines[2] == "cloth: main"
    assert [line for line in lines if line.startswith("for: ")] == told

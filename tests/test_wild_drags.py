"""Whatever the hand does to a line, there is a pattern and, where it cannot be, a finding."""

import random

import pytest

from studio import pattern as road
from studio.curves import Vector
from studio.cut import edit
from studio.demo import demo_design
from studio.design.file import decoded, encoded
from studio.pattern import evaluate
from tests.test_draft import DRAWN


@pytest.mark.parametrize("seed", range(6))
def test_wild_drags_are_told_and_never_break_the_road(seed):
    draw = random.Random(seed)
    design = demo_design()
    for _ in range(40):
        pattern = evaluate(design)
        assert len(pattern.ledger) == len(design.joins)
        missing = {line.name for line in design.lines} - {line.name for line in pattern.lines}
        assert missing <= {finding.where for finding in pattern.findings}
        drawn = draw.choice(pattern.lines)
        grip, place = draw.choice(edit.grips(design.line(drawn.name), drawn))
        panel = next(panel for panel in pattern.panels if panel.name == drawn.panel)
        to = place + Vector(draw.gauss(0.0, 120.0), draw.gauss(0.0, 120.0))
        moved = edit.moved(design, drawn, panel, grip, to)
        assert decoded(encoded(moved)) == moved
        design = moved if draw.random() < 0.7 else demo_design()


@pytest.mark.parametrize("seed", [11, 12])
def test_wild_drags_under_the_hand_are_drawn_as_from_a_fresh_start(seed):
    draw = random.Random(seed)
    design = demo_design()
    shown = evaluate(design)
    for turn in range(30):
        drawn = draw.choice(shown.lines)
        grip, place = draw.choice(edit.grips(design.line(drawn.name), drawn))
        panel = next(panel for panel in shown.panels if panel.name == drawn.panel)
        to = place + Vector(draw.gauss(0.0, 25.0), draw.gauss(0.0, 25.0))
        moved = edit.moved(design, drawn, panel, grip, to)
        shown = evaluate(moved, shown)
        if turn % 6 == 5:
            road.forget()
            fresh = evaluate(moved)
            for field in DRAWN:
                assert getattr(shown, field) == getattr(fresh, field), (turn, field)
        whole = len(shown.pieces) == len(moved.pieces)
        design = moved if whole and draw.random() < 0.8 else design

"""The difference of hip and waist is shared out between rise, darts and side seam."""

from __future__ import annotations

import msgspec
import pytest

from studio.block.drafting import start_of
from studio.block.suppression import BACK_SHARES, FRONT_SHARES, SMALLEST_DART, shared
from studio.design.body import Fit
from tests.block.bodies import MIDDLE

BY_NAME = {"front": FRONT_SHARES, "back": BACK_SHARES}


@pytest.mark.parametrize("name", ["front", "back"])
def test_all_of_it_is_taken_somewhere_at_every_waist(name: str) -> None:
    _, front, back = start_of(MIDDLE, Fit())
    panel = front if name == "front" else back
    for waist in range(90, 330, 3):
        found = shared(msgspec.structs.replace(panel, waist=float(waist)), BY_NAME[name])
        darts = sum(dart.intake for dart in found.darts)
        taken = found.top_in + found.side_in + darts
        assert taken == pytest.approx(found.hip_width - waist, abs=1e-9)
        assert all(dart.intake >= SMALLEST_DART for dart in found.darts)


@pytest.mark.parametrize("name", ["front", "back"])
def test_the_side_stays_comfortable_while_the_darts_can_give_and_take(name: str) -> None:
    _, front, back = start_of(MIDDLE, Fit())
    panel, ranges = (front if name == "front" else back), BY_NAME[name]
    for waist in range(170, 200, 2):
        found = shared(msgspec.structs.replace(panel, waist=float(waist)), ranges)
        assert ranges.side_least - 1e-9 <= found.side_in <= ranges.side_most + 1e-9


def test_one_back_dart_is_left_when_two_would_be_too_small() -> None:
    _, _, back = start_of(MIDDLE, Fit())
    waists = [back.hip_width - spare for spare in range(0, 80)]
    counts = [
        len(shared(msgspec.structs.replace(back, waist=waist), BACK_SHARES).darts)
        for waist in waists
    ]
    assert set(counts) == {0, 1, 2}
    assert counts == sorted(counts)

"""Shares out the difference between hip and waist: rise, darts, side seam.

The handbook keeps darts and rise fixed and lets the side seam take what is left; that holds
while the side stays within a comfortable range. Outside it the darts give or take first, then
the rise, and only then the side again (practice).
"""

from __future__ import annotations

import msgspec

from studio.block.proportions import DartShare, PanelNumbers

SMALLEST_DART = 4.0
"""A dart narrower than this can not be sewn well and is left out (practice)."""


class Shares(msgspec.Struct, frozen=True):
    """The comfortable ranges of one panel, mm (practice)."""

    side_least: float
    side_most: float
    dart_most: float
    rise_least: float
    rise_most: float
    rise_belly: float


FRONT_SHARES = Shares(
    side_least=10.0, side_most=36.0, dart_most=30.0, rise_least=0.0, rise_most=18.0, rise_belly=0.3
)
BACK_SHARES = Shares(
    side_least=10.0, side_most=30.0, dart_most=34.0, rise_least=10.0, rise_most=35.0, rise_belly=0.0
)


def shared(panel: PanelNumbers, ranges: Shares) -> PanelNumbers:
    """The panel with its rise, darts and side set for its own hip width and sewn waist."""
    spare = panel.hip_width - panel.waist
    darts = sum(dart.intake for dart in panel.darts)
    rise = panel.top_in
    side = spare - darts - rise
    if side > ranges.side_most:
        more = min(side - ranges.side_most, len(panel.darts) * ranges.dart_most - darts)
        darts, side = darts + more, side - more
        more = min(max(0.0, side - ranges.side_most), ranges.rise_most - rise)
        rise, side = rise + more, side - more
    elif side < ranges.side_least:
        less = min(ranges.side_least - side, darts)
        darts, side = darts - less, side + less
        less = min(max(0.0, ranges.side_least - side), rise - ranges.rise_least)
        rise, side = rise - less, side + less
        belly = ranges.rise_belly * min(0.0, side)
        rise, side = rise + belly, side - belly
    kept = _kept(panel.darts, darts if spare > 0.0 else 0.0)
    side += darts - sum(dart.intake for dart in kept)
    return msgspec.structs.replace(panel, top_in=rise, side_in=side, darts=kept)


def _kept(darts: tuple[DartShare, ...], intake: float) -> tuple[DartShare, ...]:
    """As many of the darts as the intake feeds, at the middle of the waist when one is left."""
    if intake >= SMALLEST_DART * len(darts):
        return tuple(DartShare(dart.place, intake / len(darts), dart.length) for dart in darts)
    if intake >= SMALLEST_DART:
        return (DartShare(0.5, intake, darts[0].length),)
    return ()

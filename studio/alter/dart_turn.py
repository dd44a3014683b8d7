"""A dart turned shut, wholly or in part, and its width opened at another place of the outline."""

from __future__ import annotations

import msgspec
from msgspec.structs import replace

from studio import numbers
from studio.alter.closing import dart_of
from studio.alter.opening import Bridge, Cut, moving_part_first, part_moved
from studio.block.panel import Dart, Panel
from studio.block.places import place_on_edge
from studio.curves import Affine, Point, turn_between
from studio.design.lines import OnEdge
from studio.errors import GeometryRefused

_CLEAR_OF_CORNERS_MM = 5.0


class Turned(msgspec.Struct, frozen=True):
    """A panel with a dart turned shut and dropped from its darts; what is left of the dart (None
    when it is closed), and the two sides of the new opening, counter-clockwise.
    """

    panel: Panel
    left: Dart | None
    first: Point
    last: Point


def turned_shut(panel: Panel, name: str, to: OnEdge, share: float, bridge: Bridge) -> Turned:
    """Close `share` of a dart about its point, opening the cut from the point to `to`.

    The part with the foot of the crease line stays; the other turns rigidly.

    Raises:
        GeometryRefused: no such dart or place, a share outside 0 to 1, a place in a dart's mouth
            or too near a corner.
    """
    dart = dart_of(panel, name)
    if not 0.0 < share <= 1.0:
        raise GeometryRefused("The share of a dart lies between 0 and 1.", where=name)
    place = place_on_edge(panel, to)
    edge = panel.outline.edge(place.edge)
    if not _CLEAR_OF_CORNERS_MM <= place.distance <= edge.length - _CLEAR_OF_CORNERS_MM:
        raise GeometryRefused(
            f"{name} cannot open in a corner: choose a place on {place.edge} at least "
            f"{numbers.length(_CLEAR_OF_CORNERS_MM, decimals=0)} from its ends.",
            where=name,
            exact=(_CLEAR_OF_CORNERS_MM,),
        )
    chain = panel.outline.edge(dart.edge).chain
    first_at, last_at = chain.distance_of(dart.first), chain.distance_of(dart.last)
    if place.edge == dart.edge and first_at <= place.distance <= last_at:
        raise GeometryRefused(f"The place lies in the mouth of {name}.", where=name)
    others = tuple(other for other in panel.darts if other is not dart)
    bare = Panel(panel.name, panel.outline, others, panel.levels)
    there = edge.chain.at(place.distance)
    after = Cut(dart.edge, first_at, last_at, "mouth")
    opens = Cut.at(place, bridge)
    closing = turn_between(dart.last - dart.point, dart.first - dart.point)
    if moving_part_first(bare, after, opens)[0] is after:
        move = Affine.turn(share * closing, dart.point)
        made = part_moved(bare, after, opens, move)
        left = replace(dart, last=move(dart.last))
        sides = (move(there), there)
    else:
        move = Affine.turn(-share * closing, dart.point)
        made = part_moved(bare, opens, Cut(dart.edge, last_at, first_at, "mouth"), move)
        left = replace(dart, first=move(dart.first))
        sides = (there, move(there))
    return Turned(made, None if share == 1.0 else left, *sides)


def dart_fields_place(panel: Panel) -> tuple[str, OnEdge]:
    """A dart of the panel to start from, and the middle of its side seam below the hip.

    Raises:
        GeometryRefused: the panel has no dart.
    """
    if not panel.darts:
        raise GeometryRefused(f"{panel.name} has no dart.", where=panel.name)
    side = f"{panel.name}.side"
    return panel.darts[0].name, OnEdge(side, f"{panel.name}.waist", share=0.2)

"""All that the design's rules say of one piece's edges, in the order of its outline."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from studio.design.joins import Corner, CornerName
from studio.sew.allowance import AllowanceRules
from studio.sew.corners import corners_of
from studio.sew.order import SewingOrder


class PieceRules(msgspec.Struct, frozen=True):
    """Of each edge its allowance (mm), whether it is turned up (`hems`: indices), the corner with
    the next, distances of topstitching (mm), and its narrower allowance when it has two; and the
    heights of turn-ups (mm) by the index of their edge.
    """

    widths: tuple[float, ...]
    hems: tuple[int, ...]
    corners: tuple[CornerName, ...]
    rows: tuple[tuple[float, ...], ...]
    narrower: tuple[float | None, ...]
    turn_ups: dict[int, float]


def piece_rules(
    piece: str,
    edges: tuple[str, ...],
    rules: AllowanceRules,
    asked: Sequence[Corner],
    order: SewingOrder,
) -> PieceRules:
    """What the rules say of a piece with these edges, counter-clockwise."""
    keys = [(piece, edge) for edge in edges]
    hems = tuple(index for index, key in enumerate(keys) if key in rules.hems)
    return PieceRules(
        tuple(rules.widths.get(key, rules.standard) for key in keys),
        hems,
        corners_of(piece, edges, rules, asked, order, hems),
        tuple(rules.rows.get(key, ()) for key in keys),
        tuple(rules.narrower.get(key) for key in keys),
        {index: rules.turn_ups[keys[index]] for index in hems if keys[index] in rules.turn_ups},
    )

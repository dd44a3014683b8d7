"""The inner layer of a shaped waistband: its pieces, and how they are sewn to the band."""

from __future__ import annotations

from collections.abc import Iterable

from studio.design.joins import Join, JoinSide
from studio.design.plain import side


def faces(band: str) -> str:
    """The name of the piece that faces a piece of a band."""
    return f"{band}-facing"


def along_edge(name: str, band: tuple[tuple[str, str], ...]) -> Join:
    """Band and facing sewn face to face along edges of the band (piece, edge), counter-clockwise,
    and turned: the facing has the same edges, met the other way round.
    """
    return Join(name, side(*band), _faced(band), construction="bagged")


def over_seam(name: str, band: tuple[tuple[str, str], ...]) -> Join:
    """The facing's lower edge laid over the seam by which the band is sewn on; `band` are the edges
    of the band in that seam, clockwise.
    """
    return Join(name, _faced(band), side(*band), construction="laid-over")


def between(name: str, one: tuple[str, str], two: tuple[str, str]) -> Join:
    """The facings of two pieces of a band sewn together as the pieces are, which `one` and `two`
    name in the order of their join: mirrored, the second side comes first.
    """
    return Join(name, _faced((two,)), _faced((one,)))


def _faced(band: Iterable[tuple[str, str]]) -> JoinSide:
    return side(*((faces(piece), edge) for piece, edge in band))

"""What a search is given and what it finds, plain enough for a process that knows no pattern."""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec
from shapely import MultiPolygon

if TYPE_CHECKING:
    from studio.design.cloth import Place


class Pose(msgspec.Struct, frozen=True):
    """A way for a piece to lie: a figure (its cut line, mirrored where it must be), its turn off
    the warp in degrees, how far it may be turned from there, and whether it lies face down.
    """

    figure: int
    turn: float
    tolerance: float
    flipped: bool


class Field(msgspec.Struct, frozen=True):
    """Stock to lay on: `usable` in its own coordinates, locked pieces taken out with their gap."""

    name: str
    warp: float
    usable: MultiPolygon
    roll: bool


class Candidate(msgspec.Struct, frozen=True):
    """A copy of a piece to be laid: its worth (area in mm2), and its poses on each field."""

    piece: str
    copy: int
    worth: float
    poses: tuple[tuple[Pose, ...], ...]


class Task(msgspec.Struct, frozen=True):
    """Candidates to be laid on fields with `gap` mm between cut lines. Figures are closed lines
    about their origin, warp up, counter-clockwise.
    """

    figures: tuple[tuple[Place, ...], ...]
    fields: tuple[Field, ...]
    candidates: tuple[Candidate, ...]
    gap: float


class Laid(msgspec.Struct, frozen=True):
    """A candidate on a field: where its origin lies on the stock, its turn off the warp."""

    candidate: int
    field: int
    at: Place
    turn: float
    flipped: bool


class Merit(msgspec.Struct, frozen=True, order=True):
    """How good a layout is, first things first: worth laid (mm2), then how few fields, how
    little pieces are turned off a straight turn (degrees in all), and the largest rectangle along
    the warp left of a field that is cut into (mm2).
    """

    worth: float
    fields: int
    turned: float
    leftover: float


class Found(msgspec.Struct, frozen=True):
    """A layout that was found and verified; `never` are candidates that fit on none of the fields,
    however empty.
    """

    laid: tuple[Laid, ...]
    never: tuple[int, ...]
    merit: Merit


NOTHING = Found((), (), Merit(0.0, 0, 0.0, 0.0))
"""Nothing laid."""

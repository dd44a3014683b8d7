"""Points of a line that is traced, by number: one moved, put in, taken out."""

from __future__ import annotations

from studio.design.cloth import Place
from studio.errors import BadInput


def moved(points: tuple[Place, ...], at: int, place: Place) -> tuple[Place, ...]:
    """Points with one of them elsewhere; raises BadInput when there is no such point."""
    _check_point(points, at)
    return (*points[:at], place, *points[at + 1 :])


def inserted(points: tuple[Place, ...], at: int, place: Place) -> tuple[Place, ...]:
    """Points with one more before the one of that number, or after the last."""
    if not 0 <= at <= len(points):
        raise BadInput(f"There is no place {at + 1} among {len(points)} points.")
    return (*points[:at], place, *points[at:])


def removed(points: tuple[Place, ...], at: int) -> tuple[Place, ...]:
    """Points without one of them; raises BadInput when there is no such point."""
    _check_point(points, at)
    return (*points[:at], *points[at + 1 :])


def _check_point(points: tuple[Place, ...], at: int) -> None:
    if not 0 <= at < len(points):
        raise BadInput(f"There is no point {at + 1} of {len(points)}.")

"""Curves as painter's paths: y flipped, true cubics, nothing flattened."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtGui import QPainterPath

from studio.curves import Chain


def path_of(chains: Iterable[Chain], *, closed: bool = False) -> QPainterPath:
    """One path for chains end to end, in mm, y down."""
    path = QPainterPath()
    started = False
    for chain in chains:
        _follow(path, chain, goes_on=started)
        started = True
    if closed:
        path.closeSubpath()
    return path


def paths_of(chains: Iterable[Chain]) -> QPainterPath:
    """One path for chains that lie apart, in mm, y down."""
    path = QPainterPath()
    for chain in chains:
        _follow(path, chain, goes_on=False)
    return path


def _follow(path: QPainterPath, chain: Chain, *, goes_on: bool) -> None:
    if not goes_on:
        path.moveTo(chain.cubics[0].p0.x, -chain.cubics[0].p0.y)
    for cubic in chain.cubics:
        p1, p2, p3 = cubic.p1, cubic.p2, cubic.p3
        if cubic.is_straight:
            path.lineTo(p3.x, -p3.y)
        else:
            path.cubicTo(p1.x, -p1.y, p2.x, -p2.y, p3.x, -p3.y)

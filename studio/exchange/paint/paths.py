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
        for cubic in chain.cubics:
            if not started:
                path.moveTo(cubic.p0.x, -cubic.p0.y)
                started = True
            if cubic.is_straight:
                path.lineTo(cubic.p3.x, -cubic.p3.y)
            else:
                path.cubicTo(
                    cubic.p1.x, -cubic.p1.y, cubic.p2.x, -cubic.p2.y, cubic.p3.x, -cubic.p3.y
                )
    if closed:
        path.closeSubpath()
    return path

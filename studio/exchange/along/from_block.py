"""How a panel is drawn from nothing: level lines, points by two measures, then the edges."""

from __future__ import annotations

from studio.alter.kind import Say
from studio.block.panel import Dart, Panel
from studio.curves import Point, Vector
from studio.exchange.along.figures import figure, level_lines, panel_lines
from studio.exchange.along.letters import Letters
from studio.exchange.along.stage import Stage
from studio.exchange.along.words import offset_words, plainly, run_words
from studio.sew.edge_words import edge_words

_ON_MM = 0.05
"""A point this near a line is said to lie on it: half of the last digit given."""


def block_stage(panel: Panel, letters: Letters, say: Say, panels: tuple[str, ...]) -> Stage:
    """The stage that draws a panel as the block has it."""
    heights = _heights(panel)
    base = min(heights, key=heights.__getitem__)
    sentences = [_levels(heights, base, say)]
    points: list[tuple[str, Point]] = []
    for edge in panel.outline:
        for cubic in edge.chain.cubics:
            name = letters.of(cubic.p0)
            if name not in dict(points):
                points.append((name, cubic.p0))
                sentences.append(f"{name}: {_place(cubic.p0, heights, say)}.")
    for edge in panel.outline:
        words = edge_words(edge.name, panel.name)
        sentences.append(
            f"{words}: {run_words(edge.chain, letters, say)}. "
            f"With a tape it measures {say(edge.length)}."
        )
    for dart in panel.darts:
        tip = letters.of(dart.point)
        points.append((tip, dart.point))
        sentences.append(f"{tip}: {_place(dart.point, heights, say)}.")
        sentences.append(_dart(dart, letters, say))
    lines = [*level_lines(panel), *panel_lines(panel, "drawn")]
    return Stage(
        f"Draw the {panel.name}",
        tuple(plainly(sentence, panel.name, panels) for sentence in sentences),
        figure(lines, points, (), panel.outline.box),
        large=True,
    )


def _heights(panel: Panel) -> dict[str, float]:
    """Level lines by name; a panel without any is measured from a base line under it."""
    return dict(panel.levels) or {"base": panel.outline.box.bottom}


def _levels(heights: dict[str, float], base: str, say: Say) -> str:
    others = sorted((up, name) for name, up in heights.items() if name != base)
    marks = ", ".join(f"the {name} line at {say(up - heights[base])}" for up, name in others)
    across = f" Measured up it from there, rule across: {marks}." if marks else ""
    return (
        f"Rule the {base} line, and square to it, along the grain, the upright line from which "
        f"all else is measured to the left and right.{across}"
    )


def _place(point: Point, heights: dict[str, float], say: Say) -> str:
    """A point by the level line nearest to it and its distance from the upright line."""
    level = min(heights, key=lambda name: abs(heights[name] - point.y))
    off = Vector(0.0, point.y - heights[level])
    up = f"on the {level} line"
    if abs(off.y) >= _ON_MM:
        up = f"{offset_words(off, say)} from the {level} line"
    if abs(point.x) < _ON_MM:
        return f"{up}, on the upright line"
    side = "right" if point.x > 0.0 else "left"
    return f"{up}, {say(abs(point.x))} to the {side} of the upright line"


def _dart(dart: Dart, letters: Letters, say: Say) -> str:
    first, last = letters.of(dart.first), letters.of(dart.last)
    return (
        f"{dart.name}: legs straight from {first} and {last} to {letters.of(dart.point)}; it takes "
        f"out {say(dart.intake)}."
    )
